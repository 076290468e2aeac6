package fix

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

func dist(a, b design.Point3) float64 {
	return math.Hypot(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)), float64(a.Z-b.Z))
}

// draw is a trunk through some places over a panel, with branches, keep-outs, holes, stated clips and settings of all sorts.
func draw(t *rapid.T) *rig {
	job := &design.Job{Parts: library(), Zones: []*design.Zone{{Name: "bay"}}}
	measure := func(name string, lo, hi int, scope ...string) {
		job.Settings.Lines = append(job.Settings.Lines, set(name, fmt.Sprintf("%d mm", rapid.IntRange(lo, hi).Draw(t, name)), scope...))
	}
	measure("clip-span", 60, 500)
	measure("clip-end", 40, 150)
	measure("clip-clear", 0, 30)
	measure("clip-short", 0, 150)
	if rapid.Bool().Draw(t, "branches are another span's") {
		measure("clip-span", 60, 500, "run", "b1")
	}
	coordinate := rapid.IntRange(-700, 700)
	point := func() design.Point3 {
		return at3(unit.Length(coordinate.Draw(t, "x")), unit.Length(coordinate.Draw(t, "y")), 8)
	}
	job.Panels = []*design.Panel{{Name: "floor", Thickness: 1, Zones: []string{"bay", "bay"}, Corners: []design.Point3{at3(-720, -720, 0), at3(720, -720, 0), at3(720, 720, 0), at3(-720, 720, 0)}}}
	for range rapid.IntRange(0, 3).Draw(t, "keep-outs") {
		p := point()
		w, h := unit.Length(rapid.IntRange(10, 300).Draw(t, "wide")), unit.Length(rapid.IntRange(10, 300).Draw(t, "high"))
		job.Panels[0].KeepOuts = append(job.Panels[0].KeepOuts, []design.Point3{at3(p.X, p.Y, 0), at3(p.X+w, p.Y, 0), at3(p.X+w, p.Y+h, 0), at3(p.X, p.Y+h, 0)})
	}
	r := &rig{job: job}
	trunk := &design.Run{Name: "trunk", Zone: "bay", Section: "tub"}
	trunk.Bend = design.Fact[unit.Length]{Spread: unit.Exactly(unit.Length(rapid.IntRange(0, 80).Draw(t, "bend"))), Given: true}
	if rapid.IntRange(0, 3).Draw(t, "on the panel") > 0 {
		trunk.Panel = "floor"
	}
	var st design.Stretch
	n := rapid.IntRange(2, 6).Draw(t, "nodes")
	for i := range n {
		st.Nodes = append(st.Nodes, spotAt(fmt.Sprint("n", i), point()))
	}
	if rapid.IntRange(0, 3).Draw(t, "by string") == 0 {
		st.Length = design.Fact[unit.Length]{Spread: unit.Exactly(unit.Length(rapid.IntRange(100, 4000).Draw(t, "string"))), Given: true}
	}
	trunk.Stretches = []design.Stretch{st}
	job.Runs = []*design.Run{trunk}
	r.wire("n0", fmt.Sprint("n", n-1), unit.Length(rapid.IntRange(1, 12).Draw(t, "outside")), along("trunk", 0))
	for i := 1; i < n-1; i++ {
		if rapid.Bool().Draw(t, "branch") {
			name := fmt.Sprint("b", i)
			b := &design.Run{Name: name, Zone: "bay", Section: "tub", Panel: trunk.Panel}
			b.Stretches = []design.Stretch{{Nodes: []design.Spot{st.Nodes[i], spotAt("end-"+name, point())}}}
			if rapid.IntRange(0, 3).Draw(t, "moves") == 0 {
				b.Stretches[0].Moves = 30
			}
			job.Runs = append(job.Runs, b)
			r.wire(fmt.Sprint("n", i), "end-"+name, 3, along(name, 0))
			r.wires[len(r.wires)-1].from = "nowhere"
		}
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "holes") {
		h := &design.Hole{Name: fmt.Sprint("h", i), Spot: spotAt(fmt.Sprint("h", i), point()), Panel: "floor", Fastener: "rivet-nut-m5"}
		a, b := st.Nodes[0].At, st.Nodes[1].At
		if rapid.Bool().Draw(t, "on the way") {
			k := unit.Length(rapid.Float64Range(0, 1).Draw(t, "share"))
			h.At = at3(a.X+k*(b.X-a.X), a.Y+k*(b.Y-a.Y), 0)
		}
		job.Holes = append(job.Holes, h)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "fixings") {
		job.Fixings = append(job.Fixings, &design.Fixing{Name: fmt.Sprint("trunk-", 2*i+1), Run: "trunk", After: unit.Length(rapid.Float64Range(0, 1500).Draw(t, "after"))})
	}
	return r
}

func (r *rig) length(name string, s design.Scope) unit.Length {
	return unit.Length(r.job.Settings.Get(name, s).Value.Quantity.Value)
}

// Every rule holds, or a miss says that it does not.
func TestHeldOrMissed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		nt, b := r.laid()
		p := Find(r.job, nt, b)
		if !reflect.DeepEqual(p, Find(r.job, nt, b)) {
			t.Fatal("not the same twice")
		}
		missed := func(run, what string, lo, hi unit.Length) bool {
			return slices.ContainsFunc(p.Misses, func(m Miss) bool { return m.Run == run && m.What == what && m.From <= hi+1 && m.To >= lo-1 })
		}
		marks, stated := map[string]bool{}, 0
		for i := range p.Runs {
			x := &p.Runs[i]
			s := design.Scope{Run: x.Run, Zone: "bay", Section: "tub", Panel: x.Panel}
			span, reach, clear, short := r.length("clip-span", s), r.length("clip-end", s), r.length("clip-clear", s), r.length("clip-short", s)
			if x.SpanLimit > span {
				t.Fatalf("%s is held to a span of %s, set %s", x.Run, x.SpanLimit, span)
			}
			moves := r.job.Runs[slices.IndexFunc(r.job.Runs, func(d *design.Run) bool { return d.Name == x.Run })].Stretches[0].Moves > 0
			var at []unit.Length
			for _, c := range x.Clips {
				if marks[c.Mark] {
					t.Fatalf("%s twice", c.Mark)
				}
				marks[c.Mark] = true
				if c.Why == "fixed" {
					stated++
				}
				if c.Known {
					at = append(at, c.After)
				}
			}
			if !slices.IsSorted(at) {
				t.Fatalf("%s not in order: %v", x.Run, at)
			}
			for _, c := range x.Clips {
				if c.Why == "fixed" {
					continue
				}
				if c.After < clear-1e-6 || c.After > x.Length-clear+1e-6 {
					t.Fatalf("%s at %s of %s, clear %s", c.Mark, c.After, x.Length, clear)
				}
				for _, bend := range x.Bends {
					if h := float64(bend.Radius) * float64(bend.Turn) * math.Pi / 360; bend.Turn >= 30 && !x.stringed() && math.Abs(float64(c.After-bend.After)) < h-1e-6 {
						t.Fatalf("%s at %s stands on the bend at %s, half %g", c.Mark, c.After, bend.After, h)
					}
				}
				if c.NewHole && x.Panel != "" {
					for _, k := range r.job.Panels[0].KeepOuts {
						if c.HoleAt.X > k[0].X && c.HoleAt.X < k[2].X && c.HoleAt.Y > k[0].Y && c.HoleAt.Y < k[2].Y {
							t.Fatalf("%s at %v in a keep-out", c.Mark, c.At)
						}
					}
					for _, h := range r.job.Holes {
						if c.HoleAt.Z = 0; dist(c.HoleAt, at3(h.At.X, h.At.Y, 0)) < 3*7.1-1e-6 {
							t.Fatalf("%s too near %s", c.Mark, h.Name)
						}
					}
				}
			}
			if x.Length <= short || x.Length == 0 {
				continue
			}
			for k := 1; k < len(at) && !moves; k++ {
				if at[k]-at[k-1] > x.SpanLimit+1+1e-6 && !missed(x.Run, "span", at[k-1], at[k]) {
					t.Fatalf("%s: a gap of %s at %v, limit %s, misses %+v", x.Run, at[k]-at[k-1], at, x.SpanLimit, p.Misses)
				}
			}
			near := func(lo, hi unit.Length) bool {
				return slices.ContainsFunc(at, func(a unit.Length) bool { return lo-0.51 <= a && a <= hi+0.51 })
			}
			// Connectors and breakouts may stand too close for a clip.
			room := func(lo, hi unit.Length) bool {
				run := 0 // a whole millimetre lies in each stretch that is one long
				for a := max(0, lo); a <= min(hi, x.Length); a++ {
					free := a >= clear && a <= x.Length-clear
					for _, o := range x.Nodes[1 : len(x.Nodes)-1] {
						free = free && (!o.Breakout || math.Abs(float64(o.After-a)) >= float64(clear))
					}
					if run++; !free {
						run = 0
					}
					if run > 1 {
						return true
					}
				}
				return false
			}
			if len(at) == 0 && !moves && x.Length > x.SpanLimit+1+1e-6 && x.SpanLimit > 0 && !slices.ContainsFunc(p.Misses, func(m Miss) bool { return m.Run == x.Run }) {
				t.Fatalf("%s of %s hangs free, and nothing is told", x.Run, x.Length)
			}
			// The end of every stretch is a stud.
			if lo := x.Length - reach; !near(lo, x.Length) && !missed(x.Run, "end", lo, x.Length) && room(lo+1, x.Length) {
				t.Fatalf("%s of %s: nothing near its end: %v, reach %s, misses %+v", x.Run, x.Length, at, reach, p.Misses)
			}
			for _, n := range x.Nodes[1 : len(x.Nodes)-1] {
				lo, hi := n.After-reach, n.After+reach
				if n.Breakout && !near(lo, hi) && !missed(x.Run, "breakout", lo, hi) && room(lo+1, hi-1) {
					t.Fatalf("%s: nothing near the breakout %s at %s: %v, misses %+v", x.Run, n.What, n.After, at, p.Misses)
				}
			}
		}
		if stated != len(r.job.Fixings) {
			t.Fatalf("%d stated clips of %d", stated, len(r.job.Fixings))
		}
		for _, m := range p.Misses {
			if m.Run == "" || m.What == "" || m.From > m.To || !unit.Finite(m.Gap) || m.What != "shut" && (m.Limit <= 0 || m.Source == "") {
				t.Fatalf("%+v", m)
			}
		}
	})
}

func (x *RunPlan) stringed() bool { return x.LengthStatus == design.Measured }

// besideItself tells that a way comes by again, far on or far back along it, where it is held so.
func besideItself(x *RunPlan, c *Clip) bool {
	return slices.ContainsFunc(x.Clips, func(o Clip) bool {
		return o.HoleKnown && solid.Between(o.HoleAt, c.HoleAt) < 100 && math.Abs(float64(o.After-c.After)) > 200
	})
}

// Once the holes of an answer are there, nothing new is asked for, and nothing is worse held. Ways that share holes are left out: where they
// are not quite parallel the hole half way between two clips is nearest to a place a little beside each of them. So are holes that belonged to
// no clip at first, for which two ways may compete, as may two lengths of one way that turns back close beside itself.
func TestHolesThatAreThereAreEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-beside", "0 mm"))
		r.job.Holes = nil
		first := r.find()
		for _, x := range first.Runs {
			for _, c := range x.Clips {
				if c.Why != "fixed" && c.Hole == "" && c.HoleKnown && (c.With == "" || c.Mark < c.With) {
					r.job.Holes = append(r.job.Holes, &design.Hole{Name: "at-" + c.Mark, Spot: spotAt("at-"+c.Mark, c.HoleAt), Panel: c.Panel, Drill: c.Drill, Fastener: c.Fastener})
				}
			}
		}
		for _, h := range r.job.Holes {
			h.Frozen = "B"
		}
		for _, f := range r.job.Fixings {
			f.Frozen = "B"
		}
		r.job.Painted = "B"
		p := r.find()
		for _, x := range p.Runs {
			for _, c := range x.Clips {
				// A way that missed something may take the hole of another at the place where both begin.
				if c.NewHole && len(p.Misses) >= len(first.Misses) && !besideItself(planOf(first, x.Run), &c) {
					t.Fatalf("%s at %s of %s asks for a new hole\nbefore %v\nafter  %v", c.Mark, c.After, x.Run, clipsOf(planOf(first, x.Run)), clipsOf(planOf(p, x.Run)))
				}
			}
		}
		if len(p.Misses) > len(first.Misses) {
			t.Fatalf("misses %+v\nwere %+v", p.Misses, first.Misses)
		}
	})
}
