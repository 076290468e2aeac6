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
			for i := range c.Net.Elements {
				e := &c.Net.Elements[i]
				k := key{e.Device, e.Index}
				if e.Kind != solve.Fuse || told[k] {
					continue
				}
				if way := around(c.Net, at, i); way != nil {
					told[k] = true
					d := out.Finding(own(m.Job, e.Device, e.Span), "", e.Name+" parts nothing when it blows",
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
