package data

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
)

// TestFuseKindsEnd: a rating that a family is not made in has no window. The ranges are those the families are sold in.
func TestFuseKindsEnd(t *testing.T) {
	for _, c := range []struct {
		kind        string
		least, most unit.Current
	}{{BladeF, 2, 30}, {BladeC, 1, 40}, {BladeE, 20, 80}, {BoltIn, 30, 200}, {Link, 100, 500}} {
		for rating, want := range map[unit.Current]bool{c.least: true, c.most: true, c.least - 0.5: false, c.most + 0.5: false} {
			if got := len(FuseGateOf(c.kind, rating)) > 0; got != want {
				t.Errorf("%s %v: %v", c.kind, rating, got)
			}
		}
		for _, g := range FuseGateOf(c.kind, c.most) {
			if g.Most > 0 && g.Least >= g.Most || g.Times < 1 {
				t.Errorf("%s: %+v", c.kind, g)
			}
		}
	}
	for i, e := range FuseElements {
		// of two fuses of a kind the larger has less resistance and takes more to melt
		for _, o := range FuseElements[:i] {
			if o.Kind == e.Kind && (o.Rating < e.Rating) != (o.Cold > e.Cold && o.Melt < e.Melt) {
				t.Errorf("%+v and %+v", o, e)
			}
		}
	}
}

// TestDropsAreOneThing: each row limits either volts or a share of the supply, never both, and no share is a whole.
func TestDropsAreOneThing(t *testing.T) {
	for _, list := range [][]DropAdvice{VehicleDrops, MarineDrops} {
		for _, d := range list {
			if (d.Most > 0) == (d.Share > 0) || d.Most < 0 || d.Share < 0 || d.Share >= 1 || d.Most > 1 {
				t.Errorf("%+v", d)
			}
		}
	}
}

// TestAdiabaticSmall: S = i sqrt(t) / k and t = (k S / i)^2, worked by hand, with every factor below one in turn.
func TestAdiabaticSmall(t *testing.T) {
	for _, c := range []struct {
		k    Adiabatic
		i    unit.Current
		t    unit.Time
		area unit.Area
	}{{0.5, 10, 4, 40}, {2, 0.5, 4, 0.5}, {10, 2, 0.25, 0.1}, {100, 1000, 0.01, 1}} {
		if area, ok := c.k.Area(c.i, c.t); !ok || math.Abs(float64(area-c.area)) > 1e-12 {
			t.Errorf("%+v: area %v", c, area)
		}
		if back, ok := c.k.Time(c.i, c.area); !ok || math.Abs(float64(back-c.t)) > 1e-12 {
			t.Errorf("%+v: time %v", c, back)
		}
		if area, _ := c.k.Area(-c.i, c.t); area != c.area {
			t.Errorf("%+v: the direction counts: %v", c, area)
		}
	}
	if area, ok := Adiabatic(100).Area(5, 0); !ok || area != 0 {
		t.Errorf("no time: %v", area)
	}
	for _, c := range []struct {
		k Adiabatic
		i unit.Current
		a unit.Area
	}{{0, 1, 1}, {1, 0, 1}, {1, 1, 0}, {1, -1, 1}, {-1, 1, 1}, {1, 1, -1}} {
		if _, ok := c.k.Time(c.i, c.a); ok {
			t.Errorf("%+v stands a time", c)
		}
	}
	if _, ok := Adiabatic(100).Area(5, -0.5); ok {
		t.Error("a time below none")
	}
}
