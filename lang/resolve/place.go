package resolve

import (
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// coordinates reads a place in round brackets; the last unit counts for all before it that have none.
func coordinates(v syntax.Value) ([]unit.Length, bool) {
	if v.Kind != syntax.Place {
		return nil, false
	}
	out := make([]unit.Length, len(v.Items))
	factor := 1.0
	for i := len(v.Items) - 1; i >= 0; i-- {
		q, ok := quantity(v.Items[i])
		if !ok {
			return nil, false
		}
		if q.Dim == unit.DimNone {
			out[i] = unit.Length(q.Value * factor)
			continue
		}
		out[i] = unit.Length(q.Value)
		if i == len(v.Items)-1 {
			factor = sense.Scale(q)
		}
	}
	return out, true
}

func point3(v syntax.Value) (design.Point3, bool) {
	c, ok := coordinates(v)
	if !ok || len(c) != 3 {
		return design.Point3{}, false
	}
	return design.Point3{X: c[0], Y: c[1], Z: c[2]}, true
}

func points3(s *sense.Stmt, option string) []design.Point3 {
	if o := s.Find(option); o != nil {
		return pointsOf(o)
	}
	return nil
}

// pointsOf is the coordinates of an option's list, turned over where they were taken over for the other hand.
func pointsOf(o *sense.Opt) []design.Point3 {
	var out []design.Point3
	for _, v := range o.Values {
		if p, ok := point3(v); ok {
			out = append(out, flipped(p, o.Flip))
		}
	}
	return out
}

// flipped changes the sign of coordinates.
func flipped(p design.Point3, flip [3]bool) design.Point3 {
	for i, x := range []*unit.Length{&p.X, &p.Y, &p.Z} {
		if flip[i] {
			*x = 0 - *x // never -0
		}
	}
	return p
}

// axis is the one named x, y or z.
func axis(name string) (out [3]bool) {
	if i := strings.Index("xyz", name); i >= 0 && len(name) == 1 {
		out[i] = true
	}
	return out
}

// node is the name of a place that has none but its coordinates: runs that name the same coordinates meet there.
func node(p design.Point3) string {
	n := func(l unit.Length) string { return unit.Number(float64(l), 3) }
	return "(" + n(p.X) + ", " + n(p.Y) + ", " + n(p.Z) + " mm)"
}

type spotState struct {
	spot design.Spot
	done bool
}

// spotOf is where a declared thing sits. A thing that is put at itself by way of others is a mistake.
func (b *builder) spotOf(t *thing) design.Spot {
	if st := b.spots[t.name]; st != nil {
		if !st.done {
			b.circle(t)
		}
		return st.spot
	}
	st := &spotState{}
	b.spots[t.name] = st
	s := t.st
	if m := b.merged[t]; m != nil {
		s = m
	}
	st.spot = b.spot(s, t.name)
	if t.kind == "splice" && st.spot.Node == "" && s.Find("along") != nil {
		st.spot.Node = t.name
	}
	st.done = true
	return st.spot
}

func (b *builder) circle(t *thing) {
	o := t.st.Find("at")
	if o == nil {
		return
	}
	b.mistake(t.st, o.Span, "place-circle", fmt.Sprintf("the place of `%s` hangs on itself", t.name), "Of the things put at one another one needs coordinates.")
}

// spot works out the place that a statement gives; its Node is empty if it gives none.
func (b *builder) spot(s *sense.Stmt, name string) design.Spot {
	o := s.Find("at")
	if o == nil {
		return design.Spot{}
	}
	v := o.Values[0]
	out := b.at(s, v)
	out.Where = v.Span
	moved := false
	if m := s.Find("mirror"); m != nil {
		moved = true
		out.At = flipped(out.At, axis(m.Values[0].Text))
	}
	if d := s.Find("offset"); d != nil {
		moved = true
		p, ok := b.three(s, d)
		out.At, out.Known = add(out.At, p, 1), out.Known && ok
	}
	if d := s.Find("step"); d != nil {
		moved = true
		p, ok := b.three(s, d)
		out.At, out.Known = add(out.At, p, unit.Length(s.Member)), out.Known && ok
	}
	if v.Kind == syntax.Place || moved || out.Node == "" {
		out.Node = name
	}
	return out
}

// three reads a place that must have three coordinates.
func (b *builder) three(s *sense.Stmt, o *sense.Opt) (design.Point3, bool) {
	p, ok := point3(o.Values[0])
	if !ok && o.Values[0].Kind == syntax.Place && len(o.Values[0].Items) == 2 {
		b.mistake(s, o.Span, "place-unclear", "a place has three numbers, this one has 2", "Write it as (1180, -440, 470 mm): x, y and z from the datum.")
	}
	return p, ok
}

func add(p, q design.Point3, times unit.Length) design.Point3 {
	return design.Point3{X: p.X + q.X*times, Y: p.Y + q.Y*times, Z: p.Z + q.Z*times}
}

// at is the place that a value says: coordinates, or the place of a thing by its name.
func (b *builder) at(s *sense.Stmt, v syntax.Value) design.Spot {
	if v.Kind == syntax.Place {
		p, ok := point3(v)
		return design.Spot{At: p, Known: ok, Node: node(p), Where: v.Span}
	}
	head, pin, dotted := strings.Cut(v.Text, ".")
	w := v
	w.Text = head
	t := b.findPlace(s, w)
	if t == nil {
		return design.Spot{Where: v.Span}
	}
	var out design.Spot
	if dotted {
		out = b.pinSpot(s, v, t, pin)
	} else {
		out = b.spotOf(t)
	}
	if out.Node == "" && !dotted {
		b.placeless(s, v, t)
	}
	out.Where = v.Span
	return out
}

// faces is a place towards which something looks; not known where none is given.
func (b *builder) faces(s *sense.Stmt) design.Spot {
	o := s.Find("faces")
	if o == nil {
		return design.Spot{}
	}
	return b.at(s, o.Values[0])
}

// findPlace finds anything that has a place.
func (b *builder) findPlace(s *sense.Stmt, v syntax.Value) *thing {
	t := b.names["place"][v.Text]
	if t == nil {
		b.miss(s, missKey{"place", v.Text}, v.Span, "no-such-place", fmt.Sprintf("there is no place `%s`", v.Text), func(d *diag.Diagnostic) {
			d.Detail = "Points, devices, breaks and splices have places; or write coordinates such as (1180, -440, 470 mm)."
			if o := b.elsewhere(v.Text, "point"); o != nil {
				d.Detail = fmt.Sprintf("`%s` is a %s, which has no place of its own.", v.Text, o.kind)
			}
			d.Near(diag.Nearest(v.Text, b.namesOf("point", "device", "break", "splice")))
		})
		return nil
	}
	if t.kind == "run" && t.st.Torn {
		return nil // nobody knows what it is
	}
	if t.kind == "run" {
		b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a run, wanted is a place", t.name), "A run is a way, not a place: name a point on it.").Point(t.st.NameSpan(), "declared here")
		return nil
	}
	return t
}

func (b *builder) placeless(s *sense.Stmt, v syntax.Value, t *thing) {
	switch {
	case t.kind == "splice" && t.st.Missing("at") && t.st.Missing("along"):
		b.mistake(s, v.Span, "no-place", fmt.Sprintf("splice %s has no place: the program chooses it", t.name), "Give it one with `at`, or name another place here.").Point(t.st.NameSpan(), "the splice")
	case t.kind == "device" && b.devices[t.name] != nil && b.devices[t.name].Pattern:
		b.mistake(s, v.Span, "no-place", fmt.Sprintf("device %s is a pattern without a place", t.name), "It is there to be `like`; name a device that has a place.").Point(t.st.NameSpan(), "the pattern")
	}
}

// pinSpot is the place of a pin, or of its device where the pin says none.
func (b *builder) pinSpot(s *sense.Stmt, v syntax.Value, t *thing, pin string) design.Spot {
	d := b.devices[t.name]
	if t.kind != "device" || d == nil {
		b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a %s and has no pins with a place", t.name, t.kind), fmt.Sprintf("Write just `%s`.", t.name)).Point(t.st.NameSpan(), "declared here")
		return design.Spot{}
	}
	i, ok := d.find(pin)
	if !ok {
		b.noPin(s, d, v, pin)
		return design.Spot{}
	}
	if l := d.pinLines[d.Pins[i].Name]; l != nil && l.Find("at") != nil {
		return b.ownPinSpot(d, l)
	}
	if h := d.Pins[i].Housing; h >= 0 {
		if l := d.housingLine(h); l != nil && l.Find("at") != nil {
			return b.spot(l, d.Name+"."+d.Housings[h].As)
		}
	}
	return b.spotOf(t)
}

// ownPinSpot is the place that a line of pins gives; guarded, since it may name places that hang on it.
func (b *builder) ownPinSpot(d *device, l *sense.Stmt) design.Spot {
	return b.spotOf(&thing{kind: "device", name: d.Name + "." + l.Name(), st: l})
}
