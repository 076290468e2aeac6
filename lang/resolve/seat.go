package resolve

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
)

// barrel is what the wires of a splice are crimped in.
func (b *builder) barrel(s *sense.Stmt, base design.Part) *design.Barrel {
	v := &design.Barrel{Part: base, Length: length(s, "length"), Outside: length(s, "outside"), Strip: length(s, "strip"), Tool: s.Text("tool"), Heat: fact[unit.Temperature](s, "heat")}
	for _, o := range []string{"length", "outside", "strip"} {
		b.aboveZero(s, o, "a barrel")
	}
	o := s.Find("takes")
	if o == nil {
		return v
	}
	v.Most = b.size(s, o.Values[len(o.Values)-1]).Area()
	if len(o.Values) > 1 {
		v.Least = b.size(s, o.Values[0]).Area()
	}
	if v.Least > v.Most && v.Most > 0 {
		b.turned(s, o)
		v.Least, v.Most = v.Most, v.Least
	}
	return v
}

// seat is the place of a splice said outside its line. What is frozen is copper: a frozen line whose splice or run is gone stands as it is, so
// that a check can say what is still in the vehicle.
func (b *builder) seat(s *sense.Stmt) {
	if len(s.About) == 0 {
		return
	}
	along := s.Find("along")
	d := &design.SeatDecision{Common: own(s), Splice: s.Name(), To: s.Text("to"), After: length(s, "after")}
	if along != nil {
		d.Along = along.Values[0].Text
	}
	gone := func(kind, name string) bool {
		t := b.names[space(kind)][name]
		return t == nil || t.kind != kind
	}
	if d.Frozen != "" && (gone("splice", d.Splice) || gone("run", d.Along)) {
		d.Lost = true
		b.job.Seats = append(b.job.Seats, d)
		return
	}
	t := b.find(s, s.About[0], "splice")
	if t == nil || b.refer(s, "along", "run") == "" || s.Find("after") == nil {
		return
	}
	i := slices.IndexFunc(b.job.Splices, func(x *design.Splice) bool { return x.Name == t.name })
	if i < 0 {
		return
	}
	p := b.job.Splices[i]
	for _, o := range []string{"at", "along"} {
		if own := t.st.Find(o); own != nil {
			b.mistake(s, along.Span, "place-twice", fmt.Sprintf("splice %s has two places", t.name), "Keep one of the two.").Point(own.Span, "the other place")
			return
		}
	}
	for _, x := range b.job.Seats {
		if x.Splice == t.name && !x.Lost {
			b.mistake(s, along.Span, "place-twice", fmt.Sprintf("splice %s has two places", t.name), "Keep one of the two.").Point(x.Span, "the other place")
			return
		}
	}
	p.Along, p.To, p.After, p.Node = d.Along, d.To, d.After, t.name
	p.Where = d.Span
	if p.Frozen == "" {
		p.Frozen = d.Frozen
	}
	b.job.Seats = append(b.job.Seats, d)
}

// seatEnds finds the stretches in which splices lie that say where theirs ends.
func (b *builder) seatEnds() {
	for _, p := range b.job.Splices {
		if p.To == "" || p.Along == "" {
			continue
		}
		i := slices.IndexFunc(b.job.Runs, func(r *design.Run) bool { return r.Name == p.Along })
		if i < 0 {
			continue
		}
		key := p.To
		if t := b.names[space("splice")][key]; t != nil {
			if n := b.spotOf(t).Node; n != "" {
				key = n
			}
		}
		var ends []string
		n := 0
		for _, x := range b.job.Runs[i].Stretches {
			end := x.Nodes[len(x.Nodes)-1].Node
			ends = append(ends, end)
			if end == key {
				n++
			}
		}
		where := p.Span
		if !p.Where.IsZero() {
			where = p.Where
		}
		said := p.To
		p.To = key
		switch {
		case n == 0:
			slices.SortFunc(ends, design.Natural)
			ends = slices.Compact(ends)
			b.mistake(nil, where, "no-such-place", fmt.Sprintf("no stretch of run %s ends at `%s`", p.Along, said), fmt.Sprintf("Splice %s says that it lies in one. It ends at %s.", p.Name, join(ends, "and"))).
				Near(diag.Nearest(said, ends))
			p.To = ""
		case n > 1:
			b.mistake(nil, where, "place-unclear", fmt.Sprintf("%d stretches of run %s end at `%s`", n, p.Along, said), fmt.Sprintf("Nobody can tell in which of them splice %s lies: give one of them a run of its own.", p.Name))
			p.To = ""
		}
	}
	for _, d := range b.job.Seats {
		for _, p := range b.job.Splices {
			if p.Name == d.Splice && !d.Lost {
				d.To = p.To
			}
		}
	}
}
