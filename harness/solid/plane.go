package solid

import (
	"math"

	"loomsheet/harness/unit"
)

// nearlyLevel is the sine of the slope (5 degrees) up to which a sheet is drawn as a level one: its slope is too small to tell which way up is.
const nearlyLevel = 0.087

// FlatOf is the plane of a sheet given by its corners in order round: Newell's normal, through the middle of the corners. Off is the largest
// distance of a corner from it. Its directions do not depend on the order of the corners: see FitPlane. ok is false where the corners enclose
// no area or one of them is no place.
//
// Source of the normal: M. E. Newell's sum over the sides, each axis twice the area of the corners' shadow along it; from memory.
func FlatOf(corners []Point, up Vector) (p Plane, off unit.Length, ok bool) {
	middle, size, ok := middleOf(corners)
	if !ok {
		return Plane{}, 0, false
	}
	var n Vector
	for i := range corners {
		n = n.Add(Minus(corners[i], middle).Cross(Minus(corners[(i+1)%len(corners)], middle)))
	}
	if !(float64(n.Length()) > 1e-9*size*size) {
		return Plane{}, 0, false
	}
	return oriented(corners, middle, n, up)
}

// FitPlane is the plane nearest to points in any order by least squares of their distances, through their middle. Off is the largest distance
// of a point from it. ok is false where the points lie in one line or one of them is no place.
//
// Across is level, at right angles to up, and points along the larger of its axes (x before y before z); Up is the direction in the plane
// nearest to up. A sheet within 5 degrees of level has no such directions worth the name: its Across is the x axis laid into it, or the y axis
// where x is up, and Up is at right angles to that, so that the normal points up. An up without a direction is z.
func FitPlane(points []Point, up Vector) (p Plane, off unit.Length, ok bool) {
	middle, size, ok := middleOf(points)
	if !ok {
		return Plane{}, 0, false
	}
	var m [3][3]float64
	for _, q := range points {
		d := axes(Point(Minus(q, middle)))
		for i := range 3 {
			for j := range 3 {
				m[i][j] += d[i] / size * d[j] / size
			}
		}
	}
	values, vectors := eigen(m)
	low, mid := 0, 1
	for i := range 3 {
		if values[i] < values[low] {
			low = i
		}
	}
	mid = (low + 1) % 3
	if o := (low + 2) % 3; values[o] < values[mid] {
		mid = o
	}
	if !(values[mid] > 1e-12*float64(len(points))) {
		return Plane{}, 0, false
	}
	return oriented(points, middle, vectors[low], up)
}

// middleOf is the mean of three or more places, and the furthest of them from it.
func middleOf(points []Point) (middle Point, size float64, ok bool) {
	if len(points) < 3 {
		return Point{}, 0, false
	}
	share := 1 / float64(len(points))
	for _, p := range points {
		if !Known(p) {
			return Point{}, 0, false
		}
		middle = Moved(middle, Vector(p).scale(share))
	}
	for _, p := range points {
		size = max(size, float64(Between(p, middle)))
	}
	return middle, size, size > tiny
}

// eigen is the eigenvalues and, in rows, the eigenvectors of a symmetric matrix, by Jacobi's turns: each makes one element off the diagonal
// zero. Source: any text on numerical mathematics; from memory, checked against gonum in the tests.
func eigen(m [3][3]float64) (values [3]float64, vectors [3]Vector) {
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 50 {
		off := math.Abs(m[0][1]) + math.Abs(m[0][2]) + math.Abs(m[1][2])
		if !(off > 1e-300) {
			break
		}
		for _, pair := range [3][2]int{{0, 1}, {0, 2}, {1, 2}} {
			p, q := pair[0], pair[1]
			if m[p][q] == 0 {
				continue
			}
			theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
			t := 1 / (math.Abs(theta) + math.Hypot(theta, 1))
			if theta < 0 {
				t = -t
			}
			c := 1 / math.Hypot(t, 1)
			s := t * c
			for k := range 3 {
				a, b := m[k][p], m[k][q]
				m[k][p], m[k][q] = float64(c*a)-float64(s*b), float64(s*a)+float64(c*b)
			}
			for k := range 3 {
				a, b := m[p][k], m[q][k]
				m[p][k], m[q][k] = float64(c*a)-float64(s*b), float64(s*a)+float64(c*b)
				a, b = v[p][k], v[q][k]
				v[p][k], v[q][k] = float64(c*a)-float64(s*b), float64(s*a)+float64(c*b)
			}
			m[p][q], m[q][p] = 0, 0
		}
	}
	for i := range 3 {
		values[i] = m[i][i]
		vectors[i] = Vector{unit.Length(v[i][0]), unit.Length(v[i][1]), unit.Length(v[i][2])}
	}
	return values, vectors
}

// oriented gives a plane its directions.
func oriented(points []Point, middle Point, normal, up Vector) (p Plane, off unit.Length, ok bool) {
	n, ok := normal.Unit()
	if !ok {
		return Plane{}, 0, false
	}
	u, ok := up.Unit()
	if !ok {
		u = Vector{Z: 1}
	}
	across := u.Cross(n)
	if float64(across.Length()) > nearlyLevel {
		a := axes(Point(across))
		most := 0
		for k := range a {
			if math.Abs(a[k]) > math.Abs(a[most])+1e-9 {
				most = k
			}
		}
		if a[most] < 0 {
			n, across = n.scale(-1), across.scale(-1)
		}
	} else {
		if n.dot(u) < 0 {
			n = n.scale(-1)
		}
		axis := Vector{X: 1}
		if math.Abs(u.dot(axis)) > 0.7 {
			axis = Vector{Y: 1}
		}
		across = axis.Add(n.scale(-axis.dot(n)))
	}
	p.Origin = middle
	p.Across, _ = across.Unit()
	p.Up, _ = n.Cross(p.Across).Unit()
	for _, q := range points {
		_, d := p.Flat(q)
		off = max(off, max(d, -d))
	}
	return p, off, true
}

// Normal of the plane, of length 1: Across x Up.
func (p Plane) Normal() Vector { return p.Across.Cross(p.Up) }

// Flat is the place in the plane below a point, and how far the point stands off it along the normal; off is less than 0 behind it. A point that
// is no place lies at the origin, infinitely far off.
func (p Plane) Flat(q Point) (at Flat, off unit.Length) {
	if !Known(q) {
		return Flat{}, far()
	}
	d := Minus(q, p.Origin)
	return Flat{d.Dot(p.Across), d.Dot(p.Up)}, d.Dot(p.Normal())
}

// Space is a place of the plane in job coordinates.
func (p Plane) Space(f Flat) Point {
	return Moved(p.Origin, p.Across.scale(float64(f.U)).Add(p.Up.scale(float64(f.V))))
}
