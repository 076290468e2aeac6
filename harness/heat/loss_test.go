package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// plainLoss is surface.loss as the law is printed, with the air's properties by airAt.
func plainLoss(s surface, ts, ta float64) float64 {
	dt := ts - ta
	if dt <= 0 || s.diameter <= 0 {
		return 0
	}
	a := airAt((ts+ta)/2, s.pressure)
	ra := gravity * a.expansion * dt * math.Pow(s.diameter, 3) * a.prandtl / (a.viscosity * a.viscosity)
	root := 0.60 + 0.387*math.Pow(ra, 1.0/6)/math.Pow(1+math.Pow(0.559/a.prandtl, 9.0/16), 8.0/27)
	h := root * root * a.conductivity / s.diameter
	hot, cold := ts+zeroC, ta+zeroC
	return math.Pi * s.diameter * (h*dt + s.emissivity*boltz*(hot*hot+cold*cold)*(hot+cold)*dt)
}

// The loss worked out in one go is that of the printed law.
func TestLossAsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := surface{math.Pow(10, rapid.Float64Range(-5, 1).Draw(t, "diameter")), rapid.Float64Range(0, 1).Draw(t, "emissivity"), rapid.Float64Range(5000, 101325).Draw(t, "pressure")}
		ta := rapid.Float64Range(coolest, hottest).Draw(t, "air")
		ts := rapid.Float64Range(ta-1, hottest).Draw(t, "surface")
		got, want := s.loss(ts, ta), plainLoss(s, ts, ta)
		if math.Abs(got-want) > 1e-13*want {
			t.Fatalf("%v at %v in %v: %v, as printed %v", s, ts, ta, got, want)
		}
	})
}

func BenchmarkLoss(b *testing.B) {
	s := surface{0.02, 0.9, 101325}
	b.Run("printed", func(b *testing.B) {
		for b.Loop() {
			plainLoss(s, 90, 40)
		}
	})
	b.Run("one go", func(b *testing.B) {
		a := s.in(40)
		for b.Loop() {
			a.loss(90)
		}
	})
}
