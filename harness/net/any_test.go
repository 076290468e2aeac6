package net

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// anyJob is a random harness: places on a grid, a run along each of some pairs, each in one of three sections, breaks and posts where they
// may help, devices, splices with and without a place, circuits, cables and decisions.
func anyJob(t *rapid.T) *design.Job {
	sections := []string{"tub", "engine", "nose"}
	some := func(n int, of string) int { return rapid.IntRange(0, n-1).Draw(t, of) }
	n := rapid.IntRange(2, 6).Draw(t, "places")
	var add []piece
	place := func(i int) string { return fmt.Sprintf("p%d", i) }
	for i := range n {
		add = append(add, point(place(i), float64(100*some(5, "x")), float64(100*some(5, "y"))))
	}
	runs := 0
	lead := func(a, b int) {
		runs++
		add = append(add, run(fmt.Sprintf("r%d", runs), sections[some(3, "section")], place(a), place(b)))
	}
	for i := 1; i < n; i++ {
		lead(some(i, "from"), i) // mostly a tree
	}
	for range some(4, "more runs") {
		lead(some(n, "from"), some(n, "to"))
	}
	for i := range some(7, "breaks") {
		a := some(3, "half")
		add = append(add, brk(fmt.Sprintf("B%d", i), 0, 0, rapid.SampledFrom([]string{"two", "four", "mixed", "post"}).Draw(t, "housing"), sections[a], sections[(a+1)%3],
			kept(rapid.SampledFrom([]string{"", "", "signal"}).Draw(t, "class"))), atPlace(place(some(n, "at"))))
	}
	devices := rapid.IntRange(2, 4).Draw(t, "devices")
	for i := range devices {
		add = append(add, dev(fmt.Sprintf("d%d", i), 0, 0, "1", "2", "3", "e*"), devAt(place(some(n, "at"))))
	}
	splices := some(3, "splices")
	for i := range splices {
		node := ""
		if rapid.Bool().Draw(t, "placed") {
			node = place(some(n, "at"))
		}
		add = append(add, spliceAt(fmt.Sprintf("s-%d", i), node, rapid.SampledFrom([]string{"", "tub", "nose"}).Draw(t, "section")))
	}
	pick := func() string {
		if k := some(devices+splices, "end"); k >= devices {
			return fmt.Sprintf("s-%d", k-devices)
		} else {
			return fmt.Sprintf("d%d.%s", k, rapid.SampledFrom([]string{"1", "2", "3", "e"}).Draw(t, "pin"))
		}
	}
	var circuits []string
	for i := range rapid.IntRange(1, 4).Draw(t, "circuits") {
		var links []design.Link
		for range rapid.IntRange(1, 3).Draw(t, "links") {
			options := []option{class(rapid.SampledFrom([]string{"", "signal"}).Draw(t, "class")), parallel(rapid.IntRange(1, 2).Draw(t, "parallel")),
				size(rapid.SampledFrom([]unit.Area{0, 0.5, 1.5}).Draw(t, "size"))}
			switch some(6, "option") {
			case 0:
				options = append(options, loose(300, "tub"))
			case 1:
				options = append(options, via("point", place(some(n, "via"))))
			case 2:
				options = append(options, via("run", fmt.Sprintf("r%d", 1+some(runs, "via"))))
			}
			links = append(links, link(pick(), pick(), options...))
		}
		circuits = append(circuits, fmt.Sprintf("c%d", i))
		add = append(add, circ(circuits[i], links...))
	}
	if len(circuits) > 1 && rapid.Bool().Draw(t, "cable") {
		add = append(add, bought("three", true, "white", "blue", "green"), cable("lead", rapid.SampledFrom([]string{"", "three"}).Draw(t, "bought"),
			rapid.SampledFrom([]string{"", "d0.3"}).Draw(t, "screen"), circuits[0], circuits[1]))
	}
	for range some(3, "decisions") {
		add = append(add, cav(fmt.Sprintf("B%d", some(3, "break")), fmt.Sprint(1+some(4, "cavity")), rapid.SampledFrom(circuits).Draw(t, "circuit"),
			rapid.SampledFrom([]string{"", "0"}).Draw(t, "frozen")))
	}
	return job(add...)
}

func atPlace(p string) piece {
	return func(j *design.Job) { j.Breaks[len(j.Breaks)-1].Spot = design.Spot{Node: p} }
}
func devAt(p string) piece {
	return func(j *design.Job) { j.Devices[len(j.Devices)-1].Spot = design.Spot{Node: p} }
}

func TestAnyNetIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		n := built(j)
		g := n.Space
		seen := map[string]bool{}
		labels := map[string]bool{}
		cavities := map[string]string{}
		for i, w := range n.Wires {
			if seen[w.Name] || labels[w.Label] || w.Label == "" {
				t.Fatalf("name %q or label %q twice", w.Name, w.Label)
			}
			seen[w.Name], labels[w.Label] = true, true
			if i > 0 && design.Natural(n.Wires[i-1].Name, w.Name) > 0 {
				t.Fatalf("%q before %q", n.Wires[i-1].Name, w.Name)
			}
			for _, e := range w.Ends {
				switch e.Kind {
				case InCavity, OnStud:
					if e.Device == "" || e.Break != "" {
						t.Fatalf("%+v", e)
					}
				case InHalf, OnPost:
					b := j.Breaks[slices.IndexFunc(j.Breaks, func(b *design.Break) bool { return b.Name == e.Break })]
					if b.Halves[e.Half].Section != w.Section {
						t.Fatalf("%s of section %s ends in the half of %s", w.Name, w.Section, b.Halves[e.Half].Section)
					}
					key := fmt.Sprint(e.Break, e.Half, e.Cavity)
					if e.Kind == InHalf && e.Cavity != "" && cavities[key] != "" {
						t.Fatalf("%s and %s in one cavity", cavities[key], w.Name)
					}
					cavities[key] = w.Name
				case InSplice:
					if e.Splice == "" {
						t.Fatalf("%+v", e)
					}
				case CutBack:
					if e.Near == "" || w.Kind == Plain {
						t.Fatalf("%+v", e)
					}
				}
			}
			at := w.Ends[0].Node
			var sum unit.Length
			for _, s := range w.Path {
				e := g.Edges[s.Edge]
				from, to := e.From, e.To
				if s.Reverse {
					from, to = to, from
				}
				if from != at || e.Section != w.Section {
					t.Fatalf("%s: the way of section %s breaks off at %s", w.Name, w.Section, g.Nodes[at].Key)
				}
				at = to
				sum += e.Length + e.Slack
			}
			if !w.Loose && (at != w.Ends[1].Node || sum != w.Length) {
				t.Fatalf("%s ends at %d after %v: %+v", w.Name, at, sum, w)
			}
		}
		for _, c := range n.Crossings {
			a, b := n.Wires[c.Wires[0]], n.Wires[c.Wires[1]]
			joined := 0
			for _, x := range a.Ends {
				for _, y := range b.Ends {
					if x.Break == c.Break && y.Break == c.Break && x.Half == 0 && y.Half == 1 && x.Cavity == c.Cavity && y.Cavity == c.Cavity && x.Node == y.Node {
						joined++
					}
				}
			}
			if joined < 1 || a.Circuit != b.Circuit {
				t.Fatalf("%+v does not join %+v and %+v", c, a, b)
			}
		}
	})
}

func TestOrderOfTheTextNeverShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		m := *j
		m.Points = rapid.Permutation(j.Points).Draw(t, "points")
		m.Runs = rapid.Permutation(j.Runs).Draw(t, "runs")
		m.Devices = rapid.Permutation(j.Devices).Draw(t, "devices")
		m.Breaks = rapid.Permutation(j.Breaks).Draw(t, "breaks")
		m.Splices = rapid.Permutation(j.Splices).Draw(t, "splices")
		m.Circuits = rapid.Permutation(j.Circuits).Draw(t, "circuits")
		m.Cavities = rapid.Permutation(j.Cavities).Draw(t, "cavities")
		if got, want := built(&m), built(j); !reflect.DeepEqual(got, want) {
			t.Fatalf("got  %+v\nwant %+v", got, want)
		}
	})
}

func TestUnrelatedCircuitRenamesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		n := built(j)
		m := *j
		m.Circuits = slices.Clone(j.Circuits)
		circ("a-new", link("d0.1", "d1.2", parallel(2)))(&m)
		marks := map[string]string{}
		for _, w := range built(&m).Wires {
			marks[w.Name] = w.Label
		}
		for _, w := range n.Wires {
			if marks[w.Name] != w.Label {
				t.Fatalf("%s was marked %q, now %q", w.Name, w.Label, marks[w.Name])
			}
		}
	})
}

func TestJobIsNotChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		before := fmt.Sprintf("%+v", snapshot(j))
		built(j)
		if after := fmt.Sprintf("%+v", snapshot(j)); after != before {
			t.Fatalf("was %s\nis  %s", before, after)
		}
	})
}

func snapshot(j *design.Job) string {
	var s strings.Builder
	for _, c := range j.Circuits {
		fmt.Fprintf(&s, "%+v\n", *c)
	}
	for _, c := range j.Breaks {
		fmt.Fprintf(&s, "%+v\n", *c)
	}
	for _, c := range j.Devices {
		fmt.Fprintf(&s, "%+v\n", *c)
	}
	for _, c := range j.Splices {
		fmt.Fprintf(&s, "%+v\n", *c)
	}
	for _, c := range j.Cavities {
		fmt.Fprintf(&s, "%+v\n", *c)
	}
	for _, c := range j.Runs {
		fmt.Fprintf(&s, "%+v\n", *c)
	}
	return s.String()
}

func TestFreezingMovesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		n := built(j)
		if slices.ContainsFunc(n.Problems, func(p Problem) bool { return p.Kind == NoCavityLeft }) {
			return // nothing to build from, so nothing to keep
		}
		m := built(froze(j, n))
		if len(m.Wires) != len(n.Wires) {
			t.Fatal("wires came or went")
		}
		for i, w := range n.Wires {
			v := m.Wires[i]
			if v.Name != w.Name || v.Label != w.Label {
				t.Fatalf("%s %s became %s %s", w.Name, w.Label, v.Name, v.Label)
			}
			for e := range w.Ends {
				if v.Ends[e].Cavity != w.Ends[e].Cavity {
					t.Fatalf("%s moved from %s to %s\n%+v", w.Name, w.Ends[e].Cavity, v.Ends[e].Cavity, Freeze(n, j))
				}
			}
		}
		for _, p := range m.Problems {
			if p.Kind == FrozenLost || p.Kind == CavityTwice || p.Kind == TwoCavities || p.Kind == LabelTwice {
				t.Fatalf("%+v", p)
			}
		}
	})
}

// The shortest way is compared with trying every way that passes no state twice. Lengths are whole millimetres of a grid's diagonals, so both
// sums are rounded alike to the micrometre.
func TestRoutesAreShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		b := newBuilder(j, space.Lay(j), nil)
		b.collect()
		b.settleSplices()
		for _, w := range b.ways {
			if w.link.Loose || len(w.vias) > 0 {
				continue
			}
			q := b.ask(w)
			r, ok := b.g.find(q)
			best := int64(-1)
			for _, s := range q.starts {
				b.g.everyWay(q, s, map[int]bool{s: true}, 0, &best)
			}
			if ok != (best >= 0) || ok && r.cost != best {
				t.Fatalf("%s - %s: found %v %d, by trying all %d", w.link.From, w.link.To, ok, r.cost, best)
			}
		}
	})
}

func (g *graph) everyWay(q *ask, s int, on map[int]bool, cost int64, best *int64) {
	if slices.Contains(q.ends, s) && (*best < 0 || cost < *best) {
		*best = cost
	}
	for _, a := range g.arcs[s] {
		if on[a.to] || a.door >= 0 && !g.open(&g.doors[a.door], q) {
			continue
		}
		on[a.to] = true
		g.everyWay(q, a.to, on, cost+a.cost, best)
		delete(on, a.to)
	}
}
