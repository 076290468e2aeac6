package rule

import (
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var fuseBypassed = &Rule{
	Key: "fuse-bypassed", Title: "a fuse parts nothing when it blows", Severity: diag.Finding,
	Why:     "Two fuses side by side do not share evenly and let through the sum of both; a bridge round a fuse lets through anything. A ring fed at both ends is the same.",
	Formula: "in no case do wires, joints, closed switches or other fuses join the two ends of a fuse",
	Source:  "common practice",
	Do:      "Give each feed one fuse, and part the ring.",
	Fires:   with(smallJob, "fuse blade-10 from cell to pos\n", "inner bar\n  fuse blade-10 from cell to bar\n  fuse blade-5 from cell to pos\n  joins bar, pos\n"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		type key struct {
			device string
			index  int
		}
		told := map[key]bool{}
		for _, c := range m.Cases {
			if c.Net == nil {
				continue
			}
			at := make([][]int, len(c.Net.Nodes))
			for i, e := range c.Net.Elements {
				if e.Kind <= solve.Fuse {
					at[e.From], at[e.To] = append(at[e.From], i), append(at[e.To], i)
				}
			}
			alone := bridges(c.Net, at)
			for i := range c.Net.Elements {
				e := &c.Net.Elements[i]
				k := key{e.Device, e.Index}
				if e.Kind != solve.Fuse || told[k] || alone[i] {
					continue
				}
				if way := around(c.Net, at, i); way != nil {
					told[k] = true
					d := out.Finding(own(m, e.Device, e.Span), "", e.Name+" parts nothing when it blows",
						"In case "+c.Case+" its ends are joined by "+strings.Join(way, ", ")+" as well.", diag.Subject{Kind: "device", Name: e.Device})
					d.Case = c.Case
				}
			}
		}
	},
}

// around is the wires, fuses, switches and joints of the shortest way from one end of a fuse to the other that leaves it out, nil if
// there is none. at lists the elements at each node that a way may take.
func around(nw *solve.Network, at [][]int, fuse int) []string {
	from, to := nw.Elements[fuse].From, nw.Elements[fuse].To
	by := map[int]int{from: -1}
	for todo := []int{from}; len(todo) > 0; todo = todo[1:] {
		n := todo[0]
		for _, i := range at[n] {
			e := &nw.Elements[i]
			next := e.From + e.To - n
			if _, met := by[next]; met || i == fuse {
				continue
			}
			by[next] = i
			todo = append(todo, next)
		}
	}
	if _, met := by[to]; !met {
		return nil
	}
	way := []string{}
	for n := to; n != from; {
		e := &nw.Elements[by[n]]
		switch e.Kind {
		case solve.Wire, solve.Fuse, solve.Switch, solve.Join, solve.Post:
			way = append(way, e.Kind.String()+" "+e.Name)
		}
		n = e.From + e.To - n
	}
	slices.Reverse(way)
	return way
}

// bridges tells of each element whether it is the only way from one of its ends to the other: one walk through all, in which it is noted by how far back
// what lies behind an element comes by another way.
func bridges(nw *solve.Network, at [][]int) []bool {
	out := make([]bool, len(nw.Elements))
	order, back := make([]int, len(nw.Nodes)), make([]int, len(nw.Nodes)) // when a node was met, from 1; the earliest one that what lies behind it joins
	next := make([]int, len(nw.Nodes))                                    // of its elements
	type step struct{ node, by int }
	met := 0
	for start := range nw.Nodes {
		if order[start] > 0 {
			continue
		}
		met++
		order[start], back[start] = met, met
		for path := []step{{start, -1}}; len(path) > 0; {
			s := path[len(path)-1]
			if next[s.node] < len(at[s.node]) {
				i := at[s.node][next[s.node]]
				next[s.node]++
				far := nw.Elements[i].From + nw.Elements[i].To - s.node
				switch {
				case i == s.by:
				case order[far] > 0:
					back[s.node] = min(back[s.node], order[far])
				default:
					met++
					order[far], back[far] = met, met
					path = append(path, step{far, i})
				}
				continue
			}
			path = path[:len(path)-1]
			if s.by < 0 {
				continue
			}
			before := path[len(path)-1].node
			back[before] = min(back[before], back[s.node])
			out[s.by] = back[s.node] > order[before]
		}
	}
	return out
}
