package net

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// faced gives break A a housing with places on its face: contact part and place of each cavity in turn.
func faced(cavities ...design.HousingCavity) piece {
	return func(j *design.Job) {
		for i := range cavities {
			cavities[i].Name = fmt.Sprint(i + 1)
		}
		j.Parts.Housings = append(j.Parts.Housings, &design.Housing{Part: design.Part{Name: "faced"}, Cavities: cavities})
		for h := range j.Breaks[0].Halves {
			j.Breaks[0].Halves[h].Housing = "faced"
		}
	}
}

func hole(takes string, x, y float64) design.HousingCavity {
	return design.HousingCavity{Takes: []string{takes}, Placed: true, At: [2]unit.Length{unit.Length(x), unit.Length(y)}}
}

// rows is a face of cavities alike, 6 mm apart.
func rows(wide, high int) []design.HousingCavity {
	var out []design.HousingCavity
	for y := range high {
		for x := range wide {
			out = append(out, hole("mid", float64(6*x), float64(-6*y)))
		}
	}
	return out
}

// many is a box of fused ways and what they lead to.
func many(n int, more ...piece) *design.Job {
	var from, to []string
	for i := range n {
		from, to = append(from, fmt.Sprint("f", i+1)), append(to, fmt.Sprint(i+1))
	}
	return job(append([]piece{dev("box", 0, 0, append(from, "live", "minus")...), dev("load", 1000, 0, to...), brk("A", 500, 0, "four", "tub", "engine"),
		run("dash", "tub", "box", "A"), run("rail", "engine", "A", "load")}, more...)...)
}

func TestBesideByPlace(t *testing.T) {
	for _, c := range []struct {
		name string
		face []design.HousingCavity
		want string
	}{
		{"a square pattern, corners too", rows(3, 2), "[[1 3 4] [0 2 3 4 5] [1 4 5] [0 1 4] [0 1 2 3 5] [1 2 4]]"},
		{"a heavy contact apart has its nearest", append([]design.HousingCavity{hole("big", -20, 0)}, rows(3, 1)...), "[[1] [0 2] [1 3] [2]]"},
		{"two rows farther apart than their pitches", []design.HousingCavity{hole("mid", 0, 0), hole("mid", 6, 0), hole("small", 0, -8), hole("small", 4, -8)}, "[[1] [0] [3] [2]]"},
		{"no places: the next in order", housing("x", "mid", "mid", "mid").Cavities, "[[1] [0 2] [1]]"},
		{"two in one place", []design.HousingCavity{hole("mid", 0, 0), hole("mid", 0, 0), hole("mid", 9, 0)}, "[[1 2] [0 2] [0 1]]"},
		{"none", nil, "[]"},
	} {
		if got := fmt.Sprint(Beside(c.face, 1.5)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// On a face whose numbers jump from row to row, 3 and 4 are no neighbours.
func TestPairsByPlace(t *testing.T) {
	j := many(6, faced(hole("mid", 0, 0), hole("mid", 6, 0), hole("mid", 12, 0), hole("mid", -30, -30), hole("mid", -24, -30), hole("mid", -18, -30)),
		circ("a", link("box.f1", "load.1")), circ("b", link("box.f2", "load.2")), circ("c", link("box.f3", "load.3")), circ("p", link("box.f4", "load.4")), circ("q", link("box.f5", "load.5")),
		cable("x", "", "", "a", "b"), cable("y", "", "", "p", "q"), cav("A", "2", "c", ""))
	n := built(j)
	wantProblems(t, n)
	for k, want := range map[string]string{"a A - load.1": "4", "b A - load.2": "5", "c A - load.3": "2"} {
		if got := cavityOf(t, n, "A", k); got != want {
			t.Errorf("%s in %s, want %s", k, got, want)
		}
	}
	// the second pair finds no two together: 1, 3 and 6 are left
	if got := cavityOf(t, n, "A", "p A - load.4") + cavityOf(t, n, "A", "q A - load.5"); got != "13" {
		t.Errorf("p and q in %s", got)
	}
}

func TestScreenBesideItsPair(t *testing.T) {
	n := built(many(5, faced(rows(3, 2)...), circ("a", link("box.f1", "load.1")), circ("b", link("box.f2", "load.2")), circ("c", link("box.f3", "load.3")), bought("two", true, "white", "blue"),
		cable("x", "two", "box.f5", "a", "b"), cav("A", "1", "c", "")))
	beside := Beside(rows(3, 2), 1.5)
	at := func(name string) int {
		return int(cavityOf(t, n, "A", name)[0] - '1')
	}
	a, b, s := at("a A - load.1"), at("b A - load.2"), at("x screen A - load.1")
	if !slices.Contains(beside[a], b) || !slices.Contains(beside[s], a) && !slices.Contains(beside[s], b) {
		t.Errorf("cores in %d and %d, screen in %d", a+1, b+1, s+1)
	}
}

// supplied makes live a feed with no fuse, minus its earth, the f pins fused.
func supplied(j *design.Job) {
	d := j.Devices[0]
	d.Supplies = []design.Supply{{From: design.PinRef{Pin: "live"}, To: design.PinRef{Pin: "minus"}}}
	for i := range d.Pins {
		if p := d.Pins[i].Name; p[0] == 'f' {
			d.Fuses = append(d.Fuses, design.DeviceFuse{From: "live", To: p})
		}
	}
}

func TestUnfusedFeedApart(t *testing.T) {
	n := built(many(8, supplied, faced(rows(4, 2)...), circ("a-earth", link("box.minus", "load.1")), circ("b-sig", link("load.2", "box.f2", class("signal"))),
		circ("c", link("box.f3", "load.3")), circ("d", link("box.f4", "load.4")), circ("e", link("box.f5", "load.5")), circ("z-live", link("box.live", "load.6"))))
	wantProblems(t, n)
	feeds := 0
	in := map[string]*Crossing{}
	for i := range n.Crossings {
		in[n.Crossings[i].Cavity] = &n.Crossings[i]
	}
	beside := BesideIn(&design.Job{Parts: design.Parts{Housings: []*design.Housing{{Part: design.Part{Name: "faced"}, Cavities: inOrder(rows(4, 2))}}}},
		&design.Break{Halves: [2]design.Half{{Housing: "faced"}, {Housing: "faced"}}})
	for i := range n.Crossings {
		c := &n.Crossings[i]
		name := n.Wires[c.Wires[0]].Circuit
		if c.Unfused != (name == "z-live") || c.Quiet != (name == "a-earth" || name == "b-sig") {
			t.Errorf("%s: %+v", name, c)
		}
		if !c.Unfused {
			continue
		}
		feeds++
		for _, j := range beside[c.Cavity] {
			if o := in[j]; o != nil && o.Quiet {
				t.Errorf("%s in %s beside %s in %s", name, c.Cavity, n.Wires[o.Wires[0]].Circuit, j)
			}
		}
	}
	if feeds != 1 {
		t.Error("no feed")
	}
}

func inOrder(cs []design.HousingCavity) []design.HousingCavity {
	for i := range cs {
		cs[i].Name = fmt.Sprint(i + 1)
	}
	return cs
}

func TestRolesByMetal(t *testing.T) {
	sensor := func(j *design.Job) {
		j.Devices[1].Reads = []design.Reads{{From: "3", To: "4"}}
	}
	relay := func(j *design.Job) {
		d := &design.Device{Name: "relay", Spot: at("box", 0, 0), Housings: []design.DeviceHousing{{Part: "any"}}, Pins: []design.Pin{{Name: "30"}, {Name: "87"}}}
		d.States = []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}}}
		j.Devices = append(j.Devices, d)
	}
	own := func(j *design.Job) { // a unit's own 5 V, which no case lists
		j.Devices[0].Draws = []design.Draw{{}}
		j.Cases = []*design.Case{{Name: "on", Supplies: []design.CaseSupply{{Device: "other"}}}}
	}
	for _, c := range []struct {
		name           string
		add            []piece
		unfused, quiet bool
	}{
		{"straight from the supply", []piece{circ("w", link("box.live", "load.1"))}, true, false},
		{"behind a fuse", []piece{circ("w", link("box.f1", "load.1"))}, false, false},
		{"behind a contact", []piece{relay, circ("v", link("box.live", "relay.30")), circ("w", link("relay.87", "load.1"))}, true, false},
		{"earth", []piece{circ("w", link("box.minus", "load.1"))}, false, true},
		{"earth behind a contact is none yet", []piece{relay, circ("v", link("box.minus", "relay.30")), circ("w", link("relay.87", "load.1"))}, false, false},
		{"a sensor's wire", []piece{sensor, circ("w", link("box.f2", "load.3"))}, false, true},
		{"through a splice", []piece{spliceAt("s-1", "box", "tub"), circ("w", link("box.live", "s-1"), link("s-1", "load.1"))}, true, false},
		{"a unit's own supply", []piece{own, circ("w", link("box.live", "load.1"))}, false, false},
	} {
		n := built(many(4, append([]piece{supplied}, c.add...)...))
		for i := range n.Crossings {
			if x := &n.Crossings[i]; n.Wires[x.Wires[0]].Circuit == "w" && (x.Unfused != c.unfused || x.Quiet != c.quiet) {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
		if len(n.Crossings) == 0 {
			t.Errorf("%s: nothing crosses", c.name)
		}
	}
}

// Of sixteen cavities of one kind and eight of another the share of 10 % keeps two and one, far apart.
func TestSparesAreSpread(t *testing.T) {
	var face []design.HousingCavity
	for i := range 8 {
		face = append(face, hole("mid", float64(6*i), 0))
	}
	for i := range 16 {
		face = append(face, hole("small", float64(6*(i%8)), -6-6*float64(i/8)))
	}
	var wires []piece
	for i := range 21 {
		wires = append(wires, circ(fmt.Sprint("c", i+1), link(fmt.Sprint("box.f", i+1), fmt.Sprint("load.", i+1), size(map[bool]unit.Area{true: 0.5, false: 1.5}[i < 14]))))
	}
	n := built(many(21, append(wires, faced(face...))...))
	wantProblems(t, n)
	var free []int
	for i := range face {
		if !slices.ContainsFunc(n.Crossings, func(c Crossing) bool { return c.Cavity == fmt.Sprint(i+1) }) {
			free = append(free, i)
		}
	}
	kinds := 0
	for i, x := range free {
		if x < 8 {
			kinds++
		}
		for _, y := range free[:i] {
			if math.Hypot(float64(face[x].At[0]-face[y].At[0]), float64(face[x].At[1]-face[y].At[1])) < 13 {
				t.Errorf("%d and %d are free side by side", x+1, y+1)
			}
		}
	}
	if len(free) != 3 || kinds != 1 {
		t.Errorf("free are %v", free)
	}
}

// anyFace is a small face with pairs, cables, decided cavities and single wires.
func anyFace(t *rapid.T) (*design.Job, []design.HousingCavity) {
	n := rapid.IntRange(3, 7).Draw(t, "cavities")
	var face []design.HousingCavity
	for i := range n {
		c := hole(rapid.SampledFrom([]string{"mid", "mid", "small"}).Draw(t, "takes"), float64(5*rapid.IntRange(0, 3).Draw(t, "x")), float64(5*rapid.IntRange(0, 2).Draw(t, "y")))
		c.Placed = i > 0 || rapid.Bool().Draw(t, "placed")
		face = append(face, c)
	}
	pairs := rapid.IntRange(0, n/2).Draw(t, "pairs")
	wires := rapid.IntRange(2*pairs, n).Draw(t, "wires")
	add := []piece{supplied, faced(face...)}
	for i := range wires {
		from, class0 := fmt.Sprint("box.f", i+1), ""
		switch rapid.IntRange(0, 4).Draw(t, "role") {
		case 0:
			from = "box.live"
		case 1:
			class0 = "signal"
		}
		add = append(add, circ(fmt.Sprint("c", i+1), link(from, fmt.Sprint("load.", i+1), class(class0), size(rapid.SampledFrom([]unit.Area{0, 0.5, 0.75, 1.5}).Draw(t, "size")))))
	}
	for i := range pairs {
		add = append(add, cable(fmt.Sprint("p", i+1), "", "", fmt.Sprint("c", 2*i+1), fmt.Sprint("c", 2*i+2)))
	}
	for range rapid.IntRange(0, 1).Draw(t, "decided") {
		add = append(add, cav("A", fmt.Sprint(rapid.IntRange(1, n).Draw(t, "cavity")), fmt.Sprint("c", rapid.IntRange(1, max(1, wires)).Draw(t, "of")), ""))
	}
	return many(n, add...), face
}

// Against every seating there is: as many wires sit as can, and among the seatings of so many no other has more pairs together.
func TestPairsTogetherWheneverTheyCan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, face := anyFace(t)
		n := built(j)
		b := newBuilder(j, space.Lay(j), nil)
		beside := Beside(face, 1.5)
		seat := map[string]int{} // circuit: cavity
		decided := map[string]bool{}
		used := map[string]bool{}
		for _, c := range n.Crossings {
			w := n.Wires[c.Wires[0]].Circuit
			if c.Cavity == "" {
				continue
			}
			if used[c.Cavity] {
				t.Fatalf("two in %s", c.Cavity)
			}
			used[c.Cavity] = true
			seat[w] = int(c.Cavity[0] - '1')
			decided[w] = c.Status != design.Computed
		}
		takes := func(i, k int) bool {
			return b.takes(&design.HousingCavity{Takes: face[k].Takes}, Need{Size: j.Circuits[i].Links[0].Size}, j.Circuits[i].Links[0].Size.IsZero())
		}
		together := func(at map[string]int) int {
			sum := 0
			for _, c := range j.Cables {
				x, okX := at[c.Holds[0]]
				y, okY := at[c.Holds[1]]
				if okX && okY && slices.Contains(beside[x], y) {
					sum++
				}
			}
			return sum
		}
		most, best := 0, 0
		at, full := map[string]int{}, make([]bool, len(face))
		for w, k := range seat {
			if decided[w] {
				at[w], full[k] = k, true
			}
		}
		var try func(i int)
		try = func(i int) {
			if i == len(j.Circuits) {
				switch s := together(at); {
				case len(at) > most:
					most, best = len(at), s
				case len(at) == most:
					best = max(best, s)
				}
				return
			}
			w := j.Circuits[i].Name
			if decided[w] {
				try(i + 1)
				return
			}
			for k := range face {
				if !full[k] && takes(i, k) {
					full[k], at[w] = true, k
					try(i + 1)
					delete(at, w)
					full[k] = false
				}
			}
			try(i + 1)
		}
		try(0)
		// Too few cavities: which wire goes without is settled first, and pairs are then sought among the rest.
		if len(seat) != most || len(seat) == len(j.Circuits) && together(seat) != best {
			t.Fatalf("%d wires and %d pairs together, could be %d and %d: %v on %v", len(seat), together(seat), most, best, seat, beside)
		}
	})
}

func TestSeatingIgnoresTheOrderOfTheTextAndFreezes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j, _ := anyFace(t)
		n := built(j)
		m := *j
		m.Circuits = rapid.Permutation(j.Circuits).Draw(t, "circuits")
		m.Cables = rapid.Permutation(j.Cables).Draw(t, "cables")
		where := func(n *Net) map[string]string {
			out := map[string]string{}
			for _, c := range n.Crossings {
				out[n.Wires[c.Wires[0]].Name] = c.Cavity
			}
			return out
		}
		if got, want := fmt.Sprint(where(built(&m))), fmt.Sprint(where(n)); got != want {
			t.Fatalf("in another order %s, was %s", got, want)
		}
		if slices.ContainsFunc(n.Problems, func(p Problem) bool { return p.Kind == NoCavityLeft }) {
			return
		}
		f := froze(j, n)
		circ("a-new", link("box.f1", "load.1", size(0.5)))(f)
		after := where(built(f))
		for w, c := range where(n) {
			if after[w] != c {
				t.Fatalf("%s moved from %s to %s", w, c, after[w])
			}
		}
	})
}

func TestPassagesSayWhatIsSplit(t *testing.T) {
	j := many(5, faced(rows(5, 1)...), circ("a", link("box.f1", "load.1")), circ("b", link("box.f2", "load.2")), circ("c", link("box.f3", "load.3")), circ("d", link("box.f4", "load.4")),
		cable("x", "", "", "a", "b"), cable("y", "", "", "c", "d"), cav("A", "1", "a", ""), cav("A", "5", "b", ""))
	got := ""
	for _, p := range Passages(j, built(j)) {
		got += fmt.Sprintf("%s %s %v %v %v; ", p.Break, p.Cable, p.Beside, p.Decided, len(p.Crossings))
	}
	if got != "A x false true 2; A y true false 2; " {
		t.Error(got)
	}
}
