package route

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// flow is how the ways of a side go away from a joint.
type flow struct {
	up    bool        // a way comes from above, without a dip of drip-loop first
	drop  unit.Length // the least dip of those
	down  unit.Length // how far another way of the same side falls
	sharp bool        // it begins upwards by faces-up or more
}

// waters follows every wire away from its connectors and splices, in zones that are wet or splashed: water runs along the wires downwards, drips off
// at the lowest place that it comes to, and stays where it finds a joint there. A way that stays level, or falls, leads nothing in; one that falls by
// drip-loop before it rises sheds the water first. Where several ways meet and all rise, the joint sits at a low point ("low"). A way that comes
// steeply down into a connector, by faces-up or more, leads water in ("up"); one that comes down gently is left to the seal of the wire.
func (f *finder) waters() []Water {
	var out []Water
	for _, j := range f.joints() {
		out = append(out, f.water(&j)...)
	}
	inOrder(f, out, func(w *Water) (string, int, unit.Length) { return w.Run, w.Stretch, w.After })
	return out
}

func (f *finder) water(j *joint) []Water {
	at, known := f.node(j.key.node)
	if !known {
		return nil
	}
	flows := make([]flow, len(j.sides))
	rising, wet := 0, -1
	for i := range j.sides {
		flows[i] = f.flow(j, &j.sides[i])
		if flows[i].up {
			rising++
			if wet < 0 {
				wet = i
			}
		}
	}
	if wet < 0 {
		return nil
	}
	say := func(what string, i int) Water {
		e := &f.geo.Edges[j.sides[i].edge]
		after := e.Station
		if e.From != j.key.node {
			after += e.Length
		}
		s := f.waterScope(j, e.Run, e.Zone, e.Section)
		return Water{What: what, Thing: j.thing, Kind: j.kind, Name: j.name, Run: e.Run, Stretch: e.Stretch, After: after, Zone: e.Zone, At: at, Drop: flows[i].drop,
			Needed: f.length("drip-loop", s), Source: f.rulings.Get("drip-loop", s).Source(), Span: j.span}
	}
	low := rising == len(flows)
	for _, w := range flows {
		low = low && w.drop <= 0 && w.down <= 0
	}
	if low && (len(flows) > 1 && !f.onPanel(j) || j.kind == "splice") {
		return []Water{say("low", wet)}
	}
	if j.kind == "splice" {
		return nil
	}
	var out []Water
	for half := range 2 { // once for each half of a break, by the way that sheds least
		worst := -1
		for i, w := range flows {
			if w.up && w.sharp && j.sides[i].half == half && (worst < 0 || w.drop < flows[worst].drop) {
				worst = i
			}
		}
		if worst >= 0 {
			out = append(out, say("up", worst))
		}
	}
	return out
}

// onPanel tells whether a joint is a break with a panel between its halves: neither side's water is the other's.
func (f *finder) onPanel(j *joint) bool {
	for _, b := range f.job.Breaks {
		if j.kind == "break" && b.Name == j.name {
			return b.Panel != ""
		}
	}
	return false
}

func (f *finder) waterScope(j *joint, run, zone, section string) design.Scope {
	s := design.Scope{Run: run, Zone: zone, Section: section}
	switch j.kind {
	case "device":
		s.Device = j.name
	case "break":
		s.Break = j.name
	}
	return s
}

// flow follows the wires of a side as far as they lie in wet zones.
func (f *finder) flow(j *joint, side *waterSide) flow {
	e := &f.geo.Edges[side.edge]
	out := flow{}
	if !f.wet(e.Zone) {
		return out
	}
	s := f.waterScope(j, e.Run, e.Zone, e.Section)
	level, loop := f.length("level-within", s), f.length("drip-loop", s)
	looks, ok := f.begins(side.edge, j.key.node)
	if !ok || loop <= 0 {
		return out
	}
	steep := unit.Length(math.Sin(min(f.number("faces-up", s), 90) * math.Pi / 180))
	turned := unit.Length(0)
	if faces := f.faces(j, side); faces.Length() > 0 {
		looks = faces
		switch up := looks.Dot(f.up()); {
		case up > steep:
			return flow{up: true, sharp: true}
		case up < -steep: // it leaves downwards, and turns up within its radius at the earliest
			turned, _ = f.asked(side.edge, side.edge)
		}
	}
	out.sharp = looks.Dot(f.up()) > steep
	for _, w := range side.wires {
		rises, dip := f.follow(w, j.key.node, level)
		out.sharp = out.sharp || rises && f.climbs(w, j.key.node, level, steep)
		if dip <= level {
			dip = 0
		}
		if dip = max(dip, turned); !rises || dip >= loop {
			out.down = max(out.down, dip)
			continue
		}
		if !out.up || dip < out.drop {
			out.up, out.drop = true, dip
		}
	}
	out.up = out.up && out.down < loop
	return out
}

// follow goes along a wire away from a node until it is above its beginning by more than level, or dry, or at its end: whether it rises, and
// how far it dips below its beginning before it does.
func (f *finder) follow(w end, node int, level unit.Length) (rises bool, dip unit.Length) {
	from := unit.Length(0)
	path := f.net.Wires[w.wire].Path
	for k := range path {
		edge := path[k].Edge
		if w.reverse {
			edge = path[len(path)-1-k].Edge
		}
		if edge < 0 || edge >= len(f.geo.Edges) {
			return false, dip
		}
		e := &f.geo.Edges[edge]
		if e.From != node && e.To != node || !f.wet(e.Zone) {
			return false, dip
		}
		hs := f.heights(edge)
		if len(hs) == 0 {
			return false, dip
		}
		for i := range hs {
			h := hs[i]
			if e.From != node {
				h = hs[len(hs)-1-i]
			}
			if k == 0 && i == 0 {
				from = h
			}
			if h > from+level {
				return true, dip
			}
			dip = max(dip, from-h)
		}
		node = e.Other(node)
	}
	return false, dip
}

// climbs tells whether a wire, as far as it lies in wet zones, comes to a place that stands above its beginning by more than level, and as steeply as
// told (the rise as a share of the distance).
func (f *finder) climbs(w end, node int, level, steep unit.Length) bool {
	from, known := f.node(node)
	path := f.net.Wires[w.wire].Path
	for k := range path {
		edge := path[k].Edge
		if w.reverse {
			edge = path[len(path)-1-k].Edge
		}
		if !known || edge < 0 || edge >= len(f.geo.Edges) || !f.wet(f.geo.Edges[edge].Zone) {
			return false
		}
		for _, l := range f.geo.EdgeWay(edge) {
			for _, p := range []design.Point3{l.From, l.To} {
				if rise := f.height(p) - f.height(from); rise > level && rise >= steep*solid.Between(from, p) {
					return true
				}
			}
		}
	}
	return false
}

// heights are those of the way of an edge at the ends of its legs and at the highest and lowest places of its arcs: between them it only rises
// or only falls. Nodes stand at their own height, also where an arc rounds them. Empty where coordinates are missing.
func (f *finder) heights(edge int) []unit.Length {
	if hs, ok := f.profiles[edge]; ok {
		return hs
	}
	var hs []unit.Length
	way := f.geo.EdgeWay(edge)
	for i := range way {
		l := &way[i]
		if i == 0 {
			hs = append(hs, f.height(l.From))
		}
		if l.Radius > 0 {
			hs = append(hs, f.crest(l)...)
		}
		hs = append(hs, f.height(l.To))
	}
	f.profiles[edge] = hs
	return hs
}

// crest is the heights of an arc where it turns from rising to falling or the reverse, in order.
func (f *finder) crest(l *solid.Leg) (out []unit.Length) {
	u, _ := solid.Minus(l.From, l.Middle).Unit()
	chord := solid.Minus(l.To, l.From)
	v, ok := chord.Add(u.Scale(-unit.Ratio(chord.Dot(u)))).Unit()
	if !ok {
		return nil
	}
	a, b := float64(u.Dot(f.up())), float64(v.Dot(f.up()))
	turn := float64(l.Turn) * math.Pi / 180
	top := math.Atan2(b, a) // of cos, sin
	var at []float64
	for _, x := range []float64{top, top + math.Pi, top - math.Pi} {
		if x > 0 && x < turn {
			at = append(at, x)
		}
	}
	slices.Sort(at)
	for _, x := range at {
		out = append(out, f.height(l.Middle)+l.Radius*unit.Length(a*math.Cos(x)+b*math.Sin(x)))
	}
	return out
}

// up is the axis of the job that points up.
func (f *finder) up() solid.Vector {
	switch f.job.Up {
	case "x":
		return solid.Vector{X: 1}
	case "y":
		return solid.Vector{Y: 1}
	}
	return solid.Vector{Z: 1}
}

func (f *finder) height(p design.Point3) unit.Length {
	switch f.job.Up {
	case "x":
		return p.X
	case "y":
		return p.Y
	}
	return p.Z
}

func (f *finder) wet(zone string) bool {
	z := f.zone[zone]
	return z != nil && (slices.Contains(z.With, "wet") || slices.Contains(z.With, "splash"))
}

// begins is the direction in which the way of an edge leaves a node.
func (f *finder) begins(edge, node int) (solid.Vector, bool) {
	way := f.geo.EdgeWay(edge)
	if len(way) == 0 {
		return solid.Vector{}, false
	}
	if f.geo.Edges[edge].From == node {
		_, d := way.At(0)
		return d.Unit()
	}
	_, d := way.At(way.Length())
	return d.Scale(-1).Unit()
}
