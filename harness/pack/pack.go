package pack

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// Circles packs circles of the given diameters. The result is in the order given; no two overlap. outside is the diameter of the
// smallest circle found that holds them all. What is no diameter (none, less than none, not finite) becomes a point on the rim.
//
// Several arrangements to begin with are each pressed together: the container's radius is made least while overlaps cost their
// square, ever more. The best is then shaken, and at the end opened by the little that circles still overlap. Outside depends on the
// sizes alone, not on their order. Every result uses only + - * / and square roots, rounded one by one, so it is the same on
// every processor.
func Circles(diameters []unit.Length) (at []Circle, outside unit.Length) {
	at = make([]Circle, len(diameters))
	p, order, unitOf := newPile(diameters)
	if len(order) == 0 {
		return at, 0
	}
	whole := len(p.r)
	x := p.pressed()
	radius := x[2*whole]
	for k, i := range order[:whole] {
		at[i] = Circle{unit.Length(x[2*k] * unitOf), unit.Length(x[2*k+1] * unitOf), diameters[i]}
	}
	around := radius * unitOf
	angle, widest := 0.0, 0.0
	for _, i := range order[whole:] {
		d := float64(diameters[i])
		if angle == 0 {
			widest = d // sizes fall: the first of a ring
		}
		cx, cy := turned(around+d/2, angle)
		at[i] = Circle{unit.Length(cx), unit.Length(cy), diameters[i]}
		if angle += 1.01 * d / around; angle > 2*math.Pi-float64(2*d/around) {
			around, angle = around+float64(1.01*widest), 0
		}
	}
	if angle > 0 {
		around += float64(1.01 * widest)
	}
	outside = unit.Length(2 * around)
	for i, d := range diameters {
		if !(d > 0 && unit.Finite(d)) {
			at[i] = Circle{Y: -outside / 2}
		}
	}
	return at, outside
}

// Within is a diameter within which circles find room, by the first arrangements that come to hand, until one is no wider than enough: more than Circles
// needs, and found in little of its time. It is infinite where nothing is known: of none, and of specks beside the others.
func Within(diameters []unit.Length, enough unit.Length) unit.Length {
	p, order, unitOf := newPile(diameters)
	n := len(p.r)
	if n == 0 || n < len(order) {
		return unit.Length(math.Inf(1))
	}
	if x := p.known(); x != nil {
		return unit.Length(2 * x[2*n] * unitOf)
	}
	found := unit.Length(math.Inf(1))
	t := p.trials()
	for k := 0; ; k++ {
		if k == len(t.radii) && !t.more(p) {
			break
		}
		if found = min(found, unit.Length(2*t.radii[k]*unitOf)); found <= enough {
			break
		}
	}
	t.keep()
	return found
}

// fewStarts is how many arrangements are pressed to see whether circles find room within enough.
const fewStarts = 4

// newPile is the circles that are pressed, in the unit of their scale, and the order of all that have a size, thickest first; those beyond the pile are
// specks.
func newPile(diameters []unit.Length) (p *pile, order []int, unitOf float64) {
	most := 0.0
	for i, d := range diameters {
		if d > 0 && unit.Finite(d) {
			order = append(order, i)
			most = max(most, float64(d))
		}
	}
	p = &pile{}
	if len(order) == 0 {
		return p, nil, 0
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(diameters[b], diameters[a]) })
	whole := len(order)
	for whole > 0 && float64(diameters[order[whole-1]]) < speck*most {
		whole--
	}
	unitOf = scale(diameters, order[:whole], most)
	p.r = make([]float64, whole)
	for k, i := range order[:whole] {
		p.r[k] = float64(diameters[i]) / unitOf / 2
	}
	return p, order, unitOf
}

// speck is the share of the largest diameter below which circles are not pressed with the others but laid around them: no overlap
// that is left would be small against them.
const speck = 1e-3

// scale is the length that makes the root of the mean square of the radii 1.
func scale(diameters []unit.Length, order []int, most float64) float64 {
	sum := 0.0
	for _, i := range order {
		d := float64(diameters[i]) / most
		sum += float64(d * d)
	}
	return most * math.Sqrt(sum/float64(len(order))) / 2
}

// pile is circles of radii r, largest first. Their places are in a slice x: x and y of each, and then the container's radius.
type pile struct {
	r     []float64
	near  []pair    // that may touch
	home  []float64 // places when near was listed
	sweep []int
	memo  memo
}

// effort is how hard the search tries, by the number of circles: arrangements to begin with, shakes of the best, and steps a round.
func effort(n int) (starts, shakes, steps int) {
	switch {
	case n <= 8:
		return 10, 15, 60
	case n <= 20:
		return 20, 40, 60
	case n <= 40:
		return 14, 40, 60
	case n <= 80:
		return 14, 30, 60
	case n <= 200:
		return 6, 6, 60
	}
	return 1, 0, 60
}

// best is the tightest arrangement found, before overlaps are opened.
func (p *pile) best() []float64 {
	n := len(p.r)
	switch n {
	case 1:
		return []float64{0, 0, p.r[0]}
	case 2:
		return []float64{-p.r[1], 0, p.r[0], 0, p.r[0] + p.r[1]}
	}
	starts, shakes, steps := effort(n)
	seed := dice(n)
	var x []float64
	size := 0.0
	var reached [4]float64
	for k := range starts + shakes {
		var y []float64
		if k < starts {
			y = p.start(k, &seed)
		} else {
			y = p.shake(x, &seed)
		}
		var got [4]float64
		if !p.press(y, roughly[:], steps, got[:], func(round int) bool {
			return x == nil || got[round] < float64(reached[round]*hopeful[round])
		}) {
			continue
		}
		if at := p.open(slices.Clone(y)); x == nil || at < size-1e-9 {
			x, size, reached = y, at, got
		}
	}
	p.press(x, finely[:], 2*steps, nil, nil)
	return x
}

// open moves circles apart by one factor until none overlap, and returns the radius that then holds them all. It changes x.
func (p *pile) open(x []float64) float64 {
	const hair = 1 + 1e-12
	n := len(p.r)
	if n <= 2 { // exact as it stands
		return x[2*n]
	}
	apart := 1.0
	p.list(x, 0)
	for _, q := range p.near {
		i, j := q.i, q.j
		d := length(x[i]-x[j], x[i+1]-x[j+1])
		if d < q.reach {
			apart = max(apart, q.reach/max(d, 1e-9)*hair)
		}
	}
	radius := 0.0
	for i := range n {
		x[2*i] *= apart
		x[2*i+1] *= apart
		radius = max(radius, (length(x[2*i], x[2*i+1])+p.r[i])*hair)
	}
	x[2*n] = radius
	return radius
}

// length of a vector, its products rounded one by one.
func length(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

// turned is a place at a distance from the middle, at an angle of 0 or more: a power series, halved angle by halved angle, since sines of
// the library may round otherwise on another processor.
func turned(from, angle float64) (x, y float64) {
	a := angle / 1024
	s, c := a-float64(float64(a*a)*a)/6, 1-float64(a*a)/2
	for range 10 {
		s, c = float64(2*s*c), float64(c*c)-float64(s*s)
	}
	d := length(c, s)
	return float64(from*c) / d, float64(from*s) / d
}
