package bench

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// A splice with three arms of 10, 30 and 90 m at 0.1, 0.3 and 0.3 mohm/m, longer than they are cut: 1, 9 and 27 mohm, and 0.2 for each crimp. By hand.
func TestRingThroughASplice(t *testing.T) {
	job, nt, sizes := smallJob()
	for i, c := range []struct {
		copper unit.Length
		per    unit.LinearResistance
	}{{10000, 0.0001}, {}, {30000, 0.0003}, {90000, 0.0003}} {
		if c.copper > 0 {
			nt.Wires[i].Copper, sizes[i].Resistance = c.copper, c.per
		}
	}
	in := section(made(job, nt, sizes), "engine").Inspection
	var r *Ring
	for k := range in.Rings {
		if in.Rings[k].From.Text == "A, cavity 1" {
			r = &in.Rings[k]
		}
	}
	if r == nil || len(r.To) != 2 {
		t.Fatalf("%+v", in.Rings)
	}
	for k, want := range []struct {
		end  string
		ohms float64
	}{{"lamp1, cavity 1", 0.0104}, {"lamp2, cavity 1", 0.0284}} {
		if e := r.To[k]; e.Text != want.end || !e.Known || math.Abs(float64(e.Most)-want.ohms) > 1e-12 {
			t.Errorf("%+v, want %+v", e, want)
		}
	}
	// A pair has no length of copper in this job: it must ring, and that is all that is asked.
	for _, r := range in.Rings {
		if strings.HasPrefix(r.From.Text, "A, cavity 2") && r.To[0].Known {
			t.Errorf("a resistance out of nothing: %+v", r)
		}
	}
	// The screen is cut back at its far end: nothing to probe there.
	for _, r := range section(made(job, nt, sizes), "tub").Inspection.Rings {
		if r.From.Text == "box, cavity 4 (s)" {
			t.Errorf("the screen rings to %+v", r.To)
		}
	}
	if len(in.Isolation) == 0 || in.Isolation[0].Title != "A, engine half" || len(in.Isolation[0].Ends) != 3 || in.Isolation[0].Joined != nil {
		t.Errorf("isolation %+v", in.Isolation)
	}
}

// A sound wire of the greatest resistance that its standard admits, of which nothing was cut off at the bench, must pass.
func TestRingOfTheCutLength(t *testing.T) {
	job, nt, sizes := smallJob()
	for _, i := range []int{0, 2, 3} {
		nt.Wires[i].Copper, sizes[i].Resistance = 10, 0.03
	}
	eng := section(made(job, nt, sizes), "engine")
	cut := cutLengths(eng.Cuts)
	for _, r := range eng.Inspection.Rings {
		if r.From.Text != "A, cavity 1" {
			continue
		}
		for _, to := range r.To {
			want := 0.03*float64(cut[r.From.Wire]+cut[to.Wire])/1000 + 0.0004
			if cut[to.Wire] < 100 || !to.Known || math.Abs(float64(to.Most)-want) > 1e-9 {
				t.Errorf("%s: at most %v, cut to %v and %v", to.Text, to.Most, cut[r.From.Wire], cut[to.Wire])
			}
		}
		return
	}
	t.Error("no ring from A, cavity 1")
}

// Resistances between the nodes of random rings and trees, against gonum's solution of the same equations: the potential of a node from which
// one ampere is drawn.
func TestResistancesAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 9).Draw(t, "nodes")
		var links []link
		for k := 1; k < n; k++ {
			links = append(links, link{[2]int{rapid.IntRange(0, k-1).Draw(t, "to"), k}, rapid.Float64Range(1e-3, 1).Draw(t, "ohms")})
		}
		for range rapid.IntRange(0, 5).Draw(t, "more") {
			links = append(links, link{[2]int{rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")}, rapid.Float64Range(1e-3, 1).Draw(t, "ohms")})
		}
		from := rapid.IntRange(0, n-1).Draw(t, "from")
		got := resistances(n, links, from)
		g := mat.NewDense(n, n, nil)
		for _, l := range links {
			if l.at[0] == l.at[1] {
				continue
			}
			for e, k := range l.at {
				g.Set(k, k, g.At(k, k)+1/l.ohms)
				g.Set(k, l.at[1-e], g.At(k, l.at[1-e])-1/l.ohms)
			}
		}
		for k := range n { // the first node is at 0 V
			g.Set(from, k, 0)
		}
		g.Set(from, from, 1)
		for k := range n {
			if k == from {
				continue
			}
			rhs, v := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
			rhs.SetVec(k, 1)
			if err := v.SolveVec(g, rhs); err != nil {
				t.Fatal(err)
			}
			if math.Abs(v.AtVec(k)-got[k]) > 1e-9 {
				t.Fatalf("node %d: %v, gonum %v", k, got[k], v.AtVec(k))
			}
		}
	})
}
