package pack

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// held are places as circles, with the diameter around them.
func (p *pile) held(x []float64) (at []Circle, outside unit.Length) {
	for i, r := range p.r {
		at = append(at, Circle{unit.Length(x[2*i]), unit.Length(x[2*i+1]), unit.Length(2 * r)})
	}
	return at, unit.Length(2 * x[2*len(p.r)])
}

// Whatever circles begin with, opened none overlap and all are held; what does not overlap stays as it is.
func TestOpenParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 20).Draw(t, "circles")
		r := rapid.SliceOfN(rapid.Float64Range(0.02, 2), n, n).Draw(t, "radii")
		slices.Sort(r)
		slices.Reverse(r)
		p := &pile{r: r}
		x := make([]float64, 2*n+1)
		for i := range 2 * n {
			x[i] = rapid.Float64Range(-5, 5).Draw(t, "place")
		}
		before, _ := p.held(x)
		for i, a := range before {
			if slices.ContainsFunc(before[:i], func(b Circle) bool { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) < 1e-3 }) {
				t.Skip("no factor parts what lies one upon the other")
			}
		}
		radius := p.open(x)
		at, outside := p.held(x)
		if radius != x[2*n] || overlap(at, outside) > 1e-9*radius {
			t.Fatalf("opened to %v they overlap by %v", radius, overlap(at, outside))
		}
		if overlap(before, 1e9) < 0 && !slices.Equal(at, before) {
			t.Fatalf("%v moved to %v without need", before, at)
		}
	})
}

// Equal circles begin on the hexagonal lattice: none overlap, each touches another, and of 7 about a circle's middle, 3 about that of three, 19 and 37 the whole is
// 3, 1 + 2/sqrt 3, 5 and 7 radii.
func TestLattice(t *testing.T) {
	for n := 3; n <= 40; n++ {
		p := &pile{r: slices.Repeat([]float64{1}, n)}
		for about := range 4 {
			at, outside := p.held(p.lattice(about))
			if o := overlap(at, outside); o > 1e-9 || o < -1e-9 {
				t.Errorf("%d about %d: overlap %v", n, about, o)
			}
			for i := range at {
				nearest := math.Inf(1)
				for k := range at {
					if k != i {
						nearest = min(nearest, math.Hypot(float64(at[i].X-at[k].X), float64(at[i].Y-at[k].Y)))
					}
				}
				if math.Abs(nearest-2) > 1e-9 {
					t.Errorf("%d about %d: %d lies %v from the next", n, about, i, nearest)
				}
			}
		}
	}
	for _, c := range []struct {
		n, about int
		radius   float64
	}{{7, 0, 3}, {19, 0, 5}, {3, 2, 1 + 2/math.Sqrt(3)}, {4, 1, 1 + math.Sqrt(3)}} {
		p := &pile{r: slices.Repeat([]float64{1}, c.n)}
		if _, outside := p.held(p.lattice(c.about)); math.Abs(float64(outside)/2-c.radius) > 1e-9 {
			t.Errorf("%d about %d: radius %v, want %v", c.n, c.about, outside/2, c.radius)
		}
	}
}

// Set one touching two that stand, none overlap, and each touches two that stood before it.
func TestTangentTouchesTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 20).Draw(t, "circles")
		r := rapid.SliceOfN(rapid.Float64Range(0.2, 2), n, n).Draw(t, "radii")
		slices.Sort(r)
		slices.Reverse(r)
		p := &pile{r: r}
		at, outside := p.held(p.tangent(p.inOrder()))
		if o := overlap(at, outside); o > 1e-8 || o < -1e-8 {
			t.Fatalf("overlap %v", o)
		}
		for i := 1; i < n; i++ {
			touch := 0
			for k := range i {
				if math.Abs(math.Hypot(float64(at[i].X-at[k].X), float64(at[i].Y-at[k].Y))-r[i]-r[k]) < 1e-7 {
					touch++
				}
			}
			if touch < min(i, 2) {
				t.Fatalf("circle %d touches %d of those before it", i, touch)
			}
		}
	})
}
