package shell_test

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func at(x, y, z unit.Length) design.Point3 { return design.Point3{X: x, Y: y, Z: z} }

func spot(p design.Point3) design.Spot { return design.Spot{At: p, Known: true} }

// body is a job with the answers of the stages before the shell.
type body struct {
	job  *design.Job
	nt   *net.Net
	held *fix.Plan
}

func (b *body) find() *shell.Shell {
	b.nt.Space = space.Lay(b.job)
	return shell.Find(b.job, b.nt, b.held)
}

// wall is a body with one upright panel at x 400, 600 mm square about (400, 0, 0), 1.5 mm thick, between cabin and bay. Its coordinates are
// U = y, V = z, its normal points to greater x. Runs of both zones tell that the cabin is at smaller x.
func wall() *body {
	b := &body{job: &design.Job{Revision: "B"}, nt: &net.Net{}, held: &fix.Plan{}}
	b.job.Panels = []*design.Panel{{Name: "wall", Thickness: 1.5, Zones: []string{"cabin", "bay"}, Seen: []string{"cabin"},
		Corners: []design.Point3{at(400, -300, -300), at(400, 300, -300), at(400, 300, 300), at(400, -300, 300)}}}
	b.job.Zones = []*design.Zone{{Name: "bay", With: []string{"wet"}}, {Name: "cabin"}}
	b.job.Parts.Housings = []*design.Housing{
		{Part: design.Part{Name: "round"}, CutOut: 32, Flange: [2]unit.Length{42}, Nut: 38, Grips: [2]unit.Length{1, 3}, Metal: true},
		{Part: design.Part{Name: "square"}, CutOut: 40, CutHigh: 30, Flange: [2]unit.Length{60, 50},
			Fixings: []design.HousingHole{{Name: "1", At: [2]unit.Length{20, 10}, Drill: 4.3}}},
		{Part: design.Part{Name: "post"}, CutOut: 16},
	}
	b.job.Parts.Fasteners = []*design.Fastener{
		{Part: design.Part{Name: "nut-m5"}, As: "rivet-nut", Thread: "M5", Drill: 7.1, Least: 7, Grips: [2]unit.Length{0.5, 3}},
		{Part: design.Part{Name: "stud-m5"}, As: "stud", Thread: "M5"},
		{Part: design.Part{Name: "screw-m5"}, As: "screw", Thread: "M5", Drill: 5.5},
		{Part: design.Part{Name: "base"}, As: "adhesive"},
	}
	b.job.Runs = []*design.Run{
		{Name: "in", Section: "tub", Zone: "cabin", Panel: "wall", Stretches: []design.Stretch{{Nodes: []design.Spot{{Node: "A", At: at(400, 0, 0), Known: true}, spot(at(300, 0, 0))}}}},
		{Name: "out", Section: "engine", Zone: "bay", Stretches: []design.Stretch{{Nodes: []design.Spot{{Node: "A", At: at(400, 0, 0), Known: true}, spot(at(500, 0, 0))}}}},
	}
	return b
}

// brk adds a break on the wall whose half in the tub is fixed.
func (b *body) brk(name, housing string, p design.Point3) *design.Break {
	x := &design.Break{Name: name, Spot: design.Spot{Node: name, At: p, Known: true}, Panel: "wall", Common: design.Common{Span: diag.SpanOf("a", len(b.job.Breaks)+1, 0)}}
	x.Halves[0] = design.Half{Section: "tub", Contacts: "sockets", Mount: "fixed", Housing: housing}
	x.Halves[1] = design.Half{Section: "engine", Contacts: "pins", Mount: "free", Housing: housing}
	b.job.Breaks = append(b.job.Breaks, x)
	return x
}

func (b *body) hole(name string, p design.Point3, drill unit.Length, fastener, frozen string) *design.Hole {
	h := &design.Hole{Name: name, Spot: spot(p), Panel: "wall", Drill: drill, Fastener: fastener, Common: design.Common{Frozen: frozen}}
	b.job.Holes = append(b.job.Holes, h)
	return h
}

// clip adds a clip of run "in" 12 mm before the wall, over a place of it.
func (b *body) clip(mark string, y, z unit.Length, fastener string) *fix.Clip {
	if len(b.held.Runs) == 0 {
		b.held.Runs = []fix.RunPlan{{Run: "in", Zone: "cabin", Panel: "wall", Length: 1000, SpanLimit: 300}}
	}
	c := fix.Clip{Mark: mark, At: at(388, y, z), Known: true, Panel: "wall", Fastener: fastener, NewHole: true}
	r := &b.held.Runs[0]
	r.Clips = append(r.Clips, c)
	return &r.Clips[len(r.Clips)-1]
}

// holeOf is the hole of a mark; without one the test fails, or, where there is none to fail, an empty hole comes back.
func holeOf(t testing.TB, s *shell.Shell, mark string) *shell.Hole {
	for i := range s.Holes {
		if s.Holes[i].Mark == mark {
			return &s.Holes[i]
		}
	}
	if t != nil {
		t.Helper()
		t.Fatalf("no hole %s among %d", mark, len(s.Holes))
	}
	return &shell.Hole{}
}

func marks(s *shell.Shell) (out []string) {
	for _, h := range s.Holes {
		out = append(out, h.Mark)
	}
	return out
}

// near tells whether two lengths are equal to a hundredth of a millimetre.
func near(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 0.01 }

func mount(t testing.TB, s *shell.Shell, name string) *shell.Mount {
	t.Helper()
	for i := range s.Mounts {
		if s.Mounts[i].Name == name {
			return &s.Mounts[i]
		}
	}
	t.Fatalf("no mount %s", name)
	return nil
}
