package assembly

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func plain(n int) *graph { return &graph{rank: make([]int, n), before: make([][]int, n)} }

// respects tells whether an order holds every act once, after what must be before it, and every choice before one of its ways.
func respects(g *graph, choices []choice, order []int) bool {
	at := make([]int, len(g.rank))
	for i := range at {
		at[i] = -1
	}
	for i, a := range order {
		if at[a] >= 0 {
			return false
		}
		at[a] = i
	}
	if len(order) != len(at) {
		return false
	}
	for b, as := range g.before {
		for _, a := range as {
			if at[a] > at[b] {
				return false
			}
		}
	}
	return !slices.ContainsFunc(choices, func(c choice) bool {
		return !slices.ContainsFunc(c.ways, func(way []int) bool {
			return !slices.ContainsFunc(way, func(x int) bool { return at[x] <= at[c.act] })
		})
	})
}

// somewhere tries every order there is.
func somewhere(g *graph, choices []choice) bool {
	var order []int
	used := make([]bool, len(g.rank))
	var more func() bool
	more = func() bool {
		if len(order) == len(used) {
			return respects(g, choices, order)
		}
		for a := range used {
			if used[a] {
				continue
			}
			used[a], order = true, append(order, a)
			if more() {
				return true
			}
			used[a], order = false, order[:len(order)-1]
		}
		return false
	}
	return more()
}

// Against every order of a few acts: one is found just when there is one, and it keeps to everything; where there is none, what is stuck cannot
// be met even alone, and with any one of it left out it can.
func TestOrderAgainstAllOrders(t *testing.T) {
	found, none, rings := 0, 0, 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "acts")
		g := plain(n)
		act := rapid.IntRange(0, n-1)
		for i := range g.rank {
			g.rank[i] = rapid.IntRange(0, 2).Draw(t, "rank")
		}
		for range rapid.IntRange(0, n).Draw(t, "edges") {
			g.edge(act.Draw(t, "a"), act.Draw(t, "b"))
		}
		var choices []choice
		for range rapid.IntRange(0, 4).Draw(t, "choices") {
			choices = append(choices, choice{act.Draw(t, "act"), rapid.SliceOfN(rapid.SliceOfN(act, 0, 3), 1, 3).Draw(t, "ways")})
		}
		a := solve(g, choices)
		if want := somewhere(g, choices); (a.order != nil) != want {
			t.Fatalf("order %v, there is one: %v", a.order, want)
		}
		if !a.whole {
			t.Fatal("not the whole of a small search was done")
		}
		switch {
		case a.order != nil:
			found++
			if !respects(g, choices, a.order) {
				t.Fatalf("%v", a.order)
			}
			for i, w := range a.taken {
				at := slices.Index(a.order, choices[i].act)
				if slices.ContainsFunc(choices[i].ways[w], func(x int) bool { return slices.Index(a.order, x) <= at }) {
					t.Fatalf("choice %d does not take way %d in %v", i, w, a.order)
				}
			}
		case len(a.stuck) == 0:
			rings++
			r := g.ring()
			if len(r) == 0 {
				t.Fatal("no ring")
			}
			for i, x := range r {
				if !slices.Contains(g.before[r[(i+1)%len(r)]], x) {
					t.Fatalf("%v is no ring", r)
				}
			}
		default:
			none++
			pick := func(but int) (out []choice) {
				for _, k := range a.stuck {
					if k != but {
						out = append(out, choices[k])
					}
				}
				return out
			}
			if somewhere(g, pick(-1)) {
				t.Fatalf("%v can be met", a.stuck)
			}
			for _, k := range a.stuck {
				if !somewhere(g, pick(k)) {
					t.Fatalf("%v holds %d for nothing", a.stuck, k)
				}
			}
		}
	})
	if found == 0 || none == 0 || rings == 0 {
		t.Errorf("found %d, none %d, rings %d", found, none, rings)
	}
}

// A ring of dependencies made of three sleeves, each of which must go on before the next is fitted.
func TestRingOfChoices(t *testing.T) {
	g := plain(6) // sleeves 0, 1, 2; what each is fitted over 3, 4, 5
	for i := range 3 {
		g.edge(i+3, (i+1)%3) // the next sleeve lies over it
	}
	choices := []choice{{0, [][]int{{3}}}, {1, [][]int{{4}}}, {2, [][]int{{5}}}}
	if a := solve(g, choices); a.order != nil || !slices.Equal(a.stuck, []int{0, 1, 2}) {
		t.Errorf("%+v", a)
	}
	choices[1].ways = append(choices[1].ways, []int{3}) // the second can be put on from its other end
	a := solve(g, choices)
	if a.order != nil {
		t.Errorf("3 is before 1: %+v", a)
	}
	choices[1].ways = append(choices[1].ways, nil) // or it passes all
	if a = solve(g, choices); a.order == nil || a.taken[1] != 2 || !respects(g, choices, a.order) {
		t.Errorf("%+v", a)
	}
}

// The order is that of ranks where nothing else decides.
func TestOrderIsStable(t *testing.T) {
	g := plain(5)
	copy(g.rank, []int{1, 0, 1, 0, 2})
	g.edge(4, 1)
	if a := solve(g, nil); !slices.Equal(a.order, []int{3, 0, 2, 4, 1}) {
		t.Errorf("%v", a.order)
	}
}

// What cannot be is left out of the order, every contradiction by itself, and the rest is ordered all the same.
func TestPlanGoesOn(t *testing.T) {
	g := plain(6)
	g.edge(1, 0)
	g.edge(3, 2)
	choices := []choice{{0, [][]int{{1}, {1, 5}}}, {4, [][]int{{5}}}, {2, [][]int{{3}}}}
	for range 12 { // two ways each: too many to try them all for each that cannot be
		g.rank, g.before = append(g.rank, 0, 0, 0), append(g.before, nil, nil, nil)
		n := len(g.rank)
		choices = append(choices, choice{n - 1, [][]int{{n - 2}, {n - 3}}})
	}
	order, taken, against := g.plan(choices)
	if len(against) != 2 || !against[0].whole || !against[1].whole || len(against[0].stuck) != 1 || len(against[1].stuck) != 1 || taken[0] != -1 || taken[2] != -1 || taken[1] != 0 {
		t.Fatalf("%v %v", taken, against)
	}
	if !respects(g, append([]choice{choices[1]}, choices[3:]...), order) {
		t.Errorf("%v", order)
	}
}

// A search that grows beyond its bound says so.
func TestSearchIsBounded(t *testing.T) {
	const k = 40
	g := plain(2*k + 5)
	var choices []choice
	for i := range k {
		choices = append(choices, choice{2 * i, [][]int{{2*i + 1, 2 * k}, {2*i + 1, 2*k + 1}}})
	}
	x, y, z := 2*k+2, 2*k+3, 2*k+4 // each before another of the three: the last of them is before none
	choices = append(choices, choice{x, [][]int{{y}, {z}}}, choice{y, [][]int{{z}, {x}}}, choice{z, [][]int{{x}, {y}}})
	if a := solve(g, choices); a.order != nil || a.whole {
		t.Errorf("order %v, whole %v", a.order, a.whole)
	}
}
