package solve

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// TestFactorAgainstDense: the volts that currents into a random mesh make, with any nodes as references, are those of the nodal equations solved dense.
// Edges may be parallel, join a node to itself, or be missing; a part without a reference has no answer.
func TestFactorAgainstDense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 14).Draw(t, "nodes")
		m := rapid.IntRange(0, 3*n).Draw(t, "edges")
		edges, slopes := make([][2]int32, m), make([]float64, m)
		part := make([]int, n)
		for k := range part {
			part[k] = k
		}
		for e := range edges {
			edges[e] = [2]int32{int32(rapid.IntRange(0, n-1).Draw(t, "a")), int32(rapid.IntRange(0, n-1).Draw(t, "b"))}
			slopes[e] = math.Pow(10, rapid.Float64Range(-2, 2).Draw(t, "slope"))
			a, b := part[edges[e][0]], part[edges[e][1]]
			for k := range part {
				if part[k] == a {
					part[k] = b
				}
			}
		}
		reference := make([]bool, n)
		held := map[int]bool{}
		for k := range reference {
			reference[k] = rapid.IntRange(0, 3).Draw(t, "reference") == 0
			if reference[k] {
				held[part[k]] = true
			}
		}
		f := newFactor(newPattern(n, edges))
		for _, k := range part {
			if !held[k] {
				if f.set(slopes, reference) {
					t.Fatalf("part %d has no reference and an answer", k)
				}
				return
			}
		}
		if !f.set(slopes, reference) {
			t.Fatal("no answer")
		}
		laplace := mat.NewDense(n, n, nil)
		add := func(i, j int32, x float64) {
			if !reference[i] && !reference[j] {
				laplace.Set(int(i), int(j), laplace.At(int(i), int(j))+x)
			}
		}
		for e, ab := range edges {
			if a, b := ab[0], ab[1]; a != b {
				add(a, a, slopes[e])
				add(b, b, slopes[e])
				add(a, b, -slopes[e])
				add(b, a, -slopes[e])
			}
		}
		in := mat.NewVecDense(n, nil)
		got := make([]float64, n)
		for k := range n {
			if got[k] = rapid.Float64Range(-5, 5).Draw(t, "amps"); !reference[k] {
				in.SetVec(k, got[k])
			} else {
				laplace.Set(k, k, 1)
			}
		}
		var want mat.VecDense
		if err := want.SolveVec(laplace, in); err != nil {
			t.Fatal(err)
		}
		f.solve(got)
		for k := range n {
			if reference[k] && got[k] != 0 || math.Abs(got[k]-want.AtVec(k)) > 1e-9*(1+mat.Norm(&want, math.Inf(1))) {
				t.Fatalf("node %d has %g V, want %g", k, got[k], want.AtVec(k))
			}
		}
	})
}

// TestFallingSlope: two nodes, 1 S each to the reference and one of the slope between them. The matrix is positive definite down to -0.5 S.
func TestFallingSlope(t *testing.T) {
	f := newFactor(newPattern(3, [][2]int32{{0, 1}, {1, 2}, {0, 2}}))
	for slope, want := range map[float64]bool{0: true, -0.49: true, -0.51: false, -0.9: false, -3: false} {
		if got := f.set([]float64{slope, 1, 1}, []bool{false, false, true}); got != want {
			t.Errorf("%g S: %v", slope, got)
		}
	}
	// a whole row that falls is as bad as one that holds nothing
	for slope, want := range map[float64]bool{1: true, 0: false, -1: false} {
		if got := newFactor(newPattern(2, [][2]int32{{0, 1}})).set([]float64{slope}, []bool{true, false}); got != want {
			t.Errorf("%g S alone: %v", slope, got)
		}
	}
}
