package margin

import (
	"math"
	"testing"

	"loomsheet/harness/contact"
	"loomsheet/harness/heat"
	"loomsheet/harness/protect"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/unit"
)

// TestProportionByHand: what uses a share of its limit may grow to one over it, up to three times; what is past it has no room.
func TestProportionByHand(t *testing.T) {
	for _, c := range []struct {
		used, to float64
		beyond   bool
	}{{0.5, 2, false}, {0.8, 1.25, false}, {1, 1, false}, {1.5, 1, false}, {1.0 / 3, 3, false}, {0.3, 3, true}, {0.01, 3, true}, {0, 3, false}, {-1, 3, false}} {
		r := inProportion("lamp", amperes(10), c.used)
		if math.Abs(r.To.Value-10*c.to) > 1e-9 || r.From.Value != 10 || r.Beyond != c.beyond && c.used > 0 || !r.Own || r.What != Load || r.Of != "lamp" {
			t.Errorf("%g used: %+v", c.used, r)
		}
	}
	for _, c := range []struct {
		k, to  float64
		beyond bool
	}{{10, 10, false}, {0.5, 0.5, false}, {0, 0, false}, {-5, 0, false}, {60, 60, false}, {61, 60, true}} {
		if r := warmerBy("it", c.k); r.From.Value != 0 || r.To.Value != c.to || r.Beyond != c.beyond || r.What != Ambient {
			t.Errorf("%g K: %+v", c.k, r)
		}
	}
}

// TestFuseAmbientByHand: the datasheet leaves of 40 A 40, 34, 30, 25 and 22 at 20, 65, 85, 110 and 125 C. A fuse that needs 32 A of its 40 may stand at 75 C, half way
// between 34 and 30 A.
func TestFuseAmbientByHand(t *testing.T) {
	for _, c := range []struct{ need, at, want float64 }{
		{32, 40, 75 - 40}, {37, 20, 42.5 - 20}, {34, 20, 45}, {30, 60, 25}, {27.5, 85, 97.5 - 85}, {25, 100, 10}, {23.5, 100, 117.5 - 100}, {22, 100, 25}, {10, 100, 25}, {40, 20, 0}, {41, 20, 0}, {39, 70, 0},
	} {
		// what is needed at the factor of where it stands
		factor, _, _ := factorAt(c.at)
		r := &protect.FuseResult{Rating: 40, Ambient: unit.Temperature(c.at), Factor: unit.Ratio(factor), Need: unit.Current(c.need / factor)}
		room, ok := fuseAmbient(r)
		if !ok || math.Abs(room.To.Value-math.Min(c.want, 60)) > 1e-9 {
			t.Errorf("%+v: %+v", c, room)
		}
	}
	for _, r := range []protect.FuseResult{{Rating: 0, Factor: 1}, {Rating: 10, Factor: 0}} {
		if room, ok := fuseAmbient(&r); ok {
			t.Errorf("%+v: %+v", r, room)
		}
	}
}

// factorAt is the datasheet between its points.
func factorAt(at float64) (f, low, high float64) {
	points := [][2]float64{{20, 40}, {65, 34}, {85, 30}, {110, 25}, {125, 22}}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if at <= b[0] {
			return (a[1] + (b[1]-a[1])*(at-a[0])/(b[0]-a[0])) / 40, a[0], b[0]
		}
	}
	return 0, 0, 0
}

// TestContactAmbientByHand: a contact at half of what it may carry warms by a quarter of its rise.
func TestContactAmbientByHand(t *testing.T) {
	for _, c := range []struct {
		shared unit.Current
		rise   unit.TempDiff
		heat   unit.Temperature
		want   float64
		ok     bool
	}{{5, 30, 105, 105 - 60 - 7.5, true}, {10, 30, 105, 15, true}, {10, 50, 105, 0, true}, {0, 30, 105, 45, true}, {10, -5, 105, 45, true}, {5, 30, 0, 0, false}, {1, 30, 200, 60, true}} {
		r := &contact.EndResult{Rating: 20, Loading: 0.5, Shared: c.shared, Rise: c.rise, Heat: c.heat, Ambient: 60}
		if room, ok := contactAmbient(r); ok != c.ok || math.Abs(room.To.Value-c.want) > 1e-9 {
			t.Errorf("%+v: %+v %v", c, room, ok)
		}
	}
	if _, ok := contactAmbient(&contact.EndResult{Heat: 105, Loading: 0.5}); ok {
		t.Error("a contact of no rating")
	}
}

// TestUsedByHand: the share used of what lies between no load and the limit; of heat the rise over the air, or where a table rules the square of the share of its
// current, or where a start makes the peak that.
func TestUsedByHand(t *testing.T) {
	for _, c := range []struct {
		k    fit.Limit
		none unit.Voltage
		want float64
	}{
		{fit.Limit{Got: 0.3, Value: 0.6}, 12, 0.5}, {fit.Limit{Got: 0.9, Value: 0.6}, 12, 1}, {fit.Limit{Got: 0, Value: 0.6}, 12, 0}, {fit.Limit{Got: -0.1, Value: 0.6}, 12, 0}, {fit.Limit{Got: 0.3, Value: 0}, 12, 1},
		{fit.Limit{Floor: true, Got: 11, Value: 10}, 12, 0.5}, {fit.Limit{Floor: true, Got: 9, Value: 10}, 12, 1}, {fit.Limit{Floor: true, Got: 12.5, Value: 10}, 12, 0}, {fit.Limit{Floor: true, Got: 9, Value: 12}, 12, 1},
	} {
		if got := float64(usedVolts(&c.k, c.none)); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v of %v: %g", c.k, c.none, got)
		}
	}
	for _, c := range []struct {
		r    heat.WireResult
		want float64
	}{
		{heat.WireResult{Ruled: heat.Balance, Hottest: 70, Ambient: 40, Limit: 100}, 0.5}, {heat.WireResult{Hottest: 70, Ambient: 40, Limit: 100}, 0.5},
		{heat.WireResult{Ruled: heat.Balance, Hottest: 130, Ambient: 40, Limit: 100}, 1.5}, {heat.WireResult{Ruled: heat.Balance, Hottest: 130, Ambient: 110, Limit: 100}, math.Inf(1)},
		{heat.WireResult{Ruled: heat.Marine, Hottest: 70, Ambient: 40, Limit: 100, Effective: 5, Ampacity: 20}, 1.0 / 16}, {heat.WireResult{Ruled: heat.Aircraft, Effective: 30, Ampacity: 20}, 2.25},
		{heat.WireResult{Ruled: heat.Marine, Start: "pump", Peak: 85, Hottest: 85, Ambient: 40, Limit: 100, Effective: 5, Ampacity: 20}, 0.75},
		{heat.WireResult{Ruled: heat.Balance, Start: "pump", Peak: 85, Hottest: 60, Ambient: 40, Limit: 100}, 0.75},
	} {
		if got := usedHeat(&c.r); math.Abs(got-c.want) > 1e-9 && got != c.want {
			t.Errorf("%+v: %g, want %g", c.r, got, c.want)
		}
		if got := tabled(&c.r); got != (c.r.Start == "" && (c.r.Ruled == heat.Marine || c.r.Ruled == heat.Aircraft)) {
			t.Errorf("%+v: by a table %v", c.r, got)
		}
	}
}
