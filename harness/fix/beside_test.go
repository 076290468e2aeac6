package fix

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"loomsheet/harness/bundle"
	"loomsheet/harness/clip"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// beside is two runs next to one another on a panel, of which the other runs back.
func beside(gap unit.Length) *rig {
	r := line(900)
	r.job.Runs = append(r.job.Runs, &design.Run{Name: "s", Zone: "bay", Section: "tub", Panel: "floor",
		Stretches: []design.Stretch{{Nodes: []design.Spot{spotAt("d", at3(900, gap, 10)), spotAt("c", at3(0, gap, 10))}}}})
	r.wire("c", "d", 4, along("s", 0))
	return r
}

func newHolesOf(p *Plan) (n int) {
	for _, r := range p.Runs {
		for _, c := range r.Clips {
			if c.NewHole && (c.With == "" || c.Mark < c.With) {
				n++
			}
		}
	}
	return n
}

// Two runs side by side share holes, half way between them; each clip names the other, and the screw holds both.
func TestSharedHoles(t *testing.T) {
	p := beside(30).find()
	r, s := planOf(p, "r"), planOf(p, "s")
	if len(r.Clips) != 4 || len(s.Clips) != 4 || newHolesOf(p) != 4 || len(p.Misses) != 0 {
		t.Fatalf("%v %v: %d new holes", clipsOf(r), clipsOf(s), newHolesOf(p))
	}
	for i, a := range r.Clips {
		b := s.Clips[3-i]
		if a.With != b.Mark || b.With != a.Mark || a.After != 900-b.After || a.HoleAt != b.HoleAt || a.HoleAt != at3(a.At.X, 15, 10) || !a.HoleKnown {
			t.Errorf("%+v\n%+v", a, b)
		}
		// 2.4 twice, washer 1, panel 1.5, thread 6, 2 past it: 15.3.
		if a.Screw != 16 || b.Screw != 16 || a.ScrewSum != "clip 2.4 + clip 2.4 + washer 1 + panel 1.5 + thread 6 + 2 past it, next longer 16" || a.ScrewSum != b.ScrewSum {
			t.Errorf("%s %q, %s %q", a.Screw, a.ScrewSum, b.Screw, b.ScrewSum)
		}
	}
}

func TestNoSharing(t *testing.T) {
	for _, x := range []struct {
		what   string
		change func(*design.Job)
		gap    unit.Length
	}{
		{"too far apart", func(*design.Job) {}, 41},
		{"not parallel", func(j *design.Job) {
			j.Runs[1].Stretches[0].Nodes[0].At.Y, j.Runs[1].Stretches[0].Nodes[1].At.Y = 100, -100
		}, 0},
		{"another section", func(j *design.Job) { j.Runs[1].Section = "engine" }, 30},
		{"another panel", func(j *design.Job) {
			j.Panels = append(j.Panels, &design.Panel{Name: "lid"})
			j.Runs[1].Panel = "lid"
		}, 30},
		{"round a tube", func(j *design.Job) { j.Runs[1].Panel, j.Runs[1].Tube = "", "hoop" }, 30},
	} {
		r := beside(x.gap)
		x.change(r.job)
		for _, run := range r.find().Runs {
			for _, c := range run.Clips {
				if c.With != "" {
					t.Errorf("%s: %s shares with %s", x.what, c.Mark, c.With)
				}
			}
		}
	}
}

// A stated clip shares its hole too, and what was chosen for it holds both.
func TestSharedWithStated(t *testing.T) {
	r := beside(30)
	r.job.Fixings = []*design.Fixing{{Name: "mine", Run: "s", After: 400, Fastener: "screw-m5"}}
	p := r.find()
	var got []string
	for _, c := range planOf(p, "r").Clips {
		if c.With == "mine" {
			got = append(got, c.Fastener, c.KindWhy)
		}
	}
	if d := cmp.Diff([]string{"screw-m5", "stated"}, got); d != "" || newHolesOf(p) != 4 {
		t.Errorf("%s: %d new holes, %v %v", d, newHolesOf(p), clipsOf(planOf(p, "r")), clipsOf(planOf(p, "s")))
	}
}

// Where two runs cannot share, their holes keep apart all the same.
func TestHolesApart(t *testing.T) {
	r := beside(12)
	r.job.Runs[1].Section = "engine"
	p := r.find()
	if n := newHolesOf(p); n != 8 || len(p.Misses) != 0 {
		t.Errorf("%d new holes, %v", n, missText(t, p))
	}
	for _, a := range planOf(p, "r").Clips {
		for _, b := range planOf(p, "s").Clips {
			if d := dist(a.At, b.At); d < 3*7.1-1e-6 {
				t.Errorf("%s and %s are %g apart", a.Mark, b.Mark, d)
			}
		}
	}
}

// Two clips in one stated hole: the first takes its name, and they are a pair.
func TestPairInOneHole(t *testing.T) {
	r := beside(30)
	first := r.find()
	for _, c := range planOf(first, "r").Clips {
		r.job.Holes = append(r.job.Holes, &design.Hole{Name: "h" + c.Mark, Spot: spotAt("h"+c.Mark, c.HoleAt), Panel: "floor", Fastener: c.Fastener, Common: design.Common{Frozen: "B"}})
	}
	r.job.Painted = "B"
	p := r.find()
	if n := newHolesOf(p); n != 0 || len(p.Misses) != 0 {
		t.Fatalf("%d new holes, %v", n, missText(t, p))
	}
	if d := cmp.Diff(clipsOf(planOf(first, "s")), clipsOf(planOf(p, "s"))); d != "" {
		t.Errorf("other marks in the holes of another run's names: %s", d)
	}
	for i, c := range planOf(p, "r").Clips {
		b := planOf(p, "s").Clips[3-i]
		if c.Hole != "hr-"+string(rune('1'+i)) || c.Mark != c.Hole || b.Hole != c.Hole || c.With != b.Mark || b.With != c.Mark {
			t.Errorf("%+v\n%+v", c, b)
		}
	}
}

// What lies side by side is found among the chains that share a panel as it is found among all.
func TestSidesAmongAll(t *testing.T) {
	for _, panel := range []string{"floor", "wall", ""} {
		r := beside(20)
		r.job.Runs[len(r.job.Runs)-1].Panel = panel
		nt, bundles := r.laid()
		m := newMaker(r.job, nt, bundles)
		m.findChains()
		var want []clip.Side
		for i := range m.chains {
			for j := i + 1; j < len(m.chains); j++ {
				want = append(want, m.besides(i, j)...)
			}
		}
		if d := cmp.Diff(want, m.sides()); d != "" || (len(want) > 0) != (panel == "floor") {
			t.Errorf("panel %q, %d found among all: %s", panel, len(want), d)
		}
	}
}

// New holes that are looked at again where a group changed are those of all chains.
func TestNewHolesAgain(t *testing.T) {
	m := newMakerOf(t, 11, 150)
	s := &settler{m: m, sides: m.sides(), out: make([][]seated, len(m.chains))}
	s.groups = m.group(s.sides)
	s.price = make([]cost, len(s.lists))
	m.listHoles()
	for k := range s.lists {
		ans, c := s.solve(k)
		s.put(k, ans, c)
	}
	holes := m.newHoles(s.out)
	changed := 0
	for k, list := range s.lists {
		c := m.chains[list[0]]
		c.shut = append(c.shut, stretchOf{from: 0, to: c.grid / 2, why: "for once"})
		ans, now := s.solve(k)
		s.put(k, ans, now)
		before := len(holes.sorted())
		for _, i := range list {
			holes.look(s.out, i)
		}
		if len(holes.sorted()) != before {
			changed++
		}
	}
	if d := cmp.Diff(m.newHoles(s.out).sorted(), holes.sorted(), cmp.AllowUnexported(newHole{})); d != "" || changed == 0 {
		t.Errorf("%d changed: %s", changed, d)
	}
}

// newMakerOf is ready to settle the clips of a trial harness, its wires as they are first chosen.
func newMakerOf(t *testing.T, seed uint64, wires int) *maker {
	text := trial.Text(seed, wires)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	m := newMaker(job, nt, bundle.Find(job, nt, size.Initial(job, nt)))
	m.findChains()
	for _, c := range m.chains {
		m.demand(c)
	}
	m.placeGivens()
	m.findSheets()
	m.findEars()
	m.findSeats()
	m.findShut()
	return m
}
