package shell_test

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"

	"pgregory.net/rapid"
)

// frame is a panel with the places on it that are taken.
type frame struct {
	name       string
	o          design.Point3
	across, up solid.Vector
	used       map[[2]int]bool
}

// at is a place on the panel, and off it.
func (f *frame) at(u, v, off unit.Length) design.Point3 {
	p := solid.Moved(solid.Moved(f.o, f.across.Scale(unit.Ratio(u))), f.up.Scale(unit.Ratio(v)))
	return solid.Moved(p, f.across.Cross(f.up).Scale(unit.Ratio(off)))
}

// anyBody is a body of up to three flat panels in any position, with breaks, bushes, clips and stated holes on them. Things lie on a grid of
// 5 mm in their panel, no two at one place.
func anyBody(t *rapid.T) *body {
	b := wall()
	b.job.Panels, b.job.Runs, b.job.Zones = nil, nil, nil
	number := func(name string, low, high int) unit.Length {
		return unit.Length(rapid.IntRange(low, high).Draw(t, name))
	}
	var frames []*frame
	for i := range rapid.IntRange(1, 3).Draw(t, "panels") {
		turn, tilt := float64(number("turn", 0, 359))*math.Pi/180, float64(number("tilt", 0, 90))*math.Pi/180
		f := &frame{name: fmt.Sprintf("p%d", i), o: at(number("x", -2000, 2000), number("y", -800, 800), number("z", 0, 900)), used: map[[2]int]bool{}}
		f.across = solid.Vector{X: unit.Length(math.Cos(turn)), Y: unit.Length(math.Sin(turn))}
		f.up = solid.Vector{X: unit.Length(-math.Sin(turn) * math.Cos(tilt)), Y: unit.Length(math.Cos(turn) * math.Cos(tilt)), Z: unit.Length(math.Sin(tilt))}
		frames = append(frames, f)
		p := &design.Panel{Name: f.name, Thickness: 1.5, Zones: []string{"cabin", "bay"}}
		for _, c := range [4][2]unit.Length{{0, 0}, {600, 0}, {600, 400}, {0, 400}} {
			p.Corners = append(p.Corners, f.at(c[0], c[1], 0))
		}
		b.job.Panels = append(b.job.Panels, p)
		b.job.Runs = append(b.job.Runs, &design.Run{Name: "in-" + f.name, Section: "tub", Zone: "cabin", Stretches: []design.Stretch{{Nodes: []design.Spot{spot(f.at(100, 100, 50)), spot(f.at(300, 300, 50))}}}})
	}
	place := func(off unit.Length) (string, design.Point3, bool) {
		f := frames[rapid.IntRange(0, len(frames)-1).Draw(t, "on")]
		u, v := rapid.IntRange(0, 120).Draw(t, "u"), rapid.IntRange(0, 80).Draw(t, "v")
		if f.used[[2]int{u, v}] {
			return "", design.Point3{}, false
		}
		f.used[[2]int{u, v}] = true
		return f.name, f.at(unit.Length(5*u), unit.Length(5*v), off), true
	}
	b.held.Runs = []fix.RunPlan{{Run: "in-p0", Zone: "cabin", Length: 1000, SpanLimit: 300}}
	for i := range rapid.IntRange(0, 12).Draw(t, "things") {
		kind := rapid.SampledFrom([]string{"break", "post", "bush", "clip", "clip", "hole", "mark"}).Draw(t, "kind")
		off := unit.Length(0)
		if kind == "clip" {
			off = number("off", 0, 30)
		}
		panel, p, ok := place(off)
		if !ok {
			continue
		}
		name := fmt.Sprintf("%s-%d", kind, i)
		frozen := rapid.SampledFrom([]string{"", "A"}).Draw(t, "frozen")
		switch kind {
		case "break", "post":
			x := b.brk(name, rapid.SampledFrom([]string{"round", "square", "none"}).Draw(t, "part"), p)
			x.Panel, x.Turn, x.Frozen = panel, unit.Angle(number("key", 0, 359)), frozen
			x.Flange = rapid.SampledFrom([]string{"", "cabin", "bay"}).Draw(t, "flange")
			if kind == "post" {
				x.Halves[0].Contacts, x.Halves[1].Contacts = "", ""
			}
		case "bush", "mark":
			x := &design.Point{Name: name, Spot: spot(p), Panel: panel}
			if kind == "bush" {
				x.Bush = 12
			}
			b.job.Points = append(b.job.Points, x)
		case "clip":
			c := fix.Clip{Mark: name, At: p, Known: true, Panel: panel, After: unit.Length(10 * i), Fastener: rapid.SampledFrom([]string{"nut-m5", "stud-m5", "screw-m5", "base", ""}).Draw(t, "fastener")}
			b.held.Runs[0].Clips = append(b.held.Runs[0].Clips, c)
		case "hole":
			h := b.hole(name, p, number("drill", 3, 20), rapid.SampledFrom([]string{"", "nut-m5"}).Draw(t, "fastener"), frozen)
			h.Panel = panel
		}
	}
	return b
}

// needed counts what the bare body needs by the inputs alone.
func (b *body) needed() int {
	n := len(b.job.Holes)
	for _, x := range b.job.Breaks {
		n++
		for _, h := range b.job.Parts.Housings {
			if h.Name == x.Halves[0].Housing {
				n += len(h.Fixings)
			}
		}
	}
	for _, p := range b.job.Points {
		if p.Bush > 0 {
			n++
		}
	}
	for _, r := range b.held.Runs {
		for _, c := range r.Clips {
			if c.Fastener != "base" {
				n++
			}
		}
	}
	return n
}

func TestEveryHoleOnceAndFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBody(t)
		s := b.find()
		if len(s.Holes) != b.needed() {
			t.Fatalf("%d holes, %d needed: %v", len(s.Holes), b.needed(), marks(s))
		}
		seen, whats := map[string]bool{}, map[string]bool{}
		for _, h := range s.Holes {
			if seen[h.Mark] || whats[h.What] && h.What != "hole" {
				t.Fatalf("%s (%s) twice", h.Mark, h.What)
			}
			seen[h.Mark], whats[h.What] = true, true
		}
		walks := map[int]bool{}
		for _, p := range s.Panels {
			walks[p.Walk] = true
			if p.Walk < 1 || p.Walk > len(b.job.Panels) {
				t.Fatalf("walk %d", p.Walk)
			}
		}
		if len(walks) != len(b.job.Panels) {
			t.Fatalf("walk %v", walks)
		}
	})
}

// crossings are the places of a plane at given distances from two others: what a person finds with two tapes.
func crossings(p solid.Plane, a, b shell.Ref) (out []design.Point3) {
	fa, _ := p.Flat(a.At)
	fb, _ := p.Flat(b.At)
	du, dv := float64(fb.U-fa.U), float64(fb.V-fa.V)
	d := math.Hypot(du, dv)
	along := (d*d + float64(a.Distance)*float64(a.Distance) - float64(b.Distance)*float64(b.Distance)) / (2 * d)
	across := math.Sqrt(max(0, float64(a.Distance)*float64(a.Distance)-along*along))
	for _, side := range []float64{1, -1} {
		out = append(out, p.Space(solid.Flat{U: fa.U + unit.Length((along*du-side*across*dv)/d), V: fa.V + unit.Length((along*dv+side*across*du)/d)}))
	}
	return out
}

func TestTwoTapesFindTheHole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBody(t)
		s := b.find()
		panel := map[string]*shell.Panel{}
		for i := range s.Panels {
			panel[s.Panels[i].Name] = &s.Panels[i]
		}
		listed := map[string]bool{}
		for i := range s.Holes {
			h := &s.Holes[i]
			if len(h.Refs) != 2 {
				t.Fatalf("%s has %d references", h.Mark, len(h.Refs))
			}
			p := panel[h.Panel]
			if f, off := p.Plane.Flat(h.At); math.Abs(float64(off)) > 1e-6 || !near(f.U, h.Flat.U) || !near(f.V, h.Flat.V) {
				t.Fatalf("%s is %s off its panel", h.Mark, off)
			}
			var on []design.Point3
			found := false
			for _, c := range crossings(p.Plane, h.Refs[0], h.Refs[1]) {
				if f, _ := p.Plane.Flat(c); p.Outline.Holds(f) && (len(on) == 0 || solid.Between(on[0], c) > 1.01) {
					on = append(on, c)
				}
				found = found || solid.Between(c, h.At) < 0.05
			}
			if !found {
				t.Fatalf("%s at %v is not where the circles of %v cross", h.Mark, h.At, h.Refs)
			}
			// Where both crossings are on the panel the words tell which.
			if len(on) > 1 && h.Which == "" {
				f0, f1 := on[0], on[1]
				t.Fatalf("%s: %v or %v, and no word which", h.Mark, f0, f1)
			}
			if h.Which != "" {
				for _, c := range on {
					if solid.Between(c, h.At) < 0.05 {
						continue
					}
					d := solid.Minus(h.At, c)
					axis := map[byte]unit.Length{'x': d.X, 'y': d.Y, 'z': d.Z}[h.Which[len(h.Which)-1]]
					if strings.Contains(h.Which, "greater") != (axis > 0) {
						t.Fatalf("%s at %v, other %v: %q", h.Mark, h.At, c, h.Which)
					}
				}
			}
			// What is not there yet is listed before.
			for _, r := range h.Refs {
				if rest, ok := strings.CutPrefix(r.To, "hole "); ok && !listed[rest] && holeOf(nil, s, rest).New {
					t.Fatalf("%s is found from %s, which comes later", h.Mark, rest)
				}
			}
			listed[h.Mark] = true
		}
	})
}

// TestFrozenStays freezes every decision and finds again: the same holes at the same places, none of them new, and the same decisions, all old.
func TestFrozenStays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBody(t)
		first := b.find()
		for _, d := range first.Decisions {
			if d.Old {
				continue
			}
			line := &design.Hole{Name: d.Name, Spot: spot(d.At), Panel: d.Panel, Drill: d.Drill, High: d.High, Fastener: d.Fastener, Common: design.Common{Frozen: d.Revision}}
			if n := slices.IndexFunc(b.job.Holes, func(h *design.Hole) bool { return h.Name == d.Name }); n >= 0 {
				if !d.Stated {
					t.Fatalf("%s is a name that is taken", d.Name)
				}
				b.job.Holes[n] = line
				continue
			}
			b.job.Holes = append(b.job.Holes, line)
		}
		second := b.find()
		if len(second.Holes) != len(first.Holes) || len(second.Decisions) != len(first.Decisions) {
			t.Fatalf("%v became %v", marks(first), marks(second))
		}
		for i := range first.Holes {
			a := &first.Holes[i]
			z := holeOf(nil, second, a.Mark)
			if z.What != a.What || z.Kind != a.Kind || solid.Between(a.At, z.At) > 0.2 || !near(a.Drill, z.Drill) || !near(a.High, z.High) || a.Fastener != z.Fastener || a.FastenerKind != z.FastenerKind || a.Panel != z.Panel {
				t.Fatalf("%+v became %+v", *a, *z)
			}
			if decided := a.Drill > 0 || a.Fastener != ""; decided && z.New {
				t.Fatalf("%s is still new", a.Mark)
			}
		}
		for i, d := range second.Decisions {
			if !d.Old || d.Name != first.Decisions[i].Name || d.At != first.Decisions[i].At || d.Drill != first.Decisions[i].Drill || d.High != first.Decisions[i].High || d.Revision != first.Decisions[i].Revision {
				t.Fatalf("%+v became %+v", first.Decisions[i], d)
			}
		}
	})
}

// TestOrderOfLinesNeverShows shuffles every list of the inputs.
func TestOrderOfLinesNeverShows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBody(t)
		first := b.find()
		r := rand.New(rand.NewSource(int64(rapid.IntRange(0, 1000).Draw(t, "seed"))))
		shuffle := func(n int, swap func(i, j int)) { r.Shuffle(n, swap) }
		j := b.job
		shuffle(len(j.Panels), reflect.Swapper(j.Panels))
		shuffle(len(j.Holes), reflect.Swapper(j.Holes))
		shuffle(len(j.Breaks), reflect.Swapper(j.Breaks))
		shuffle(len(j.Points), reflect.Swapper(j.Points))
		shuffle(len(j.Runs), reflect.Swapper(j.Runs))
		shuffle(len(b.held.Runs[0].Clips), reflect.Swapper(b.held.Runs[0].Clips))
		if second := b.find(); !reflect.DeepEqual(first, second) {
			t.Fatalf("%v became %v", marks(first), marks(second))
		}
	})
}

// TestNonsense feeds numbers that are none, names that mean nothing, and panels that are none.
func TestNonsense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBody(t)
		b.job.Painted = rapid.SampledFrom([]string{"", "B"}).Draw(t, "painted")
		odd := func() unit.Length {
			return unit.Length(rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), -5, 0, 1e300, -1e300, 3}).Draw(t, "odd"))
		}
		maybe := func() bool { return rapid.IntRange(0, 3).Draw(t, "maybe") == 0 }
		spoil := func(p *unit.Length) {
			if maybe() {
				*p = odd()
			}
		}
		for _, p := range b.job.Panels {
			spoil(&p.Thickness)
			if maybe() {
				p.Corners[0].X = odd()
			}
			if maybe() {
				p.Points, p.Corners = p.Corners, nil
			}
			if maybe() {
				p.Corners = p.Corners[:min(len(p.Corners), 1)]
			}
			if maybe() {
				p.KeepOuts = [][]design.Point3{nil, {at(odd(), 0, 0), at(0, odd(), 0), at(0, 0, 1)}, p.Corners}
			}
			if maybe() {
				p.Zones = nil
			}
		}
		for _, h := range b.job.Parts.Housings {
			for _, x := range []*unit.Length{&h.CutOut, &h.CutHigh, &h.Flange[0], &h.Flange[1], &h.Nut, &h.Room, &h.Grips[0], &h.Grips[1]} {
				spoil(x)
			}
			for i := range h.Fixings {
				spoil(&h.Fixings[i].At[0])
				spoil(&h.Fixings[i].Drill)
			}
		}
		for _, f := range b.job.Parts.Fasteners {
			spoil(&f.Drill)
			spoil(&f.Least)
			spoil(&f.Grips[1])
		}
		for _, x := range b.job.Breaks {
			spoil(&x.At.X)
			if maybe() {
				x.Turn = unit.Angle(odd())
			}
			if maybe() {
				x.Panel = "no such"
			}
		}
		for _, p := range b.job.Points {
			spoil(&p.Bush)
			spoil(&p.At.Z)
		}
		for _, h := range b.job.Holes {
			spoil(&h.Drill)
			spoil(&h.High)
			spoil(&h.At.Y)
		}
		r := &b.held.Runs[0]
		spoil(&r.Length)
		spoil(&r.SpanLimit)
		for i := range r.Clips {
			spoil(&r.Clips[i].After)
			spoil(&r.Clips[i].At.Y)
			spoil(&r.Clips[i].Drill)
			if maybe() {
				r.Clips[i].Hole, r.Clips[i].With = "hole-1", "clip-2"
			}
		}
		for _, name := range []string{"paint-coat", "hole-apart", "template-reach", "earth-pad"} {
			if maybe() {
				b.job.Settings.Lines = append(b.job.Settings.Lines, design.Setting{Name: name, Value: design.SettingValue{Quantity: unit.Quantity{Value: float64(odd())}}})
			}
		}
		earths(b)
		s := b.find()
		if where := nonsense(reflect.ValueOf(s).Elem(), "shell"); where != "" {
			t.Fatalf("%s is no number", where)
		}
	})
	if s := shell.Find(&design.Job{}, nil, nil); len(s.Holes) > 0 {
		t.Error("holes of nothing")
	}
	if s := shell.Find(&design.Job{Painted: "B", Breaks: []*design.Break{{Panel: "x"}}, Holes: []*design.Hole{{}}}, &net.Net{}, &fix.Plan{Runs: []fix.RunPlan{{Clips: []fix.Clip{{}}}}}); len(s.Holes) != 3 {
		t.Errorf("%+v", s.Holes)
	}
}

// nonsense names the first number in a value that is none.
func nonsense(v reflect.Value, name string) string {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			return name
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if where := nonsense(v.Field(i), name+"."+v.Type().Field(i).Name); where != "" {
				return where
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if where := nonsense(v.Index(i), fmt.Sprintf("%s[%d]", name, i)); where != "" {
				return where
			}
		}
	}
	return ""
}
