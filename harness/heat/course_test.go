package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// The parts of a way hang together, last as long as was asked, end where After does, and by the formula of a Leg take the time they are said to; what stays in the
// copper lies between what would at their ends.
func TestCourse(t *testing.T) {
	c := math.Sqrt(float64(data.Copper.HeatCapacity) * 254.5 / (float64(data.Copper.Resistivity) / 1000))
	seen := 0
	rapid.Check(t, func(t *rapid.T) {
		b, th := somewhere(t)
		wire := rapid.IntRange(0, len(b.nt.Wires)-1).Draw(t, "wire")
		amps := unit.Current(rapid.Float64Range(0.1, 300).Draw(t, "amps"))
		d := unit.Time(math.Pow(10, rapid.Float64Range(-3, 5).Draw(t, "log of time")))
		end := th.After(wire, amps, d)
		way := th.Course(wire, amps, d)
		if len(way) == 0 {
			if rise := end - th.Steady(wire); rise > 2*leastWay {
				t.Fatalf("no way up %v", rise)
			}
			return
		}
		seen++
		area := math.Sqrt(float64(b.conds[wire].Size.Area()) * float64(data.Copper.Resistivity) / float64(b.conds[wire].Resistance))
		sum, last := 0.0, way[0].From
		for _, l := range way {
			if l.From != last || !(l.To > l.From) || !(l.For > 0) {
				t.Fatalf("%+v after %v", l, last)
			}
			byHand := math.Pow(c*area/float64(amps), 2) / float64(l.Keeps) * math.Log((234.5+float64(l.To))/(234.5+float64(l.From)))
			if math.Abs(byHand-float64(l.For)) > 1e-6*byHand {
				t.Fatalf("%+v: %v s by hand", l, byHand)
			}
			most, least := 1-math.Pow(float64(l.FromHolds/amps), 2), 1-math.Pow(float64(l.ToHolds/amps), 2)
			if k := float64(l.Keeps); end < hottest && (k > most+1e-6 || k < least-1e-6) {
				t.Fatalf("%+v: between %v and %v", l, most, least)
			}
			sum, last = sum+float64(l.For), l.To
		}
		if math.Abs(float64(last-end)) > 1e-6 || math.Abs(sum-float64(d)) > 1e-6*float64(d) {
			t.Fatalf("ends at %v after %v s, asked were %v and %v", last, sum, end, d)
		}
	})
	if seen == 0 {
		t.Error("no wire warms")
	}
}
