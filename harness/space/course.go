package space

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// course is how one stretch lies.
type course struct {
	pieces []piece // between its nodes
	way    solid.Way
	whole  unit.Length // by the coordinates
	least  unit.Length // straight from one place that is passed to the next; these valid if known
	known  bool
	turns  []turn
}

// piece is one part of a stretch.
type piece struct {
	length  unit.Length
	share   float64 // of the stretch; of its slack
	unknown bool
	way     solid.Way // empty: coordinates are missing
}

// on is the length along the piece's coordinates at a length into it.
func (p *piece) on(into unit.Length) unit.Length {
	if !(p.length > 0) {
		return 0
	}
	return unit.Length(float64(into/p.length) * float64(p.way.Length()))
}

// turn is a bend before its node has a number.
type turn struct {
	Bend
	key string
	at  int // index of its node in the stretch
}

// hold finds the keys at which something sits or that more than one way passes: corners stay there.
func (l *layer) hold() {
	l.held = map[string]bool{}
	thing := func(name string, s design.Spot) {
		if s.Node != "" {
			name = s.Node
		}
		l.held[name] = true
	}
	for _, p := range l.job.Points {
		if p.Bush > 0 {
			thing(p.Name, p.Spot)
		}
	}
	for _, h := range l.job.Holes {
		thing(h.Name, h.Spot)
	}
	for _, b := range l.job.Breaks {
		thing(b.Name, b.Spot)
	}
	for _, d := range l.job.Devices {
		if d.Pattern {
			continue
		}
		thing(d.Name, d.Spot)
		for _, h := range d.Housings {
			thing("", h.Spot)
		}
		for _, p := range d.Pins {
			thing(d.Name+"."+p.Name, p.Spot)
		}
	}
	for _, s := range l.job.Splices {
		thing(s.Name, s.Spot)
	}
	passed := map[string]bool{}
	for _, ways := range l.keys {
		for _, w := range ways {
			for _, k := range w {
				l.held[k] = l.held[k] || passed[k]
				passed[k] = true
			}
		}
	}
}

// asked is the radius a run's waypoints are to have, 0 or more.
func (l *layer) asked(r *design.Run) unit.Length {
	radius := r.Bend.Nominal
	if !r.Bend.Given {
		at := design.Scope{Run: r.Name, Section: r.Section, Zone: r.Zone, Panel: r.Panel}
		radius = unit.Length(l.job.Settings.Get("bend-radius", at).Value.Quantity.Value)
	}
	if !(radius > 0) || !unit.Finite(radius) {
		return 0
	}
	return radius
}

// course lays a stretch. Between nodes whose coordinates are missing it lies in several parts, each of which ends where the next is not known.
func (l *layer) course(r *design.Run, i int) course {
	w := l.keys[r][i]
	n := len(w) - 1
	if n < 1 {
		return course{}
	}
	c := course{pieces: make([]piece, n), known: true}
	for from := 0; from <= n; {
		to := from
		for ; to <= n; to++ {
			if _, ok := l.at[w[to]]; !ok {
				break
			}
		}
		if to-from > 1 {
			l.part(&c, w, from, to, l.asked(r))
		}
		from = to + 1
	}
	for j := range c.pieces {
		c.pieces[j].unknown = len(c.pieces[j].way) == 0
		c.known = c.known && !c.pieces[j].unknown
		c.whole += c.pieces[j].length
	}
	for j := range c.pieces {
		p := &c.pieces[j]
		p.share = 1 / float64(n)
		if c.known && c.whole > 0 {
			p.share = float64(p.length / c.whole)
		}
	}
	c.whole = even(c.whole)
	if m, ok := measured(&r.Stretches[i]); ok {
		for j := range c.pieces {
			p := &c.pieces[j]
			p.length, p.unknown = unit.Length(float64(m)*p.share), false
		}
	}
	var sum, station unit.Length
	next := 0
	for j := range c.pieces {
		p := &c.pieces[j]
		sum += p.length
		p.length = max(0, even(sum)-station)
		station += p.length
		if next < len(c.turns) && c.turns[next].at == j+1 {
			t := &c.turns[next]
			t.Run, t.Stretch, t.Station = r.Name, i, station
			next++
		}
	}
	return c
}

// part rounds a part of a stretch from one node up to, not including, another, all of known place.
func (l *layer) part(c *course, w way, from, to int, asked unit.Length) {
	corners := make([]solid.Point, to-from)
	for k := range corners {
		corners[k] = l.at[w[from+k]]
	}
	stays := make([]bool, len(corners))
	first := 0 // of the corners in one place; what sits at one of them sits there
	for k := range corners {
		if !solid.Same(corners[first], corners[k]) {
			first = k
		}
		stays[first] = stays[first] || l.held[w[from+k]]
	}
	angles := solid.Turns(corners)
	laid, bends := solid.Round(corners, func(k int) unit.Length {
		if stays[k] || turnsBack(angles[k]) {
			return 0
		}
		return asked
	})
	if len(laid) == 0 {
		return
	}
	radius := make([]unit.Length, len(corners))
	took := make([]unit.Length, len(corners)) // of the pieces on both sides of a corner, by its arc
	for _, b := range bends {
		radius[b.Corner] = b.Radius
		took[b.Corner] = unit.Length(float64(b.Radius) * half(b.Turn))
	}
	for k := 1; k < len(corners); k++ {
		if solid.Same(corners[k-1], corners[k]) {
			took[k] = max(took[k], took[k-1])
		}
	}
	for k := range corners {
		if angles[k] > 0 && !stays[k] {
			b := Bend{Turn: angles[k], Radius: radius[k], Asked: asked, Room: room(corners, took, k, angles[k])}
			c.turns = append(c.turns, turn{b, w[from+k], from + k})
		}
	}
	stations := solid.Stations(corners, bends)
	parts := laid.Split(stations)
	for k := 1; k < len(corners); k++ {
		p := &c.pieces[from+k-1]
		p.way, p.length = parts[k-1], max(0, stations[k]-stations[k-1])
		if d := Between(corners[k-1], corners[k]); p.length > d-1e-9 {
			p.length = d // free of the rounding of sums
		}
	}
	if from == 0 && to == len(w) {
		c.way = laid
		at := 0
		for k := 1; k < len(corners); k++ {
			if l.held[w[k]] || k == len(corners)-1 {
				c.least += Between(corners[at], corners[k])
				at = k
			}
		}
	}
}

// even is a length as a whole number of parts of a millimetre so small that nobody sees it: stations are such, so that lengths between them add up
// to the last digit, and what was measured by string comes back as it was written.
func even(x unit.Length) unit.Length {
	return unit.Length(math.RoundToEven(float64(x)*(1<<24)) / (1 << 24))
}

// half is the tangent of half a turn: an arc takes so many of its radii of the piece on either side.
func half(turn unit.Angle) float64 { return math.Tan(float64(turn) * math.Pi / 360) }

// turnsBack tells that a way all but turns back on itself: its arc, whatever the radius, would pass the waypoint by more than its own
// diameter, r (1/cos(t/2) - 1) > 2r, and so leave out most of a way that is there to be gone.
func turnsBack(turn unit.Angle) bool { return math.Cos(float64(turn)*math.Pi/360) < 1.0/3 }

// room is the largest radius for which there is room at a corner, with its neighbours as they are.
func room(corners []solid.Point, took []unit.Length, k int, turn unit.Angle) unit.Length {
	left := unit.Length(math.Inf(1))
	for _, step := range [2]int{-1, 1} {
		for o := k + step; o >= 0 && o < len(corners); o += step {
			if !solid.Same(corners[o], corners[k]) {
				left = min(left, Between(corners[o], corners[k])-took[o])
				break
			}
		}
	}
	return max(0, unit.Length(float64(left)/half(turn)))
}
