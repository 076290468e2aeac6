package route

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// wall is an upright panel at x = 400, from y -200 to 200 and z 0 to 300.
func wall() *design.Panel {
	return &design.Panel{Name: "wall", Corners: []design.Point3{at(400, -200, 0), at(400, 200, 0), at(400, 200, 300), at(400, -200, 300)}}
}

func TestEdge(t *testing.T) {
	cases := []struct {
		name   string
		change func(r *rig)
		of     string // empty: none
		gap    float64
	}{
		// the run passes over the upper edge: 308 - 300 - 4/2
		{"over the edge", func(r *rig) { r.job.Panels[0].Corners = raised(wall(), -308).Corners }, "panel wall, corner 3 to corner 4", 6},
		{"through the middle is no edge", func(r *rig) { r.job.Panels[0].Corners = raised(wall(), -150).Corners }, "", 0},
		{"a sleeve protects", func(r *rig) {
			r.job.Panels[0].Corners = raised(wall(), -308).Corners
			r.job.Runs[0].Sleeve = "braid"
		}, "", 0},
		{"twice as far as is needed", func(r *rig) { r.job.Panels[0].Corners = raised(wall(), -322).Corners }, "", 0},
		{"a seam with a flush panel above", func(r *rig) {
			r.job.Panels[0].Corners = raised(wall(), -308).Corners
			upper := raised(wall(), -8)
			upper.Name = "upper"
			r.job.Panels = append(r.job.Panels, upper)
		}, "", 0},
		{"a seam along half of the edge only, the other half", func(r *rig) {
			r.job.Panels[0].Corners = raised(wall(), -308).Corners
			upper := &design.Panel{Name: "upper", Corners: []design.Point3{at(400, 4, -8), at(400, 200, -8), at(400, 200, 300), at(400, 4, 300)}}
			r.job.Panels = append(r.job.Panels, upper)
		}, "panel upper, corner 4 to corner 1", 2}, // its own edge stands up at y = 4: 4 - 2
		{"a floor that it stands on", func(r *rig) {
			r.job.Panels[0].Corners = raised(wall(), 6).Corners
			r.job.Panels = append(r.job.Panels, &design.Panel{Name: "floor", Corners: []design.Point3{at(-100, -300, 6), at(1100, -300, 6), at(1100, 300, 6), at(-100, 300, 6)}})
		}, "", 0},
		{"the same wall without a floor", func(r *rig) { r.job.Panels[0].Corners = raised(wall(), 6).Corners }, "panel wall, corner 1 to corner 2", 4},
		{"a bush beside the edge", func(r *rig) {
			r.job.Panels[0].Corners = raised(wall(), -308).Corners
			r.job.Points = []*design.Point{{Name: "m", Spot: spot("m", 400, 0, 0), Panel: "wall", Bush: 10}}
		}, "", 0},
		{"a bush of another panel", func(r *rig) {
			r.job.Panels[0].Corners = raised(wall(), -308).Corners
			r.job.Points = []*design.Point{{Name: "m", Spot: spot("m", 400, 0, 0), Panel: "other", Bush: 10}}
		}, "panel wall, corner 3 to corner 4", 6},
		{"a panel of no area", func(r *rig) { r.job.Panels[0].Corners = []design.Point3{at(0, 0, 0), at(500, 0, 0), at(900, 0, 0)} }, "", 0},
	}
	for _, c := range cases {
		r := newRig(t, run("r", spot("a", 0, 0, 0), spot("m", 400, 0, 0), spot("b", 1000, 0, 0)))
		r.wire(4, "a", "m", "b")
		r.job.Panels = []*design.Panel{wall()}
		c.change(r)
		got := r.find().Edges
		if c.of == "" {
			if slices.ContainsFunc(got, func(e Edge) bool { return e.Gap < e.Needed }) {
				t.Errorf("%s: %s", c.name, text(got))
			}
			continue
		}
		found := false
		for _, e := range got {
			if e.Of == c.of && near(e.Gap, unit.Length(c.gap)) && near(e.Needed, 9.5) && e.Source != "" {
				found = true
			}
		}
		if !found {
			t.Errorf("%s: %s", c.name, text(got))
		}
	}
}

func raised(p *design.Panel, by float64) *design.Panel {
	for i := range p.Corners {
		p.Corners[i].Z += unit.Length(by)
	}
	return p
}

// A panel connector near the edge of its own panel is no edge, and neither is what lies flat on a sheet away from its edge.
func TestNoEdge(t *testing.T) {
	r := newRig(t, run("r", spot("a", 0, 0, 290), spot("P", 400, 0, 290)), run("s", spot("P", 400, 0, 290), spot("b", 800, 0, 290)))
	r.wire(4, "a", "P")
	r.wire(4, "P", "b")
	r.job.Panels = []*design.Panel{wall()}
	r.job.Breaks = []*design.Break{{Name: "P", Spot: spot("P", 400, 0, 290), Panel: "wall"}}
	if got := r.find().Edges; slices.ContainsFunc(got, func(e Edge) bool { return e.Gap < e.Needed }) {
		t.Error(text(got))
	}
	r = newRig(t, run("r", spot("a", 400, -150, 280), spot("b", 400, 150, 280)))
	r.wire(4, "a", "b")
	r.job.Panels = []*design.Panel{wall()}
	if got := r.find().Edges; len(got) != 1 || near(got[0].Gap, got[0].Needed) || got[0].Gap < got[0].Needed { // 20 - 2, listed but far enough
		t.Error(text(got))
	}
}

// A hazard of kind edge is no hazard but an edge, and a sleeve protects from it.
func TestHazardEdge(t *testing.T) {
	r := straight(t)
	r.job.Hazards = []*design.Hazard{hazard("bracket", "edge", line(at(500, 10, -50), at(500, 10, 50)))}
	got := r.find()
	if len(got.Nears) != 0 || len(got.Edges) != 1 || got.Edges[0].Of != "hazard bracket" || !near(got.Edges[0].Gap, 8) || !near(got.Edges[0].Needed, 9.5) {
		t.Error(text(got))
	}
	r.job.Hazards[0].Clearance = 30
	if got := r.find().Edges; len(got) != 1 || got[0].Needed != 30 {
		t.Error(text(got))
	}
	r.job.Runs[0].Sleeve = "braid"
	if got := r.find(); len(got.Nears)+len(got.Edges) != 0 {
		t.Error(text(got))
	}
}
