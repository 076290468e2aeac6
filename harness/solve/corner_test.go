package solve

import (
	"math"
	"sync"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func ranged[T ~float64](low, x, high T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Spread[T]{Low: low, Nominal: x, High: high}, Given: true}
}

// TestCornerByHand: what is worst for a load depends on the load and on what is asked. R of the way is 0.2 ohm and its lugs.
func TestCornerByHand(t *testing.T) {
	const way = 0.2 + 4*lug
	build := func(as design.LoadKind) *CaseResult {
		r := newRig(t).supply("bat", 12.6, 0.01, 0).load("lamp", as, 2).load("near", design.ConstantCurrent, 5)
		r.job.Devices[0].Supplies[0].Volts = ranged[unit.Voltage](11.8, 12.6, 13)
		r.job.Devices[1].Draws[0].Amps.Spread = unit.Within(unit.Current(2), 0.1)
		r.job.Devices[2].Draws[0].Amps.Spread = unit.Within(unit.Current(5), 0.2)
		return r.wires("bat.plus", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1, "bat.plus", "near.plus", 0.1, "near.minus", "bat.minus", 0.1).solve()
	}
	lamp := 12 / 2.2 // ohm at its high draw
	for _, c := range []struct {
		name  string
		as    design.LoadKind
		q     Quantity
		want  float64
		moved []string
	}{
		// The neighbour's draw of 6 A pulls the battery down: least volts want it high, most volts lost want it low, at 4 A.
		{"lamp, lost", design.ConstantResistance, LostBoth, (13 - 0.01*4) / (lamp + way + 0.01) * way, []string{"bat set-point 12.6 V 13 V", "near draw 6 A 4 A"}},
		{"lamp, feed", design.ConstantResistance, LostFeed, (13 - 0.01*4) / (lamp + way + 0.01) * way / 2, []string{"bat set-point 12.6 V 13 V", "near draw 6 A 4 A"}},
		{"lamp, left", design.ConstantResistance, LeastVolts, (11.8 - 0.01*6) / (lamp + way + 0.01) * lamp, []string{"bat set-point 12.6 V 11.8 V"}},
		{"steady, lost", design.ConstantCurrent, LostBoth, 2.2 * way, nil},
		{"steady, left", design.ConstantCurrent, LeastVolts, 11.8 - 0.01*8.2 - 2.2*way, []string{"bat set-point 12.6 V 11.8 V"}},
		{"power, lost", design.ConstantPower, LostBoth, 26.4 / upper(11.8-0.01*6, way+0.01, 26.4) * way, []string{"bat set-point 12.6 V 11.8 V"}},
	} {
		res := build(c.as)
		k := res.Corner(0, c.q)
		if k == nil {
			t.Errorf("%s: none", c.name)
			continue
		}
		near(t, c.name, float64(k.Got), c.want, 1e-9)
		var got []string
		for _, m := range k.Moved {
			got = append(got, m.What+" "+m.From+" "+m.To)
		}
		if len(got) != len(c.moved) || len(got) > 0 && got[0] != c.moved[0] || len(got) > 1 && got[1] != c.moved[1] {
			t.Errorf("%s: %q, want %q", c.name, got, c.moved)
		}
		if c.q != LeastVolts {
			near(t, c.name+" balance", float64(k.Load.SupplyVolts-k.Load.FeedDrop-k.Load.ReturnDrop), float64(k.Load.Volts), 1e-9)
		}
		if res.Corner(0, c.q) != k {
			t.Errorf("%s: sought twice", c.name)
		}
	}
	r := newRig(t).supply("bat", 12, 0.01, 0).load("lamp", design.ConstantCurrent, 2)
	if k := r.wires("bat.plus", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1).solve().Corner(0, LostBoth); k != nil {
		t.Errorf("a corner without a spread: %+v", k)
	}
}

// upper is the upper volts of a load of constant power behind a resistance.
func upper(e, r, watts float64) float64 { return e/2 + math.Sqrt(e*e/4-r*watts) }

// TestJointsAge: a joint stands between new and aged. On the way of the load it is worst aged, beside it new, since the neighbour then draws
// more through the shared 0.1 ohm.
func TestJointsAge(t *testing.T) {
	r := newRig(t).supply("bat", 12, 1e-6, 0).heater("lamp", 6).heater("near", 2).switched("sw", 0.02).switched("by", 0.03).on("sw").on("by").set("joint-age", "3")
	res := r.wires("bat.plus", "sp", 0.1, "sp", "sw.1", 0.1, "sw.2", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1,
		"sp", "by.1", 0.1, "by.2", "near.plus", 0.1, "near.minus", "bat.minus", 0.1).solve()
	k := res.Corner(0, LeastVolts)
	if k == nil || len(k.Moved) == 0 || len(k.Ends) < 2 {
		t.Fatalf("%+v", k)
	}
	found := false
	for _, m := range k.Moved {
		if m.What == "sw on 1 - 2" {
			t.Errorf("the switch on the way is new: %+v", m)
		}
		found = found || m.What == "by on 1 - 2" && m.From == "90 mohm" && m.To == "30 mohm" && m.Joint
	}
	if !found || k.Got >= res.Loads[0].Volts {
		t.Errorf("%v of %v: %+v", k.Got, res.Loads[0].Volts, k.Moved)
	}
}

// spreadOut gives some values of a net a spread and returns a setter of each: 0 low, 1 high.
func spreadOut(r *rig, pick func(low, high float64) float64, most int) (set []func(end int)) {
	for _, d := range r.job.Devices {
		for i := range d.Supplies {
			set = append(set, ends2(&d.Supplies[i].Volts, pick(0.01, 0.2)), ends2(&d.Supplies[i].Inside, pick(0.1, 0.9)))
		}
		for i := range d.Draws {
			set = append(set, ends2(&d.Draws[i].Amps, pick(0.05, 0.5)))
		}
		if len(set) >= most {
			return set[:most]
		}
	}
	return set
}

func ends2[T ~float64](f *design.Fact[T], share float64) func(end int) {
	f.Spread = unit.Within(f.Nominal, unit.Ratio(share))
	was := f.Spread
	return func(end int) {
		switch f.Spread = was; end {
		case 0:
			f.Spread = unit.Exactly(was.Low)
		case 1:
			f.Spread = unit.Exactly(was.High)
		}
	}
}

// TestCornerAgainstAllCorners tries every corner of random nets by solving the job with exact values at the ends, and holds the one that was
// found by signs against the worst: it is one of them, never better than the case's own point, and the worst but for a few.
func TestCornerAgainstAllCorners(t *testing.T) {
	sought, missed, short := 0, 0, 0.0
	for seed := range uint64(50) {
		linear := seed%3 != 0
		r := drawn(t, seeded(seed), 4+int(seed%9), linear)
		set := spreadOut(r, seeded(seed+1000), 6)
		res := r.solve()
		type want struct{ lost, least, most float64 }
		worst := make([]want, len(res.Loads))
		for n := range worst {
			worst[n] = want{-1e9, 1e9, -1e9}
		}
		for c := range 1 << len(set) {
			for i, s := range set {
				s(c >> i & 1)
			}
			x := Case(r.job, r.nt, r.sizes, nil, r.c)
			for n := range worst {
				lost := 0.0
				for _, way := range [][]Step{res.Loads[n].Feed, res.Loads[n].Return} {
					for _, s := range way {
						e := &x.Net.Elements[s.Element]
						v := float64(x.Point.Volts[e.From] - x.Point.Volts[e.To])
						if s.Reverse {
							v = -v
						}
						if e.Kind != Supply {
							lost += v
						}
					}
				}
				worst[n].lost, worst[n].least = max(worst[n].lost, lost), min(worst[n].least, float64(x.Loads[n].Volts))
				worst[n].most = max(worst[n].most, float64(x.Loads[n].Volts))
			}
		}
		for _, s := range set {
			s(-1)
		}
		for n, l := range res.Loads {
			if !l.Fed || l.Supply == "" || l.Volts < 0 {
				continue
			}
			for _, q := range []Quantity{LostBoth, LeastVolts, MostVolts} {
				k := res.Corner(n, q)
				if k == nil {
					continue
				}
				sought++
				gap := worst[n].lost - float64(k.Got)
				better := float64(l.FeedDrop+l.ReturnDrop) - float64(k.Got)
				switch q {
				case MostVolts:
					gap, better = worst[n].most-float64(k.Got), float64(l.Volts-k.Got)
				case LeastVolts:
					gap, better = float64(k.Got)-worst[n].least, float64(k.Got-l.Volts)
				}
				if better > 1e-9 {
					t.Errorf("net %d %s: %g V better than the case's own point", seed, l.Device, better)
				}
				if gap < -1e-6 && linear {
					t.Errorf("net %d %s: %g V worse than any corner", seed, l.Device, -gap)
				}
				if gap > 1e-6 {
					missed++
					short = max(short, gap/max(0.1, math.Abs(float64(k.Got))))
				}
			}
		}
	}
	t.Logf("%d corners, %d not the very worst, by at most %.2g", sought, missed, short)
	if sought < 150 || missed > sought/20 {
		t.Errorf("%d of %d corners are not the worst", missed, sought)
	}
}

// TestCornersAtOnce asks from several sides at once: the answer is the same.
func TestCornersAtOnce(t *testing.T) {
	r := drawn(t, seeded(5), 30, false)
	spreadOut(r, seeded(6), 20)
	one, two := r.solve(), r.solve()
	var wg sync.WaitGroup
	for n := range one.Loads {
		wg.Add(1)
		go func() {
			defer wg.Done()
			one.Corner(n, LeastVolts)
			one.Variants()
			Adjoint(one, n)
			WithoutLoads(one, []int{n})
			one.Corner(n, LostFeed)
		}()
	}
	wg.Wait()
	for n := len(one.Loads) - 1; n >= 0; n-- {
		for _, q := range []Quantity{LostFeed, LeastVolts} {
			a, b := one.Corner(n, q), two.Corner(n, q)
			if (a == nil) != (b == nil) || a != nil && (a.Got != b.Got || len(a.Moved) != len(b.Moved)) {
				t.Errorf("%s %d: %.17g and %.17g, %d and %d", one.Loads[n].Device, q, float64(a.Got), float64(b.Got), len(a.Moved), len(b.Moved))
			}
		}
	}
}

// TestVariants: both ends of the set-points, relays and names as in the case.
func TestVariants(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).heater("lamp", 6).load("conv", design.ConstantPower, 2)
	r.job.Devices[0].Supplies[0].Volts = ranged[unit.Voltage](10, 12, 14)
	r.wires("bat.plus", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1, "bat.plus", "conv.plus", 0.1, "conv.minus", "bat.minus", 0.1)
	res := r.solve()
	all := res.Variants()
	if len(all) != 3 || all[0] != res || all[1].Case != "run" || len(all[1].Variants()) != 1 {
		t.Fatalf("%d variants", len(all))
	}
	if !(all[1].WireAmps[0] < res.WireAmps[0] && res.WireAmps[0] < all[2].WireAmps[0]) || !(all[1].WireAmps[2] > res.WireAmps[2] && res.WireAmps[2] > all[2].WireAmps[2]) {
		t.Errorf("%v %v %v", all[1].WireAmps, res.WireAmps, all[2].WireAmps)
	}
	for end, v := range map[int]unit.Voltage{1: 10, 2: 14} {
		r.job.Devices[0].Supplies[0].Volts = given(v)
		r.job.Settings = design.Settings{}
		r.set("drop-of", "12 V")
		for w, a := range r.solve().WireAmps {
			near(t, "wire", float64(all[end].WireAmps[w]), float64(a), 1e-9)
		}
	}
	r.job.Devices[0].Supplies[0].Volts = given(unit.Voltage(12))
	if n := len(r.solve().Variants()); n != 1 {
		t.Errorf("%d variants without a spread", n)
	}
}

func BenchmarkCorner(b *testing.B) {
	r := tree(b, 1000)
	r.job.Devices[0].Supplies[0].Volts = ranged[unit.Voltage](12, 12.6, 12.8)
	for _, d := range r.job.Devices {
		for i := range d.Draws {
			d.Draws[i].Amps.Spread = unit.Within(d.Draws[i].Amps.Nominal, 0.1)
		}
	}
	res := r.solve()
	n := 0
	for b.Loop() {
		n = (n + 1) % len(res.Loads)
		res.again.corners, res.again.solved = nil, nil
		res.Corner(n, LeastVolts)
	}
}
