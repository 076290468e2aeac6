package report

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/diag"
)

// Options of printing.
type Options struct {
	Colour bool
	Width  int  // of the paper or terminal in characters; 0 is not known: only quoted lines are cut, far out
	All    bool // print every message, however many are alike
}

// alike is how many messages of one code in one file are printed before the rest is only counted.
const alike = 5

// longestQuote is how much of a line is quoted where no width is known, so that a line of a megabyte does not drown its message.
const longestQuote = 300

// Print writes messages as prose, in the order of files and places. Of more than five alike in one file the rest is counted.
func Print(w io.Writer, list diag.List, files Files, o Options) error {
	list = slices.Clone(list)
	list.Sort()
	type key struct {
		file diag.File
		code string
	}
	count := map[key]int{}
	for _, d := range list {
		count[key{d.Span.File, d.Code}]++
	}
	p := &printer{o: o, sources: newSources(files)}
	seen := map[key]int{}
	for _, d := range list {
		k := key{d.Span.File, d.Code}
		if seen[k]++; seen[k] > alike && !o.All {
			continue
		}
		if p.b.Len() > 0 {
			p.b.WriteByte('\n')
		}
		p.message(d)
		if more := count[k] - alike; seen[k] == alike && more > 0 && !o.All {
			fmt.Fprintf(&p.b, "  and %d more like it (--all shows them)\n", more)
		}
	}
	_, err := w.Write(p.b.Bytes())
	return err
}

type printer struct {
	b       bytes.Buffer
	o       Options
	sources *sources
}

const (
	bold   = "1"
	red    = "31;1"
	yellow = "33;1"
	cyan   = "36;1"
	faint  = "2"
)

func (p *printer) paint(style, s string) string {
	if !p.o.Colour || s == "" {
		return s
	}
	return "\x1b[" + style + "m" + s + "\x1b[0m"
}

func styleOf(d diag.Diagnostic) string {
	switch {
	case d.Accepted != nil || d.Severity == diag.Note:
		return cyan
	case d.Severity == diag.Finding:
		return yellow
	}
	return red
}

// place is "file:line:column", as much of it as is known.
func (p *printer) place(span diag.Span) string {
	if span.IsZero() {
		return ""
	}
	name := visible(span.File.String())
	src := p.sources.get(span)
	if src == nil {
		return name
	}
	pos := src.position(int(span.Start))
	return fmt.Sprintf("%s:%d:%d", name, pos.Line, pos.Column)
}

func (p *printer) message(d diag.Diagnostic) {
	style := styleOf(d)
	if at := p.place(d.Span); at != "" {
		p.b.WriteString(p.paint(bold, at) + "  ")
	}
	p.b.WriteString(p.paint(style, visible(d.Code)) + ": " + visible(strings.ReplaceAll(d.Title, "\n", " ")))
	if d.Severity == diag.Note {
		p.b.WriteString(" (note)")
	}
	p.b.WriteByte('\n')
	p.quote(d.Span, style)
	if d.Detail != "" {
		for l := range strings.SplitSeq(d.Detail, "\n") {
			p.text(l)
		}
	}
	p.facts(d)
	if len(d.Suggest) > 0 {
		p.text("did you mean " + oneOf(d.Suggest) + "?")
	}
	for _, r := range d.Related {
		line := visible(r.Text)
		if at := p.place(r.Span); at != "" {
			line = p.paint(bold, at) + "  " + line
		}
		p.b.WriteString("  " + line + "\n")
		p.quote(r.Span, faint)
	}
	if a := d.Accepted; a != nil {
		text := "Accepted by " + a.By
		if a.Until != "" {
			text += " until revision " + a.Until
		}
		p.text(text + ": " + a.Reason)
	}
}

// facts are what a finding measured and where, unless its sentences say so themselves.
func (p *printer) facts(d diag.Diagnostic) {
	said := d.Title + "\n" + d.Detail
	var parts []string
	if d.HasValue && !(strings.Contains(said, d.Value.String()) && strings.Contains(said, d.Limit.String())) {
		parts = append(parts, "value "+d.Value.String(), "limit "+d.Limit.String())
	}
	if d.Case != "" && !strings.Contains(said, d.Case) {
		parts = append(parts, "case "+d.Case)
	}
	if len(parts) > 0 {
		p.text(strings.Join(parts, ", "))
	}
}

func (p *printer) text(s string) {
	for _, l := range wrap(visible(s), p.o.Width-2) {
		p.b.WriteString("  " + l + "\n")
	}
}

// quote shows the source of a span with the span marked.
func (p *printer) quote(span diag.Span, style string) {
	src := p.sources.get(span)
	if src == nil {
		return
	}
	digits := len(strconv.Itoa(src.lineAt(int(max(span.Start, span.End))) + 1))
	room := longestQuote
	if p.o.Width > 0 {
		room = max(20, p.o.Width-digits-5)
	}
	for _, r := range src.rows(int(span.Start), int(span.End), room) {
		if r.number == 0 {
			p.b.WriteString("  " + strings.Repeat(" ", digits) + p.paint(faint, " ...") + "\n")
			continue
		}
		p.b.WriteString("  " + p.paint(faint, fmt.Sprintf("%*d |", digits, r.number)))
		if r.text != "" {
			p.b.WriteString(" " + r.text)
		}
		p.b.WriteString("\n  " + strings.Repeat(" ", digits+3) + p.paint(style, r.mark) + "\n")
	}
}

func oneOf(names []string) string {
	quoted := make([]string, len(names))
	for i, n := range names {
		quoted[i] = "`" + n + "`"
	}
	if n := len(quoted); n > 1 {
		return strings.Join(quoted[:n-1], ", ") + " or " + quoted[n-1]
	}
	return quoted[0]
}
