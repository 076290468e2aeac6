package common

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"loomsheet/render/page"
)

// Cover is the first page of a book.
type Cover struct {
	Book, Section string
	What          string // what the book is and what it covers
	Facts         []page.Fact
	Chapters      bool // the contents name chapters alone
}

// Cover writes the cover: what it is, of which job, the cautions, and what stands on which page.
func (h Head) Cover(fl *page.Flow, c Cover, contents *Contents) {
	fl.Title(Title(c.Book, c.Section))
	if h.Invented {
		fl.Say(page.Strong.Sized(12), "Invented demonstration job: nothing was ever built from it.")
	}
	facts := []page.Fact{{Name: "Job", Value: h.Job}, {Name: "Revision", Value: orDash(h.Revision)}, {Name: "Date", Value: orDash(h.Date)}, {Name: "Source", Value: source(h.Digest)}}
	if c.Section != "" {
		facts = append(facts[:1:1], append([]page.Fact{{Name: "Section", Value: c.Section}}, facts[1:]...)...)
	}
	fl.Facts(append(facts, c.Facts...)...)
	fl.Space(2)
	fl.Para(c.What)
	Cautions(fl)
	fl.Space(3)
	fl.Add(bound{contents, c.Book})
	fl.Add(list{contents, c.Chapters})
}

// source is the whole digest, with the part that stands on every page set off.
func source(digest string) string {
	short := Short(digest)
	if short == digest {
		return orDash(digest)
	}
	return short + " " + digest[len(short):]
}

func orDash(s string) string {
	if strings.TrimSpace(s) == "" {
		return "not stated"
	}
	return s
}

// Cautions is the warning that opens every book.
func Cautions(fl *page.Flow) {
	fl.Caution("Before any work on the vehicle",
		"Disconnect the battery first, minus before plus, and tie the leads back.",
		"Fuse at the source: no wire leaves a battery, an alternator or a charger unprotected.",
		"Fire: extinguisher in reach, fuel vapour away; a battery on charge gives off explosive gas.",
		"Hot work: heat burns insulation and lights vapour; unplug control units before welding.",
		"Support the engine, and all else lifted, on stands or a hoist. A harness holds nothing up.",
		"Verify with a meter. Trust no sheet, this one included, before a circuit is closed.",
		"Local codes, the vehicle maker's instructions and the judgement of a licensed or competent person come before this paper. It says which limits were checked and no more.")
}

// Entry is a line of the contents.
type Entry struct {
	Title string
	Level int
	Page  int // counting from 1
}

// Contents is the list of what stands on which page of a book. It is known when the book is laid out, and printed on its cover.
type Contents struct {
	all     []Entry
	volumes []page.Volume
}

// entries are its lines; those of chapters alone, if asked.
func (c *Contents) entries(chapters bool) []Entry {
	if c == nil {
		return nil
	}
	var out []Entry
	for _, e := range c.all {
		if e.Level == 1 || !chapters {
			out = append(out, e)
		}
	}
	return out
}

// entries reads the headings of a book, two levels deep.
func entries(marks []page.Bookmark) []Entry {
	var out []Entry
	for _, b := range marks {
		if b.Level <= 2 {
			out = append(out, Entry{b.Title, b.Level, b.Page + 1})
		}
	}
	return out
}

// mostPages is how many pages a volume has at most: 500 sheets printed on both sides fill the widest lever arch file.
var mostPages = 1000

// Book is a book whose contents agree with its pages, ready to be drawn.
type Book struct {
	*page.Flow
	Title   string
	Day     time.Time
	Marks   []page.Bookmark
	Volumes []page.Volume // one, or of a long book some, by which it can be printed and bound
}

// Settle lays a book out until the page numbers in its contents are those of its pages. write puts the contents where they are to be printed; their
// number of lines does not change after the second layout, so that the third agrees with itself.
func Settle(h Head, title string, write func(contents *Contents) (*page.Flow, error)) (*Book, error) {
	contents := &Contents{}
	fl, err := write(contents)
	if err != nil {
		return nil, err
	}
	for range 6 {
		marks, err := fl.Marks()
		if err != nil {
			return nil, err
		}
		next, volumes := entries(marks), page.Volumes(marks, len(fl.Sheets()), mostPages)
		if slices.Equal(contents.all, next) && (len(volumes) < 2 || slices.Equal(contents.volumes, volumes)) {
			return &Book{Flow: fl, Title: title, Day: h.Day(), Marks: marks, Volumes: volumes}, nil
		}
		contents.all, contents.volumes = next, volumes
	}
	return nil, errContents
}

// Doc is the whole book drawn.
func (b *Book) Doc() (*page.Doc, error) { return b.Flow.Doc(b.Title, b.Day) }

// Drawn is the whole of a book that Settle gave.
func Drawn(b *Book, err error) (*page.Doc, error) {
	if err != nil {
		return nil, err
	}
	return b.Doc()
}

// VolumeName is the name of a volume of a book, or of its file: the first has the book's own.
func VolumeName(book string, volume int) string {
	if volume == 0 {
		return book
	}
	return book + "-" + strconv.Itoa(volume+1)
}
