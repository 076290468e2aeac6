package protect

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// A gate is cut where a latest time is listed; the worst current of each range is just below its upper end.
func TestStretches(t *testing.T) {
	want := []stretch{{0, 1.35, Never, false}, {1.35, 1.6, 600, false}, {1.6, 2, 50, false}, {2, 3.5, 5, false}, {3.5, 6, 0.5, false}, {6, 6, 0.1, false}}
	got := stretches(blade10)
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		g := got[i]
		if g.from != want[i].from || g.to != want[i].to || g.latest != want[i].latest {
			t.Errorf("%v, want %v", g, want[i])
		}
	}
	// A gate that ends at twice the rating goes on at constant energy.
	short := stretches([]data.FuseGate{{Times: 1.5, Most: 3600}, {Times: 2, Most: 100}})
	last := short[len(short)-1]
	if last.to != 6 || math.Abs(float64(last.latest)-100*4.0/36) > 1e-9 {
		t.Errorf("%v", short)
	}
	if stretches([]data.FuseGate{{Times: 1.1, Least: 360000}}) != nil {
		t.Error("a gate that never forces it to open gives no range")
	}
}

// The overload of one wire by hand: 1 mm2 behind 10 A of type C stands 15 A for good, and is worst just below 3.5 times for 5 s.
func TestOverloadByHand(t *testing.T) {
	r := newRig(12, 0.02)
	f := r.fuse("box", 10, blade10)
	r.load("lamp", 1)
	r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
	w := r.wire("box.out", "lamp.1", 1, 1, 1.0/58, f)
	r.wire("lamp.2", "battery.neg", 1, 1, 1.0/58, f)
	o := r.weigh().Wires[w].Overload
	if o == nil {
		t.Fatal("nothing overloads it")
	}
	// Copper alone: 16^2 x 600 and 20^2 x 50 are past any limit without losses, so of the ranges that of 600 s is worst in this rig.
	if o.Times != 1.6 || o.Latest != 600 || o.Met {
		t.Errorf("%+v", o)
	}
	r.warm.per = 30 // loses all it makes up to 30 A: only 35 A for 5 s is left
	r.res.Wires[w].Overload = nil
	o = r.weigh().Wires[w].Overload
	k := 226 * math.Sqrt(math.Log(1+(155.0-60)/(234.5+60)))
	if stands := k * k; (stands >= 35*35*5) != o.Met || o.Times != 3.5 || o.Latest != 5 {
		t.Errorf("k2 S2 is %.0f A2s, 35 A for 5 s is %d: %+v", k*k, 35*35*5, o)
	}
}

// What comes before a wire limits the current that can flow in it; its own length does not.
func TestOverloadCannotExceedTheLoop(t *testing.T) {
	r := newRig(12, 0.02)
	f := r.fuse("box", 10, blade10)
	r.load("lamp", 1)
	r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
	long := r.wire("box.out", "lamp.1", 30, 0.5, 0.0371, f)
	back := r.wire("lamp.2", "battery.neg", 1, 6, 0.003, f)
	r.res.Wires[back].Return = true
	r.weigh()
	g := r.weigher()
	g.ready(nil)
	for p := range g.apart.n {
		g.shorts(int32(p))
	}
	if most := float64(g.most[long]); most < 200 { // a chafe right behind the fuse
		t.Errorf("at most %v A in the long wire, though it may be shorted right behind the fuse", most)
	}
	before := 12 / (0.02 + 30*0.0371) // at 20 C
	if most := float64(g.most[back]); most < before || math.Abs(most-12/0.02) > 30 {
		t.Errorf("at most %v A in the return, whose feed may be shorted to it at the battery", most)
	}

	// A second thin wire behind the first cannot carry more than the first lets pass.
	r = newRig(12, 0.02)
	f = r.fuse("box", 10, blade10)
	r.load("lamp", 1)
	r.load("post", 0)
	r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
	r.wire("box.out", "post.1", 30, 0.5, 0.0371, f)
	second := r.wire("post.1", "lamp.1", 1, 0.5, 0.0371, f)
	r.wire("lamp.2", "battery.neg", 1, 6, 0.003, f)
	o := r.weigh().Wires[second].Overload
	if o == nil || math.Abs(float64(o.Amps)-before) > 0.05*before || o.Latest != Never {
		t.Errorf("overload %+v, the first wire lets %.2f A pass", o, before)
	}
}

// A supply with a limit below the fuse's rating overloads nothing past that limit.
func TestOverloadWithinSupplyLimit(t *testing.T) {
	r := newRig(12, 0.02)
	r.job.Devices[0].Supplies[0].Most = fact[unit.Current](6)
	f := r.fuse("box", 10, blade10)
	r.load("lamp", 1)
	r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
	w := r.wire("box.out", "lamp.1", 1, 0.5, 0.0371, f)
	r.wire("lamp.2", "battery.neg", 1, 0.5, 0.0371, f)
	o := r.weigh().Wires[w].Overload
	if o == nil || math.Abs(float64(o.Amps)-6) > 1e-6 || o.Latest != Never || !o.Met {
		t.Errorf("%+v", o)
	}
}

// Parallel wires of one link share the fuse's current by their resistance.
func TestParallelWiresShare(t *testing.T) {
	nt := &net.Net{Wires: []net.Wire{{Circuit: "c", Length: 1000}, {Circuit: "c", Length: 3000, Strand: 1}, {Circuit: "d", Length: 1000}}}
	sizes := size.Sizes{{Resistance: 0.01}, {Resistance: 0.01}, {Resistance: 0.01}}
	for i, want := range []float64{0.75, 0.25, 1} {
		if got := shares(nt, sizes)[i]; math.Abs(got-want) > 1e-9 {
			t.Errorf("wire %d takes %v, want %v", i, got, want)
		}
	}
}

// What does not pass behind a fuse passes behind no larger one; what passes does so when it is thicker.
func TestOverloadIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := unit.Area(rapid.Float64Range(0.3, 10).Draw(t, "area"))
		rating := unit.Current(rapid.Float64Range(1, 60).Draw(t, "rating"))
		more := unit.Current(rapid.Float64Range(1, 3).Draw(t, "more"))
		met := func(area unit.Area, rating unit.Current) bool {
			r := newRig(12, 0.001)
			f := r.fuse("box", rating, blade10)
			w := r.wire("box.out", "lamp.1", 1, area, unit.LinearResistance(1/58.0/float64(area)), f)
			overloads(r.weigher())
			return r.res.Wires[w].Overload.Met
		}
		base := met(area, rating)
		if !base && met(area, rating*more) {
			t.Fatalf("%v passes behind %v and not behind %v", area, rating*more, rating)
		}
		if base && !met(area*unit.Area(more), rating) {
			t.Fatalf("%v passes behind %v and what is thicker does not", area, rating)
		}
	})
}
