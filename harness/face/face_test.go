package face

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func TestKeyTurnsWithTheFace(t *testing.T) {
	h := *lopsided
	h.Keyway, h.Keyed = [2]unit.Length{3, 9}, true
	for _, c := range []struct {
		pins bool
		view View
		x    unit.Length
	}{{false, WireSide, 3}, {false, MatingSide, -3}, {true, WireSide, -3}, {true, MatingSide, 3}} {
		if k := Of(&h, c.pins, c.view).Key; !k.Known || k.X != c.x || k.Y != 9 {
			t.Errorf("pins %v, %s: %+v", c.pins, c.view, k)
		}
	}
	if Of(lopsided, false, WireSide).Key.Known {
		t.Error("a key nobody stated")
	}
}

func TestLoneCavity(t *testing.T) {
	h := &design.Housing{Cavities: []design.HousingCavity{{Name: "1", Placed: true}}}
	if d := Of(h, false, WireSide).Cavities[0].Diameter; d != loneMM {
		t.Errorf("%v", d)
	}
	h.CutOut = 30
	if d := Of(h, false, WireSide).Cavities[0].Diameter; d != 12 {
		t.Errorf("%v", d)
	}
}

// No two cavities meet as drawn, all lie within the outline, and the mirror image of a view is the view from the other side.
func TestCirclesApartAndInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := &design.Housing{}
		if rapid.Bool().Draw(t, "round") {
			h.Flange[0] = 40
		}
		met := map[[2]unit.Length]bool{}
		for range rapid.IntRange(1, 12).Draw(t, "cavities") {
			at := [2]unit.Length{unit.Length(rapid.IntRange(-20, 20).Draw(t, "x")), unit.Length(rapid.IntRange(-20, 20).Draw(t, "y"))}
			if !met[at] {
				met[at] = true
				h.Cavities = append(h.Cavities, design.HousingCavity{At: at, Placed: true})
			}
		}
		f, back := Of(h, false, WireSide), Of(h, false, MatingSide)
		o := f.Outline
		for i, a := range f.Cavities {
			for _, b := range f.Cavities[:i] {
				if hypot(a.X-b.X, a.Y-b.Y) < float64(a.Diameter+b.Diameter)/2 {
					t.Fatalf("%+v meets %+v", a, b)
				}
			}
			r := a.Diameter / 2
			if o.Round && hypot(a.X-o.X, a.Y-o.Y)+float64(r) > float64(o.W)/2 ||
				!o.Round && (math.Abs(float64(a.X-o.X))+float64(r) > float64(o.W)/2 || math.Abs(float64(a.Y-o.Y))+float64(r) > float64(o.H)/2) {
				t.Fatalf("%+v is not within %+v", a, o)
			}
			if m := back.Cavities[i]; m.X != -a.X || m.Y != a.Y || m.Diameter != a.Diameter {
				t.Fatalf("%+v is not the mirror image of %+v", m, a)
			}
		}
		if d := float64(back.Outline.X + o.X); math.Abs(d) > 1e-9 || back.Outline.W != o.W {
			t.Fatalf("%+v and %+v", back.Outline, o)
		}
	})
}
