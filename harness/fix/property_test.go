package fix

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

func dist(a, b design.Point3) float64 {
	return math.Hypot(math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)), float64(a.Z-b.Z))
}

// drawn is a trunk through some places over a panel, with branches, keep-outs, holes, stated clips and settings of all sorts; lengths in millimetres.
type drawn struct {
	span, end, clear, short int
	ofB1                    int      // clip-span of run b1, 0: that of all
	keepOuts                [][4]int // x, y, wide, high
	bend                    int
	off                     bool // the trunk lies on no panel
	nodes                   [][2]int
	length                  int // by string, 0: along the nodes
	outside                 int
	branches                []drawnBranch
	holes                   []drawnHole
	fixings                 []float64 // after
}

// drawnBranch leaves the trunk at a node.
type drawnBranch struct {
	from  int
	end   [2]int
	moves bool
}

// drawnHole is at a place over the panel, or some share of the way from the first node to the next.
type drawnHole struct {
	at    [2]int
	onWay bool
	share float64
}

func draw(t *rapid.T) *rig { return drawing(t).rig() }

func drawing(t *rapid.T) (d drawn) {
	measure := func(name string, lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, name) }
	coordinate := rapid.IntRange(-700, 700)
	point := func() [2]int {
		x := coordinate.Draw(t, "x")
		return [2]int{x, coordinate.Draw(t, "y")}
	}
	d.span, d.end, d.clear, d.short = measure("clip-span", 60, 500), measure("clip-end", 40, 150), measure("clip-clear", 0, 30), measure("clip-short", 0, 150)
	if rapid.Bool().Draw(t, "branches are another span's") {
		d.ofB1 = measure("clip-span", 60, 500)
	}
	for range measure("keep-outs", 0, 3) {
		p := point()
		w := measure("wide", 10, 300)
		d.keepOuts = append(d.keepOuts, [4]int{p[0], p[1], w, measure("high", 10, 300)})
	}
	d.bend = measure("bend", 0, 80)
	d.off = measure("on the panel", 0, 3) == 0
	for range measure("nodes", 2, 6) {
		d.nodes = append(d.nodes, point())
	}
	if measure("by string", 0, 3) == 0 {
		d.length = measure("string", 100, 4000)
	}
	d.outside = measure("outside", 1, 12)
	for i := 1; i < len(d.nodes)-1; i++ {
		if rapid.Bool().Draw(t, "branch") {
			end := point()
			d.branches = append(d.branches, drawnBranch{i, end, measure("moves", 0, 3) == 0})
		}
	}
	for range measure("holes", 0, 3) {
		h := drawnHole{at: point()}
		if h.onWay = rapid.Bool().Draw(t, "on the way"); h.onWay {
			h.share = rapid.Float64Range(0, 1).Draw(t, "share")
		}
		d.holes = append(d.holes, h)
	}
	for range measure("fixings", 0, 2) {
		d.fixings = append(d.fixings, rapid.Float64Range(0, 1500).Draw(t, "after"))
	}
	return d
}

func (d drawn) rig() *rig {
	job := &design.Job{Parts: library(), Zones: []*design.Zone{{Name: "bay"}}}
	measure := func(name string, mm int, scope ...string) {
		job.Settings.Lines = append(job.Settings.Lines, set(name, fmt.Sprintf("%d mm", mm), scope...))
	}
	measure("clip-span", d.span)
	measure("clip-end", d.end)
	measure("clip-clear", d.clear)
	measure("clip-short", d.short)
	if d.ofB1 > 0 {
		measure("clip-span", d.ofB1, "run", "b1")
	}
	at := func(p [2]int, z unit.Length) design.Point3 { return at3(unit.Length(p[0]), unit.Length(p[1]), z) }
	known := func(mm int) design.Fact[unit.Length] {
		return design.Fact[unit.Length]{Spread: unit.Exactly(unit.Length(mm)), Given: true}
	}
	floor := &design.Panel{Name: "floor", Thickness: 1, Zones: []string{"bay", "bay"}, Corners: []design.Point3{at3(-720, -720, 0), at3(720, -720, 0), at3(720, 720, 0), at3(-720, 720, 0)}}
	job.Panels = []*design.Panel{floor}
	for _, k := range d.keepOuts {
		x, y := k[0]+k[2], k[1]+k[3]
		floor.KeepOuts = append(floor.KeepOuts, []design.Point3{at([2]int{k[0], k[1]}, 0), at([2]int{x, k[1]}, 0), at([2]int{x, y}, 0), at([2]int{k[0], y}, 0)})
	}
	r := &rig{job: job}
	trunk := &design.Run{Name: "trunk", Zone: "bay", Section: "tub", Bend: known(d.bend)}
	if !d.off {
		trunk.Panel = "floor"
	}
	var st design.Stretch
	for i, p := range d.nodes {
		st.Nodes = append(st.Nodes, spotAt(fmt.Sprint("n", i), at(p, 8)))
	}
	if d.length > 0 {
		st.Length = known(d.length)
	}
	trunk.Stretches = []design.Stretch{st}
	job.Runs = []*design.Run{trunk}
	r.wire("n0", fmt.Sprint("n", len(d.nodes)-1), unit.Length(d.outside), along("trunk", 0))
	for _, x := range d.branches {
		name := fmt.Sprint("b", x.from)
		b := &design.Run{Name: name, Zone: "bay", Section: "tub", Panel: trunk.Panel}
		b.Stretches = []design.Stretch{{Nodes: []design.Spot{st.Nodes[x.from], spotAt("end-"+name, at(x.end, 8))}}}
		if x.moves {
			b.Stretches[0].Moves = 30
		}
		job.Runs = append(job.Runs, b)
		r.wire(fmt.Sprint("n", x.from), "end-"+name, 3, along(name, 0))
		r.wires[len(r.wires)-1].from = "nowhere"
	}
	for i, x := range d.holes {
		h := &design.Hole{Name: fmt.Sprint("h", i), Spot: spotAt(fmt.Sprint("h", i), at(x.at, 8)), Panel: "floor", Fastener: "rivet-nut-m5"}
		if x.onWay {
			a, b, k := st.Nodes[0].At, st.Nodes[1].At, unit.Length(x.share)
			h.At = at3(a.X+k*(b.X-a.X), a.Y+k*(b.Y-a.Y), 0)
		}
		job.Holes = append(job.Holes, h)
	}
	for i, after := range d.fixings {
		job.Fixings = append(job.Fixings, &design.Fixing{Name: fmt.Sprint("trunk-", 2*i+1), Run: "trunk", After: unit.Length(after)})
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

// twoInOne tells whether two clips or two holes come out at one place: by hand, or where the nodes of a way lie closer together than it is long.
func twoInOne(p *Plan) bool {
	var holes []design.Point3
	for _, x := range p.Runs {
		for i, c := range x.Clips {
			same := func(o design.Point3) bool { return dist(o, c.HoleAt) < float64(sameHole) }
			if i > 0 && c.After-x.Clips[i-1].After < 1 || slices.ContainsFunc(holes, same) {
				return true
			}
			holes = append(holes, c.HoleAt)
		}
	}
	return false
}

// Once the holes of an answer are there, every clip is in the one it was in, and no more is missed. Ways that share holes are left out: where they
// are not quite parallel the hole half way between two clips is nearest to a place a little beside each of them. So are holes that belonged to
// no clip at first, and two that are one.
func TestHolesThatAreThereAreEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := draw(t)
		r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-beside", "0 mm"))
		r.job.Holes = nil
		first := r.find()
		if twoInOne(first) {
			return
		}
		r.frozen(first, rapid.Bool().Draw(t, "those of clips by hand are stated"))
		again := r.find()
		if a, b := holesOf(first), holesOf(again); !slices.Equal(a, b) {
			t.Fatalf("first %q\nagain %q", a, b)
		}
		if n := newHolesOf(again); n > 0 {
			t.Fatalf("%d new holes", n)
		}
		if len(again.Misses) > len(first.Misses) {
			t.Fatalf("misses %+v\nwere %+v", again.Misses, first.Misses)
		}
	})
}
