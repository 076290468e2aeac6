package rule

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
)

var panelCrossed = &Rule{
	Key: "panel-crossed", Title: "a run crosses a panel without a break or a bush", Severity: diag.Finding,
	Why:     "Where a bundle passes a sheet of the body there must be a hole, and its edge saws through the insulation unless a connector or a bush is in it.",
	Formula: "the way of a run, and that of a wire from run to run, bends rounded, comes from more than 1 mm on one side of the panel to more than 1 mm on the other inside its corners, and no break or bush of that panel is there; of a panel given by points, inside their hull, and by more than the furthest point stands off",
	Source:  "AC 43.13-1B 11-115: a grommet where the clearance is under 3/8 in; common practice",
	Do:      "Lead the run to the break or to a point with a `bush`, and go on from there.",
	Fires:   with(breakJob, "device battery at (0, 0, 0 mm) {", "device aft at (300, 100, 0 mm) housing sealed-1 { unused 1 }\ndevice fore at (500, 100, 0 mm) housing sealed-1 { unused 1 }\nrun through from aft to fore section body zone cabin\ndevice battery at (0, 0, 0 mm) {"),
	Silent: with(breakJob, "device battery at (0, 0, 0 mm) {", `point grommet at (400, 100, 0 mm) panel wall bush 12 mm
device aft at (300, 100, 0 mm) housing sealed-1 { unused 1 }
device fore at (500, 100, 0 mm) housing sealed-1 { unused 1 }
run through from aft to grommet to fore section body zone cabin
device battery at (0, 0, 0 mm) {`),
	Check: func(m *Model, out *diag.List) {
		g := m.Net.Space
		if g == nil || len(m.Job.Panels) == 0 {
			return
		}
		open, near := ways(m.Job), newNearby(m.Net)
		sheets := make([]*solid.Sheet, len(m.Job.Panels))
		for i, p := range m.Job.Panels {
			if s, ok := solid.SheetOf(p.Corners, p.Points); ok {
				sheets[i] = &s
			}
		}
		for k, p := range m.Job.Panels {
			if sheets[k] == nil {
				continue
			}
			passes := func(n int) bool { return open[[2]string{p.Name, g.Nodes[n].Key}] }
			for _, x := range crossings(m, sheets[k], near, passes) {
				e := &g.Edges[x.Edge]
				where := fmt.Sprintf("between %s and %s", nodeName(g.Nodes[e.From].Key), nodeName(g.Nodes[e.To].Key))
				if x.Node >= 0 {
					where = "at " + nodeName(g.Nodes[x.Node].Key)
				}
				out.Finding(e.Span, "", fmt.Sprintf("run %s crosses panel %s %s", e.Run, p.Name, where),
					fmt.Sprintf("It passes the sheet at (%.0f, %.0f, %.0f mm), where neither a break nor a bush is.", float64(x.At.X), float64(x.At.Y), float64(x.At.Z)), diag.Subject{Kind: "run", Name: e.Run}).
					Point(p.Span, "the panel")
			}
		}
	},
}

// crossings are those of each stretch, and those of wires where they go from one stretch into another.
func crossings(m *Model, sheet *solid.Sheet, near *nearby, open func(int) bool) []space.Crossing {
	g := m.Net.Space
	edges := near.edges(sheet)
	type stretch struct {
		run string
		n   int
	}
	of := func(e int) stretch { return stretch{g.Edges[e].Run, g.Edges[e].Stretch} }
	var out []space.Crossing
	var steps []space.Step
	for n, to := 0, 0; n < len(edges); n++ {
		if edges[n] < to {
			continue // of a stretch that was looked at
		}
		from := edges[n]
		for from > 0 && of(from-1) == of(from) {
			from--
		}
		steps = steps[:0]
		for to = from; to < len(g.Edges) && of(to) == of(from); to++ {
			steps = append(steps, space.Step{Edge: to})
		}
		out = append(out, g.Crossings(steps, *sheet, open)...)
	}
	told := map[[2]int]bool{}
	for _, i := range near.wires(edges) {
		steps = steps[:0]
		for _, s := range m.Net.Wires[i].Path {
			steps = append(steps, space.Step{Edge: s.Edge, Back: s.Reverse})
		}
		for _, x := range g.Crossings(steps, *sheet, open) {
			one := !slices.ContainsFunc(x.Edges, func(e int) bool { return of(e) != of(x.Edges[0]) })
			if key := [2]int{x.Edge, x.Node}; !one && !told[key] {
				told[key] = true
				out = append(out, x)
			}
		}
	}
	return out
}

func nodeName(key string) string {
	for _, r := range key {
		if r == '#' || r == '(' {
			return "a waypoint"
		}
	}
	return key
}

// ways are the panels and the nodes of breaks and bushes that sit in them.
func ways(job *design.Job) map[[2]string]bool {
	out := map[[2]string]bool{}
	for _, b := range job.Breaks {
		out[[2]string{b.Panel, cmp.Or(b.Node, b.Name)}] = true
	}
	for _, p := range job.Points {
		if p.Bush > 0 {
			out[[2]string{p.Panel, cmp.Or(p.Node, p.Name)}] = true
		}
	}
	return out
}
