package pack

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// plain is descend sum by sum, each in a pass of its own.
func (p *pile) plain(c float64, x []float64, steps int) float64 {
	n := len(x)
	g, next, gNext, dir := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	var s, y [memory][]float64
	var rho, alpha [memory]float64
	kept := 0
	f := p.cost(c, x, g)
	for range steps {
		copy(dir, g)
		low := max(0, kept-memory)
		for k := kept - 1; k >= low; k-- {
			m := k % memory
			alpha[m] = rho[m] * dot(s[m], dir)
			add(dir, -alpha[m], y[m])
		}
		if kept > 0 {
			m := (kept - 1) % memory
			times(dir, 1/(rho[m]*dot(y[m], y[m])))
		} else {
			times(dir, 1/c)
		}
		for k := low; k < kept; k++ {
			m := k % memory
			add(dir, alpha[m]-float64(rho[m]*dot(y[m], dir)), s[m])
		}
		fall := dot(dir, g)
		if !(fall > 1e-12*f) {
			return f
		}
		far := 0.0
		for _, d := range dir {
			far = max(far, d, -d)
		}
		t := 1.0
		if far > 0.5 {
			t = 0.5 / far
		}
		ok := false
		for range 20 {
			for i := range x {
				next[i] = x[i] - float64(t*dir[i])
			}
			fNext := p.cost(c, next, gNext)
			if fNext <= f-float64(1e-4*t*fall) {
				f, ok = fNext, true
				break
			}
			t /= 3
		}
		if !ok {
			return f
		}
		m := kept % memory
		if s[m] == nil {
			s[m], y[m] = make([]float64, n), make([]float64, n)
		}
		for i := range x {
			s[m][i], y[m][i] = next[i]-x[i], gNext[i]-g[i]
		}
		if sy := dot(s[m], y[m]); sy > 1e-18 {
			rho[m] = 1 / sy
			kept++
		} else {
			kept = 0
		}
		copy(x, next)
		copy(g, gNext)
	}
	return f
}

// The fused passes come to the same digits.
func TestDescendAsPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "circles")
		r := rapid.SliceOfN(rapid.Float64Range(0.2, 2), n, n).Draw(t, "radii")
		slices.Sort(r)
		slices.Reverse(r)
		seed := dice(rapid.Uint64().Draw(t, "seed"))
		a, b := &pile{r: r}, &pile{r: r}
		x := a.start(rapid.IntRange(0, 9).Draw(t, "start"), &seed)
		y := slices.Clone(x)
		for _, c := range roughly {
			f, g := a.descend(c, x, 60), b.plain(c, y, 60)
			if f != g || !slices.Equal(x, y) {
				t.Fatalf("at cost %v: %v, plainly %v", c, f, g)
			}
		}
	})
}

func BenchmarkCircles(b *testing.B) {
	for _, n := range []int{6, 12, 24, 60, 120} {
		r := make([]float64, n)
		for i := range r {
			r[i] = 1 + float64((n-i)/3)*0.11
		}
		b.Run("", func(b *testing.B) {
			for b.Loop() {
				(&pile{r: r}).best()
			}
		})
	}
}
