package drawing

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// TestProject holds the views against closed forms: in an isometric of ISO 5456-3 the three axes stand 120 degrees apart, equally long, the
// level ones 30 degrees from level, the one that is up upright; the sum of a step along all three vanishes, for one looks along it.
func TestProject(t *testing.T) {
	for _, up := range []Axis{X, Y, Z} {
		v := View{Kind: Isometric, Up: up}
		var sum Place
		for a := range Axis(3) {
			at := [3]unit.Length{}
			at[a] = 1000
			p := Project(v, at[0], at[1], at[2])
			sum = Place{sum.X + p.X, sum.Y + p.Y}
			if got := math.Hypot(float64(p.X), float64(p.Y)); math.Abs(got-1000) > 1e-9 {
				t.Errorf("up %v: %v is %v long", up, a, got)
			}
			angle := math.Atan2(float64(p.Y), float64(p.X)) * 180 / math.Pi
			want := map[Axis]float64{up: 90, (up + 1) % 3: -150, (up + 2) % 3: -30}[a]
			if math.Abs(angle-want) > 1e-9 {
				t.Errorf("up %v: %v stands at %v degrees, want %v", up, a, angle, want)
			}
		}
		if math.Abs(float64(sum.X)) > 1e-9 || math.Abs(float64(sum.Y)) > 1e-9 {
			t.Errorf("up %v: the three together are %v", up, sum)
		}
	}
	for _, c := range []struct {
		view View
		want Place
		name string
	}{
		// x aft, y to the right, z up
		{View{Plan, Z, X}, Place{1, 2}, "Plan, looking down, towards smaller z"}, {View{Side, Z, X}, Place{1, 3}, "Side view from the left, looking towards greater y"},
		{View{Front, Z, X}, Place{-2, 3}, "Front view, looking towards greater x"},
		// y aft, x to the left, z up
		{View{Plan, Z, Y}, Place{2, -1}, "Plan, looking down, towards smaller z"}, {View{Side, Z, Y}, Place{2, 3}, "Side view from the left, looking towards smaller x"},
		{View{Front, Z, Y}, Place{1, 3}, "Front view, looking towards greater y"},
		{View{Plan, Y, Z}, Place{3, 1}, "Plan, looking down, towards smaller y"}, {View{Side, Y, X}, Place{1, 2}, "Side view from the left, looking towards smaller z"},
		{View{Front, X, X}, Place{-3, 1}, "Front view, looking towards greater y"},
	} {
		if got := Project(c.view, 1, 2, 3); got != c.want || c.view.Name() != c.name {
			t.Errorf("%v: %v, %q", c.view, got, c.view.Name())
		}
	}
}

// TestHandedness: no view is a mirror image. What runs to the right, what runs up and what comes towards the reader make a right-handed system.
func TestHandedness(t *testing.T) {
	for _, up := range []Axis{X, Y, Z} {
		a, b := (up+1)%3, (up+2)%3
		for _, along := range []Axis{a, b} {
			var stands, high [3]float64
			stands[along], high[up] = 1, 1
			left := crossed(stands, high) // of one who looks to the front, against along
			for _, c := range []struct {
				kind Kind
				near [3]float64
			}{{Plan, high}, {Side, left}, {Front, negative(stands)}} {
				var right, top [3]float64
				for k := range Axis(3) {
					at := [3]unit.Length{}
					at[k] = 1
					p := Project(View{c.kind, up, along}, at[0], at[1], at[2])
					right[k], top[k] = float64(p.X), float64(p.Y)
				}
				if got := crossed(right, top); got != c.near {
					t.Errorf("view %d, up %v, along %v: %v comes near, want %v", c.kind, up, along, got, c.near)
				}
				if c.kind != Front && right != stands {
					t.Errorf("view %d, up %v, along %v: the front is not to the left", c.kind, up, along)
				}
			}
		}
	}
}

func crossed(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func negative(a [3]float64) [3]float64 { return [3]float64{0 - a[0], 0 - a[1], 0 - a[2]} }

// TestTiles: tiles together show every bit of every line and ring at its own place, and each neighbour has the same joining crosses.
func TestTiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &Drawing{Title: "t", Proof: true}
		at := func() Place {
			return Place{unit.Length(rapid.Float64Range(-300, 400).Draw(t, "x")), unit.Length(rapid.Float64Range(-300, 400).Draw(t, "y"))}
		}
		for range rapid.IntRange(1, 4).Draw(t, "strokes") {
			d.Strokes = append(d.Strokes, Stroke{Cut, []Place{at(), at(), at()}, rapid.Bool().Draw(t, "closed")})
		}
		for range rapid.IntRange(1, 4).Draw(t, "rings") {
			d.Rings = append(d.Rings, Ring{Layer: Cut, Middle: at(), Radius: unit.Length(rapid.Float64Range(1, 200).Draw(t, "r"))})
		}
		tiles := d.Tiles(178, 240)
		if tiles == nil {
			t.Fatal("no tiles")
		}
		on := func(p Place) bool {
			for _, x := range tiles {
				for _, s := range x.Strokes {
					var far []piece
					if s.Layer == Cut {
						far = chain(nil, raw(s), s.Closed)
					}
					for _, q := range far {
						if distance(p, q) < 1e-6 {
							return true
						}
					}
				}
				for _, r := range x.Rings {
					dx, dy := float64(p.X-r.Middle.X), float64(p.Y-r.Middle.Y)
					if math.Abs(math.Hypot(dx, dy)-float64(r.Radius)) < 1e-6 && (r.covers(math.Atan2(dy, dx)*180/math.Pi-1e-4) || r.covers(math.Atan2(dy, dx)*180/math.Pi+1e-4)) {
						return true
					}
				}
			}
			return false
		}
		for _, s := range d.Strokes {
			for _, q := range chain(nil, raw(s), s.Closed) {
				for k := range 21 {
					if p := q.along(float64(k) / 20); !on(p) {
						t.Fatalf("%v of a line is on no tile", p)
					}
				}
			}
		}
		for _, r := range d.Rings {
			for k := range 24 {
				if p := r.at(float64(k) * 15); !on(p) {
					t.Fatalf("%v of a ring is on no tile", p)
				}
			}
		}
		if len(tiles) == 1 {
			return
		}
		count := map[Place]int{}
		for _, x := range tiles {
			if l := x.Lay(178, 240, 1); l.Scale != 1 {
				t.Fatalf("%s at %v", x.Title, l.Scale)
			}
			for _, s := range x.Spots {
				count[Place{unit.Length(math.Round(float64(s.At.X)*1e6) / 1e6), unit.Length(math.Round(float64(s.At.Y)*1e6) / 1e6)}]++
			}
		}
		for p, n := range count {
			if n != 2 {
				t.Fatalf("the cross at %v is on %d tiles", p, n)
			}
		}
	})
}

func raw(s Stroke) (out []page.Point) {
	for _, p := range s.Places {
		out = append(out, page.Point{X: p.X, Y: p.Y})
	}
	return out
}

func distance(p Place, q piece) float64 {
	dx, dy := float64(q.b.X-q.a.X), float64(q.b.Y-q.a.Y)
	k := 0.0
	if n := dx*dx + dy*dy; n > 0 {
		k = max(0, min(1, (float64(p.X-q.a.X)*dx+float64(p.Y-q.a.Y)*dy)/n))
	}
	return math.Hypot(float64(p.X-q.a.X)-k*dx, float64(p.Y-q.a.Y)-k*dy)
}
