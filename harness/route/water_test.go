package route

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// lamp is a run of one stretch through places at the given heights, 200 mm apart, to a device b at its last; the first is a stud. All of it lies in
// a wet zone.
func lamp(t testing.TB, heights ...float64) *rig {
	var spots []design.Spot
	names := []string{"a", "m", "n", "o", "p"}
	for i, h := range heights {
		name := names[i]
		if i == len(heights)-1 {
			name = "b"
		}
		spots = append(spots, spot(name, 200*float64(i), 0, h))
	}
	r := newRig(t, bent(run("r", spots...), 1))
	r.job.Devices = []*design.Device{{Name: "b", Spot: spots[len(spots)-1]}}
	r.job.Zones = []*design.Zone{{Name: "z", With: []string{"oil", "wet"}}}
	var way []string
	for _, s := range spots {
		way = append(way, s.Node)
	}
	w := r.wire(4, way...)
	w.Ends[0].Kind = net.OnStud
	return r
}

func TestWater(t *testing.T) {
	cases := []struct {
		name    string
		heights []float64 // the last is the connector's
		what    string
		drop    float64
	}{
		{"level", []float64{0, 0}, "", 0},
		{"as good as level", []float64{4, 0}, "", 0},
		{"falls away from it", []float64{-100, 0}, "", 0},
		{"rises gently from it", []float64{100, 0}, "", 0},
		{"rises steeply from it", []float64{300, 0}, "up", 0},
		{"level first, then from above", []float64{600, 0, 0}, "up", 0},
		{"level first, then down", []float64{-300, 0, 0}, "", 0},
		{"a drip loop", []float64{300, -40, 0}, "", 0},
		{"a drip loop that is too small", []float64{600, -15, 0}, "up", 15},
		{"one that is far off", []float64{300, -40, 0, 0}, "", 0},
		{"gently over a hump into a hollow", []float64{-300, 100, 0}, "", 0},
		{"steeply over a hump", []float64{-300, 250, 0}, "up", 0},
		{"a dip, then up, then down again", []float64{-300, 100, -30, 0}, "", 0},
	}
	for _, c := range cases {
		got := lamp(t, c.heights...).find().Waters
		if c.what == "" {
			if len(got) != 0 {
				t.Errorf("%s: %s", c.name, text(got))
			}
			continue
		}
		if len(got) != 1 || got[0].What != c.what || got[0].Thing != "device b" || got[0].Kind != "device" || got[0].Name != "b" || got[0].Zone != "z" || got[0].Needed != 25 || got[0].Source == "" {
			t.Errorf("%s: %s", c.name, text(got))
			continue
		}
		if d := got[0].Drop - unit.Length(c.drop); d > 0.1 || d < -0.5 { // an arc of 1 mm lies a little above its waypoint
			t.Errorf("%s: drop %v, want %v", c.name, got[0].Drop, c.drop)
		}
	}
}

// In a dry zone nothing runs, and what lies beyond a dry stretch does not count.
func TestDry(t *testing.T) {
	r := lamp(t, 300, 0)
	r.job.Zones[0].With = []string{"oil"}
	if got := r.find().Waters; len(got) != 0 {
		t.Error(text(got))
	}
	r = newRig(t, run("dry", spot("a", 0, 0, 300), spot("m", 0, 0, 0)), run("r", spot("m", 0, 0, 0), spot("b", 200, 0, 0)))
	r.job.Zones = []*design.Zone{{Name: "z", With: []string{"splash"}}}
	r.job.Runs[0].Zone = "inside"
	r.lay()
	r.wire(4, "a", "m", "b").Ends[0].Kind = net.OnStud
	if got := r.find().Waters; len(got) != 0 {
		t.Error(text(got))
	}
	r.job.Runs[0].Zone = "z"
	r.lay()
	if got := r.find().Waters; len(got) != 1 || got[0].What != "up" {
		t.Error(text(got))
	}
}

// Where the bundle parts and other wires fall, they take the water, if they fall far enough.
func TestParting(t *testing.T) {
	for _, c := range []struct {
		falls float64
		what  string
	}{{-100, ""}, {-15, "up"}, {-2, "up"}, {50, "up"}} {
		r := newRig(t, run("r", spot("b", 0, 0, 0), spot("m", 200, 0, 0), spot("a", 400, 0, 500)), run("s", spot("m", 200, 0, 0), spot("c", 400, 0, c.falls)))
		r.job.Zones = []*design.Zone{{Name: "z", With: []string{"wet"}}}
		r.wire(4, "b", "m", "a").Ends[1].Kind = net.OnStud
		r.wire(4, "b", "m", "c").Ends[1].Kind = net.OnStud
		if got := r.find().Waters; one(got) != c.what {
			t.Errorf("falls to %v: %s", c.falls, text(got))
		}
	}
}

// Up may be another axis.
func TestUp(t *testing.T) {
	r := lamp(t, 300, 0)
	r.job.Up = "x"
	if got := r.find().Waters; len(got) != 0 {
		t.Errorf("along x the stud lies below: %s", text(got))
	}
	r.job.Up = "y"
	if got := r.find().Waters; len(got) != 0 {
		t.Errorf("along y they are level: %s", text(got))
	}
}

// Where the wire side is said to look counts before the way: upwards it takes water in whatever the way does, downwards the bundle turns up
// within its radius at the earliest.
func TestFaces(t *testing.T) {
	look := func(r *rig, x, z float64) []Water {
		b := r.job.Devices[0]
		b.Faces = design.Spot{At: at(float64(b.At.X)+x, 0, float64(b.At.Z)+z), Known: true}
		return r.find().Waters
	}
	if got := look(lamp(t, -300, 0), 0, 50); len(got) != 1 || got[0].What != "up" {
		t.Errorf("up, the way falls: %s", text(got))
	}
	r := lamp(t, 300, 0)
	r.job.Runs[0].Bend.Nominal = 40
	r.lay()
	if got := look(r, 0, -50); len(got) != 0 {
		t.Errorf("down, by an arc of 40 mm: %s", text(got))
	}
	r.job.Runs[0].Bend.Nominal = 10
	r.lay()
	if got := look(r, 0, -50); len(got) != 1 || got[0].What != "up" || got[0].Drop != 10 {
		t.Errorf("down, by an arc of 10 mm: %s", text(got))
	}
	if got := look(lamp(t, 300, 0), 50, 0); len(got) != 1 || got[0].What != "up" {
		t.Errorf("sideways, the way rises: %s", text(got))
	}
}

// sag is a splice or a connector in line between two studs, at three heights.
func sag(t testing.TB, left, middle, right float64) *rig {
	r := newRig(t, run("r", spot("a", 0, 0, left), spot("s", 300, 0, middle), spot("b", 600, 0, right)))
	r.job.Zones = []*design.Zone{{Name: "z", With: []string{"wet"}}}
	r.wire(4, "a", "s").Ends[0].Kind = net.OnStud
	r.wire(4, "s", "b").Ends[1].Kind = net.OnStud
	return r
}

func TestInLine(t *testing.T) {
	for _, c := range []struct {
		name                string
		left, middle, right float64
		splice, plug        string
	}{
		{"in a sag", 100, 0, 100, "low", "low"},
		{"on a hump", 0, 100, 0, "", ""},
		{"on a gentle slope", 0, 50, 100, "", ""},
		{"on a steep slope", 0, 350, 700, "", "up"}, // the half above takes in what runs down
		{"level", 0, 0, 0, "", ""},
		{"level and rising", 0, 0, 400, "", "up"},
	} {
		r := sag(t, c.left, c.middle, c.right)
		r.job.Splices = []*design.Splice{{Name: "s", Spot: spot("s", 300, 0, c.middle)}}
		r.wires[0].Ends[1] = net.Termination{Kind: net.InSplice, Splice: "s", Node: r.geo.Find("s")}
		r.wires[1].Ends[0] = r.wires[0].Ends[1]
		if got := r.find().Waters; one(got) != c.splice || len(got) > 0 && got[0].Thing != "splice s" {
			t.Errorf("splice %s: %s", c.name, text(got))
		}
		r = sag(t, c.left, c.middle, c.right)
		r.job.Breaks = []*design.Break{{Name: "s", Spot: spot("s", 300, 0, c.middle)}}
		r.wires[0].Ends[1] = net.Termination{Kind: net.InHalf, Break: "s", Half: 0, Node: r.geo.Find("s")}
		r.wires[1].Ends[0] = net.Termination{Kind: net.InHalf, Break: "s", Half: 1, Node: r.geo.Find("s")}
		if got := r.find().Waters; one(got) != c.plug || len(got) > 0 && got[0].Thing != "break s" {
			t.Errorf("break %s: %s", c.name, text(got))
		}
	}
}

func one(ws []Water) string {
	out := ""
	for _, w := range ws {
		out += w.What
	}
	return out
}

// Of a break `faces` is said of the half whose wires leave that way; the other looks the other way.
func TestFacesOfABreak(t *testing.T) {
	r := sag(t, -100, 0, 100)
	b := &design.Break{Name: "s", Spot: spot("s", 300, 0, 0), Faces: design.Spot{At: at(300, 0, 60), Known: true}}
	r.job.Breaks = []*design.Break{b}
	r.wires[0].Ends[1] = net.Termination{Kind: net.InHalf, Break: "s", Half: 0, Node: r.geo.Find("s")}
	r.wires[1].Ends[0] = net.Termination{Kind: net.InHalf, Break: "s", Half: 1, Node: r.geo.Find("s")}
	if got := r.find().Waters; len(got) != 1 || got[0].What != "up" || got[0].Drop != 0 {
		t.Errorf("one half looks up, the other down: %s", text(got))
	}
}
