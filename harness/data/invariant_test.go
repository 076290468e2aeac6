package data

import (
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

func TestNextAWGNotLarger(t *testing.T) {
	for area, want := range map[unit.Area]int{0.5: 22, 0.52: 20, 1: 18, 1.5: 16, 2.5: 14, 16: 6, 25: 4, 50: 1, 70: -1, 1e6: -3} {
		if got, ok := NextAWGNotLarger(area); !ok || got != unit.AWG(want) {
			t.Errorf("%v: %v, want %v", area, got, unit.AWG(want))
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := unit.Area(rapid.Float64Range(0.0001, 200).Draw(t, "area"))
		s, ok := NextAWGNotLarger(a)
		if !ok {
			if a >= unit.AWG(30).Area() {
				t.Fatalf("%v has a gauge", a)
			}
			return
		}
		if s.Area() > a {
			t.Fatalf("%v is larger than %v", s, a)
		}
		for _, row := range Aircraft {
			if area := row.Size.Area(); area <= a && area > s.Area() {
				t.Fatalf("%v is not the largest under %v", s, a)
			}
		}
		if _, _, ok := AircraftBundle(s, 150); !ok && s.Gauge <= 24 {
			t.Fatalf("%v has no row in the table it is meant for", s)
		}
	})
}

// More copper, a hotter rating, fewer wires: never less current.
func TestAmpsRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rating := unit.Temperature(rapid.Float64Range(60, 260).Draw(t, "rating"))
		n := rapid.IntRange(1, 40).Draw(t, "wires")
		engine := rapid.Bool().Draw(t, "engine")
		var last unit.Current
		for _, row := range Marine {
			a, info, ok := MarineAmps(row.Size, rating, engine, n)
			if !ok || a < last || info.Document == "" || info.Condition == "" {
				t.Fatalf("%v at %v: %v after %v", row.Size, rating, a, last)
			}
			if more, _, _ := MarineAmps(row.Size, rating, engine, n+1); more > a {
				t.Fatalf("%v: one more wire raised %v to %v", row.Size, a, more)
			}
			if hot, _, _ := MarineAmps(row.Size, rating, true, n); hot > a {
				t.Fatalf("%v: the engine space raised %v to %v", row.Size, a, hot)
			}
			last = a
		}
		last = 0
		for _, row := range Aircraft {
			if a, _, ok := AircraftBundle(row.Size, rating); ok {
				if a < last {
					t.Fatalf("%v at %v: %v after %v", row.Size, rating, a, last)
				}
				last = a
			}
		}
	})
}

func TestResistanceRisesWithHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := unit.Temperature(rapid.Float64Range(-200, 300).Draw(t, "a"))
		b := unit.Temperature(rapid.Float64Range(-200, 300).Draw(t, "b"))
		ra, rb := Copper.ResistanceAt(0.01, a), Copper.ResistanceAt(0.01, b)
		if !(ra > 0) || a < b && ra > rb {
			t.Fatalf("%v at %v, %v at %v", ra, a, rb, b)
		}
	})
}

func TestBasisOf(t *testing.T) {
	for source, want := range map[string]Basis{
		"": FromMemory, "typical": FromMemory, "ISO 6722-1:2011, from memory": FromMemory, "IEC 60228:2004 class 5, plain": Verified,
	} {
		if got := BasisOf(source); got != want {
			t.Errorf("%q: %v, want %v", source, got, want)
		}
	}
}
