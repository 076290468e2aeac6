package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The balance of a surface ends on the bit on which halving ends.
func TestMeetsAsBisect(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ta := rapid.Float64Range(coolest, 300).Draw(t, "air")
		high := rapid.Float64Range(ta, hottest).Draw(t, "high")
		s := surface{math.Pow(10, rapid.Float64Range(-4, 0).Draw(t, "diameter")), rapid.Float64Range(0, 1).Draw(t, "emissivity"), 101325}
		heat := s.loss(high, ta) * math.Pow(10, rapid.Float64Range(-9, 0.1).Draw(t, "heat"))
		more := heat * rapid.Float64Range(0, 0.01).Draw(t, "slope")
		if rapid.Bool().Draw(t, "falls") { // to nothing by so much of the way, as the heat of a wire held at one temperature does
			more = -heat / ((high - ta) * rapid.Float64Range(0.3, 2).Draw(t, "by"))
		}
		a := s.in(ta)
		want := bisect(ta, high, func(x float64) bool { return a.loss(x)-(heat+more*(x-ta)) >= 0 })
		if got := a.meets(high, heat, more); got != want {
			t.Fatalf("%v, by halving %v", got, want)
		}
	})
}

// Near a good guess the function is asked a few times; a bad one, and a function that steps, is flat, or never comes up, end as by halving.
func TestCrossingAsBisect(t *testing.T) {
	for name, f := range map[string]func(float64) float64{
		"line":    func(x float64) float64 { return x - math.Pi },
		"step":    func(x float64) float64 { return math.Copysign(1, x-math.Pi) },
		"never":   func(float64) float64 { return -1 },
		"always":  func(float64) float64 { return 1 },
		"steep":   func(x float64) float64 { return math.Expm1(100 * (x - 7)) },
		"not one": func(x float64) float64 { return math.NaN() },
		"cube":    func(x float64) float64 { return (x - 2) * (x - 2) * (x - 2) },
	} {
		want := bisect(0, 10, func(x float64) bool { return f(x) >= 0 })
		for _, guess := range []float64{-1, 0, 1e-20, 1, math.Pi, 7, 10, 11, math.NaN(), math.Inf(1)} {
			asked := 0
			got := crossing(0, 10, guess, func(x float64) float64 { asked++; return f(x) })
			if got != want {
				t.Errorf("%s, guess %v: %v, by halving %v", name, guess, got, want)
			}
			if name == "line" && guess == math.Pi && asked > 6 {
				t.Errorf("asked %d times", asked)
			}
		}
	}
}

// The cell of a guess is where halving ends, and the greatest point below it that halving came by.
func TestCellAsBisect(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low, high := rapid.Float64Range(coolest, 400).Draw(t, "low"), hottest
		if rapid.Bool().Draw(t, "whole") {
			low = math.Round(low*16) / 16
		}
		guess := low + (high-low)*rapid.Float64Range(0, 0.999999).Draw(t, "share")
		if rapid.Bool().Draw(t, "on the way") { // a point that halving comes by
			guess = low + (high-low)*float64(rapid.IntRange(0, 1023).Draw(t, "part"))/1024
		}
		below := low
		want := bisect(low, high, func(x float64) bool {
			if x > guess {
				return true
			}
			below = x
			return false
		})
		if under, over := cell(low, high, guess); over != want || under != below {
			t.Fatalf("from %v to %v, by halving from %v to %v", under, over, below, want)
		}
	})
}

func BenchmarkMeets(b *testing.B) {
	s := surface{0.02, 0.9, 101325}
	a := s.in(40)
	heat := s.loss(75, 40)
	b.Run("halving", func(b *testing.B) {
		for b.Loop() {
			bisect(40, hottest, func(x float64) bool { return a.loss(x)-heat >= 0 })
		}
	})
	b.Run("meets", func(b *testing.B) {
		for b.Loop() {
			a.meets(hottest, heat, 0.01)
		}
	})
}
