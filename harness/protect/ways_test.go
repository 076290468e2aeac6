package protect

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"

	"pgregory.net/rapid"
)

// TestAnyWays: whatever the net, a node is met exactly if it hangs on the source in some position, with no more moved than the position that moves least; what
// a way says it takes is enough; and against the current it is the same with the diodes turned.
func TestAnyWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, nw := anyNet(t)
		upstream := rapid.Bool().Draw(t, "upstream")
		turned := &solve.Network{Nodes: nw.Nodes, Elements: slices.Clone(nw.Elements)}
		for i := range turned.Elements {
			if e := &turned.Elements[i]; upstream && e.Kind == solve.Diode {
				e.From, e.To = e.To, e.From
			}
		}
		asked := rapid.IntRange(0, 2).Draw(t, "asked besides")
		w := NewWays(job, nw, func(*design.Device) bool { return false })
		starts := []Start{{Source: Source{Device: "bat"}, Node: 0, Volts: 12, Moved: asked}, {Node: -1}, {Node: len(nw.Nodes)}}
		m := w.Search(starts, How{Upstream: upstream})
		all := w.Flood(starts, How{Upstream: upstream})
		least := map[int]int{}
		positions(func(at map[string]string) {
			moved := 0
			for _, s := range at {
				if s != "off" {
					moved++
				}
			}
			for n := range floodWith(job, turned, at, func(int) bool { return true }) {
				if x, ok := least[n]; !ok || moved < x {
					least[n] = moved
				}
			}
		})
		bare := floodWith(job, turned, map[string]string{}, func(int) bool { return true })
		if m.Bounded {
			t.Skip("more ways than are kept")
		}
		for n := range nw.Nodes {
			moved, fed := least[n]
			ways := m.At(n)
			if met, free := m.Has(n); met != fed || free != bare[n] || (len(ways) > 0) != fed || fed && !all[n] {
				t.Fatalf("node %d: met %v, free %v, %d ways, flooded %v; want %v, %v", n, met, free, len(ways), all[n], fed, bare[n])
			}
			if !fed {
				continue
			}
			if ways[0].Moved != moved+asked || !slices.IsSortedFunc(ways, func(a, b Way) int { return a.Moved - b.Moved }) {
				t.Fatalf("node %d: %+v, want %d moved and %d asked", n, ways, moved, asked)
			}
			for _, x := range ways {
				at := map[string]string{}
				moved := asked
				for _, th := range x.Throws {
					if at[th.Device] != "" {
						t.Fatalf("node %d: two throws of one set in %+v", n, x)
					}
					if at[th.Device] = th.State; !th.Rests() {
						moved++
					}
				}
				if x.Moved != moved || len(x.Loads) > 0 || x.Source.Device != "bat" {
					t.Fatalf("node %d: %+v", n, x)
				}
				if !floodWith(job, turned, at, func(f int) bool { return slices.Contains(x.Fuses, FuseRef{"box", f}) })[n] {
					t.Fatalf("node %d: %+v does not lead there", n, x)
				}
			}
		}
		if m.At(-1) != nil || m.At(len(nw.Nodes)) != nil {
			t.Fatal("ways to a node that is not there")
		}
	})
}

// TestWaysPastLoads: a row of fuse, lamp, fuse, lamp. Loads are passed only where asked, and are told in their order; a node that is closed ends the way.
func TestWaysPastLoads(t *testing.T) {
	nw := &solve.Network{Nodes: make([]string, 5), Elements: []solve.Element{
		{Item: &solve.Item{Kind: solve.Fuse, Device: "box", Index: 1}, From: 0, To: 1},
		{Item: &solve.Item{Kind: solve.Load, Device: "lamp"}, From: 1, To: 2},
		{Item: &solve.Item{Kind: solve.Fuse, Device: "box", Index: 0}, From: 3, To: 2},
		{Item: &solve.Item{Kind: solve.Coil, Device: "relay"}, From: 4, To: 3},
	}}
	job := &design.Job{Devices: []*design.Device{{Name: "box", Fuses: make([]design.DeviceFuse, 2)}, {Name: "lamp", Draws: make([]design.Draw, 1)}, {Name: "relay", Coils: make([]design.Coil, 1)}}}
	w := NewWays(job, nw, func(*design.Device) bool { return false })
	start := []Start{{Node: 0, Volts: 12}}
	for n, want := range []bool{true, true, false, false, false} {
		if met, _ := w.Search(start, How{}).Has(n); met != want {
			t.Errorf("node %d without loads: %v", n, met)
		}
		if met := w.Flood(start, How{})[n]; met != want {
			t.Errorf("node %d flooded without loads: %v", n, met)
		}
		closed := How{Loads: true, Closed: func(node int) bool { return node == 2 }}
		if met, _ := w.Search(start, closed).Has(n); met != want {
			t.Errorf("node %d with one closed: %v", n, met)
		}
	}
	m := w.Search(start, How{Loads: true})
	ways := m.At(4)
	if len(ways) != 1 || !slices.Equal(ways[0].Loads, []int{1, 3}) || !slices.Equal(ways[0].Fuses, []FuseRef{{"box", 1}, {"box", 0}}) {
		t.Errorf("%+v", ways)
	}
}

// TestWaysOfAControlUnit: its own 5 V live where its draw is fed, with what that took.
func TestWaysOfAControlUnit(t *testing.T) {
	given := design.Supply{}
	given.Volts.Nominal, given.Most.Nominal = 5, 0.2
	nw := &solve.Network{Nodes: make([]string, 5), Elements: []solve.Element{
		{Item: &solve.Item{Kind: solve.Switch, Device: "key"}, From: 0, To: 1},
		{Item: &solve.Item{Kind: solve.Load, Device: "ecu"}, From: 1, To: 4},
		{Item: &solve.Item{Kind: solve.Supply, Device: "ecu"}, From: 2, To: 4},
		{Item: &solve.Item{Kind: solve.Join, Wire: -1}, From: 2, To: 3},
	}}
	job := &design.Job{Devices: []*design.Device{
		{Name: "key", States: []design.State{{StateRef: design.StateRef{State: "on"}}}},
		{Name: "ecu", Draws: make([]design.Draw, 1), Supplies: []design.Supply{given}}}}
	for _, follows := range []bool{true, false} {
		w := NewWays(job, nw, func(d *design.Device) bool { return follows && d.Name == "ecu" })
		m := w.Search([]Start{{Source: Source{Device: "bat"}, Node: 0, Volts: 12}}, How{})
		ways := m.At(3)
		if !follows {
			if len(ways) > 0 {
				t.Errorf("%+v", ways)
			}
			continue
		}
		if len(ways) != 1 || ways[0].Moved != 1 || len(ways[0].Fuses)+len(ways[0].Loads) > 0 || ways[0].Source != (Source{Device: "ecu", Own: true, Most: 0.2}) || len(w.Flood([]Start{{Node: 0}}, How{})) != 5 {
			t.Errorf("%+v", ways)
		}
		if met, _ := w.Search([]Start{{Node: 4}}, How{Upstream: true}).Has(3); met {
			t.Error("its 5 V are met against the current")
		}
	}
}

// TestUnlimitedSourceFirst: of two sources at one node with as much switched the one without a limit counts first, whichever is named first.
func TestUnlimitedSourceFirst(t *testing.T) {
	nw := &solve.Network{Nodes: make([]string, 2), Elements: []solve.Element{{Item: &solve.Item{Kind: solve.Join, Wire: -1}, From: 0, To: 1}}}
	w := NewWays(&design.Job{}, nw, func(*design.Device) bool { return false })
	bat, alt := Start{Source: Source{Device: "bat"}, Volts: 12}, Start{Source: Source{Device: "alt", Most: 70}, Volts: 14}
	for _, starts := range [][]Start{{bat, alt}, {alt, bat}} {
		ways := w.Search(starts, How{}).At(1)
		if len(ways) == 0 || ways[0].Source.Device != "bat" {
			t.Errorf("%s first: %+v", starts[0].Device, ways)
		}
	}
}
