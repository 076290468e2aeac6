package solid

import (
	"math"

	"loomsheet/harness/unit"
)

// Bend is the arc in place of one corner.
type Bend struct {
	Corner   int // index into the corners
	Turn     unit.Angle
	Radius   unit.Length // of the centre line, as laid
	From, To unit.Length // stations of the arc's ends
}

const (
	tiny  = 1e-9 // mm: no length
	slack = 1e-4 // radians from straight on, or from turned back, that are no turn
	least = 1e-3 // mm: a radius below this is none
)

// corner is what Round knows of one.
type corner struct {
	at     Point
	in     Vector  // direction of the piece before it
	before float64 // length of the piece before it
	turn   float64 // radians; 0: it gets no arc
	tan    float64 // of half the turn: the arc takes radius*tan of the piece on either side
	radius float64
	index  int
}

// Round lays a way along corners, each inner one replaced by an arc of the radius asked for it, touching the pieces on both sides. Where
// these are too short the radius shrinks: all radii grow together until their arcs meet or they are as large as asked, so that the smallest is
// as large as it can be; a piece at an end of the way may be used up whole. A corner that goes straight on, that turns back on itself, that has
// no length beside it or for which no radius is asked stays as it is. Corners that are no place (not finite) make an empty way; a way of no
// length is one leg of length 0.
func Round(corners []Point, radius func(corner int) unit.Length) (Way, []Bend) {
	for _, p := range corners {
		if !Known(p) {
			return nil, nil
		}
	}
	cs := distinct(corners)
	if len(cs) == 0 {
		return nil, nil
	}
	if len(cs) == 1 {
		return Way{{From: cs[0].at, To: cs[0].at}}, nil
	}
	asked := make([]float64, len(cs))
	for i := 1; i < len(cs)-1; i++ {
		c := &cs[i]
		t := turnAt(cs, i)
		r := float64(radius(c.index))
		if t == 0 || t > math.Pi-slack || !(r >= least) {
			continue
		}
		c.turn, c.tan = t, math.Tan(t/2)
		asked[i] = min(r, reach)
	}
	fit(cs, asked)
	return lay(cs)
}

// turnAt is by how much the way turns at an inner corner, in radians; 0 is straight on.
func turnAt(cs []corner, i int) float64 {
	if t := turn(cs[i].in, cs[i+1].in); t >= slack {
		return t
	}
	return 0
}

// Turns is by how much a way along corners turns at each, up to 180 degrees; 0 at its ends, where it goes straight on and at all but the first
// of corners that lie in one place. It is all 0 where a corner is no place.
func Turns(corners []Point) []unit.Angle {
	out := make([]unit.Angle, len(corners))
	for _, p := range corners {
		if !Known(p) {
			return out
		}
	}
	cs := distinct(corners)
	for i := 1; i < len(cs)-1; i++ {
		out[cs[i].index] = unit.Angle(turnAt(cs, i) * 180 / math.Pi)
	}
	return out
}

// distinct is the corners without those that lie where the one before does.
func distinct(corners []Point) []corner {
	var out []corner
	for i, p := range corners {
		if len(out) == 0 {
			out = append(out, corner{at: p, index: i})
			continue
		}
		last := out[len(out)-1].at
		d := float64(Between(p, last))
		in, ok := Minus(p, last).Unit()
		if !ok || d <= tiny {
			continue
		}
		out = append(out, corner{at: p, in: in, before: d, index: i})
	}
	return out
}

// fit settles the radii. A corner whose limit is no more than those of its unsettled neighbours is settled by it, as limits only ever rise; the
// smallest of all is such a one. Settling one changes the limits of its neighbours, and so what may be settled up to two corners away. Corners
// too small for an arc leave all together before the others settle again: which of two alike were to leave first would turn on the direction.
func fit(cs []corner, asked []float64) {
	for settle(cs, asked); ; settle(cs, asked) {
		all := true
		for i := range cs {
			if c := &cs[i]; c.turn != 0 && c.radius < least {
				c.turn, c.tan, c.radius, all = 0, 0, 0, false
			}
		}
		if all {
			return
		}
	}
}

func settle(cs []corner, asked []float64) {
	done := make([]bool, len(cs))
	var todo []int
	for i := range cs {
		if done[i] = cs[i].turn == 0; !done[i] {
			todo = append(todo, i)
		}
	}
	limit := func(i int) float64 {
		if i < 0 || i >= len(cs) || done[i] {
			return math.Inf(1)
		}
		r := asked[i]
		for _, side := range [2]struct {
			length float64
			other  int
		}{{cs[i].before, i - 1}, {cs[i+1].before, i + 1}} {
			o := &cs[side.other]
			if done[side.other] {
				r = min(r, (side.length-o.radius*o.tan)/cs[i].tan)
			} else {
				r = min(r, side.length/(cs[i].tan+o.tan))
			}
		}
		return max(0, r)
	}
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		r := limit(i)
		if done[i] || r > limit(i-1) || r > limit(i+1) {
			continue
		}
		done[i], cs[i].radius = true, r
		for k := max(0, i-2); k <= min(i+2, len(cs)-1); k++ {
			if !done[k] {
				todo = append(todo, k)
			}
		}
	}
}

// lay puts the legs down.
func lay(cs []corner) (Way, []Bend) {
	var w Way
	var bends []Bend
	at, station := cs[0].at, unit.Length(0)
	straight := func(to Point) {
		if d := Between(at, to); d > tiny {
			w = append(w, Leg{From: at, To: to, Length: d})
			at, station = to, station+d
		}
	}
	for i := 1; i < len(cs); i++ {
		c := &cs[i]
		if c.turn == 0 {
			straight(c.at)
			continue
		}
		out := cs[i+1].in
		cut := c.radius * c.tan
		straight(Moved(c.at, c.in.scale(-cut)))
		to := Moved(c.at, out.scale(cut))
		if i+1 == len(cs)-1 && cs[i+1].before-cut <= tiny {
			to = cs[i+1].at
		}
		inward, _ := out.Add(c.in.scale(-1)).Unit()
		middle := Moved(c.at, inward.scale(c.radius/math.Cos(c.turn/2)))
		length := unit.Length(c.radius * c.turn)
		leg := Leg{From: at, To: to, Middle: middle, Radius: unit.Length(c.radius), Turn: unit.Angle(c.turn * 180 / math.Pi), Length: length}
		w = append(w, leg)
		bends = append(bends, Bend{Corner: c.index, Turn: leg.Turn, Radius: leg.Radius, From: station, To: station + length})
		at, station = to, station+length
	}
	return w, bends
}

// Stations is where each corner lies along the way that Round made of corners: at the middle of its arc, where it has one.
func Stations(corners []Point, bends []Bend) []unit.Length {
	out := make([]unit.Length, len(corners))
	var at, took unit.Length // station of where the last corner's arc ends, and what that takes of the piece after it
	last := 0
	next := 0
	for i := range corners {
		if i > 0 {
			d := Between(corners[i], corners[last])
			if d > tiny {
				last = i
			} else {
				out[i] = out[last]
				continue
			}
			out[i] = at + max(0, d-took)
			at, took = out[i], 0
		}
		for next < len(bends) && bends[next].Corner < i {
			next++
		}
		if next < len(bends) && bends[next].Corner == i {
			b := bends[next]
			out[i] = b.From + (b.To-b.From)/2
			at, took = b.To, unit.Length(float64(b.Radius)*math.Tan(float64(b.Turn)*math.Pi/360))
		}
	}
	return out
}
