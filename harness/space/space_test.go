package space

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func spot(node string, x, y, z float64) design.Spot {
	return design.Spot{Node: node, Known: true, At: design.Point3{X: unit.Length(x), Y: unit.Length(y), Z: unit.Length(z)}}
}

func run(name string, stretches ...design.Stretch) *design.Run {
	return &design.Run{Name: name, Section: "tub", Zone: "cabin", Stretches: stretches}
}

func stretch(nodes ...design.Spot) design.Stretch { return design.Stretch{Nodes: nodes} }

func byString(s design.Stretch, l, slack unit.Length) design.Stretch {
	s.Length = design.Fact[unit.Length]{Spread: unit.Exactly(l), Given: true}
	s.Slack = slack
	return s
}

func alike(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 1e-6 }

func TestLengthsFromCoordinates(t *testing.T) {
	g := Lay(&design.Job{Runs: []*design.Run{run("tunnel", stretch(spot("a", 0, 0, 0), spot("", 300, 400, 0), spot("b", 300, 400, 1200)))}})
	if len(g.Edges) != 2 || len(g.Nodes) != 3 {
		t.Fatalf("%d edges, %d nodes", len(g.Edges), len(g.Nodes))
	}
	// 3-4-5 makes 500, then 1200 straight up. The waypoint turns by 90 degrees at 50 mm: its arc takes 50 of either piece and is 50 pi / 2 long,
	// half of it, 39.27, on either side.
	half := unit.Length(50 * math.Pi / 4)
	for i, want := range []unit.Length{450 + half, 1150 + half} {
		if e := g.Edges[i]; !alike(e.Length, want) || e.Status != design.Computed || e.Section != "tub" || e.Zone != "cabin" {
			t.Errorf("edge %d: %+v", i, e)
		}
	}
	if !alike(g.Edges[1].Station, 450+half) {
		t.Errorf("second station %v", g.Edges[1].Station)
	}
	if g.Find("tunnel#1") < 0 || g.Find("c") != -1 {
		t.Error("the waypoint without a name has no key of its own")
	}
	if p, ok := g.Position("tunnel", 0, 450+2*half+550); !ok || Between(p, design.Point3{X: 300, Y: 400, Z: 600}) > 1e-6 {
		t.Errorf("600 mm above the corner is %v", p)
	}
	if p, ok := g.Position("tunnel", 0, 250); !ok || Between(p, design.Point3{X: 150, Y: 200}) > 1e-6 {
		t.Errorf("250 mm along is %v", p)
	}
	if _, ok := g.Position("tunnel", 0, 1701); ok {
		t.Error("a place beyond the end")
	}
	if s, ok := g.StationOf("tunnel", 0, g.Find("b")); !ok || !alike(s, 1600+2*half) {
		t.Errorf("station of b %v", s)
	}
}

func TestMeasuredLengthIsSharedOut(t *testing.T) {
	s := byString(stretch(spot("a", 0, 0, 0), spot("m", 100, 0, 0), spot("b", 400, 0, 0)), 600, 40)
	g := Lay(&design.Job{Runs: []*design.Run{run("r", s)}})
	for i, want := range []struct{ l, slack unit.Length }{{150, 10}, {450, 30}} {
		if e := g.Edges[i]; !alike(e.Length, want.l) || !alike(e.Slack, want.slack) || e.Status != design.Measured {
			t.Errorf("edge %d: %+v", i, e)
		}
	}
	if len(g.StringGaps) != 1 || g.StringGaps[0].Measured != 600 || g.StringGaps[0].Straight != 400 {
		t.Errorf("gaps %+v", g.StringGaps)
	}
	// half of the measured way is the middle of the straight one
	if p, ok := g.Position("r", 0, 375); !ok || !alike(p.X, 250) {
		t.Errorf("half way along the second piece: %v", p)
	}
}

func TestUnknownPlaces(t *testing.T) {
	lost := design.Spot{Node: "lost"}
	g := Lay(&design.Job{Runs: []*design.Run{
		run("a", stretch(spot("x", 0, 0, 0), lost)),
		run("b", byString(stretch(spot("x", 0, 0, 0), lost), 250, 0)),
		run("c", byString(stretch(spot("x", 0, 0, 0), lost, spot("y", 9, 0, 0)), 600, 0)),
		run("d", stretch(spot("x", 0, 0, 0), design.Spot{Node: "wild", Known: true, At: design.Point3{X: unit.Length(math.NaN())}})),
	}})
	if e := g.Edges[0]; !e.Unknown || e.Length != 0 {
		t.Errorf("a way to nowhere known: %+v", e)
	}
	if e := g.Edges[1]; e.Unknown || e.Length != 250 {
		t.Errorf("measured between two nodes: %+v", e)
	}
	if l, known := g.StretchLength("c", 0); !known || !alike(l, 600) {
		t.Errorf("measured over a lost node: %v %v", l, known)
	}
	var where []string
	for _, u := range g.Unplaced {
		where = append(where, u.Run+" "+u.Node)
	}
	if want := []string{"a lost", "c lost", "d wild"}; !slices.Equal(where, want) {
		t.Errorf("unplaced %q, want %q", where, want)
	}
}

func TestSplicesAlong(t *testing.T) {
	job := &design.Job{
		Runs: []*design.Run{
			run("rail", stretch(spot("a", 0, 0, 0), spot("b", 100, 0, 0)), stretch(spot("b", 100, 0, 0), spot("c", 100, 300, 0))),
			run("twig", stretch(design.Spot{Node: "s1"}, spot("d", 60, 80, 0))),
		},
		Splices: []*design.Splice{
			{Name: "s2", Along: "rail", After: 60}, {Name: "s1", Along: "rail", After: 60, Spot: design.Spot{Node: "s1"}},
			{Name: "s3", Along: "rail", After: 250}, {Name: "at-b", Along: "rail", After: 100}, {Name: "far", Along: "rail", After: 900},
		},
	}
	g := Lay(job)
	if g.Find("s1") < 0 || g.Find("s1") != g.Find("s2") || g.Find("at-b") != g.Find("b") || g.Find("far") != g.Find("c") {
		t.Errorf("nodes %+v aliases %+v", g.Nodes, g.Aliases)
	}
	if p := g.Nodes[g.Find("s3")].At; p != (design.Point3{X: 100, Y: 150}) {
		t.Errorf("250 mm along the rail is %v", p)
	}
	// a run from a splice is as long as from the splice's place
	if l, known := g.StretchLength("twig", 0); !known || !alike(l, 80) {
		t.Errorf("twig %v %v", l, known)
	}
	if len(g.Beyond) != 1 || g.Beyond[0].Splice != "far" || g.Beyond[0].Length != 400 {
		t.Errorf("beyond %+v", g.Beyond)
	}
	if s, at, ok := g.Along("rail", 250); !ok || s != 1 || at != 150 {
		t.Errorf("250 mm along: stretch %d at %v", s, at)
	}
}

func TestNowhere(t *testing.T) {
	job := &design.Job{
		Points:  []*design.Point{{Name: "bare", Spot: spot("bare", 1, 1, 1)}, {Name: "hub", Spot: spot("hub", 2, 2, 2)}},
		Devices: []*design.Device{{Name: "lamp", Spot: spot("lamp", 3, 3, 3)}, {Name: "body", Pins: []design.Pin{{Name: "rear", Spot: spot("body.rear", 4, 4, 4)}}}, {Name: "like", Spot: spot("p", 1, 2, 3), Pattern: true}},
		Breaks:  []*design.Break{{Name: "A", Spot: spot("A", 5, 5, 5)}},
		Splices: []*design.Splice{{Name: "s", Spot: spot("hub2", 6, 6, 6)}},
		Runs: []*design.Run{
			run("r1", stretch(spot("bare", 1, 1, 1), spot("hub", 2, 2, 2))),
			run("r2", stretch(spot("hub", 2, 2, 2), spot("lamp", 3, 3, 3)), stretch(spot("hub", 2, 2, 2), spot("body.rear", 4, 4, 4)),
				stretch(spot("hub", 2, 2, 2), spot("A", 5, 5, 5)), stretch(spot("hub", 2, 2, 2), spot("hub2", 6, 6, 6))),
			run("r3", stretch(spot("hub", 2, 2, 2), spot("", 7, 7, 7)), stretch(spot("hub", 2, 2, 2), spot("p", 1, 2, 3))),
		},
	}
	var got []string
	for _, n := range Lay(job).Nowhere {
		got = append(got, n.Run+" "+n.Node)
	}
	if want := []string{"r1 bare", "r3 r3#1", "r3 p"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestOffAndNearest(t *testing.T) {
	g := Lay(&design.Job{Runs: []*design.Run{run("r", stretch(spot("a", 0, 0, 0), spot("b", 100, 0, 0)))}})
	for _, c := range []struct {
		p    design.Point3
		want unit.Length
	}{{design.Point3{X: 50, Y: 30}, 30}, {design.Point3{X: -30, Z: 40}, 50}, {design.Point3{X: 103, Y: 4}, 5}, {design.Point3{X: 20}, 0}} {
		if e, d := g.Nearest(c.p); e != 0 || !alike(d, c.want) {
			t.Errorf("%v is %v off, want %v", c.p, d, c.want)
		}
	}
	if e, _ := Lay(&design.Job{}).Nearest(design.Point3{}); e != -1 {
		t.Error("something is near where there is nothing")
	}
}

// anyJob is runs between some places, some of them not known, with lengths by string and splices along.
func anyJob(t *rapid.T) *design.Job {
	coord := rapid.Float64Range(-5000, 5000)
	var places []design.Spot
	for i := range rapid.IntRange(2, 8).Draw(t, "places") {
		name := fmt.Sprintf("p%d", i)
		if rapid.Bool().Draw(t, "nameless") {
			name = ""
		}
		s := spot(name, coord.Draw(t, "x"), coord.Draw(t, "y"), coord.Draw(t, "z"))
		s.Known = rapid.IntRange(0, 9).Draw(t, "known") > 0
		places = append(places, s)
	}
	job := &design.Job{}
	for i := range rapid.IntRange(1, 5).Draw(t, "runs") {
		r := run(fmt.Sprintf("r%d", i))
		if rapid.Bool().Draw(t, "bend stated") {
			r = bent(r, unit.Length(rapid.Float64Range(0, 3000).Draw(t, "bend")))
		}
		for range rapid.IntRange(1, 3).Draw(t, "stretches") {
			s := stretch(rapid.SliceOfN(rapid.SampledFrom(places), 1, 6).Draw(t, "nodes")...)
			if rapid.Bool().Draw(t, "by string") {
				s = byString(s, unit.Length(rapid.Float64Range(1, 9000).Draw(t, "length")), unit.Length(rapid.Float64Range(0, 100).Draw(t, "slack")))
			}
			r.Stretches = append(r.Stretches, s)
		}
		job.Runs = append(job.Runs, r)
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "splices") {
		job.Splices = append(job.Splices, &design.Splice{Name: fmt.Sprintf("s%d", i), Along: rapid.SampledFrom(job.Runs).Draw(t, "run").Name,
			After: unit.Length(rapid.Float64Range(0, 9000).Draw(t, "after"))})
	}
	return job
}

func TestPiecesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		g := Lay(job)
		for _, r := range job.Runs {
			for i, s := range r.Stretches {
				var sum, slack, straight unit.Length
				unknown := false
				at := -1
				for _, e := range g.Stretch(r.Name, i) {
					ed := g.Edges[e]
					if at >= 0 && ed.From != at {
						t.Fatal("the pieces do not follow each other")
					}
					at = ed.To
					if !ed.Unknown && !alike(ed.Station, sum) && !unknown {
						t.Fatalf("station %v after %v", ed.Station, sum)
					}
					if !unit.Finite(ed.Length) || !unit.Finite(ed.Slack) || ed.Length < 0 {
						t.Fatalf("length %v slack %v", ed.Length, ed.Slack)
					}
					sum += ed.Length
					slack += ed.Slack
					unknown = unknown || ed.Unknown
				}
				for j := 1; j < len(s.Nodes); j++ {
					if !s.Nodes[j-1].Known || !s.Nodes[j].Known {
						straight = -1
						break
					}
					straight += Between(s.Nodes[j-1].At, s.Nodes[j].At)
				}
				// By hand: an arc of radius r takes r tan(t/2) of the pieces on both sides and is r t long.
				for _, b := range g.Bends {
					if b.Run == r.Name && b.Stretch == i && straight >= 0 {
						turn := float64(b.Turn) * math.Pi / 180
						straight -= unit.Length(float64(b.Radius) * (2*math.Tan(turn/2) - turn))
					}
				}
				switch {
				case len(s.Nodes) < 2:
				case s.Length.Given && math.Abs(float64(sum-s.Length.Nominal)) > 1e-6:
					t.Fatalf("pieces of %v make %v", s.Length.Nominal, sum)
				case !s.Length.Given && straight >= 0 && math.Abs(float64(sum-straight)) > 1e-6:
					t.Fatalf("pieces of %v make %v", straight, sum)
				case math.Abs(float64(slack-s.Slack)) > 1e-6:
					t.Fatalf("slack %v of %v", slack, s.Slack)
				}
			}
		}
		for _, n := range g.Nodes {
			if g.Nodes[g.Find(n.Key)].Key != n.Key {
				t.Fatal("a node is not found by its key")
			}
		}
	})
}

func TestOrderNeverShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		want := Lay(job)
		mixed := *job
		mixed.Runs = rapid.Permutation(job.Runs).Draw(t, "runs")
		mixed.Splices = rapid.Permutation(job.Splices).Draw(t, "splices")
		if got := Lay(&mixed); !reflect.DeepEqual(got, want) {
			t.Fatalf("got  %+v\nwant %+v", got, want)
		}
	})
}
