package bench

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func marks(r *RunPlan) []string {
	var out []string
	for _, c := range r.Clips {
		out = append(out, fmt.Sprintf("%s %g %s", c.Mark, math.Round(float64(c.After)), c.Why))
	}
	return out
}

func TestClipsOfTheSmallJob(t *testing.T) {
	p := Make(smallJob())
	want := []string{"tunnel-1 100 end", "tunnel-2 370 span", "tunnel-3 640 fixed", "tunnel-4 861 span", "tunnel-5 1083 span", "tunnel-6 1304 bend", "tunnel-7 1390 end"}
	r := runOf(p, "tunnel")
	if d := cmp.Diff(want, marks(r)); d != "" {
		t.Error(d)
	}
	// One wire of 2.4 mm and one cable of 4.4 mm side by side are 6.8 mm, and 0.6 mm of braid on either side makes 8.
	for _, c := range r.Clips {
		if math.Abs(float64(c.Bundle)-8) > 1e-9 || c.ClipSize != 8 || c.Panel != "firewall" {
			t.Errorf("%+v", c)
		}
	}
	if f := r.Clips[2]; f.Fastener != "stud" || f.Drill != 0 || f.Status != design.Stated {
		t.Errorf("the fixed clip lost its fastener: %+v", f)
	}
	// 640 of the first 1303.75 mm by string, which stand for 1400 mm of coordinates.
	if x := float64(r.Clips[2].At.X); math.Abs(x-(2400-640/1303.75*1400)) > 1e-6 {
		t.Errorf("tunnel-3 at x %g", x)
	}
	if r.Wires != 3 || r.Length != 1490 || r.LengthStatus != design.Measured || r.SpanLimit != 300 {
		t.Errorf("%+v", r)
	}
	if d := cmp.Diff([]string{"rail-1 100 end", "rail-2 275 span", "rail-3 450 breakout", "rail-4 600 end"}, marks(runOf(p, "rail"))); d != "" {
		t.Error(d)
	}
}

func TestPlace(t *testing.T) {
	ends := func(l, reach unit.Length) []hold {
		return []hold{{at: 0, reach: reach, why: "end", side: 1}, {at: l, reach: reach, why: "end", side: -1}}
	}
	tail := func(l, reach, span unit.Length) []hold {
		return []hold{{at: 0, reach: span / 2, why: "span", side: 1}, {at: l, reach: reach, why: "end", side: -1, lone: true}}
	}
	for _, x := range []struct {
		what    string
		l, span unit.Length
		holds   []hold
		fixed   []unit.Length
		want    []unit.Length
	}{
		{"one in the middle serves both ends", 180, 300, ends(180, 100), nil, []unit.Length{90}},
		{"a tail is held at its connector alone", 220, 300, tail(220, 100, 300), nil, []unit.Length{120}},
		{"a fixed one at the connector leaves a tail too long", 220, 300, tail(220, 100, 300), []unit.Length{200}, []unit.Length{110, 200}},
		{"two stand evenly", 240, 300, ends(240, 100), nil, []unit.Length{80, 160}},
		{"three and more", 900, 300, ends(900, 100), nil, []unit.Length{100, 333, 567, 800}},
		{"no more than needed", 800, 300, ends(800, 100), nil, []unit.Length{100, 400, 700}},
		{"fixed ones serve", 800, 300, ends(800, 100), []unit.Length{50, 420}, []unit.Length{50, 235, 420, 700}},
		{"fixed ones off the part stay out", 180, 300, ends(180, 100), []unit.Length{-5, 181}, []unit.Length{90}},
		{"a bend close to the end", 800, 1000, append(ends(800, 100), hold{at: 110, reach: 50, why: "bend", side: 0}), nil, []unit.Length{50, 110, 700}},
		{"a bend serves the end", 800, 1000, append(ends(800, 100), hold{at: 60, reach: 50, why: "bend", side: 0}), nil, []unit.Length{60, 700}},
		{"a breakout behind", 800, 1000, append(ends(800, 100), hold{at: 400, reach: 100, why: "breakout", side: 1}), nil, []unit.Length{100, 450, 700}},
		{"a breakout before", 800, 1000, append(ends(800, 100), hold{at: 400, reach: 100, why: "breakout", side: -1}), nil, []unit.Length{100, 350, 700}},
		{"one serves two breakouts", 800, 1000, append(ends(800, 100), hold{at: 400, reach: 100, why: "breakout", side: 1}, hold{at: 500, reach: 100, why: "breakout", side: 1}), nil, []unit.Length{100, 450, 700}},
	} {
		var got []unit.Length
		for _, s := range place(0, x.l, x.span, x.holds, x.fixed) {
			got = append(got, unit.Length(math.Round(float64(s.after))))
		}
		if d := cmp.Diff(x.want, got); d != "" {
			t.Errorf("%s: %s", x.what, d)
		}
	}
}

func TestNoClipFits(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Parts.Clips[0].Holds = []unit.Length{3, 7.9}
	r := runOf(Make(job, nt, sizes), "tunnel")
	for _, c := range r.Clips {
		if c.ClipSize != 0 || c.Bundle == 0 {
			t.Errorf("%s: bundle %s in a clip of %s", c.Mark, c.Bundle, c.ClipSize)
		}
	}
}

func TestClipPart(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Settings.Lines = append(job.Settings.Lines, set("clip", "tie", "zone", "bay"), set("fastener", "weld-stud", "panel", "firewall"))
	job.Parts.Clips = append(job.Parts.Clips, &design.Clip{Part: design.Part{Name: "tie"}, Fastener: "adhesive-base"})
	p := Make(job, nt, sizes)
	if c := runOf(p, "rail").Clips[0]; c.Part != "tie" || c.Fastener != "adhesive-base" {
		t.Errorf("the clip's own fastener goes before the default: %+v", c)
	}
	if c := runOf(p, "tunnel").Clips[0]; c.Part != "p-clip" || c.Fastener != "weld-stud" {
		t.Errorf("the panel's fastener: %+v", c)
	}
	job.Runs[0].Clip, job.Runs[0].Fastener = "p-clip", "screw"
	if c := runOf(Make(job, nt, sizes), "rail").Clips[0]; c.Part != "p-clip" || c.Fastener != "screw" {
		t.Errorf("the run's own clip: %+v", c)
	}
}

// A fixed clip beyond its run is not lost, and no place is made up for it.
func TestFixedClipBeyondItsRun(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Fixings[0].After = 9000
	for _, c := range runOf(Make(job, nt, sizes), "tunnel").Clips {
		if c.Mark == "tunnel-3" {
			if c.Known || c.Bundle != 0 || c.After != 9000 {
				t.Errorf("%+v", c)
			}
			return
		}
	}
	t.Error("tunnel-3 is lost")
}

func TestEmptyRunGetsNoClips(t *testing.T) {
	job, nt, sizes := smallJob()
	for i := range nt.Wires {
		if w := &nt.Wires[i]; w.Section == "engine" {
			w.Path = nil
		}
	}
	if r := runOf(Make(job, nt, sizes), "rail"); len(r.Clips) != 0 || r.Wires != 0 || r.Note == "" {
		t.Errorf("%+v", r)
	}
}

// A stretch so short that it needs no clip of its own gets one all the same where it only goes on from one run to the next.
func TestShortStretches(t *testing.T) {
	job, nt, sizes := smallJob()
	a, b := spotAt("A", at3(1000, 0, 500)), spotAt("lamp1", at3(950, 0, 500))
	for _, x := range []struct {
		far  design.Point3
		want int
	}{{at3(700, 0, 500), 1}, {at3(950, 0, 200), 0}} {
		job.Fixings = nil
		job.Runs = []*design.Run{
			{Name: "go", Section: "engine", Stretches: []design.Stretch{{Nodes: []design.Spot{b, spotAt("lamp2", x.far)}}}},
			{Name: "rail", Section: "engine", Stretches: []design.Stretch{{Nodes: []design.Spot{a, b}}}}}
		n := &net.Net{Space: space.Lay(job), Wires: []net.Wire{nt.Wires[0]}}
		w := &n.Wires[0]
		w.Path = []net.Step{{Edge: edge(n.Space, "rail", 0)}, {Edge: edge(n.Space, "go", 0)}}
		w.Ends[0].Node, w.Ends[1].Node = n.Space.Find("A"), n.Space.Find("lamp2")
		if r := runOf(Make(job, n, sizes[:1]), "rail"); len(r.Clips) != x.want {
			t.Errorf("towards %v: %v", x.far, marks(r))
		}
	}
}

// The branches of a fan are each held at their connector; one not much longer than clip-end has no second clip at its root.
func TestTails(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Fixings = nil
	hub := spotAt("hub", at3(1000, 0, 500))
	fan := func(name string, l unit.Length) design.Stretch {
		return design.Stretch{Nodes: []design.Spot{hub, spotAt(name, at3(1000, l, 500))}}
	}
	job.Runs = []*design.Run{
		{Name: "trunk", Section: "engine", Stretches: []design.Stretch{{Nodes: []design.Spot{spotAt("A", at3(0, 0, 500)), hub}}}},
		{Name: "fan", Section: "engine", Stretches: []design.Stretch{fan("lamp1", 110), fan("lamp2", 200), fan("lamp3", 220), fan("lamp4", 260)}}}
	n := &net.Net{Space: space.Lay(job)}
	for i := range 4 {
		w := nt.Wires[0]
		w.Path = []net.Step{{Edge: edge(n.Space, "trunk", 0)}, {Edge: n.Space.Stretch("fan", i)[0]}}
		w.Ends[0] = net.Termination{Kind: net.InHalf, Break: "A", Node: n.Space.Find("A")}
		w.Ends[1] = net.Termination{Kind: net.InCavity, Device: "lamp1", Cavity: "1", Node: n.Space.Find(fmt.Sprint("lamp", i+1))}
		n.Wires = append(n.Wires, w)
	}
	var got []string
	for _, r := range Make(job, n, append(sizes[:1:1], sizes[0], sizes[0], sizes[0])).Runs[1:] {
		got = append(got, fmt.Sprint(float64(r.Length), marks(&r)))
	}
	want := []string{"110 []", "200 [fan-1 100 end]", "220 [fan-2 120 end]", "260 [fan-3 87 end fan-4 173 end]"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	// Where the span asks for a second clip all the same, the two stand evenly.
	job.Settings.Lines = append(job.Settings.Lines, set("clip-span", "200 mm"))
	r := Make(job, n, append(sizes[:1:1], sizes[0], sizes[0], sizes[0])).Runs[3]
	if d := cmp.Diff([]string{"fan-2 73 end", "fan-3 147 end"}, marks(&r)); d != "" {
		t.Error(d)
	}
}

// drawn is a random trunk, straight pieces through 2 to 7 nodes with branches off some, in random settings.
type drawn struct {
	job      *design.Job
	nt       *net.Net
	sizes    size.Sizes
	branches []int // nodes of the trunk, by ordinal
	onwards  bool  // the trunk's end is no device: another run goes on
}

func draw(t *rapid.T) drawn {
	n := rapid.IntRange(2, 7).Draw(t, "nodes")
	coordinate := rapid.IntRange(-900, 900)
	var d drawn
	d.job = &design.Job{}
	length := func(name string, lo, hi int) {
		d.job.Settings.Lines = append(d.job.Settings.Lines, set(name, fmt.Sprintf("%d mm", rapid.IntRange(lo, hi).Draw(t, name))))
	}
	length("clip-span", 20, 700)
	length("clip-end", 0, 200)
	length("clip-short", 0, 200)
	d.job.Settings.Lines = append(d.job.Settings.Lines, set("cut-round", rapid.SampledFrom([]string{"1 mm", "5 mm", "10 mm", "0.5 mm", "0 mm"}).Draw(t, "cut-round")),
		set("take-up", fmt.Sprintf("%d %%", rapid.IntRange(0, 9).Draw(t, "take-up"))))
	trunk := &design.Run{Name: "trunk"}
	var nodes []design.Spot
	for i := range n {
		nodes = append(nodes, spotAt(fmt.Sprint("n", i), at3(unit.Length(coordinate.Draw(t, "x")), unit.Length(coordinate.Draw(t, "y")), unit.Length(coordinate.Draw(t, "z")))))
	}
	st := design.Stretch{Nodes: nodes, Slack: unit.Length(rapid.IntRange(0, 30).Draw(t, "slack"))}
	if rapid.Bool().Draw(t, "by string") {
		st.Length = lengthFact(unit.Length(rapid.IntRange(1, 6000).Draw(t, "string")))
	}
	trunk.Stretches = []design.Stretch{st}
	d.job.Runs = []*design.Run{trunk}
	for i := 1; i < n-1; i++ {
		if rapid.Bool().Draw(t, "branch") {
			d.branches = append(d.branches, i)
			d.job.Runs = append(d.job.Runs, &design.Run{Name: fmt.Sprint("branch-", i), Stretches: []design.Stretch{{Nodes: []design.Spot{nodes[i], spotAt(fmt.Sprint("b", i), at3(2000, 0, unit.Length(i)))}}}})
		}
	}
	if d.onwards = rapid.Bool().Draw(t, "onwards"); d.onwards {
		d.job.Runs = append(d.job.Runs, &design.Run{Name: "onwards", Stretches: []design.Stretch{{Nodes: []design.Spot{nodes[n-1], spotAt("far", at3(3000, 50, 0))}}}})
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "fixed") {
		d.job.Fixings = append(d.job.Fixings, &design.Fixing{Name: fmt.Sprint("trunk-", rapid.IntRange(1, 6).Draw(t, "ordinal")*10+i), Run: "trunk", After: unit.Length(rapid.IntRange(0, 3000).Draw(t, "after"))})
	}
	d.nt = &net.Net{Space: space.Lay(d.job)}
	wire := func(name, from, to string, run ...string) {
		w := net.Wire{Name: name, Core: -1, Family: "thin"}
		for _, r := range run {
			for _, e := range d.nt.Space.Stretch(r, 0) {
				w.Path = append(w.Path, net.Step{Edge: e})
			}
		}
		for i, k := range []string{from, to} {
			w.Ends[i] = net.Termination{Kind: net.OnStud, Device: k, Pin: "1", Node: d.nt.Space.Find(k)}
		}
		d.nt.Wires = append(d.nt.Wires, w)
		d.sizes = append(d.sizes, size.Conductor{Size: unit.Metric(1), Outside: unit.Length(rapid.IntRange(1, 9).Draw(t, "outside")), Known: true})
	}
	last := fmt.Sprint("n", n-1)
	if d.onwards {
		wire("main", "n0", "far", "trunk", "onwards")
	} else {
		wire("main", "n0", last, "trunk")
	}
	for _, b := range d.branches {
		wire(fmt.Sprint("off ", b), fmt.Sprint("n", b), fmt.Sprint("b", b), fmt.Sprint("branch-", b))
	}
	return d
}

func (d *drawn) length(name string) unit.Length {
	return unit.Length(d.job.Settings.Get(name, design.Scope{}).Value.Quantity.Value)
}

func TestClipProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := Make(d.job, d.nt, d.sizes)
		const eps = 1e-6
		span, reach, short := d.length("clip-span"), d.length("clip-end"), d.length("clip-short")
		seen := map[string]bool{}
		fixed := 0
		for i := range p.Runs {
			for _, c := range p.Runs[i].Clips {
				if seen[c.Mark] {
					t.Fatalf("%s twice", c.Mark)
				}
				seen[c.Mark] = true
				if c.Status == design.Stated {
					fixed++
				}
			}
		}
		if fixed != len(d.job.Fixings) {
			t.Fatalf("%d fixed clips of %d", fixed, len(d.job.Fixings))
		}
		for _, b := range d.branches {
			r := runOf(p, fmt.Sprint("branch-", b))
			if r.Length <= short {
				continue
			}
			if len(r.Clips) == 0 {
				t.Fatalf("no clip on a branch of %s", r.Length)
			}
			if end := r.Length - r.Clips[len(r.Clips)-1].After; end > reach+eps {
				t.Fatalf("last clip of a branch %s from its connector, clip-end %s", end, reach)
			}
			if first := r.Clips[0].After; first > max(reach, span/2)+eps || first > reach+eps && r.Length > reach+short {
				t.Fatalf("first clip of a branch of %s at %s, clip-end %s, span %s", r.Length, first, reach, span)
			}
		}
		r := runOf(p, "trunk")
		var at []unit.Length
		for _, c := range r.Clips {
			if c.Known {
				at = append(at, c.After)
			}
		}
		if !slices.IsSorted(at) {
			t.Fatalf("not in order: %v", at)
		}
		computed := slices.ContainsFunc(r.Clips, func(c Clip) bool { return c.Why != "fixed" })
		if !computed && r.Length <= short || r.Length == 0 {
			return
		}
		if len(at) == 0 {
			t.Fatalf("no clip on %s", r.Length)
		}
		for i := 1; i < len(at); i++ {
			if at[i]-at[i-1] > span+eps {
				t.Fatalf("gap of %s, span %s: %v", at[i]-at[i-1], span, at)
			}
		}
		if at[0] > reach+eps {
			t.Fatalf("first clip at %s, clip-end %s", at[0], reach)
		}
		if end := r.Length - at[len(at)-1]; end > max(reach, span/2)+eps || !d.onwards && end > reach+eps {
			t.Fatalf("last clip %s from the end, clip-end %s, span %s", end, reach, span)
		}
		near := func(x unit.Length) unit.Length {
			best := unit.Length(math.Inf(1))
			for _, a := range at {
				best = min(best, unit.Length(math.Abs(float64(a-x))))
			}
			return best
		}
		for i := 1; i < len(r.Nodes)-1; i++ {
			n := r.Nodes[i]
			if slices.Contains(d.branches, i) {
				if near(n.After) > reach+eps {
					t.Fatalf("breakout at %s is %s from a clip", n.After, near(n.After))
				}
			} else if bend(r.Nodes[i-1].At, n.At, r.Nodes[i+1].At) >= 30+eps && near(n.After) > reach/2+eps {
				t.Fatalf("bend at %s is %s from a clip", n.After, near(n.After))
			}
		}
	})
}

// bend by the law of cosines, another way than the program's.
func bend(p, q, r design.Point3) float64 {
	a, b, c := float64(space.Between(p, q)), float64(space.Between(q, r)), float64(space.Between(p, r))
	if a == 0 || b == 0 {
		return 0
	}
	return 180 - math.Acos(max(-1, min(1, (a*a+b*b-c*c)/(2*a*b))))*180/math.Pi
}

func TestCutProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := Make(d.job, d.nt, d.sizes)
		round := d.length("cut-round")
		if round == 0 {
			round = 1
		}
		for _, s := range p.Sections {
			for _, c := range s.Cuts {
				way := unit.Length(0)
				for _, st := range d.nt.Wires[c.Wire].Path {
					e := d.nt.Space.Edges[st.Edge]
					way += e.Length + e.Slack
				}
				var sum unit.Length
				for _, x := range c.Terms {
					if x.Length <= 0 {
						t.Fatalf("%s: term %+v", c.Name, x)
					}
					sum += x.Length
				}
				take := d.job.Settings.Get("take-up", design.Scope{}).Value.Quantity.Value
				least := float64(way)*(1+take) + 150 // a tail of 50 and a loop of 25 at both ends
				switch {
				case sum != c.Length:
					t.Fatalf("%s: terms add up to %g, printed %g", c.Name, float64(sum), float64(c.Length))
				case float64(c.Length) < least-1e-6:
					t.Fatalf("%s: cut %g, needs %g", c.Name, float64(c.Length), least)
				case float64(c.Length) > least+float64(round)+float64(len(c.Terms)):
					t.Fatalf("%s: cut %g, needs only %g", c.Name, float64(c.Length), least)
				case math.Abs(math.Remainder(float64(c.Length), float64(round))) > 1e-9:
					t.Fatalf("%s: %g is no multiple of %g", c.Name, float64(c.Length), float64(round))
				}
			}
		}
	})
}

// A slip in a unit must not hang the program.
func TestTinySpanEnds(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Settings.Lines = []design.Setting{set("clip-span", "0.0001 mm")}
	if n := len(runOf(Make(job, nt, sizes), "tunnel").Clips); n > mostClips {
		t.Errorf("%d clips", n)
	}
}
