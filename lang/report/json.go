package report

import (
	"encoding/json"
	"io"
	"math"
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// SchemaVersion changes only when a key of the JSON form is renamed, removed or changes its meaning.
const SchemaVersion = 1

// Document is the JSON form of a list of messages. All of them are in it, in the order of file, offset and code.
type Document struct {
	Schema   int       `json:"schema"`
	Messages []Message `json:"messages"`
}

// Message is the JSON form of one message. Code, severity, title, detail, file, related and suggest are always there; line, column,
// offset and end only where the place is known; subject, case, value, limit and accepted only where they apply.
type Message struct {
	Code     string `json:"code"`     // a stable word
	Severity string `json:"severity"` // mistake, finding or note
	Title    string `json:"title"`    // what is wrong
	Detail   string `json:"detail"`   // what to do
	Place
	Related  []Related   `json:"related"`
	Suggest  []string    `json:"suggest"` // near names
	Subject  *Subject    `json:"subject,omitempty"`
	Case     string      `json:"case,omitempty"`
	Value    *Quantity   `json:"value,omitempty"`
	Limit    *Quantity   `json:"limit,omitempty"`
	Accepted *Acceptance `json:"accepted,omitempty"`
}

// Place is where a message points. Lines and columns count from 1, columns in characters; offsets count bytes from 0. End is the place
// just behind the last character.
type Place struct {
	File   string `json:"file"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Offset *int   `json:"offset,omitempty"`
	End    *End   `json:"end,omitempty"`
}

// End is where a place ends.
type End struct {
	Line   int `json:"line"`
	Column int `json:"column"`
	Offset int `json:"offset"`
}

// Related is another place that takes part.
type Related struct {
	Text string `json:"text"`
	Place
}

// Subject is what a finding is about; from and to are set when it is one wire of a circuit.
type Subject struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`
}

// Quantity is a number in the given unit ("" for a bare number); text is how it is printed. The number is left out if it has none.
type Quantity struct {
	Number *float64 `json:"number,omitempty"`
	Unit   string   `json:"unit"`
	Text   string   `json:"text"`
}

// Acceptance is who takes responsibility.
type Acceptance struct {
	By     string `json:"by"`
	Reason string `json:"reason"`
	Until  string `json:"until,omitempty"`
	Place
}

// JSON writes messages as one Document.
func JSON(w io.Writer, list diag.List, files Files) error {
	list = slices.Clone(list)
	list.Sort()
	src := newSources(files)
	doc := Document{SchemaVersion, make([]Message, 0, len(list))}
	for _, d := range list {
		m := Message{Code: d.Code, Severity: d.Severity.String(), Title: d.Title, Detail: d.Detail, Place: src.place(d.Span),
			Related: []Related{}, Suggest: []string{}, Case: d.Case}
		for _, r := range d.Related {
			m.Related = append(m.Related, Related{r.Text, src.place(r.Span)})
		}
		m.Suggest = append(m.Suggest, d.Suggest...)
		if d.Subject != (diag.Subject{}) {
			m.Subject = &Subject{d.Subject.Kind, d.Subject.Name, d.Subject.From, d.Subject.To}
		}
		if d.HasValue {
			m.Value, m.Limit = quantity(d.Value), quantity(d.Limit)
		}
		if a := d.Accepted; a != nil {
			m.Accepted = &Acceptance{a.By, a.Reason, a.Until, src.place(a.Span)}
		}
		doc.Messages = append(doc.Messages, m)
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}

func (s *sources) place(span diag.Span) Place {
	p := Place{File: span.File.String()}
	src := s.get(span)
	if src == nil {
		return p
	}
	start, end := src.clamp(int(span.Start)), src.clamp(int(max(span.Start, span.End)))
	from, to := src.position(start), src.position(end)
	p.Line, p.Column, p.Offset = from.Line, from.Column, &start
	p.End = &End{to.Line, to.Column, end}
	return p
}

func quantity(q unit.Quantity) *Quantity {
	out := &Quantity{Text: q.String()}
	x := q.Value
	if q.Dim == unit.DimRatio {
		x *= 100 // its first unit is the percent
	}
	if u := q.Dim.Units(); len(u) > 0 {
		out.Unit = u[0]
	}
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		out.Number = &x
	}
	return out
}
