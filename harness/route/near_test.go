package route

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"

	"pgregory.net/rapid"
)

func line(ps ...design.Point3) design.Shape { return design.Shape{Points: ps} }

func hazard(name, kind string, shapes ...design.Shape) *design.Hazard {
	return &design.Hazard{Name: name, Kind: kind, Shapes: shapes, Common: design.Common{Span: diag.SpanOf(name, 0, 0)}}
}

// straight is a run of 1 m along x with one wire of 4 mm.
func straight(t testing.TB) *rig {
	r := newRig(t, run("r", spot("a", 0, 0, 0), spot("b", 1000, 0, 0)))
	r.wire(4, "a", "b")
	return r
}

func TestNear(t *testing.T) {
	cases := []struct {
		name   string
		hazard *design.Hazard
		gap    float64 // less than 0: not listed
		after  float64
		needed float64
		by     string
	}{
		// beside: 80 - 4/2 - 20/2
		{"parallel pipe", &design.Hazard{Name: "h", Kind: "fuel", Outside: 20, Shapes: []design.Shape{line(at(400, 80, 0), at(600, 80, 0))}}, 68, 400, 51, "clear-fuel"},
		// crossing askew, 60 above: 60 - 2
		{"askew", &design.Hazard{Name: "h", Kind: "brake", Shapes: []design.Shape{line(at(200, -100, 60), at(400, 100, 60))}}, 58, 300, 51, "clear-brake"},
		// off the end, 3-4-5: 50 - 2
		{"beyond the end", &design.Hazard{Name: "h", Kind: "moving", Shapes: []design.Shape{line(at(1030, 40, 0), at(1030, 400, 0))}}, 48, 1000, 50, "clear-moving"},
		{"box", &design.Hazard{Name: "h", Kind: "exhaust", Shapes: []design.Shape{{Box: true, Points: []design.Point3{at(700, 300, -50), at(900, 110, 50)}}}}, 108, 700, 200, "clear-exhaust"},
		{"inside a box", &design.Hazard{Name: "h", Shapes: []design.Shape{{Box: true, Points: []design.Point3{at(700, -10, -50), at(900, 10, 50)}}}}, 0, 700, 25, "clear-other"},
		{"stated", &design.Hazard{Name: "h", Kind: "exhaust", Clearance: 60, Shapes: []design.Shape{line(at(500, 100, 0))}}, 98, 500, 60, "hazard h"},
		{"twice as far as is needed", &design.Hazard{Name: "h", Clearance: 40, Shapes: []design.Shape{line(at(500, 82, 0))}}, -1, 0, 0, ""},
		{"no place", &design.Hazard{Name: "h", Clearance: 40, Shapes: []design.Shape{line(), line(at(math.NaN(), 0, 0))}}, -1, 0, 0, ""},
	}
	for _, c := range cases {
		r := straight(t)
		r.job.Hazards = []*design.Hazard{c.hazard}
		got := r.find().Nears
		if c.gap < 0 {
			if len(got) != 0 {
				t.Errorf("%s: %s", c.name, text(got))
			}
			continue
		}
		if len(got) != 1 {
			t.Errorf("%s: %s", c.name, text(got))
			continue
		}
		if n := got[0]; !near(n.Gap, unit.Length(c.gap)) || !near(n.After, unit.Length(c.after)) || !near(n.Needed, unit.Length(c.needed)) || n.By != c.by || n.Source == "" {
			t.Errorf("%s: %+v", c.name, n)
		}
	}
}

// A way that rounds a pipe at the middle of its bend keeps the radius from it.
func TestNearAlongAnArc(t *testing.T) {
	r := elbow(t, 300, 300, 100) // about (200, 100)
	r.wire(4, "a", "b", "c")
	r.job.Hazards = []*design.Hazard{hazard("h", "fuel", line(at(200, 100, -50), at(200, 100, 50)))}
	r.job.Hazards[0].Outside, r.job.Hazards[0].Clearance = 10, 60
	if got := r.find().Nears; len(got) == 0 || !near(got[0].Gap, 100-2-5) {
		t.Error(text(got))
	}
	// outside the corner: the arc passes 100 (sqrt 2 - 1) from it
	r.job.Hazards[0].Shapes = []design.Shape{line(at(300, 0, 0))}
	if got := r.find().Nears; len(got) == 0 || !near(got[0].Gap, unit.Length(100*(math.Sqrt2-1)-2-5)) {
		t.Error(text(got))
	}
}

func TestSleeved(t *testing.T) {
	pipe := func() *design.Hazard {
		h := hazard("pipe", "exhaust", line(at(500, 90, 0), at(500, 90, 10)))
		h.Clearance, h.Sleeved = 120, 50
		return h
	}
	for _, c := range []struct {
		sleeve string
		heat   float64
		needed unit.Length
		gap    float64
	}{{"", 0, 120, 88}, {"glass", 260, 50, 87.4}, {"glass", 200, 50, 87.4}, {"braid", 150, 120, 87.4}, {"unknown", 0, 120, 87.4}} {
		r := straight(t)
		r.job.Hazards = []*design.Hazard{pipe()}
		r.job.Runs[0].Sleeve = c.sleeve
		if c.heat > 0 {
			s := &design.Sleeve{Part: design.Part{Name: c.sleeve}}
			s.Heat.Given, s.Heat.Spread = true, unit.Exactly(unit.Temperature(c.heat))
			r.job.Parts.Sleeves = []*design.Sleeve{s}
		}
		got := r.find().Nears
		if len(got) != 1 || got[0].Needed != c.needed || !near(got[0].Gap, unit.Length(c.gap)) || got[0].Sleeve != c.sleeve {
			t.Errorf("%s of %v C: %s", c.sleeve, c.heat, text(got))
		}
	}
}

// Every position is listed, and of a stretch of several pieces only the nearest place.
func TestPositions(t *testing.T) {
	r := newRig(t, run("r", spot("a", 0, 0, 0), spot("m", 500, 0, 0), spot("b", 1000, 0, 0)))
	r.wire(4, "a", "m", "b")
	left, right := line(at(300, 70, 0), at(300, 200, 0)), line(at(800, 60, 0), at(800, 200, 0))
	left.Position, right.Position = "full lock left", "full lock right"
	r.job.Hazards = []*design.Hazard{hazard("arm", "moving", left, right)}
	got := r.find().Nears
	if len(got) != 2 || got[0].Position != "full lock left" || !near(got[0].Gap, 68) || !near(got[0].After, 300) || got[1].Position != "full lock right" || !near(got[1].Gap, 58) || !near(got[1].After, 800) {
		t.Error(text(got))
	}
}

// A run in which no wire lies comes near nothing.
func TestNothingLiesThere(t *testing.T) {
	r := straight(t)
	r.wires, r.sizes = nil, nil
	r.job.Hazards = []*design.Hazard{hazard("h", "fuel", line(at(500, 10, 0)))}
	if got := r.find(); len(got.Nears) != 0 {
		t.Error(text(got))
	}
}

// draw makes a bent run of three pieces and a hazard of two.
func draw(r *rapid.T, move func(design.Point3) design.Point3) *rig {
	coordinate := rapid.Map(rapid.IntRange(-300, 300), func(x int) float64 { return float64(x) })
	point := func(name string) design.Point3 {
		return move(at(coordinate.Draw(r, name), coordinate.Draw(r, name), coordinate.Draw(r, name)))
	}
	place := func(name string) design.Spot { return design.Spot{Node: name, At: point(name), Known: true} }
	g := &rig{t: r, job: &design.Job{Runs: []*design.Run{bent(run("r", place("a"), place("b"), place("c"), place("d")), 60)}}}
	g.lay()
	g.wire(6, "a", "b", "c", "d")
	h := hazard("h", "fuel", line(point("p"), point("q"), point("s")), design.Shape{Position: "box", Box: true, Points: []design.Point3{point("low"), point("high")}})
	h.Clearance = 400
	g.job.Hazards = []*design.Hazard{h}
	p := &design.Panel{Name: "p"}
	for _, c := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
		p.Corners = append(p.Corners, move(at(50+200*c[0], 30+150*c[1], 10)))
	}
	g.job.Panels = []*design.Panel{p}
	g.set("clear-edge", "200 mm")
	return g
}

// gaps is every number of interest, in an order that does not hang on stations that are nearly the same.
func gaps(x *Result) (out []unit.Length) {
	slices.SortStableFunc(x.Nears, func(a, b Near) int { return cmp.Compare(a.Position, b.Position) })
	slices.SortStableFunc(x.Edges, func(a, b Edge) int { return cmp.Compare(a.Of, b.Of) })
	for _, n := range x.Nears {
		out = append(out, n.Gap)
	}
	out = append(out, -1)
	for _, e := range x.Edges {
		out = append(out, e.Gap)
	}
	out = append(out, -1)
	for _, b := range x.Bends {
		out = append(out, b.Inside, b.Fits)
	}
	return out
}

// Translating everything, mirroring it or turning its axes keeps every gap and every bend.
func TestMovedAltogether(t *testing.T) {
	moves := []func(design.Point3) design.Point3{
		func(p design.Point3) design.Point3 { return at(float64(p.X)+1234, float64(p.Y)-77, float64(p.Z)+5) },
		func(p design.Point3) design.Point3 { return design.Point3{X: p.X, Y: -p.Y, Z: p.Z} },
		func(p design.Point3) design.Point3 { return design.Point3{X: p.Y, Y: p.Z, Z: p.X} },
	}
	rapid.Check(t, func(r *rapid.T) {
		move := rapid.SampledFrom(moves).Draw(r, "move")
		a := draw(r, func(p design.Point3) design.Point3 { return p })
		b := &rig{t: r, job: copyMoved(a.job, move)}
		b.lay()
		b.wire(6, "a", "b", "c", "d")
		x, y := gaps(a.find()), gaps(b.find())
		if len(x) != len(y) {
			r.Fatalf("%.6f became %.6f", x, y)
		}
		for i := range x {
			if d := math.Abs(float64(x[i] - y[i])); d > 0.003 && d > 1e-6*math.Abs(float64(x[i])) {
				r.Fatalf("%.6f became %.6f", x, y)
			}
		}
	})
}

func copyMoved(j *design.Job, move func(design.Point3) design.Point3) *design.Job {
	out := *j
	out.Runs, out.Hazards, out.Panels = nil, nil, nil
	for _, r := range j.Runs {
		c := *r
		c.Stretches = []design.Stretch{r.Stretches[0]}
		c.Stretches[0].Nodes = nil
		for _, s := range r.Stretches[0].Nodes {
			s.At = move(s.At)
			c.Stretches[0].Nodes = append(c.Stretches[0].Nodes, s)
		}
		out.Runs = append(out.Runs, &c)
	}
	all := func(ps []design.Point3) (to []design.Point3) {
		for _, p := range ps {
			to = append(to, move(p))
		}
		return to
	}
	for _, h := range j.Hazards {
		c := *h
		c.Shapes = nil
		for _, s := range h.Shapes {
			s.Points = all(s.Points)
			c.Shapes = append(c.Shapes, s)
		}
		out.Hazards = append(out.Hazards, &c)
	}
	for _, p := range j.Panels {
		c := *p
		c.Corners = all(p.Corners)
		out.Panels = append(out.Panels, &c)
	}
	return &out
}

// A hazard that is moved away from everything never comes nearer.
func TestMovedAway(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		a := draw(r, func(p design.Point3) design.Point3 { return p })
		h := a.job.Hazards[0]
		for i := range h.Shapes { // all beyond y = 300, where the runs end
			for k := range h.Shapes[i].Points {
				h.Shapes[i].Points[k].Y += 600
			}
		}
		h.Clearance = 2000
		by := unit.Length(rapid.IntRange(1, 500).Draw(r, "by"))
		before := a.find().Nears
		for i := range h.Shapes {
			for k := range h.Shapes[i].Points {
				h.Shapes[i].Points[k].Y += by
			}
		}
		after := a.find().Nears
		if len(before) != 2 || len(after) != 2 {
			r.Fatalf("%d and %d", len(before), len(after))
		}
		for _, b := range before {
			for _, x := range after {
				if x.Position == b.Position && x.Gap < b.Gap-0.002 {
					r.Fatalf("%s: from %v to %v", x.Position, b.Gap, x.Gap)
				}
			}
		}
	})
}

// Whatever the coordinates, there is an answer, and every number in it is one.
func TestAnyCoordinates(t *testing.T) {
	odd := rapid.SampledFrom([]float64{0, 1, -1, 100, 1e-9, 1e9, -1e15, 1e300, math.Inf(1), math.NaN()})
	rapid.Check(t, func(r *rapid.T) {
		g := draw(r, func(design.Point3) design.Point3 { return at(odd.Draw(r, "x"), odd.Draw(r, "y"), odd.Draw(r, "z")) })
		g.job.Runs[0].Stretches[0].Moves = unit.Length(odd.Draw(r, "moves"))
		g.job.Runs[0].Bend.Nominal = unit.Length(odd.Draw(r, "bend"))
		g.job.Hazards[0].Outside = unit.Length(odd.Draw(r, "outside"))
		g.job.Hazards[0].Clearance = unit.Length(odd.Draw(r, "clearance"))
		g.job.Zones = []*design.Zone{{Name: "z", With: []string{"wet"}}}
		g.lay()
		x := g.find()
		for _, l := range gaps(x) {
			if !unit.Finite(l) {
				r.Fatalf("%+v", x)
			}
		}
		for _, b := range x.Bends {
			if !unit.Finite(b.Needed) || !unit.Finite(b.After) || !unit.Finite(b.Turn) {
				r.Fatalf("%+v", b)
			}
		}
		for _, m := range x.Moves {
			if !unit.Finite(m.Free) || !unit.Finite(m.Needed) || !unit.Finite(m.Straight) {
				r.Fatalf("%+v", m)
			}
		}
		for _, w := range x.Waters {
			if !unit.Finite(w.Drop) {
				r.Fatalf("%+v", w)
			}
		}
	})
}
