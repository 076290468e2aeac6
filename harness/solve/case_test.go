package solve

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Each network below is worked by hand in its comment; E is the set-point, R the whole loop.

func TestDivider(t *testing.T) {
	// 12 V behind 10 mohm, 1 ohm of wire out and 0.5 back, four lugs, 4 ohm: i = E/R.
	res := newRig(t).supply("bat", 12, 0.01, 0).heater("lamp", 4).wires("bat.plus", "lamp.plus", 1.0, "lamp.minus", "bat.minus", 0.5).solve()
	i := 12 / (0.01 + 1 + 0.5 + 4*lug + 4)
	l := load(t, res, "lamp")
	near(t, "amps", float64(l.Amps), i, 1e-12)
	near(t, "volts", float64(l.Volts), 4*i, 1e-12)
	near(t, "feed drop", float64(l.FeedDrop), (1+2*lug)*i, 1e-12)
	near(t, "return drop", float64(l.ReturnDrop), (0.5+2*lug)*i, 1e-12)
	near(t, "at the supply", float64(l.SupplyVolts), 12-0.01*i, 1e-12)
	if l.Supply != "bat" || len(l.Feed) != 3 || len(l.Return) != 3 {
		t.Errorf("fed by %q in %d and %d steps", l.Supply, len(l.Feed), len(l.Return))
	}
	near(t, "wire back", float64(res.WireAmps[1]), i, 1e-12)
	near(t, "its watts", float64(res.WireWatts[1]), 0.5*i*i, 1e-12)
	if len(res.Problems) > 0 {
		t.Errorf("problems %v", res.Problems)
	}
}

func TestSharedReturn(t *testing.T) {
	// Two currents of 3 and 5 A share one return wire of 0.1 ohm to a stud: both see (3+5) times it.
	res := newRig(t).supply("bat", 12, 0.01, 0).load("a", design.ConstantCurrent, 3).load("b", design.ConstantCurrent, 5).
		device(design.Device{Name: "earth"}).
		wires("bat.plus", "a.plus", 0.2, "bat.plus", "b.plus", 0.2, "a.minus", "earth.1", 0.05, "b.minus", "earth.1", 0.05, "earth.1", "bat.minus", 0.1).solve()
	back := 8 * (0.1 + 2*lug)
	near(t, "return of a", float64(load(t, res, "a").ReturnDrop), 3*(0.05+2*lug)+back, 1e-12)
	near(t, "return of b", float64(load(t, res, "b").ReturnDrop), 5*(0.05+2*lug)+back, 1e-12)
	near(t, "volts at a", float64(load(t, res, "a").Volts), 12-8*0.01-3*(0.25+4*lug)-back, 1e-12)
}

func TestRingFeed(t *testing.T) {
	// A ring of three wires 0.1, 0.2, 0.3 ohm; 6 A taken at the node between the first and the second. The two ways round share
	// the current as the inverse of their resistances.
	res := newRig(t).supply("bat", 12, 0.01, 0).load("a", design.ConstantCurrent, 6).device(design.Device{Name: "bar"}).
		wires("bat.plus", "a.plus", 0.1, "a.plus", "bar.1", 0.2, "bar.1", "bat.plus", 0.3, "a.minus", "bat.minus", 0.1).solve()
	short, long := 0.1+2*lug, 0.5+4*lug
	near(t, "short way", float64(res.WireAmps[0]), 6*long/(short+long), 1e-12)
	near(t, "long way", float64(res.WireAmps[2]), -6*short/(short+long), 1e-12)
	if first := load(t, res, "a").Feed[1]; res.Net.Elements[first.Element].Name != "bat.plus - a.plus" {
		t.Errorf("the way follows the weaker current, by %s", res.Net.Elements[first.Element].Name)
	}
}

func TestTwoEarthsInALoop(t *testing.T) {
	// A load of 10 A earthed by a wire of 20 mohm to the body and one of 30 mohm to the battery; the body is 60 mohm of metal.
	res := newRig(t).supply("bat", 12, 0.005, 0).load("a", design.ConstantCurrent, 10).
		device(design.Device{Name: "body", Joins: []design.Joins{{Pins: []string{"front", "rear"}, Resistance: given(60e-3 * ohm)}}}).
		wires("bat.plus", "a.plus", 0.02, "a.minus", "body.front", 0.02, "a.minus", "bat.minus", 0.03, "body.rear", "bat.minus", 0.01).solve()
	wire, body := 0.03+2*lug, 0.02+0.06+0.01+4*lug
	near(t, "through the wire", float64(res.WireAmps[2]), 10*body/(wire+body), 1e-12)
	near(t, "through the body", float64(res.WireAmps[1]), 10*wire/(wire+body), 1e-12)
	near(t, "return drop", float64(load(t, res, "a").ReturnDrop), 10*wire*body/(wire+body), 1e-12)
}

func TestBalancedBridge(t *testing.T) {
	// Four equal arms: no current in the wire across, whatever its resistance.
	res := newRig(t).supply("bat", 12, 0.01, 0).device(design.Device{Name: "n"}).
		heater("a", 2).heater("b", 2).heater("c", 2).heater("d", 2).
		wires("bat.plus", "a.plus", 0.1, "bat.plus", "b.plus", 0.1, "a.minus", "n.left", 0.1, "b.minus", "n.right", 0.1,
			"n.left", "n.right", 0.01, "n.left", "c.plus", 0.1, "n.right", "d.plus", 0.1, "c.minus", "bat.minus", 0.1, "d.minus", "bat.minus", 0.1).solve()
	near(t, "across", float64(res.WireAmps[4]), 0, 1e-12)
	near(t, "in an arm", float64(res.WireAmps[0]), 12/(2*0.01+4.4+8*lug), 1e-12)
}

func TestConstantPower(t *testing.T) {
	// P watts over a loop of R from E: V = (E + sqrt(E² - 4PR))/2.
	for _, p := range []float64{1, 60, 140, 179} {
		r := 0.2 + 4*lug
		res := newRig(t).supply("bat", 12, 0.01, 0).load("m", design.ConstantPower, unit.Current(p/12)).
			wires("bat.plus", "m.plus", 0.1, "m.minus", "bat.minus", 0.09).solve()
		v := (12 + math.Sqrt(144-4*p*r)) / 2
		near(t, "volts", float64(load(t, res, "m").Volts), v, 1e-9)
		if len(res.Problems) > 0 {
			t.Errorf("%g W: problems %v", p, res.Problems)
		}
	}
}

func TestPowerNothingCanFeed(t *testing.T) {
	// 200 W over 0.2004 ohm from 12 V: E² < 4PR. Below half its volts it is a resistance of (at/2)²/P = 0.18 ohm.
	res := newRig(t).supply("bat", 12, 0.01, 0).load("m", design.ConstantPower, unit.Current(200.0/12)).
		wires("bat.plus", "m.plus", 0.1, "m.minus", "bat.minus", 0.09).solve()
	near(t, "volts", float64(load(t, res, "m").Volts), 12*0.18/(0.18+0.2+4*lug), 1e-9)
	if got := problems(res, CannotFeed); len(got) != 1 || got[0].Device != "m" {
		t.Errorf("problems %v", res.Problems)
	}
}

func TestPowerLoadsOnOneFeed(t *testing.T) {
	// Two loads of 60 W each behind a shared 0.1 ohm with no more wire of their own: as one of 120 W.
	res := newRig(t).supply("bat", 12, 0.01, 0).load("m", design.ConstantPower, 5).load("n", design.ConstantPower, 5).
		device(design.Device{Name: "bar"}).
		wires("bat.plus", "bar.1", 0.1, "bar.1", "m.plus", 0.01, "bar.1", "n.plus", 0.01, "m.minus", "bat.minus", 0.01, "n.minus", "bat.minus", 0.01).solve()
	// By symmetry each sees its own 0.02 ohm and four lugs, and the shared part twice.
	r := 0.02 + 4*lug + 2*(0.11+2*lug)
	near(t, "volts", float64(load(t, res, "m").Volts), (12+math.Sqrt(144-4*60*r))/2, 1e-9)
}

func TestCurrentLoadTapers(t *testing.T) {
	// 40 A held from 3 V up; 1 ohm of loop cannot bring it there. Below, 3/40 ohm.
	res := newRig(t).supply("bat", 12, 0.01, 0).load("e", design.ConstantCurrent, 40).
		wires("bat.plus", "e.plus", 0.5, "e.minus", "bat.minus", 0.5).solve()
	near(t, "volts", float64(load(t, res, "e").Volts), 12*0.075/(0.075+1.01+4*lug), 1e-12)
}

func TestSupplyLimit(t *testing.T) {
	// A supply of 12 V that gives at most 5 A on 1 ohm: 5 A whatever its set-point. Without the limit it would give 12/R.
	res := newRig(t).supply("gen", 12, 0.01, 5).heater("h", 1).wires("gen.plus", "h.plus", 0.1, "h.minus", "gen.minus", 0.1).solve()
	near(t, "amps", float64(load(t, res, "h").Amps), 5, 1e-12)
	near(t, "at its terminals", float64(supply(t, res, "gen").Volts), 5*(1.2+4*lug), 1e-12)
	p := problems(res, OverLimit)
	if !supply(t, res, "gen").Limited || len(p) != 1 {
		t.Fatalf("problems %v", res.Problems)
	}
	near(t, "asked for", float64(p[0].Amps), 12/(1.21+4*lug), 1e-9)
	near(t, "limit", float64(p[0].Limit), 5, 0)
}

func TestLimitedSupplyOnSteadyCurrent(t *testing.T) {
	// 10 A at most for a load that wants 20: the volts fall until it takes 10, at half its knee of 3 V.
	res := newRig(t).supply("gen", 12, 0.01, 10).load("e", design.ConstantCurrent, 20).wires("gen.plus", "e.plus", 0.01, "e.minus", "gen.minus", 0.01).solve()
	near(t, "volts", float64(load(t, res, "e").Volts), 1.5, 1e-9)
}

func TestAlternatorOverBattery(t *testing.T) {
	build := func(most unit.Current, amps unit.Current) *CaseResult {
		return newRig(t).supply("alt", 14.2, 0.002, most).supply("bat", 12.6, 0.005, 0).load("all", design.ConstantCurrent, amps).
			wires("alt.plus", "bat.plus", 0.002, "alt.minus", "bat.minus", 0.002, "bat.plus", "all.plus", 0.01, "all.minus", "bat.minus", 0.01).solve()
	}
	// The battery idles: nothing is pushed into it, and the alternator feeds all.
	res := build(80, 40)
	if !supply(t, res, "bat").Idle || supply(t, res, "bat").Amps != 0 {
		t.Errorf("battery %+v", *supply(t, res, "bat"))
	}
	near(t, "alternator", float64(supply(t, res, "alt").Amps), 40, 1e-9)
	near(t, "at the battery", float64(supply(t, res, "bat").Volts), 14.2-40*(0.006+4*lug), 1e-9)
	// Beyond its limit the battery gives the rest.
	res = build(80, 100)
	near(t, "alternator at its limit", float64(supply(t, res, "alt").Amps), 80, 1e-9)
	near(t, "battery", float64(supply(t, res, "bat").Amps), 20, 1e-9)
	near(t, "at the battery", float64(supply(t, res, "bat").Volts), 12.6-20*0.005, 1e-9)
	if p := problems(res, OverLimit); len(p) != 1 || p[0].Device != "alt" {
		t.Errorf("problems %v", res.Problems)
	}
	if load(t, res, "all").Supply != "alt" {
		t.Errorf("fed by %s", load(t, res, "all").Supply)
	}
}

func TestBatteriesInSeries(t *testing.T) {
	// 12 + 12 V behind 10 mohm each and a link of 1 mohm.
	res := newRig(t).supply("low", 12, 0.01, 0).supply("top", 12, 0.01, 0).heater("h", 10).
		wires("low.plus", "top.minus", 0.001, "top.plus", "h.plus", 0.1, "h.minus", "low.minus", 0.1).solve()
	i := 24 / (10 + 0.02 + 0.201 + 6*lug)
	near(t, "amps", float64(load(t, res, "h").Amps), i, 1e-12)
	near(t, "supplies together", float64(load(t, res, "h").SupplyVolts), 24-0.02*i, 1e-9)
	if n := problems(res, Shorted); n != nil {
		t.Errorf("problems %v", n)
	}
}

func TestDiode(t *testing.T) {
	build := func(from, to string) *CaseResult {
		return newRig(t).supply("bat", 12, 0.01, 0).heater("h", 10).
			device(design.Device{Name: "d", Diodes: []design.Diode{{Forward: given(unit.Voltage(0.6)), From: from, To: to}}}).
			wires("bat.plus", "d.in", 0.1, "d.out", "h.plus", 0.1, "h.minus", "bat.minus", 0.1).solve()
	}
	near(t, "forward", float64(load(t, build("in", "out"), "h").Amps), (12-0.6)/(10.31+6*lug+float64(diodeResistance)), 1e-12)
	if l := load(t, build("out", "in"), "h"); l.Fed || l.Amps != 0 {
		t.Errorf("reversed %+v", *l)
	}
}

func TestOpenFeed(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).load("pump", design.ConstantPower, 5).switched("sw", 0.005).
		wires("bat.plus", "sw.1", 0.01, "sw.2", "pump.plus", 0.01, "pump.minus", "bat.minus", 0.01)
	l := load(t, r.solve(), "pump")
	if l.Fed || l.Amps != 0 || l.Volts != 0 || l.Supply != "" {
		t.Errorf("open: %+v", *l)
	}
	if l = load(t, r.on("sw").solve(), "pump"); !l.Fed || l.Supply != "bat" {
		t.Errorf("closed: %+v", *l)
	}
	r.c.Off = []string{"pump"}
	if l = load(t, r.solve(), "pump"); l.Fed || !l.Rests || l.Amps != 0 {
		t.Errorf("rests: %+v", *l)
	}
}

func TestNoSupply(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).heater("h", 4).wires("bat.plus", "h.plus", 1.0, "h.minus", "bat.minus", 0.5)
	r.c.Supplies = nil
	if got := r.solve(); len(problems(got, NoSupply)) != 1 || load(t, got, "h").Fed {
		t.Errorf("problems %v", got.Problems)
	}
	for _, res := range []*CaseResult{Case(nil, nil, nil, nil, nil), Case(&design.Job{}, &net.Net{}, nil, nil, &design.Case{})} {
		if len(res.Problems) != 1 {
			t.Errorf("nothing at all: %v", res.Problems)
		}
	}
}

func TestShort(t *testing.T) {
	// A wire of 5 mohm across a battery of 12 V and 10 mohm.
	res := newRig(t).supply("bat", 12, 0.01, 0).wires("bat.plus", "bat.minus", 0.005).solve()
	near(t, "amps", float64(supply(t, res, "bat").Amps), 12/(0.015+2*lug), 1e-9)
	if p := problems(res, Shorted); len(p) != 1 || p[0].Detail != "bat.plus - bat.minus" {
		t.Errorf("problems %v", res.Problems)
	}
	// On one stud.
	r := newRig(t)
	r.supply("bat", 12, 0.01, 0)
	r.job.Devices[0].Supplies[0].To = at("plus")
	res = r.solve()
	near(t, "on itself", float64(supply(t, res, "bat").Amps), 1200, 1e-9)
	if len(problems(res, Shorted)) != 1 {
		t.Errorf("problems %v", res.Problems)
	}
	// A battery the wrong way round beside another.
	res = newRig(t).supply("bat", 12, 0.01, 0).supply("wrong", 12, 0.01, 0).
		wires("bat.plus", "wrong.minus", 0.005, "wrong.plus", "bat.minus", 0.005).solve()
	if len(problems(res, Shorted)) != 2 {
		t.Errorf("problems %v", res.Problems)
	}
}

func TestTemperature(t *testing.T) {
	// AC 43.13-1B 11-66d(4): a wire at T2 has (234.5+T2)/254.5 of its resistance at 20 C.
	r := newRig(t).supply("bat", 12, 0.01, 0).load("a", design.ConstantCurrent, 10).wires("bat.plus", "a.plus", 0.1, "a.minus", "bat.minus", 0.1)
	res := Case(r.job, r.nt, r.sizes, []unit.Temperature{105, 20}, r.c)
	near(t, "hot feed", float64(load(t, res, "a").FeedDrop), 10*(0.1*(234.5+105)/254.5+2*lug), 1e-12)
	near(t, "cool return", float64(load(t, res, "a").ReturnDrop), 10*(0.1+2*lug), 1e-12)
}

func TestBreakPostSpliceAndContacts(t *testing.T) {
	// 10 A: cavity, wire, break, wire, splice, wire, cavity; back over a stud post. Every joint counted once.
	r := newRig(t).supply("bat", 12, 0.01, 0).load("a", design.ConstantCurrent, 10)
	r.job.Parts.Contacts = []*design.Contact{{Part: design.Part{Name: "size-16"}, Resistance: given(2e-3 * ohm)}}
	r.job.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "post"}, Cavities: []design.HousingCavity{{Name: "1", Resistance: given(0.3e-3 * ohm)}}}}
	r.job.Breaks = []*design.Break{{Name: "A", Halves: [2]design.Half{{Section: "tub"}, {Section: "engine"}}},
		{Name: "p", Halves: [2]design.Half{{Section: "tub", Housing: "post"}, {Section: "engine", Housing: "post"}}}}
	r.wires("bat.plus", "x", 0.01, "y", "s", 0.01, "s", "/a.plus", 0.01, "a.minus", "z", 0.01, "w", "bat.minus", 0.01)
	r.nt.Wires[0].Ends[1] = net.Termination{Kind: net.InHalf, Break: "A", Half: 0, Cavity: "3"}
	r.nt.Wires[1].Ends[0] = net.Termination{Kind: net.InHalf, Break: "A", Half: 1, Cavity: "3"}
	r.nt.Wires[3].Ends[1] = net.Termination{Kind: net.OnPost, Break: "p", Half: 1, Cavity: "1"}
	r.nt.Wires[4].Ends[0] = net.Termination{Kind: net.OnPost, Break: "p", Half: 0, Cavity: "1"}
	r.nt.Crossings = []net.Crossing{{Break: "A", Cavity: "3", Wires: [2]int{0, 1}}, {Break: "p", Cavity: "1", Wires: [2]int{4, 3}}}
	r.sizes[2].Contacts = [2]string{"", "size-16"}
	res := r.solve()
	l := load(t, res, "a")
	feed := lug + 0.01 + 5e-3 + 0.01 + 2*0.2e-3 + 0.01 + 2e-3
	near(t, "feed", float64(l.FeedDrop), 10*feed, 1e-12)
	near(t, "return", float64(l.ReturnDrop), 10*(0.02+4*lug+0.3e-3), 1e-12)
	var names []string
	for _, s := range append(l.Feed, l.Return...) {
		e := res.Net.Elements[s.Element]
		names = append(names, e.Kind.String()+" "+e.Name)
	}
	want := []string{"lug bat.plus", "wire bat.plus - x", "contact A.3", "wire y - s", "splice s", "splice s", "wire s - /a.plus", "contact a.plus",
		"lug a.minus", "wire a.minus - z", "lug p", "stud post p", "lug p", "wire w - bat.minus", "lug bat.minus"}
	for i := range want {
		if i >= len(names) || names[i] != want[i] {
			t.Fatalf("way %q, want %q", names, want)
		}
	}
	// Twice as old, every joint but none of the wires.
	r.set("joint-age", "2")
	near(t, "aged", float64(load(t, r.solve(), "a").FeedDrop), 10*(2*feed-0.03), 1e-12)
}

func TestStarJoint(t *testing.T) {
	// Three pins in one joint: the resistance is in each arm.
	res := newRig(t).supply("bat", 12, 0.01, 0).load("a", design.ConstantCurrent, 1).load("b", design.ConstantCurrent, 2).
		device(design.Device{Name: "bar", Joins: []design.Joins{{Pins: []string{"1", "2", "3"}, Resistance: given(0.1 * ohm)}}}).
		wires("bat.minus", "bar.1", 0.01, "bar.2", "a.minus", 0.01, "bar.3", "b.minus", 0.01, "bat.plus", "a.plus", 0.01, "bat.plus", "b.plus", 0.01).solve()
	near(t, "a", float64(load(t, res, "a").ReturnDrop), 1*(0.11+2*lug)+3*(0.11+2*lug), 1e-12)
	near(t, "b", float64(load(t, res, "b").ReturnDrop), 2*(0.11+2*lug)+3*(0.11+2*lug), 1e-12)
}

func TestBoltedMetal(t *testing.T) {
	// A supply that ends on another device's stud needs no wire there.
	r := newRig(t).heater("h", 10)
	r.device(design.Device{Name: "alt", Bolted: []string{"block"}, Supplies: []design.Supply{{Volts: given(unit.Voltage(14)), Inside: given(0.01 * ohm), From: at("b"), To: at("block.main")}}})
	r.c.Supplies = []design.CaseSupply{{Device: "alt", At: given(unit.Voltage(13)), Inside: given(0.02 * ohm)}}
	res := r.device(design.Device{Name: "block"}).wires("alt.b", "h.plus", 0.1, "h.minus", "block.main", 0.1).solve()
	near(t, "amps", float64(load(t, res, "h").Amps), 13/(10.22+4*lug), 1e-12)
}
