package bench

import (
	"fmt"
	"testing"
	"time"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// manyWires is a trunk of 40 pieces with a device of 75 cavities at each place and as many wires as asked for, each from one device to another; every tenth
// pair of wires is twisted, and every fiftieth meets others in a splice.
func manyWires(n int) (*design.Job, *net.Net, size.Sizes) {
	const places, cavities = 41, 75
	job := &design.Job{Sections: []*design.Section{{Name: "all"}}, Runs: []*design.Run{{Name: "trunk", Section: "all"}}}
	geo := &space.Geometry{}
	var names []string
	for c := range cavities {
		names = append(names, fmt.Sprint(c+1))
	}
	job.Parts.Housings = []*design.Housing{housing("sealed-75", "size-20", names...)}
	job.Parts.Contacts = []*design.Contact{{Part: design.Part{Name: "size-20"}, Strip: 5}}
	job.Parts.Wires = []*design.Wire{{Part: design.Part{Name: "thin"}}}
	for p := range places {
		name := fmt.Sprintf("d%02d", p)
		d := &design.Device{Name: name, Housings: []design.DeviceHousing{{Part: "sealed-75"}}}
		for _, c := range names {
			d.Pins = append(d.Pins, design.Pin{Name: c, Cavity: c})
		}
		job.Devices = append(job.Devices, d)
		geo.Nodes = append(geo.Nodes, space.Node{Key: name})
		if p > 0 {
			geo.Edges = append(geo.Edges, space.Edge{Run: "trunk", From: p - 1, To: p, Station: unit.Length(100 * (p - 1)), Length: 100, Section: "all"})
		}
	}
	nt := &net.Net{Space: geo}
	var sizes size.Sizes
	joint := net.Joint{Splice: "s", Section: "all", Node: 20}
	for i := range n {
		a, b := i%places, (i*7+3)%places
		if a > b {
			a, b = b, a
		}
		w := net.Wire{Name: fmt.Sprintf("w%d", i), Circuit: fmt.Sprintf("c%d", i), Section: "all", Family: "thin", Core: -1, Label: fmt.Sprint(i), Colour: []string{"red", "white", "black"}[i%3]}
		for e := a; e < b; e++ {
			w.Path = append(w.Path, net.Step{Edge: e})
		}
		cavity := names[(i/places)%cavities]
		for e, p := range []int{a, b} {
			w.Ends[e] = net.Termination{Kind: net.InCavity, Device: fmt.Sprintf("d%02d", p), Pin: cavity, Cavity: cavity, Node: p}
		}
		if i%50 == 0 {
			w.Ends[1] = net.Termination{Kind: net.InSplice, Splice: "s", Node: b}
			joint.Wires = append(joint.Wires, i)
		}
		if i%20 < 2 {
			w.Cable, w.Core = fmt.Sprintf("pair%d", i/20), i%20
			if w.Core == 1 {
				job.Cables = append(job.Cables, &design.Cable{Name: w.Cable, Holds: []string{fmt.Sprintf("c%d", i-1), w.Circuit}, Twist: 30})
			}
		}
		nt.Wires = append(nt.Wires, w)
		sizes = append(sizes, size.Conductor{Size: unit.Metric(0.5), Outside: 1.6, Family: "thin", Known: true, Contacts: [2]string{"size-20", "size-20"}})
	}
	nt.Joints = []net.Joint{joint}
	return job, nt, sizes
}

// Thousands of wires are planned in a moment, and four times as many take about four times as long.
func TestManyWires(t *testing.T) {
	took := func(n int) time.Duration {
		job, nt, sizes := manyWires(n)
		bundles := &bundle.Bundles{Edges: make([]bundle.MakeUp, len(nt.Space.Edges))}
		start := time.Now()
		p := Make(job, nt, sizes, bundles, nil, &fix.Plan{}, &shell.Shell{})
		d := time.Since(start)
		if len(p.Sections[0].Cuts) != n || len(p.Sections[0].Markers) < 2*n-200 {
			t.Fatalf("%d cuts, %d markers for %d wires", len(p.Sections[0].Cuts), len(p.Sections[0].Markers), n)
		}
		return d
	}
	best := func(n int) time.Duration { return min(took(n), took(n), took(n)) }
	// A slow machine is slow with few wires too.
	if many, few := best(3000), best(750); many > time.Second && many > 10*few {
		t.Errorf("3000 wires took %s, 750 %s", many, few)
	}
}

func BenchmarkMake(b *testing.B) {
	job, nt, sizes := manyWires(3000)
	for b.Loop() {
		Make(job, nt, sizes, nil, nil, &fix.Plan{}, &shell.Shell{})
	}
}
