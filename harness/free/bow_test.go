package free

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// TestBow draws the arc that bow answers with, chord by chord, and measures how far its ends came together.
func TestBow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		give := rapid.Float64Range(1, 200).Draw(t, "give")
		radius := rapid.Float64Range(give/(2*math.Pi)*1.01, 2000).Draw(t, "radius")
		length := float64(bow(unit.Length(give), unit.Length(radius)))
		const n = 4000
		x, y, heading := 0.0, 0.0, 0.0
		for range n {
			heading += length / n / radius
			x += length / n * math.Cos(heading)
			y += length / n * math.Sin(heading)
		}
		if got := length - math.Hypot(x, y); math.Abs(got-give) > 0.01*give {
			t.Errorf("an arc of %g at radius %g gives %g, not %g", length, radius, got, give)
		}
	})
	for _, c := range []struct{ give, radius, want unit.Length }{
		{0, 30, 0}, {-5, 30, 0}, {40, 0, 40}, {40, 2, 40}, // nothing to give; no radius; thin enough to be folded
		{unit.Length(100 * (math.Pi/2 - 1)), 50, unit.Length(50 * math.Pi)}, // half a circle: 2 r (pi/2 - 1) of a length of pi r
	} {
		if got := bow(c.give, c.radius); math.Abs(float64(got-c.want)) > 1e-6 {
			t.Errorf("bow(%v, %v) = %v, not %v", c.give, c.radius, got, c.want)
		}
	}
}
