package solid

import (
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// touch is how near to a sheet a way may come, or end, without crossing it, mm.
const touch = 1

// Crossing is a place where a way passes through a sheet. From and To are the last leg's end or turning point certainly on the one side, and the
// first certainly on the other; what lies between them may lie on the sheet.
type Crossing struct {
	Station  unit.Length
	At       Point
	From, To unit.Length
}

// Sheet is a plane within an outline, from which what it stands for is up to Uneven off.
type Sheet struct {
	Plane   Plane
	Outline Outline
	Uneven  unit.Length
}

// SheetOf is a sheet by its corners in order round, which are taken for flat, or else by points measured on it, where it ends at their hull and
// is as uneven as the furthest of them is off. ok is false where they make no plane.
func SheetOf(corners, points []Point) (s Sheet, ok bool) {
	ps := corners
	if s.Plane, _, ok = FlatOf(corners, Vector{}); len(corners) == 0 {
		ps = points
		s.Plane, s.Uneven, ok = FitPlane(points, Vector{})
	}
	for _, p := range ps {
		f, _ := s.Plane.Flat(p)
		s.Outline = append(s.Outline, f)
	}
	if len(corners) == 0 {
		s.Outline = Hull(s.Outline)
	}
	return s, ok && len(s.Outline) > 2
}

// Through are the places where the way certainly passes through a sheet: see CrossingsOf.
func (w Way) Through(s Sheet) []Crossing { return w.CrossingsOf(s.Plane, s.Outline, s.Uneven) }

// Crossings are the places where the way passes the plane inside the outline, in order. It passes where it comes from more than a millimetre
// on one side to more than a millimetre on the other; what comes nearer, or ends there, touches. Legs and arcs are parted where their distance
// from the plane turns, in closed form, and each place is found between two such by halving, to the last digit.
func (w Way) Crossings(p Plane, o Outline) []Crossing { return w.CrossingsOf(p, o, 0) }

// CrossingsOf is Crossings of a sheet that is not flat, and may stand off its plane by so much to either side.
func (w Way) CrossingsOf(p Plane, o Outline, uneven unit.Length) []Crossing {
	if !Known(p.Origin) || !(uneven >= 0) || !unit.Finite(uneven) {
		return nil
	}
	type mark struct{ station, off float64 }
	var marks []mark
	n := p.Normal()
	station := 0.0
	put := func(l *Leg, into float64) {
		at, _ := l.at(into)
		marks = append(marks, mark{station + into, Minus(at, p.Origin).dot(n)})
	}
	for i := range w {
		l := &w[i]
		put(l, 0)
		if l.Radius > 0 {
			// Off is a + b cos + c sin; between its turning point and the ends of the leg it only rises or only falls.
			a := l.arc()
			b, c := a.u.dot(n), a.v.dot(n)
			turns := []float64{math.Atan2(c, b), math.Atan2(-c, -b)}
			slices.Sort(turns)
			for _, t := range turns {
				if t > 0 && t < a.turn {
					put(l, t*a.radius)
				}
			}
		}
		put(l, float64(l.Length))
		station += float64(l.Length)
	}
	limit := touch + float64(uneven) + 1e-6 // what lies just there, by a last digit to either side, comes no nearer
	var out []Crossing
	side, from, first := 0.0, 0, -1 // the last side taken, the last mark there, and the first mark since that lies on the plane or beyond it
	for i, m := range marks {
		if side != 0 && first < 0 && m.off*side <= 0 {
			first = i
		}
		if !(math.Abs(m.off) > limit) {
			continue
		}
		now := math.Copysign(1, m.off)
		if side == -now && first > 0 {
			s := unit.Length(w.zero(marks[first-1].station, marks[first].station, marks[first-1].off, p, n))
			at, _ := w.At(s)
			if f, _ := p.Flat(at); o.Holds(f) {
				out = append(out, Crossing{Station: s, At: at, From: unit.Length(marks[from].station), To: unit.Length(m.station)})
			}
		}
		side, from, first = now, i, -1
	}
	return out
}

// zero is the station between two at which the way lies in the plane; between them its distance only rises or only falls, from off at the first.
func (w Way) zero(low, high, off float64, p Plane, n Vector) float64 {
	for range 100 {
		middle := (low + high) / 2
		if middle <= low || middle >= high {
			break
		}
		at, _ := w.At(unit.Length(middle))
		if d := Minus(at, p.Origin).dot(n); d*off > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
