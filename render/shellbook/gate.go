package shellbook

import (
	"loomsheet/harness/design"
	"loomsheet/render/common"
)

// printable holds each text of the book against the faces.
func printable(h common.Head, job *design.Job, plan *body) error {
	var g common.Gate
	h.Gate(&g)
	gateShell(&g, plan)
	gateRuns(&g, plan)
	gateJob(&g, job)
	return g.Err()
}

func gateShell(g *common.Gate, plan *body) {
	s := &plan.Shell
	for _, x := range s.Panels {
		g.Text("panel "+x.Name, x.Name, x.Sides[0].Zone, x.Sides[1].Zone)
	}
	for _, x := range s.Holes {
		g.Text("hole "+x.Mark, x.Mark, x.What, x.Kind, x.Panel, x.DrillSum, x.Fastener, x.FastenerKind, x.From, x.Which, x.Note)
		for _, r := range x.Refs {
			g.Text("hole "+x.Mark, r.To)
		}
	}
	for _, x := range s.Mounts {
		g.Text(x.Kind+" "+x.Name, x.Name, x.Kind, x.Panel, x.Housing, x.Key, x.Hole, x.Side, x.Mating, x.SideWhy)
		for _, k := range x.Screws {
			g.Text(x.Kind+" "+x.Name, k.Mark)
		}
	}
	for _, x := range s.Masks {
		g.Text("mask "+x.Mark, x.Mark, x.What, x.Panel, x.Side, x.Note)
	}
	for _, x := range s.Plugs {
		g.Text("plug "+x.Mark, x.Mark, x.Panel)
	}
	for _, x := range s.Late {
		g.Text("hole "+x.Mark, x.Mark, x.What, x.Panel, x.Nearest, x.Why)
	}
	for _, x := range s.Open {
		g.Text("what is open", append([]string{x.Why}, x.Marks...)...)
	}
	for _, x := range s.Templates {
		g.Text("template "+x.Name, x.Name, x.Panel, x.Seen, x.Look, x.Note)
		for _, h := range x.Holes {
			g.Text("template "+x.Name, h.Mark)
		}
	}
}

func gateRuns(g *common.Gate, plan *body) {
	for i := range plan.Runs {
		r := &plan.Runs[i]
		g.Text("run "+r.Run, r.Run, r.Section, r.Zone, r.Panel, r.Tube, r.SpanSource, r.Note, plan.taped(r))
		for _, n := range r.Nodes {
			g.Text("run "+r.Run, n.What)
		}
		for _, s := range r.Sleeves {
			g.Text("run "+r.Run, s.Part, s.From, s.To)
		}
		for _, c := range r.Clips {
			g.Text("clip "+c.Mark, c.Mark, c.Part, c.ClipWhy, c.Fastener, c.Kind, c.KindWhy, c.ScrewSum, c.Panel, c.Tube, c.Hole, c.With, c.Why, c.EarSide)
		}
	}
	for _, n := range plan.Route.Nears {
		g.Text("run "+n.Run, n.Run, n.Hazard, n.Kind, n.Position, n.By, n.Source, n.Sleeve)
	}
	for _, m := range plan.Route.Moves {
		g.Text("run "+m.Run, append([]string{m.Run, m.From, m.To, m.Source}, m.Tied...)...)
	}
}

func gateJob(g *common.Gate, job *design.Job) {
	g.Text("the head of the job", job.Painted)
	for _, b := range job.Breaks {
		g.Text("break "+b.Name, b.Name, b.Panel, b.Key)
		for _, half := range b.Halves {
			g.Text("break "+b.Name, half.Section, half.Contacts, half.Mount, half.Housing)
		}
	}
	for _, p := range job.Panels {
		g.Text("panel "+p.Name, append(append([]string{p.Name, p.Note, p.Skin}, p.Zones...), p.Seen...)...)
	}
	for _, x := range job.Devices {
		g.Text("device "+x.Name, x.Name)
	}
	for _, x := range job.Hazards {
		g.Text("hazard "+x.Name, x.Name, x.Kind)
		for _, s := range x.Shapes {
			g.Text("hazard "+x.Name, s.Position)
		}
	}
}
