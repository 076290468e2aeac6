package protect

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"

	"pgregory.net/rapid"
)

// anyNet is a small net at random: a supply at node 0, wires, fuses, diodes and relays with two or three throws.
func anyNet(t *rapid.T) (*design.Job, *solve.Network) {
	n := rapid.IntRange(3, 7).Draw(t, "nodes")
	nw := &solve.Network{Nodes: make([]string, n)}
	job := &design.Job{}
	box := &design.Device{Name: "box"}
	relays := []*design.Device{{Name: "r0"}, {Name: "r1"}}
	job.Devices = append(append(job.Devices, box), relays...)
	put := func(k solve.ElementKind, d string, index, from, to int) {
		nw.Elements = append(nw.Elements, solve.Element{Item: &solve.Item{Kind: k, Device: d, Index: index, Wire: -1}, From: from, To: to})
	}
	node := rapid.IntRange(0, n-1)
	for range rapid.IntRange(n-1, 11).Draw(t, "elements") {
		from, to := node.Draw(t, "from"), node.Draw(t, "to")
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0, 1:
			put(solve.Join, "", -1, from, to)
		case 2, 3:
			put(solve.Fuse, "box", len(box.Fuses), from, to)
			box.Fuses = append(box.Fuses, design.DeviceFuse{})
		case 4:
			put(solve.Diode, "box", 0, from, to)
		default:
			r := relays[rapid.IntRange(0, 1).Draw(t, "relay")]
			state := rapid.SampledFrom([]string{"off", "on", "far"}).Draw(t, "state")
			put(solve.Switch, r.Name, len(r.States), from, to)
			r.States = append(r.States, design.State{StateRef: design.StateRef{State: state}})
		}
	}
	return job, nw
}

// positions is every way in which the two relays can stand.
func positions(each func(map[string]string)) {
	for _, a := range []string{"off", "on", "far"} {
		for _, b := range []string{"off", "on", "far"} {
			each(map[string]string{"r0": a, "r1": b})
		}
	}
}

// flood is what a root reaches with the relays in one position, some fuses out.
func floodWith(job *design.Job, nw *solve.Network, at map[string]string, closed func(fuse int) bool) map[int]bool {
	in := map[int]bool{0: true}
	for more := true; more; {
		more = false
		for i, e := range nw.Elements {
			forth, back := true, true
			switch e.Kind {
			case solve.Fuse:
				forth, back = closed(e.Index), closed(e.Index)
			case solve.Diode:
				back = false
			case solve.Switch:
				for _, d := range job.Devices {
					if d.Name == e.Device {
						forth = d.States[nw.Elements[i].Index].State == at[e.Device]
					}
				}
				back = forth
			}
			if forth && in[e.From] && !in[e.To] {
				in[e.To], more = true, true
			}
			if back && in[e.To] && !in[e.From] {
				in[e.From], more = true, true
			}
		}
	}
	return in
}

// TestAnyTrace: whatever the net, a node is open to a source exactly if it hangs on it in some position with every fuse out; it is reached at
// all exactly if it hangs on it with all in; and with the fuses said to protect it out, no position feeds it any more.
func TestAnyTrace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, nw := anyNet(t)
		tr := &tracer{graph: newGraph(job, nw)}
		s := source{Source: Source{Device: "bat"}, plus: 0}
		tr.follow(&s)
		tr.sources = []source{s}
		open, fed := map[int]bool{}, map[int]bool{}
		positions(func(at map[string]string) {
			for n := range floodWith(job, nw, at, func(int) bool { return false }) {
				open[n] = true
			}
			for n := range floodWith(job, nw, at, func(int) bool { return true }) {
				fed[n] = true
			}
		})
		for n := range nw.Nodes {
			r := tr.reach(n)
			if (len(r.open) > 0) != open[n] || r.any() != fed[n] {
				t.Fatalf("node %d: open %v, reached %v; want %v, %v in %+v", n, r.open, r.any(), open[n], fed[n], nw.Elements)
			}
			if open[n] {
				continue
			}
			positions(func(at map[string]string) {
				if floodWith(job, nw, at, func(f int) bool { return !slices.Contains(r.by, FuseRef{"box", f}) })[n] {
					t.Fatalf("node %d is fed with %v out in %+v", n, r.by, nw.Elements)
				}
			})
			// and none of them is there for nothing: alone it feeds the node in some position, with the fuses before it.
			for _, f := range r.by {
				feeds := false
				positions(func(at map[string]string) {
					feeds = feeds || floodWith(job, nw, at, func(k int) bool { return k == f.Index || !slices.Contains(r.by, FuseRef{"box", k}) })[n]
				})
				if !feeds && !slices.ContainsFunc(s.behind, func(b behind) bool {
					return b.fuse == f && slices.ContainsFunc(b.ahead, func(a FuseRef) bool { return slices.Contains(r.by, a) })
				}) {
					t.Fatalf("node %d: %v never feeds it in %+v", n, f, nw.Elements)
				}
			}
		}
	})
}
