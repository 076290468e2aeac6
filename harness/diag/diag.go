// Package diag holds what the program has to tell a person about a job: mistakes in the text, findings of a check, notes.
// A message is data until it is printed; package report turns it into prose.
package diag

import (
	"cmp"
	"slices"
	"unique"

	"loomsheet/harness/unit"
)

// Span is a stretch of source text by byte offsets; the zero Span is nowhere. Line and column are worked out on printing.
type Span struct {
	File       File
	Start, End int32 // there are very many of them
}

// SpanOf is a stretch of a file.
func SpanOf(file string, start, end int) Span { return Span{FileOf(file), int32(start), int32(end)} }

// Compare orders by file and beginning.
func (s Span) Compare(o Span) int {
	if s.File == o.File {
		return cmp.Compare(s.Start, o.Start)
	}
	return cmp.Compare(s.File.String(), o.File.String())
}

// File is the name of a file, held once for all that lies in it.
type File struct{ name unique.Handle[string] }

// FileOf is a file by its name; the zero File has none.
func FileOf(name string) File {
	if name == "" {
		return File{}
	}
	return File{unique.Make(name)}
}

// Equal tells whether two are one file.
func (f File) Equal(o File) bool { return f == o }

func (f File) String() string {
	if f == (File{}) {
		return ""
	}
	return f.name.Value()
}

// IsZero tells whether the span points nowhere.
func (s Span) IsZero() bool { return s == Span{} }

// Severity ranks messages.
type Severity uint8

const (
	// Note is worth knowing and fails nothing.
	Note Severity = iota
	// Finding is a limit not met or a thing that cannot be built as written.
	Finding
	// Mistake is text that could not be understood or contradicts itself.
	Mistake
)

func (s Severity) String() string { return [...]string{"note", "finding", "mistake"}[s] }

// Subject is what a finding is about, by the names a person gave, so that an acceptance can name it whatever else changes.
type Subject struct {
	Kind string // run, circuit, device, break, splice, cable, panel, section, case, ...
	Name string
	From string // the wire's two ends when the subject is one wire of a circuit
	To   string
}

// Related points at another place that takes part, with a sentence: "first declared here".
type Related struct {
	Span Span
	Text string
}

// Diagnostic is one message.
type Diagnostic struct {
	Code     string // a stable word such as no-such-cavity; also the key by which a finding is explained and accepted
	Severity Severity
	Title    string // what is wrong
	Detail   string // what to do, or the facts that show it; may have several lines
	Span     Span
	Related  []Related
	Suggest  []string // near names, at most four

	Subject Subject
	// Value and Limit are what a finding measured and what it was held against; zero dimension and Has false if it measured nothing.
	Value, Limit unit.Quantity
	HasValue     bool
	// LowIsWorse says that a smaller Value than the accepted one reopens the finding; else a larger one does.
	LowIsWorse bool
	Case       string // the case in which it showed, if any

	// Accepted is set when a named person took responsibility for the finding.
	Accepted *Acceptance
}

// Acceptance is who takes responsibility, why, and until which revision.
type Acceptance struct {
	By, Reason, Until string
	Span              Span
}

// List is a collection of messages.
type List []Diagnostic

// Add appends messages.
func (l *List) Add(d ...Diagnostic) { *l = append(*l, d...) }

// Mistake appends a mistake and returns it for further detail.
func (l *List) Mistake(span Span, code, title, detail string) *Diagnostic {
	*l = append(*l, Diagnostic{Code: code, Severity: Mistake, Title: title, Detail: detail, Span: span})
	return &(*l)[len(*l)-1]
}

// Finding appends a finding and returns it for further detail.
func (l *List) Finding(span Span, code, title, detail string, about Subject) *Diagnostic {
	*l = append(*l, Diagnostic{Code: code, Severity: Finding, Title: title, Detail: detail, Span: span, Subject: about})
	return &(*l)[len(*l)-1]
}

// Point adds a related place and returns d.
func (d *Diagnostic) Point(span Span, text string) *Diagnostic {
	d.Related = append(d.Related, Related{span, text})
	return d
}

// Near sets the suggested names, at most four.
func (d *Diagnostic) Near(names []string) *Diagnostic {
	if len(names) > 4 {
		names = names[:4]
	}
	d.Suggest = names
	return d
}

// Measured sets what a finding measured and the limit it was held against.
func (d *Diagnostic) Measured(value, limit unit.Quantity, lowIsWorse bool) *Diagnostic {
	d.Value, d.Limit, d.HasValue, d.LowIsWorse = value, limit, true, lowIsWorse
	return d
}

// Open counts messages that stand in the way of building: mistakes and findings nobody accepted.
func (l List) Open() int {
	n := 0
	for _, d := range l {
		if d.Severity > Note && d.Accepted == nil {
			n++
		}
	}
	return n
}

// HasMistakes tells whether some text could not be understood.
func (l List) HasMistakes() bool {
	return slices.ContainsFunc(l, func(d Diagnostic) bool { return d.Severity == Mistake })
}

// Sort orders by file, offset, code, subject and title, so that the order of discovery never shows.
func (l List) Sort() {
	slices.SortStableFunc(l, func(a, b Diagnostic) int {
		return cmp.Or(a.Span.Compare(b.Span), cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Subject.Name, b.Subject.Name), cmp.Compare(a.Subject.From, b.Subject.From), cmp.Compare(a.Subject.To, b.Subject.To),
			cmp.Compare(a.Case, b.Case), cmp.Compare(a.Title, b.Title))
	})
}
