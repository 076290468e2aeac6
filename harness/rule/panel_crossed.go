package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solid"
)

var panelCrossed = &Rule{
	Key: "panel-crossed", Title: "a run crosses a panel without a break or a bush", Severity: diag.Finding,
	Why:     "Where a bundle passes a sheet of the body there must be a hole, and its edge saws through the insulation unless a connector or a bush is in it.",
	Formula: "the way between two nodes of a run, bends rounded, comes from more than 1 mm on one side of the panel to more than 1 mm on the other inside its corners, and neither node is a break or a bush of that panel; of a panel given by points, inside their hull, and by more than the furthest point stands off",
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
		if g == nil {
			return
		}
		open := ways(m.Job)
		sheets := make([]*solid.Sheet, len(m.Job.Panels))
		for i, p := range m.Job.Panels {
			if s, ok := solid.SheetOf(p.Corners, p.Points); ok {
				sheets[i] = &s
			}
		}
		for i := range g.Edges {
			e, way := &g.Edges[i], g.EdgeWay(i)
			if len(way) == 0 {
				continue
			}
			a, b := &g.Nodes[e.From], &g.Nodes[e.To]
			for k, p := range m.Job.Panels {
				if sheets[k] == nil || open[[2]string{p.Name, a.Key}] || open[[2]string{p.Name, b.Key}] {
					continue
				}
				through := way.Through(*sheets[k])
				if len(through) == 0 {
					continue
				}
				at := through[0].At
				out.Finding(e.Span, "", fmt.Sprintf("run %s crosses panel %s between %s and %s", e.Run, p.Name, nodeName(a.Key), nodeName(b.Key)),
					fmt.Sprintf("It passes the sheet at (%.0f, %.0f, %.0f mm), where neither a break nor a bush is.", float64(at.X), float64(at.Y), float64(at.Z)), diag.Subject{Kind: "run", Name: e.Run}).
					Point(p.Span, "the panel")
			}
		}
	},
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
		out[[2]string{b.Panel, b.Node}] = true
	}
	for _, p := range job.Points {
		if p.Bush > 0 {
			out[[2]string{p.Panel, p.Node}] = true
		}
	}
	return out
}
