package protect

import (
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

func series(down, up unit.Current, metres float64) Pair {
	r := newRig(12, 0.005)
	u, d := r.fuse("main", up, blade10), r.fuse("box", down, blade10)
	r.res.Fuses[1].Ahead = []FuseRef{u}
	r.load("lamp", 1)
	r.wire("battery.pos", "main.in", 0.001, 25, 0.0007)
	r.wire("main.out", "box.in", 0.5, 10, 0.0018, u)
	r.wire("box.out", "lamp.1", metres, 1, 0.018, d)
	r.wire("lamp.2", "battery.neg", metres, 4, 0.005, d)
	return r.weigh().Pairs[0]
}

// Two blades of type C in series, by hand from their gates. Far beyond both gates the lower lets through (6 x rating)2 x 0.1 s, the upper stands
// (6 x rating)2 x 0.02 s: it takes a ratio of ratings above root 5 for the lower to clear first.
func TestFusesInOrder(t *testing.T) {
	for _, c := range []struct {
		down, up unit.Current
		metres   float64
		met      bool
	}{
		{10, 30, 0.1, true},   // 3 is above root 5
		{10, 20, 0.1, false},  // 2 is below
		{15, 30, 0.1, false},  // and so is 2 of these
		{10, 40, 3, true},     // some 100 A: 10 times the lower, below 3.5 times the upper
		{20, 30, 3, false},    // 5 times for up to 0.5 s against 3.5 times, open from 0.02 s on
		{7.5, 40, 0.05, true}, // 360 x 0.5625 against 1152
	} {
		p := series(c.down, c.up, c.metres)
		if !p.Known || p.Met != c.met {
			t.Errorf("%v below %v: %+v", c.down, c.up, p)
		}
		if p.ByEnergy != (p.Amps/c.up > 6) {
			t.Errorf("%v below %v at %v judged by energy: %v", c.down, c.up, p.Amps, p.ByEnergy)
		}
		if p.ByEnergy && (p.UpEnergy > p.DownEnergy) != p.Met {
			t.Errorf("%v below %v: %+v", c.down, c.up, p)
		}
	}
}

// Without a gate nothing is known, and nothing is claimed.
func TestPairWithoutGate(t *testing.T) {
	r := newRig(12, 0.005)
	u, d := r.fuse("main", 40, nil), r.fuse("box", 10, []data.FuseGate{})
	r.res.Fuses[1].Ahead = []FuseRef{u}
	r.load("lamp", 1)
	r.wire("battery.pos", "main.in", 0.001, 25, 0.0007)
	r.wire("main.out", "box.in", 0.5, 10, 0.0018, u)
	r.wire("box.out", "lamp.1", 1, 1, 0.018, d)
	r.wire("lamp.2", "battery.neg", 1, 4, 0.005, d)
	res := r.weigh()
	if p := res.Pairs[0]; p.Known || p.Met || p.At == "" {
		t.Errorf("%+v", p)
	}
	for _, s := range res.Shorts {
		if s.Clears != Never {
			t.Errorf("a fuse without a gate clears nothing: %+v", s)
		}
	}
}
