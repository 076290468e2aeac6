package layup

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

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

// labels of pieces of a lay, in their order.
func (l *Lay) labels(pieces []int) string {
	out := make([]string, len(pieces))
	for k, i := range pieces {
		out[k] = l.Pieces[i].Label
	}
	return strings.Join(out, ", ")
}

// steps says how an edge is laid up.
func (l *Lay) steps() {
	all := make([]int, len(l.Pieces))
	for i := range all {
		all[i] = i
	}
	l.Steps = nil
	say := func(format string, a ...any) { l.Steps = append(l.Steps, fmt.Sprintf(format, a...)) }
	switch l.Kind {
	case Alone:
		say("%s lies alone.", l.labels(all))
	case Flat:
		rows := "one row"
		if l.Rows > 1 {
			rows = strconv.Itoa(l.Rows) + " rows"
		}
		say("Side by side in %s, from left to right and from the lowest row up: %s. Tie, do not twist.", rows, l.labels(all))
	case ByHand:
		say("Together in a gentle twist by hand, thickest in the middle: %s.", l.labels(all))
	}
	for n := range l.Layers {
		y := &l.Layers[n]
		if n == 0 {
			if len(y.Pieces) == 1 {
				say("Core: %s, straight, %s thick.", l.labels(y.Pieces), tenths(y.Outside))
			} else {
				valleys := ""
				if len(y.Pieces) > mostCore {
					valleys = ", thin ones in the valleys of the thick ones"
				}
				say("Core: %s, twisted together %s%s, one turn in %s; %s thick, takes up %s.", l.labels(y.Pieces), y.Hand, valleys, whole(y.Lay), tenths(y.Outside), percent(y.TakeUp))
			}
			continue
		}
		built := ""
		if y.Built > 0 {
			built = "Build up what is laid to " + tenths(y.Built) + " with tape. "
		}
		fillers := ""
		if k := len(y.Fillers); k == 1 {
			fillers = ", with 1 filler of " + tenths(y.Diameter)
		} else if k > 1 {
			fillers = fmt.Sprintf(", with %d fillers of %s between them", k, tenths(y.Diameter))
		}
		say("%sLayer %d, %s, one turn in %s: %s%s; %s thick, takes up %s.", built, y.Number, y.Hand, whole(y.Lay), l.labels(y.Pieces), fillers, tenths(y.Outside), percent(y.TakeUp))
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
