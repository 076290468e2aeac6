package data

import (
	"testing"

	"loomsheet/harness/unit"
)

func TestLugsRise(t *testing.T) {
	for i := 1; i < len(Lugs); i++ {
		if a, b := Lugs[i-1], Lugs[i]; !(a.Most < b.Most && a.Barrel < b.Barrel && a.Palm < b.Palm) || b.Palm <= b.Barrel {
			t.Errorf("%v after %v", b, a)
		}
	}
	for i := 1; i < len(Threads); i++ {
		if a, b := Threads[i-1], Threads[i]; !(a.Hole < b.Hole && a.Palm < b.Palm && a.Torque < b.Torque) || b.Palm <= b.Hole {
			t.Errorf("%v after %v", b, a)
		}
	}
}

func TestLugSize(t *testing.T) {
	for _, c := range []struct {
		area         float64
		thread       string
		barrel, palm float64
		ok           bool
	}{{2.5, "M4", 4.1, 8, true}, {2.5, "M8x1", 4.1, 15, true}, {25, "M8", 10, 15, true}, {120, "M10", 21, 30, true}, {120.1, "own", 21, 30, true}, {300, "M10", 0, 0, false}, {0, "M10", 0, 0, false}} {
		b, p, ok := LugSize(unit.Area(c.area), c.thread)
		if float64(b) != c.barrel || float64(p) != c.palm || ok != c.ok {
			t.Errorf("%v on %s: %v %v %v", c.area, c.thread, b, p, ok)
		}
	}
}
