package shell

import (
	"fmt"
	"math"
	"testing"
	"time"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"

	"pgregory.net/rapid"
)

func anyShape(t *rapid.T, name string) shape {
	number := func(what string, low, high int) unit.Length {
		return unit.Length(rapid.IntRange(low, high).Draw(t, name+what))
	}
	return rect(solid.Flat{U: number("u", -60, 60), V: number("v", -60, 60)}, number("wide", 1, 50), number("high", 0, 50), unit.Angle(number("turn", 0, 359)), rapid.SampledFrom([]int{-1, 1}).Draw(t, name+"face"))
}

// rimOf is points on the rim of a shape, no further apart than 0.3 mm.
func rimOf(s shape) (out []solid.Flat) {
	if s.corners == nil {
		for i := range 720 {
			a := float64(i) / 360 * math.Pi
			out = append(out, solid.Flat{U: s.mid.U + unit.Length(float64(s.across)/2*math.Cos(a)), V: s.mid.V + unit.Length(float64(s.across)/2*math.Sin(a))})
		}
		return out
	}
	for i, a := range s.corners {
		b := s.corners[(i+1)%4]
		for k := range 200 {
			f := unit.Length(k) / 200
			out = append(out, solid.Flat{U: a.U + f*(b.U-a.U), V: a.V + f*(b.V-a.V)})
		}
	}
	return out
}

// TestGap holds the gap of two shapes against points along their rims.
func TestGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyShape(t, "a"), anyShape(t, "b")
		got := gap(a, b)
		if d := gap(b, a); math.Abs(float64(d-got)) > 1e-9 {
			t.Fatalf("gap %v one way, %v the other", got, d)
		}
		want, meet := unit.Length(math.Inf(1)), false
		rim := rimOf(b)
		for _, p := range rimOf(a) {
			meet = meet || b.from(p) == 0
			for _, q := range rim {
				want = min(want, apart(p, q))
			}
		}
		for _, q := range rim {
			meet = meet || a.from(q) == 0
		}
		if meet {
			want = 0
		}
		if math.Abs(float64(got-want)) > 0.3 {
			t.Fatalf("gap %v, by points %v: %+v %+v", got, want, a, b)
		}
		// The distance of a place is right where the place is a rim.
		if d := a.from(rim[0]); got == 0 && !meet && d > 0.5 {
			t.Fatalf("meets nowhere: %v", d)
		}
	})
}

// TestSeenAt turns clockwise as seen from either face.
func TestSeenAt(t *testing.T) {
	for _, w := range []struct {
		across, up unit.Length
		turn       unit.Angle
		face       int
		want       solid.Flat
	}{{3, 1, 0, 1, solid.Flat{U: 3, V: 1}}, {3, 1, 0, -1, solid.Flat{U: -3, V: 1}}, {0, 2, 90, 1, solid.Flat{U: 2}}, {0, 2, 90, -1, solid.Flat{U: -2}}, {0, 2, 180, 1, solid.Flat{V: -2}}, {2, 0, 270, 1, solid.Flat{V: 2}}} {
		if got := seenAt(w.across, w.up, w.turn, w.face); apart(got, w.want) > 1e-9 {
			t.Errorf("%+v: %v", w, got)
		}
	}
}

func TestThreadSize(t *testing.T) {
	for thread, want := range map[string]unit.Length{"M8": 8, "m10x1.25": 10, "M2.5": 2.5, "1/4": 6.35, "5/16-18": 7.9375, "": 0, "M": 0, "Mx": 0, "3/0": 0, "big": 0, "M-3": 0, "NaN": 0} {
		if got, ok := threadSize(thread); ok != (want > 0) || math.Abs(float64(got-want)) > 1e-9 && ok {
			t.Errorf("%q: %v %v", thread, got, ok)
		}
	}
}

func TestUncovered(t *testing.T) {
	a, b := solid.Flat{U: 0}, solid.Flat{U: 100}
	box := func(from, to unit.Length) solid.Outline {
		return solid.Outline{{U: from}, {U: from, V: -10}, {U: to, V: -10}, {U: to}}
	}
	for _, w := range []struct {
		others []solid.Outline
		want   string
	}{
		{nil, "0-100 "}, {[]solid.Outline{box(0, 100)}, ""}, {[]solid.Outline{box(-50, 150)}, ""}, {[]solid.Outline{box(20, 40)}, "0-20 40-100 "},
		{[]solid.Outline{box(60, 120), box(0, 59.5)}, ""}, {[]solid.Outline{box(60, 80), box(10, 70)}, "0-10 80-100 "}, {[]solid.Outline{box(120, 150)}, "0-100 "},
		{[]solid.Outline{{{U: 0, V: 2}, {U: 100, V: 2}, {U: 50, V: 50}}}, "0-100 "},
	} {
		got := ""
		for _, x := range uncovered(a, b, w.others) {
			got += fmt.Sprintf("%.0f-%.0f ", float64(x[0].U), float64(x[1].U))
		}
		if got != w.want {
			t.Errorf("%v: %q, want %q", w.others, got, w.want)
		}
	}
}

// TestWalkTurnsBack demands of the walk along holes of one drill that no piece of it could be turned round to make it shorter.
func TestWalkTurnsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var h []need
		for range rapid.IntRange(2, 25).Draw(t, "holes") {
			p := design.Point3{X: unit.Length(rapid.IntRange(0, 50).Draw(t, "x")), Y: unit.Length(rapid.IntRange(0, 50).Draw(t, "y"))}
			h = append(h, need{Hole: Hole{At: p, Known: true}})
		}
		length := func(h []need) (d unit.Length) {
			at := design.Point3{}
			for i := range h {
				d += solid.Between(at, h[i].At)
				at = h[i].At
			}
			return d
		}
		shorten(design.Point3{}, h)
		was := length(h)
		for i := range h {
			for j := i + 1; j < len(h); j++ {
				g := append([]need(nil), h...)
				for a, b := i, j; a < b; a, b = a+1, b-1 {
					g[a], g[b] = g[b], g[a]
				}
				if is := length(g); is < was-1e-5 {
					t.Fatalf("turning %d to %d round makes %v of %v", i, j, is, was)
				}
			}
		}
	})
}

// TestManyHoles bounds the time of a body with thousands of holes on one panel.
func TestManyHoles(t *testing.T) {
	job := &design.Job{Painted: "B", Panels: []*design.Panel{{Name: "p", Corners: []design.Point3{{}, {X: 9000}, {X: 9000, Z: 900}, {Z: 900}}}}}
	run := fix.RunPlan{Run: "r", Panel: "p", Length: 9000}
	for i := range 2000 {
		run.Clips = append(run.Clips, fix.Clip{Mark: fmt.Sprintf("r-%d", i), At: design.Point3{X: unit.Length(i * 4), Z: unit.Length(i * 37 % 900)}, Known: true, Panel: "p", Drill: 5})
	}
	start := time.Now()
	s := Find(job, &net.Net{}, &fix.Plan{Runs: []fix.RunPlan{run}})
	if len(s.Holes) != 2000 {
		t.Errorf("%d holes", len(s.Holes))
	}
	if d := time.Since(start); d > 20*time.Second {
		t.Errorf("took %v", d)
	}
}
