package resolve

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/lang/expand"
	"loomsheet/lang/sense"
)

// missKey is what was looked for: a name among those of one space, or a pin or state by its device.
type missKey struct{ space, name string }

// miss is a name that was looked for in vain, with all the places it was named at. What it says is worded for the first of them.
type miss struct {
	code, title string
	help        func(d *diag.Diagnostic) // adds what to do, near names, other places
	first       diag.Span
	spans       []diag.Span
	origin      diag.Span
}

// patient is how many messages get their hints worked out; nobody reads more in one go.
const patient = 300

// many tells whether so much is wrong already that hints are no help.
func (b *builder) many() bool { return len(b.msgs) > patient }

// miss records that something does not exist; all the places that name it make one message.
func (b *builder) miss(s *sense.Stmt, k missKey, span diag.Span, code, title string, help func(d *diag.Diagnostic)) {
	if s != nil && s.Torn {
		return
	}
	m := b.misses[k]
	if m == nil {
		m = &miss{first: span}
		b.misses[k] = m
	}
	if len(m.spans) == 0 || before(span, m.first) {
		m.code, m.title, m.help, m.first = code, title, help, span
		m.origin = diag.Span{}
		if s != nil {
			m.origin = s.Origin
		}
	}
	m.spans = append(m.spans, span)
}

func before(x, y diag.Span) bool { return x.Compare(y) < 0 }

func (b *builder) tellMisses() {
	keys := make([]missKey, 0, len(b.misses))
	for k := range b.misses {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(x, y missKey) int { return cmp.Or(cmp.Compare(x.space, y.space), cmp.Compare(x.name, y.name)) })
	told := 0
	for _, k := range keys {
		if b.blind && k.space != "template" || b.nameless[k.space] || b.hidden(k.name) {
			continue
		}
		m := b.misses[k]
		slices.SortFunc(m.spans, diag.Span.Compare)
		m.spans = slices.Compact(m.spans)
		d := b.msgs.Mistake(m.first, m.code, m.title, "")
		if told++; told <= patient {
			m.help(d)
		}
		for _, sp := range m.spans[1:min(len(m.spans), 5)] {
			d.Point(sp, "also named here")
		}
		if !m.origin.IsZero() {
			d.Point(m.origin, "the template is used here")
		}
	}
}

// hidden tells whether a name may stand in a part of the job that could not be read.
func (b *builder) hidden(name string) bool {
	if b.ghosts[name] {
		return true
	}
	if head, _, dotted := strings.Cut(name, "."); dotted && b.ghosts[head] {
		return true
	}
	return slices.ContainsFunc(b.shapes, func(s [2]string) bool {
		return len(name) >= len(s[0])+len(s[1]) && strings.HasPrefix(name, s[0]) && strings.HasSuffix(name, s[1])
	})
}

// ghostShapes notes what the names of a template look like of which a copy could not be made.
func (b *builder) ghostShapes(t *sense.Template) {
	for _, l := range t.Body {
		for _, v := range l.About {
			head, _, _ := strings.Cut(v.Text, "[")
			tail := v.Text[strings.LastIndexByte(v.Text, ']')+1:]
			if tail == v.Text {
				tail = ""
			}
			b.shapes = append(b.shapes, [2]string{head, tail})
		}
	}
}

// ghost notes names that stood in a line nobody could read.
func (b *builder) ghost(texts []string) {
	for _, t := range texts {
		if ms, _, err := expand.Members(t); err == nil && len(ms) <= 1000 {
			for _, m := range ms {
				b.ghosts[m] = true
			}
		}
	}
}
