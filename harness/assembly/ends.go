package assembly

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// fit is a size of a sleeve that suits what it lies on.
type fit struct {
	size                int
	recovered, expanded unit.Length
	wall                unit.Length
}

// fits lists the sizes of a sleeve that open over the most and recover, or close, onto the least, smallest first. A tube and a slit sleeve
// need not grip: they are tied. near is the size that comes nearest where none does.
func (m *maker) fits(part *design.Sleeve, least, most unit.Length, at design.Scope) (out []fit, near fit) {
	near.size = -1
	if part == nil {
		return nil, near
	}
	grips := part.Kind() == "shrink" || part.Kind() == "braid"
	for i := range part.Sizes {
		x := fit{size: i, wall: part.Wall(i)}
		x.recovered, x.expanded = part.Band(i)
		if x.wall <= 0 {
			x.wall = m.setting("sleeve-wall", at)
		}
		if x.expanded < most*(1-1e-9) {
			near = x
			continue
		}
		if grips && x.recovered > least*(1+1e-9) {
			if near.size < 0 || near.expanded < most {
				near = x
			}
			continue
		}
		out = append(out, x)
	}
	return out, near
}

// cover is a thing that a sleeve is to become, with what it lies on.
type cover struct {
	kind        string
	part        string
	where       string
	least, most unit.Length // 0: not known
	length      unit.Length
	scope       design.Scope
	subject     diag.Subject
	span        diag.Span
	place       int
}

// sleeve makes the thing of a cover, and lists the sizes that suit it. One that none suits is a misfit, and said as that: it goes on as if it passed everything.
func (s *sheet) sleeve(c cover) (thing int, sizes []fit) {
	m := s.m
	part := m.sleeve[c.part]
	t := Thing{Kind: c.kind, Part: c.part, Length: unit.Length(math.Ceil(float64(c.length) - 1e-6)), Count: 1, Where: c.where, Over: c.most, Places: []int{c.place}}
	if part != nil {
		t.Heat, t.HasHeat, t.Rated = part.Kind() == "shrink", part.Heat.Given, part.Heat.Nominal
		if t.Heat || part.Kind() == "braid" {
			t.Grips = c.least
		}
	}
	switch {
	case part == nil || len(part.Sizes) == 0:
		t.Note = "its sizes are not known: choose one that opens over all it must pass"
	case !(c.most > 0) || c.most == unknown:
		t.Note, t.Over = "how thick it is there is not known: size open", 0
	default:
		var near fit
		if sizes, near = m.fits(part, c.least, c.most, c.scope); len(sizes) == 0 {
			t.Note = "no size fits"
			x := Misfit{Section: s.name, Kind: c.kind, Part: c.part, Where: c.where, Subject: c.subject, Over: c.most, Grips: t.Grips, Span: c.span}
			if near.size >= 0 {
				x.Recovered, x.Expanded = near.recovered, near.expanded
			}
			m.misfits = append(m.misfits, x)
		}
	}
	if len(sizes) == 0 {
		sizes = []fit{{size: -1, recovered: c.least, expanded: unknown, wall: m.setting("sleeve-wall", c.scope)}}
	}
	s.things = append(s.things, t)
	return len(s.things) - 1, sizes
}

// settle takes a size for a thing.
func (s *sheet) settle(thing int, f fit) {
	t := &s.things[thing]
	if p := s.m.sleeve[t.Part]; p != nil && f.size >= 0 {
		t.Size = p.Sizes[f.size]
	}
}

// marks slides the mark on an end; -1 where it gets none: a screen has none, nor has a wire that is too short for one.
func (s *sheet) marks(a at, place int, fitted bool) int {
	w := &s.m.net.Wires[a.wire]
	if s.isScreen(a.wire) || w.Label == "" || s.m.length[a.wire] > 0 && s.m.length[a.wire] < s.m.setting("mark-none", scope(w)) {
		return -1
	}
	part := s.m.job.Settings.Get("marker", scope(w)).Value.Name
	d := s.m.conductor(a.wire).Outside
	thing, sizes := s.sleeve(cover{kind: "mark", part: part, where: "marks", least: d, most: d, length: s.m.setting("marker-length", scope(w)), scope: scope(w),
		subject: diag.Subject{Kind: "circuit", Name: w.Circuit, From: w.From, To: w.To}, span: w.Span, place: place})
	s.settle(thing, sizes[0])
	n := s.addEnd(mark, place, a, s.thingText(thing), thing)
	if p := s.m.sleeve[part]; p != nil && p.Kind() == "slit" {
		return -1
	}
	if p := s.m.sleeve[part]; p != nil && p.Kind() == "shrink" {
		shrink := s.addEnd(shrinkMark, place, a, "", -1)
		s.before(n, shrink)
	}
	return n
}

// endSleeves slides on what a cavity line names, and shrinks it over the barrel once that is crimped.
func (s *sheet) endSleeves(a at, place int) (on, after []int) {
	w := &s.m.net.Wires[a.wire]
	t := &w.Ends[a.end]
	for _, part := range t.SlidOn {
		d := s.m.conductor(a.wire).Outside
		over := s.over(a)
		thing, sizes := s.sleeve(cover{kind: "sleeve over an end", part: part, where: s.m.endText(a), least: d, most: max(d, over), length: s.m.setting("end-sleeve", scope(w)), scope: scope(w),
			subject: diag.Subject{Kind: "circuit", Name: w.Circuit, From: w.From, To: w.To}, span: w.Span, place: place})
		s.settle(thing, sizes[0])
		n := s.addEnd(slideEnd, place, a, s.thingText(thing), thing)
		on = append(on, n)
		if p := s.m.sleeve[part]; p != nil && p.Kind() == "slit" {
			on = on[:len(on)-1]
		}
		fitted := s.addEnd(shrinkEnd, place, a, s.thingText(thing), -1)
		s.before(n, fitted)
		after = append(after, fitted)
	}
	return on, after
}

// over is what a sleeve over an end lies on besides the wire: of a lug its barrel, of a contact its crimp, which is within its outside.
func (s *sheet) over(a at) unit.Length {
	t := &s.m.net.Wires[a.wire].Ends[a.end]
	if t.Kind == net.OnStud || t.Kind == net.OnPost {
		if barrel, _, ok := s.m.lugSize(a); ok {
			return barrel
		}
	}
	return 0
}
