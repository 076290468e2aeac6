package layup

import (
	"fmt"
	"slices"
	"strconv"

	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// tenths is a length in millimetres to a tenth, with its unit.
func tenths(l unit.Length) string { return unit.Number(float64(l), 1) + " mm" }

func whole(l unit.Length) string { return unit.Number(float64(l), 0) + " mm" }

func percent(r unit.Ratio) string { return unit.Number(float64(r)*100, 1) + " %" }

// most sets the most that the bundle can be. What is laid by hand and not packed yet is no thicker than the trade's figure.
func (f *finder) most(l *Lay) {
	if l.Most = l.Trade; l.Placed && l.Kind != Flat && !l.Unknown {
		l.Most = max(l.Most, l.Outside)
	}
}

// band sets the least that the bundle can be, and says how it lies to the trade's figure.
func (l *Lay) band(least unit.Length) {
	if l.Least = least; l.Unknown || l.Kind == Empty {
		return
	}
	if l.Placed && l.Kind != Flat {
		l.Least, l.Most = min(l.Least, l.Outside), max(l.Most, l.Outside)
	}
	said := tenths(l.Least) + " to " + tenths(l.Most)
	const hair = 0.05
	switch {
	case l.Kind == Alone:
		l.Band = tenths(l.Most)
	case l.Kind == Flat:
		l.Band = tenths(l.Width) + " wide, " + tenths(l.Height) + " high; gathered " + said
	case l.Kind == ByHand:
		l.Band = said
	case l.Outside > l.Trade+hair:
		l.Band = fmt.Sprintf("%s, %s more than the trade's figure %s; its band is %s", tenths(l.Outside), percent(unit.Ratio(l.Outside/l.Trade)-1), tenths(l.Trade), said)
	default:
		l.Band = tenths(l.Outside) + ", within its band " + said
	}
}

// change is what differs between two neighbouring edges of a trunk; false where nothing does.
func (f *finder) change(node int, a, b *Lay) (Change, bool) {
	c := Change{Place: f.geo.Text(node), Station: f.geo.Edges[b.Edge].Station, Edge: b.Edge}
	text := func(p *Piece, verb string) string {
		if p.Layer == 0 {
			return p.Label
		}
		if p.Layer == 1 {
			return p.Label + " " + verb + " the core"
		}
		return p.Label + " " + verb + " layer " + strconv.Itoa(p.Layer)
	}
	find := func(l *Lay, p *Piece) *Piece {
		if i := slices.IndexFunc(l.Pieces, func(o Piece) bool { return o.Thing == p.Thing || keyOf(&o) == keyOf(p) }); i >= 0 {
			return &l.Pieces[i]
		}
		return nil
	}
	for i := range a.Pieces {
		p := &a.Pieces[i]
		switch o := find(b, p); {
		case o == nil:
			c.Leave = append(c.Leave, text(p, "from"))
		case o.Layer != p.Layer:
			c.Relaid = true
		}
	}
	for i := range b.Pieces {
		if p := &b.Pieces[i]; find(a, p) == nil {
			c.Join = append(c.Join, text(p, "to"))
		}
	}
	return c, len(c.Leave) > 0 || len(c.Join) > 0
}

// why says why an edge lies as it does; given is what kept it from layers.
func (f *finder) why(l *Lay, e *space.Edge, given string, long unit.Length) string {
	if l.Unknown {
		return "the outside of a wire is not known"
	}
	if l.Kind == Alone {
		return ""
	}
	if given != "" {
		return given
	}
	r := f.job.Settings.Get("lay", f.rules(l.Edge).at)
	if r.Value.Name != "auto" {
		return "set for " + r.Scope
	}
	switch l.Kind {
	case Layers:
		return "long, and of many"
	case Flat:
		return whole(long) + " is short"
	}
	if least := f.job.Settings.Get("lay-pieces", f.rules(l.Edge).at).Value.Quantity.Value; float64(len(l.Pieces)) < least {
		return "fewer than " + unit.Number(least, 0) + " wires, pairs and cables"
	}
	return whole(long) + " is too short for layers"
}

// name gives each trunk its name.
func (f *finder) name() {
	count := map[string]int{}
	for i := range f.plan.Trunks {
		count[f.plan.Trunks[i].Run]++
	}
	for i := range f.plan.Trunks {
		t := &f.plan.Trunks[i]
		t.Name = t.Run
		if count[t.Run] > 1 {
			t.Name += ", " + t.From + " to " + t.To
		}
	}
}
