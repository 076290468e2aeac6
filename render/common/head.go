// Package common holds what the books share: the frame of their pages, the cover with its cautions and contents, the
// colours of swatches, the words for how a figure came to be, and the gate for texts that cannot be printed.
package common

import (
	"slices"
	"strings"
	"time"

	"loomsheet/render/export"
	"loomsheet/render/page"
)

// Head is what stands on every page and on the cover.
type Head struct {
	Job, Revision, Date, Datum, Digest string
	NotForBuild                        string // the reason; empty when the sheet may be built from
	Invented                           bool   // the job says of itself that it is made up
	Size                               page.Size
}

// HeadOf reads the head off a compiled job.
func HeadOf(in export.Input) Head {
	h := Head{Job: in.Job.Title, Revision: in.Job.Revision, Date: in.Job.Date, Datum: in.Job.Datum, Digest: in.Digest,
		NotForBuild: strings.Join(in.NotForBuild(), "; "), Size: SheetSize(in.Job.Sheet)}
	h.Invented = saysInvented(in.Job.Title) || saysInvented(in.Job.Note) || saysInvented(in.Job.Source)
	return h
}

// saysInvented tells whether a text calls its job made up.
func saysInvented(s string) bool {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r < 'a' || r > 'z' })
	return slices.ContainsFunc(words, func(w string) bool { return w == "invented" || w == "demo" || w == "fictitious" })
}

// SheetSize is the paper of a name that the language knows; A4 for any other.
func SheetSize(name string) page.Size {
	switch name {
	case "A3":
		return page.A3
	case "letter":
		return page.Letter
	}
	return page.A4
}

// Frame of the pages of a book or of a section's part of it.
func (h Head) Frame(book, section string) page.Frame {
	job := h.Job
	if h.Invented && !saysInvented(job) {
		job += " (invented demonstration job)"
	}
	return page.Frame{Size: h.Size, Job: job, Book: book, Section: section, Revision: h.Revision, Digest: Short(h.Digest), NotForBuild: h.NotForBuild}
}

// Stamp is lines for a file that goes about without a book: what it was made from, and whether it may be built from.
func (h Head) Stamp() []string {
	frame := h.Frame("", "")
	out := []string{frame.Job + ", revision " + frame.Revision + ", source " + frame.Digest}
	if frame.Revision == "" {
		out[0] = frame.Job + ", source " + frame.Digest
	}
	if h.NotForBuild != "" {
		out = append(out, "NOT FOR BUILD: "+h.NotForBuild)
	}
	return out
}

// digestShown is how much of a digest stands on every page; the cover has it whole.
const digestShown = 12

// Short is the beginning of a digest, enough to tell two sources apart.
func Short(digest string) string {
	if r := []rune(digest); len(r) > digestShown {
		return string(r[:digestShown])
	}
	return digest
}

// Day is the date of the job for the file's own date; the zero time when it is not written as year-month-day.
func (h Head) Day() time.Time {
	t, err := time.Parse(time.DateOnly, h.Date)
	if err != nil || t.Year() < 1970 || t.Year() > 9999 {
		return time.Time{}
	}
	return t
}

// Title of a book as it stands in the file and on the cover.
func Title(book, section string) string {
	if section == "" {
		return book
	}
	return book + ": " + section
}
