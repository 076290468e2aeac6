package solid

import (
	"math"

	"loomsheet/harness/unit"
)

// Gap is how near a way comes to something. Where there is nothing to come near to, or the way is empty, Distance is infinite.
type Gap struct {
	Distance unit.Length
	Station  unit.Length // along the way
	On       Point       // of the way
	Other    Point       // of the other thing
}

// Length of the whole way.
func (w Way) Length() unit.Length {
	var sum unit.Length
	for i := range w {
		sum += w[i].Length
	}
	return sum
}

// arc is an arc leg as a circle: the point at angle a is middle + cos(a) u + sin(a) v, from 0 to turn.
type arc struct {
	middle Point
	u, v   Vector // of length radius, at right angles
	radius float64
	turn   float64
}

func (l *Leg) arc() arc {
	r := float64(l.Radius)
	u, _ := Minus(l.From, l.Middle).Unit()
	side := Minus(l.To, l.From)
	v, _ := side.Add(u.scale(-side.dot(u))).Unit()
	return arc{middle: l.Middle, u: u.scale(r), v: v.scale(r), radius: r, turn: float64(l.Turn) * math.Pi / 180}
}

func (a *arc) at(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Moved(a.middle, a.u.scale(cos).Add(a.v.scale(sin)))
}

// at is the place and the direction at a length along the leg.
func (l *Leg) at(into float64) (Point, Vector) {
	k := l.pace()
	return k.at(into)
}

// pace is a leg with what all its places have in common.
type pace struct {
	leg     *Leg
	heading Vector // of one that is straight
	arc     arc
}

func (l *Leg) pace() (k pace) {
	k.leg = l
	if l.Radius <= 0 {
		k.heading, _ = Minus(l.To, l.From).Unit()
	} else {
		k.arc = l.arc()
	}
	return k
}

func (k *pace) at(into float64) (Point, Vector) {
	l := k.leg
	if l.Radius <= 0 {
		length := float64(l.Length)
		if !(length > 0) {
			return l.From, k.heading
		}
		return on(l.From, l.To, clamp(into/length, 0, 1)), k.heading
	}
	a := &k.arc
	angle := clamp(into/a.radius, 0, a.turn)
	sin, cos := math.Sincos(angle)
	t, _ := a.u.scale(-sin).Add(a.v.scale(cos)).Unit()
	switch angle {
	case 0:
		return l.From, t
	case a.turn:
		return l.To, t
	}
	return a.at(angle), t
}

// Walk is Way.At for places that are asked for one after the other: what a leg has in common is worked out once.
type Walk struct{ last pace }

// At is the place and the direction at a station of a way, as Way.At.
func (k *Walk) At(w Way, station unit.Length) (Point, Vector) {
	i, into := w.find(station)
	if i < 0 {
		return Point{}, Vector{}
	}
	if k.last.leg != &w[i] {
		k.last = w[i].pace()
	}
	return k.last.at(into)
}

// find is the leg at a station, and how far into it; the leg is -1 in an empty way.
func (w Way) find(station unit.Length) (leg int, into float64) {
	if !(station > 0) {
		station = 0
	}
	for i := range w {
		if station <= w[i].Length || i == len(w)-1 {
			return i, float64(min(station, w[i].Length))
		}
		station -= w[i].Length
	}
	return -1, 0
}

// At is the place at a station and the direction of the way there, of length 1; stations beyond an end count as that end. At a corner without
// an arc the direction is that of the leg before it.
func (w Way) At(station unit.Length) (Point, Vector) {
	i, into := w.find(station)
	if i < 0 {
		return Point{}, Vector{}
	}
	return w[i].at(into)
}

// Near is the station of the way nearest to a point, and how far off, in closed form. Of equals the first counts.
func (w Way) Near(p Point) (station, distance unit.Length) {
	g := w.gap(func(l *Leg) (float64, Point, Point) {
		into := l.near(p)
		at, _ := l.at(into)
		return into, at, p
	}, Known(p))
	return g.Station, g.Distance
}

// near is how far along the leg the point nearest to p lies.
func (l *Leg) near(p Point) float64 {
	if l.Radius <= 0 {
		d := Minus(l.To, l.From)
		square := d.dot(d)
		if !(square > 0) {
			return 0
		}
		return clamp(Minus(p, l.From).dot(d)/square, 0, 1) * float64(l.Length)
	}
	a := l.arc()
	return a.near(p) * a.radius
}

// near is the angle of the point of the arc nearest to p: that of p as seen from the middle, or of the end nearer to it.
func (a *arc) near(p Point) float64 {
	d := Minus(p, a.middle)
	x, y := d.dot(a.u), d.dot(a.v)
	if x == 0 && y == 0 {
		return 0
	}
	angle := math.Atan2(y, x)
	if angle >= 0 && angle <= a.turn {
		return angle
	}
	if Between(p, a.at(0)) <= Between(p, a.at(a.turn)) {
		return 0
	}
	return a.turn
}

// gap is the nearest of all legs, each of which says how far along it comes nearest, where that is, and to what.
func (w Way) gap(of func(l *Leg) (into float64, here, there Point), ok bool) Gap {
	best := Gap{Distance: far()}
	if !ok {
		return best
	}
	var station unit.Length
	for i := range w {
		into, here, there := of(&w[i])
		if d := Between(here, there); d < best.Distance {
			best = Gap{Distance: d, Station: station + unit.Length(into), On: here, Other: there}
		}
		station += w[i].Length
	}
	return best
}

// Part is the way from one station to another; they are put in order first. A part of no length is one leg of length 0.
func (w Way) Part(from, to unit.Length) Way {
	if from > to {
		from, to = to, from
	}
	i, a := w.find(from)
	j, b := w.find(to)
	if i < 0 {
		return nil
	}
	if i < j && a >= float64(w[i].Length)-tiny {
		i, a = i+1, 0
	}
	if j > i && b <= tiny {
		j, b = j-1, float64(w[j-1].Length)
	}
	if i >= j {
		return Way{w[i].part(a, b)}
	}
	out := Way{w[i].part(a, float64(w[i].Length))}
	out = append(out, w[i+1:j]...)
	return append(out, w[j].part(0, b))
}

// Split is the parts of the way between stations in rising order, one fewer than these, each as Part gives it.
func (w Way) Split(at []unit.Length) []Way {
	var out []Way
	first, begin := 0, unit.Length(0) // of the part: its leg, and where that begins
	for k := 1; k < len(at); k++ {
		for first < len(w)-1 && begin+w[first].Length <= at[k-1]+tiny {
			begin += w[first].Length
			first++
		}
		last, end := first, begin
		for last < len(w)-1 && end+w[last].Length < at[k] {
			end += w[last].Length
			last++
		}
		out = append(out, w[first:min(last+1, len(w))].Part(at[k-1]-begin, at[k]-begin))
	}
	return out
}

func (l *Leg) part(from, to float64) Leg {
	length := float64(l.Length)
	if from <= 0 && to >= length {
		return *l
	}
	a, _ := l.at(from)
	if to-from <= tiny {
		return Leg{From: a, To: a}
	}
	b, _ := l.at(to)
	out := Leg{From: a, To: b, Length: unit.Length(to - from)}
	if l.Radius > 0 {
		out.Middle, out.Radius, out.Turn = l.Middle, l.Radius, unit.Angle(float64(l.Turn)*(to-from)/length)
	}
	return out
}
