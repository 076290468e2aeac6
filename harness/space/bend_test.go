package space

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func bent(r *design.Run, radius unit.Length) *design.Run {
	r.Bend = design.Fact[unit.Length]{Spread: unit.Exactly(radius), Given: true}
	return r
}

// corner is a way of 300 mm along x, then 200 along y.
func corner(mid string) design.Stretch {
	return stretch(spot("a", 0, 0, 0), spot(mid, 300, 0, 0), spot("b", 300, 200, 0))
}

func TestWhatKeepsItsCorner(t *testing.T) {
	for _, c := range []struct {
		name  string
		job   design.Job
		stays bool
	}{
		{"a coordinate", design.Job{Runs: []*design.Run{run("r", corner(""))}}, false},
		{"a point at which nothing is", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Points: []*design.Point{{Name: "p", Spot: spot("p", 300, 0, 0)}}}, false},
		{"a bush", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Points: []*design.Point{{Name: "p", Spot: spot("p", 300, 0, 0), Bush: 12}}}, true},
		{"a device", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Devices: []*design.Device{{Name: "d", Spot: spot("p", 300, 0, 0)}}}, true},
		{"a pattern of a device", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Devices: []*design.Device{{Name: "d", Spot: spot("p", 300, 0, 0), Pattern: true}}}, false},
		{"a pin", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Devices: []*design.Device{{Name: "d", Pins: []design.Pin{{Name: "1", Spot: spot("p", 300, 0, 0)}}}}}, true},
		{"a break", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Breaks: []*design.Break{{Name: "p", Spot: spot("p", 300, 0, 0)}}}, true},
		{"a splice", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Splices: []*design.Splice{{Name: "s", Spot: spot("p", 300, 0, 0)}}}, true},
		{"a hole", design.Job{Runs: []*design.Run{run("r", corner("p"))}, Holes: []*design.Hole{{Name: "h", Spot: spot("p", 300, 0, 0)}}}, true},
		{"a device, and a coordinate in the same place", design.Job{Runs: []*design.Run{run("r", stretch(spot("a", 0, 0, 0), spot("", 300, 0, 0), spot("p", 300, 0, 0), spot("b", 300, 200, 0)))},
			Devices: []*design.Device{{Name: "d", Spot: spot("p", 300, 0, 0)}}}, true},
		{"another run", design.Job{Runs: []*design.Run{run("r", corner("p")), run("s", stretch(spot("p", 300, 0, 0), spot("q", 900, 0, 0)))}}, true},
		{"another stretch", design.Job{Runs: []*design.Run{run("r", corner("p"), stretch(spot("p", 300, 0, 0), spot("q", 900, 0, 0)))}}, true},
	} {
		g := Lay(&c.job)
		want := unit.Length(500)
		if !c.stays { // 50 mm by default: 100 less for the two pieces, 25 pi more for the arc
			want = 400 + 25*math.Pi
		}
		if got, ok := g.StretchLength("r", 0); !ok || !alike(got, want) || (len(g.Bends) == 0) != c.stays {
			t.Errorf("%s: %v long, want %v, bends %+v", c.name, got, want, g.Bends)
		}
		p, _ := g.Position("r", 0, g.Edges[0].Length)
		if d := Between(p, design.Point3{X: 300}); c.stays && d > 1e-9 || !c.stays && !alike(d, unit.Length(50*(math.Sqrt2-1))) {
			t.Errorf("%s: passes %v from the corner", c.name, d)
		}
	}
}

func TestBendsAsLaid(t *testing.T) {
	job := &design.Job{
		Settings: design.Settings{Lines: []design.Setting{{Name: "bend-radius", Value: design.SettingValue{Quantity: unit.Quantity{Value: 80, Dim: unit.DimLength}}, Scope: map[string]string{"run": "set"}}}},
		Runs: []*design.Run{
			bent(run("none", corner("")), 0),
			run("set", corner("")),
			bent(run("stated", corner("")), 120),
			bent(run("too-much", corner("")), 900),
			// 30 mm beside the first corner, 100 between the two: the second may take the 70 that the first leaves
			bent(run("zig", stretch(spot("", 0, 0, 0), spot("", 30, 0, 0), spot("", 30, 100, 0), spot("", 300, 100, 0))), 200),
			bent(run("back", stretch(spot("", 0, 0, 0), spot("", 500, 0, 0), spot("", 0, 50, 0))), 40),
			bent(run("string", byString(corner(""), 2*(460+10*math.Pi), 0)), 20),
		},
	}
	g := Lay(job)
	type row struct {
		run                   string
		station               unit.Length
		turn                  unit.Angle
		radius, asked, within unit.Length
	}
	// 180 less atan(50/500); the corner stays, the pieces are 500 and hypot(500, 50) long
	sharp := 180 - math.Atan(0.1)*180/math.Pi
	sharpRoom := 500 / math.Tan(sharp*math.Pi/360)
	want := []row{
		{"back", 500, unit.Angle(sharp), 0, 40, unit.Length(sharpRoom)},
		{"none", 300, 90, 0, 0, 200},
		{"set", 220 + 20*math.Pi, 90, 80, 80, 200},
		{"stated", 180 + 30*math.Pi, 90, 120, 120, 200},
		{"string", 2 * (280 + 5*math.Pi), 90, 20, 20, 200},
		{"too-much", 100 + 50*math.Pi, 90, 200, 900, 200},
		{"zig", 7.5 * math.Pi, 90, 30, 200, 30},
		{"zig", 15*math.Pi + 17.5*math.Pi, 90, 70, 200, 70},
	}
	if len(g.Bends) != len(want) {
		t.Fatalf("%d bends: %+v", len(g.Bends), g.Bends)
	}
	for i, b := range g.Bends {
		if w := want[i]; b.Run != w.run || !alike(b.Station, w.station) || math.Abs(float64(b.Turn-w.turn)) > 1e-9 || !alike(b.Radius, w.radius) || !alike(b.Asked, w.asked) || !alike(b.Room, w.within) {
			t.Errorf("bend %+v, want %+v", b, w)
		}
		if s, ok := g.StationOf(b.Run, b.Stretch, b.Node); !ok || !alike(s, b.Station) {
			t.Errorf("the node of %+v is at %v", b, s)
		}
	}
	if got, _ := g.StretchLength("none", 0); got != 500 {
		t.Errorf("without arcs %v", got)
	}
	// measured by string at twice the rounded length: the middle of the arc is where the corner's node is, and no gap but the factor
	if len(g.StringGaps) != 1 || !alike(g.StringGaps[0].Straight, 460+10*math.Pi) || !alike(g.StringGaps[0].Least, unit.Length(math.Hypot(300, 200))) {
		t.Errorf("string gaps %+v", g.StringGaps)
	}
	if s := g.WayScale("string", 0); math.Abs(float64(s)-0.5) > 1e-9 {
		t.Errorf("scale %v", s)
	}
	if p, ok := g.Position("string", 0, 560); !ok || !alike(p.X, 280) || !alike(p.Y, 0) {
		t.Errorf("where the arc begins: %v", p)
	}
}

func TestDirection(t *testing.T) {
	g := Lay(&design.Job{Runs: []*design.Run{run("r", corner(""))}})
	for _, c := range []struct {
		station unit.Length
		x, y    unit.Length
	}{{10, 1, 0}, {250 + 12.5*math.Pi, math.Sqrt2 / 2, math.Sqrt2 / 2}, {400, 0, 1}} {
		if v, ok := g.Direction("r", 0, c.station); !ok || !alike(v.X, c.x) || !alike(v.Y, c.y) || !alike(v.Z, 0) {
			t.Errorf("at %v the way runs %v", c.station, v)
		}
	}
	if _, ok := g.Direction("r", 0, 4000); ok {
		t.Error("a direction beyond the end")
	}
	if _, ok := g.Way("q", 0); ok {
		t.Error("a way of no run")
	}
}

// A splice a third of the way round an arc: the arc of 100 from (200, 0) about (200, 100), 30 degrees on. By hand.
func TestSpliceOnAnArc(t *testing.T) {
	job := &design.Job{
		Runs:    []*design.Run{bent(run("r", corner("")), 100), run("twig", stretch(design.Spot{Node: "s"}, spot("d", 250, 100, 0)))},
		Splices: []*design.Splice{{Name: "s", Along: "r", After: 200 + unit.Length(100*math.Pi/6)}, {Name: "mid", Along: "r", After: 200 + unit.Length(100*math.Pi/4)}},
	}
	g := Lay(job)
	want := design.Point3{X: 250, Y: unit.Length(100 - 50*math.Sqrt(3))}
	if n := g.Find("s"); n < 0 || Between(g.Nodes[n].At, want) > 1e-6 {
		t.Fatalf("nodes %+v", g.Nodes)
	}
	if l, ok := g.StretchLength("r", 0); !ok || !alike(l, 300+50*math.Pi) {
		t.Errorf("cut in three it is %v long", l)
	}
	if l, ok := g.StretchLength("twig", 0); !ok || !alike(l, unit.Length(50*math.Sqrt(3))) {
		t.Errorf("a run from the splice is %v long", l)
	}
	if g.Find("mid") != g.Find("r#1") {
		t.Error("a splice in the middle of an arc does not share the waypoint's node")
	}
	if e, d := g.Nearest(want); d > 1e-6 || g.Edges[e].Run != "r" {
		t.Errorf("the splice lies %v off edge %d", d, e)
	}
}

// Lengths against sums of short chords between the places the geometry gives, and places against the way it gives.
func TestLengthsBySamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Lay(anyJob(t))
		for i := range g.Edges {
			e := &g.Edges[i]
			part := g.EdgeWay(i)
			if e.Unknown || len(part) == 0 || e.Status == design.Measured {
				continue
			}
			const n = 300
			var sum unit.Length
			last := part[0].From
			for k := 1; k <= n; k++ {
				p, _ := part.At(part.Length() * unit.Length(k) / n)
				sum += Between(last, p)
				last = p
			}
			if !alike(part.Length(), e.Length) || sum > e.Length+1e-6 || sum < e.Length*(1-1e-3)-1e-3 {
				t.Fatalf("an edge of %v, its way %v, by samples %v", e.Length, part.Length(), sum)
			}
			way, known := g.Way(e.Run, e.Stretch)
			if !known {
				continue
			}
			s := e.Station + e.Length*unit.Length(rapid.Float64Range(0, 1).Draw(t, "share"))
			p, ok := g.Position(e.Run, e.Stretch, s)
			q, _ := way.At(s)
			if !ok || Between(p, q) > 1e-5 {
				t.Fatalf("%v along is %v, along the way %v", s, p, q)
			}
		}
		for _, b := range g.Bends {
			if b.Radius > b.Asked+1e-9 || b.Radius > b.Room+1e-6 || b.Radius > 0 && b.Radius < min(b.Asked, b.Room)-1e-6 {
				t.Fatalf("bend %+v", b)
			}
		}
	})
}

// A length by string comes back to the last digit, however many bends and splices part it; and so does slack.
func TestStringAddsUp(t *testing.T) {
	s := byString(stretch(spot("a", 2400, 0, 300), spot("", 1000, 0, 300), spot("", 1000, 77, 300), spot("b", 900, 90, 610)), 1490, 20)
	g := Lay(&design.Job{Runs: []*design.Run{run("r", s)}, Splices: []*design.Splice{{Name: "s", Along: "r", After: 333.3}, {Name: "q", Along: "r", After: 1111.1}}})
	var sum, slack unit.Length
	for i := range g.Edges {
		sum += g.Edges[i].Length
		slack += g.Edges[i].Slack
	}
	if len(g.Edges) != 5 || sum != 1490 || slack != 20 {
		t.Errorf("%d pieces of %v with %v", len(g.Edges), float64(sum), float64(slack))
	}
}
