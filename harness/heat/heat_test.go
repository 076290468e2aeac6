package heat

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// bench is a job of one run in two edges: cabin (1 m) and bay (3 m), and wires all the way.
type bench struct {
	job   *design.Job
	nt    *net.Net
	conds size.Sizes
	c     *solve.CaseResult
}

func quantity(text string) unit.Quantity {
	q, err := unit.Parse(text)
	if err != nil {
		panic(err)
	}
	return q
}

func newBench(areas ...unit.Area) *bench {
	b := &bench{job: &design.Job{
		Zones: []*design.Zone{{Name: "cabin", Air: 30, HasAir: true}, {Name: "bay", Air: 80, HasAir: true}, {Name: "open"}},
		Runs:  []*design.Run{{Name: "main", Section: "tub", Zone: "cabin"}, {Name: "hot", Section: "tub", Zone: "bay"}},
		Cases: []*design.Case{{Name: "key-on"}},
	}, nt: &net.Net{Space: &space.Geometry{Edges: []space.Edge{
		{Run: "main", Length: 1000, Zone: "cabin", Section: "tub"}, {Run: "hot", Length: 3000, Zone: "bay", Section: "tub"},
	}}}, c: &solve.CaseResult{Case: "key-on"}}
	for i, a := range areas {
		b.nt.Wires = append(b.nt.Wires, net.Wire{Name: "w", Circuit: "c" + number(i), Path: []net.Step{{Edge: 0}, {Edge: 1}}, Section: "tub", Core: -1, Length: 4000})
		b.conds = append(b.conds, cond(unit.Metric(a), 125))
		b.c.WireAmps = append(b.c.WireAmps, 0)
	}
	return b
}

func cond(s unit.Size, heat unit.Temperature) size.Conductor {
	a := float64(s.Area())
	return size.Conductor{Size: s, Resistance: unit.LinearResistance(1 / (58 * a)), Outside: unit.Length(1.1*float64(s.Diameter()) + 0.7), Heat: heat,
		Verified: true, Known: true}
}

func (b *bench) set(name, value string, scope map[string]string) {
	v := design.SettingValue{Name: value}
	if design.FindSetting(name).Kind == design.SetQuantity {
		v = design.SettingValue{Quantity: quantity(value)}
	}
	b.job.Settings.Lines = append(b.job.Settings.Lines, design.Setting{Name: name, Value: v, Scope: scope})
}

func (b *bench) solve(duty DutyCurrents) *Result {
	return Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c}, duty)
}

func TestHottestPlaceRules(t *testing.T) {
	b := newBench(1, 1)
	b.c.WireAmps = []unit.Current{8, -3} // the sign is only the direction
	r := b.solve(nil)
	w := r.Wires[0]
	if w.Zone != "bay" || w.Edge != 1 || w.Ambient != 80 || w.Count != 2 || w.Amps != 8 {
		t.Errorf("worst place: %+v", w)
	}
	if w.Limit != 115 || w.Ruled != Balance || w.Verified {
		t.Errorf("limit %v by %v, verified %v", w.Limit, w.Ruled, w.Verified)
	}
	if w.Hottest <= 80 || !w.Met != (w.Hottest > w.Limit) {
		t.Errorf("%v against %v, met %v", w.Hottest, w.Limit, w.Met)
	}
	if w.FreeAir < w.Balance {
		t.Errorf("alone %v, in the bundle %v", w.FreeAir, w.Balance)
	}
	// The temperature for the resistance is the mean by length: a quarter in the cabin, three quarters in the bay.
	cabin, bay := newBench(1, 1), newBench(1, 1)
	cabin.nt.Space.Edges[1].Zone, bay.nt.Space.Edges[0].Zone = "cabin", "bay"
	cabin.c.WireAmps, bay.c.WireAmps = b.c.WireAmps, b.c.WireAmps
	want := 0.25*float64(cabin.solve(nil).Temps["key-on"][0]) + 0.75*float64(bay.solve(nil).Temps["key-on"][0])
	if got := float64(r.Temps["key-on"][0]); math.Abs(got-want) > 1e-6 {
		t.Errorf("mean %g C, want %g", got, want)
	}
}

func TestAmbient(t *testing.T) {
	b := newBench()
	c := b.job.Cases[0]
	at := func(zone string) unit.Temperature {
		a, _ := Ambient(b.job, design.Scope{Zone: zone, Case: "key-on"})
		return a
	}
	if at("bay") != 80 || at("open") != 40 || at("") != 40 {
		t.Errorf("no case air: bay %v, open %v", at("bay"), at("open"))
	}
	b.set("air", "25 C", map[string]string{"zone": "open"})
	if at("open") != 25 {
		t.Errorf("set for the zone: %v", at("open"))
	}
	c.Air, c.HasAir = -10, true
	if at("bay") != 80 || at("open") != -10 {
		t.Errorf("case air: bay %v, open %v", at("bay"), at("open"))
	}
	c.ZoneAir = []design.ZoneAir{{Zone: "bay", Air: 5}}
	if at("bay") != 5 {
		t.Errorf("the case's word for a zone: %v", at("bay"))
	}
}

func TestZoneHotterThanInsulation(t *testing.T) {
	b := newBench(1)
	b.job.Zones[1].Air = 140
	r := b.solve(nil).Wires[0]
	if r.Met || r.Hottest != 140 || r.Ampacity != 0 {
		t.Errorf("an idle wire of 125 C in 140 C air: %+v", r)
	}
}

// The second wire of a pair may not count as a fin: alone is the best a wire can do.
func TestIdleNeighboursCoolNothing(t *testing.T) {
	one, many := newBench(1), newBench(1, 6, 6, 6)
	one.c.WireAmps, many.c.WireAmps = []unit.Current{9}, []unit.Current{9, 0, 0, 0}
	a, b := one.solve(nil).Wires[0], many.solve(nil).Wires[0]
	if b.Hottest < a.Hottest-1e-9 || b.Balance > a.Balance+1e-9 {
		t.Errorf("alone %v and %v, beside idle wires %v and %v", a.Hottest, a.Balance, b.Hottest, b.Balance)
	}
}

func TestSleeveAndBundleWarm(t *testing.T) {
	b := newBench(1, 1, 1, 1)
	b.c.WireAmps = []unit.Current{10, 10, 10, 10}
	bare := b.solve(nil)
	b.job.Runs[1].Sleeve = "braid"
	sleeved := b.solve(nil)
	if d := sleeved.Bundles[0].Bundles[1].Outside - bare.Bundles[0].Bundles[1].Outside; math.Abs(float64(d)-1.2) > 1e-9 {
		t.Errorf("two walls of 0.6 mm add %v", d)
	}
	one := newBench(1)
	one.c.WireAmps = []unit.Current{10}
	if a, o := bare.Wires[0].Hottest, one.solve(nil).Wires[0].Hottest; a < o+20 {
		t.Errorf("four together %v, one alone %v", a, o)
	}
}

func TestCarriesIsAFloor(t *testing.T) {
	b := newBench(1)
	b.nt.Wires[0].Carries = 9
	b.c.WireAmps[0] = 2
	if r := b.solve(nil).Wires[0]; r.Amps != 9 {
		t.Errorf("carries 9 A, judged at %v", r.Amps)
	}
	if r := Solve(b.job, b.nt, b.conds, nil, nil).Wires[0]; r.Amps != 9 || r.Hottest <= 80 {
		t.Errorf("without a case: %v at %v", r.Amps, r.Hottest)
	}
}

func TestDutyCoolsButNeverBelowTheRest(t *testing.T) {
	b := newBench(2.5)
	b.c.WireAmps[0] = 25
	hot := b.solve(nil).Wires[0]
	short := b.solve(DutyCurrents{"key-on": {{Device: "horn", On: 2, Amps: []unit.Current{5}}}}).Wires[0]
	long := b.solve(DutyCurrents{"key-on": {{Device: "horn", On: 3600, Amps: []unit.Current{5}}}}).Wires[0]
	b.c.WireAmps[0] = 5
	rest := b.solve(nil).Wires[0]
	if !(rest.Hottest < short.Hottest && short.Hottest < long.Hottest && math.Abs(float64(long.Hottest-hot.Hottest)) < 0.01) {
		t.Errorf("rest %v, 2 s %v, an hour %v, steady %v", rest.Hottest, short.Hottest, long.Hottest, hot.Hottest)
	}
	if short.Amps != 25 || short.Effective >= 25 || short.Effective <= 5 {
		t.Errorf("amps %v, effective %v", short.Amps, short.Effective)
	}
}

func starting(amps unit.Current) solve.StartResult {
	return solve.Started("fan", &solve.Network{Elements: []solve.Element{{Item: &solve.Item{Kind: solve.Wire, Wire: 0}}}}, []unit.Current{amps})
}

func TestStartingCurrent(t *testing.T) {
	b := newBench(1)
	b.c.WireAmps[0] = 5
	steady := b.solve(nil).Wires[0]
	b.job.Devices = []*design.Device{{Name: "fan", Draws: []design.Draw{{Start: design.Fact[unit.Current]{Spread: unit.Exactly[unit.Current](90), Given: true}, StartFor: 0.5}}}}
	b.c.Starts = []solve.StartResult{starting(-90)}
	r := b.solve(nil).Wires[0]
	// By hand: 90 A in 1 mm2 for 0.5 s, 90^2 * 0.5 * rho(T) / 3.45e6 at 90 C or so: 8100e12*0.5*2.2e-8/3.45e6 = 25 K.
	if r.Start != "fan" || r.Peak != r.Hottest || r.Peak < steady.Hottest+22 || r.Peak > steady.Hottest+32 {
		t.Errorf("steady %v, start %q to %v", steady.Hottest, r.Start, r.Peak)
	}
	// A start that lasts is no worse than the same current for good.
	b.job.Devices[0].Draws[0].StartFor = 3600
	b.c.Starts[0] = starting(12)
	long := b.solve(nil).Wires[0]
	b.c.Starts, b.c.WireAmps[0] = nil, 12
	if s := b.solve(nil).Wires[0]; long.Peak > s.Hottest+1e-6 {
		t.Errorf("an hour's start %v, for good %v", long.Peak, s.Hottest)
	}
}

// By hand: four wires of 2 mm make 1.2 x 2 x sqrt 4 = 4.8 mm; a bought cable counts once, with its own outside.
func TestBundleDiameter(t *testing.T) {
	b := newBench(1, 1, 1, 1)
	for i := range b.conds {
		b.conds[i].Outside = 2
	}
	out := func() float64 { return float64(b.solve(nil).Bundles[0].Bundles[0].Outside) }
	if got := out(); math.Abs(got-4.8) > 1e-9 {
		t.Errorf("%g mm, want 4.8", got)
	}
	b.job.Parts.Wires = []*design.Wire{{Part: design.Part{Name: "screened-2"}, Outside: 4.2, Cores: make([]design.WireCore, 2)}}
	for i := range 2 {
		b.nt.Wires[i].Cable, b.nt.Wires[i].Core, b.nt.Wires[i].Family = "lead", i, "screened-2"
	}
	if got, want := out(), 1.2*math.Sqrt(4+4+4.2*4.2); math.Abs(got-want) > 1e-9 {
		t.Errorf("with a cable %g mm, want %g", got, want)
	}
	b.nt.Wires, b.conds = b.nt.Wires[:2], b.conds[:2]
	if got := out(); got != 4.2 {
		t.Errorf("a cable alone: %g mm", got)
	}
}

// A start of a minute warms what lies beside it, though that carries no more than before.
func TestLongStartWarmsNeighbours(t *testing.T) {
	b := newBench(1, 1)
	b.c.WireAmps = []unit.Current{1, 1}
	b.job.Devices = []*design.Device{{Name: "fan", Draws: []design.Draw{{Start: design.Fact[unit.Current]{Spread: unit.Exactly[unit.Current](18), Given: true}, StartFor: 60}}}}
	steady := b.solve(nil).Wires[1]
	b.c.Starts = []solve.StartResult{starting(18)}
	long := b.solve(nil).Wires[1]
	b.job.Devices[0].Draws[0].StartFor = 0.2
	short := b.solve(nil).Wires[1]
	b.c.Starts, b.c.WireAmps[0] = nil, 18
	forGood := b.solve(nil).Wires[1]
	if long.Start != "fan" || long.Peak < steady.Hottest+5 || long.Peak > forGood.Hottest || short.Hottest > steady.Hottest+1 {
		t.Errorf("steady %v, a minute %v, 0.2 s %v, for good %v", steady.Hottest, long.Peak, short.Hottest, forGood.Hottest)
	}
}

func TestTables(t *testing.T) {
	many := func(n int, s unit.Size, heat unit.Temperature, amps unit.Current) *bench {
		b := newBench(make([]unit.Area, n)...)
		for i := range b.conds {
			b.conds[i] = cond(s, heat)
		}
		for i := range n / 5 {
			b.c.WireAmps[i] = amps
		}
		b.job.Zones[1].Air = 60
		b.nt.Space.Edges[0].Zone = "bay"
		return b
	}
	t.Run("aircraft holds", func(t *testing.T) {
		b := many(30, unit.AWG(20), 150, 7)
		b.set("ampacity", "aircraft", nil)
		w := b.solve(nil).Wires[0]
		if w.Ruled != Aircraft || w.Ampacity != 7 || !w.Met || w.Balance <= 0 || !w.Verified {
			t.Errorf("%+v %+v", w, w.Table)
		}
	})
	t.Run("aircraft too warm", func(t *testing.T) {
		b := many(30, unit.AWG(20), 150, 7)
		b.job.Zones[1].Air = 71
		b.set("ampacity", "aircraft", nil)
		w := b.solve(nil).Wires[0]
		if w.Ruled != Balance || !strings.Contains(w.Why, "ambient 71 C") || w.Table == nil || w.Table.Amps != 7 {
			t.Errorf("%+v %+v", w, w.Table)
		}
	})
	for _, c := range []struct {
		name string
		edit func(*bench)
		want string
	}{
		{"too many wires", func(b *bench) { *b = *many(34, unit.AWG(20), 150, 5) }, "34 wires"},
		{"too many thick wires", func(b *bench) { *b = *many(10, unit.AWG(8), 150, 30) }, "10 wires"},
		{"too full", func(b *bench) { b.c.WireAmps[29] = 7; b.c.WireAmps[28] = 7 }, "of the bundle's capacity"},
		{"too high", func(b *bench) { b.set("altitude", "61000 ft", nil) }, "altitude"},
		{"a wire the table lacks", func(b *bench) { b.conds[20] = cond(unit.AWG(28), 150) }, "does not list"},
		{"a rating the table lacks", func(b *bench) { b.conds[0].Heat = 100 }, "no figure"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := many(30, unit.AWG(20), 150, 7)
			c.edit(b)
			b.set("ampacity", "aircraft", nil)
			if w := b.solve(nil).Wires[0]; w.Ruled != Balance || !strings.Contains(w.Why, c.want) {
				t.Errorf("%q does not say %q", w.Why, c.want)
			}
		})
	}
	t.Run("metric as the gauge below", func(t *testing.T) {
		b := many(30, unit.Metric(1), 150, 7)
		b.set("ampacity", "aircraft", nil)
		if w := b.solve(nil).Wires[0]; w.Table.Taken != "as 18 AWG" || w.Ampacity != 9 {
			t.Errorf("%+v", w.Table)
		}
	})
	t.Run("a start where the table rules", func(t *testing.T) {
		b := many(30, unit.AWG(20), 105, 4)
		b.set("bundle-conductivity", "0.01 W/mK", nil) // the balance is then above the limit, the table is not asked again
		b.job.Zones[1].Air = 70
		b.set("ampacity", "aircraft", nil)
		b.c.WireAmps[0] = 3
		b.job.Devices = []*design.Device{{Name: "fan", Draws: []design.Draw{{Start: design.Fact[unit.Current]{Spread: unit.Exactly[unit.Current](9), Given: true}, StartFor: 0.2}}}}
		b.c.Starts = []solve.StartResult{starting(9)}
		if w := b.solve(nil).Wires[0]; w.Ruled != Aircraft || !w.Met || w.Hottest < w.Limit || w.Peak > w.Limit {
			t.Errorf("%+v", w)
		}
	})
	t.Run("marine", func(t *testing.T) {
		b := many(5, unit.AWG(14), 105, 10)
		b.set("ampacity", "marine", nil)
		b.job.Zones[1].Air = 30
		b.c.WireAmps = []unit.Current{10, 10, 10, 0, 0} // three carry: 0.7
		if w := b.solve(nil).Wires[0]; w.Ruled != Marine || math.Abs(float64(w.Ampacity)-24.5) > 1e-9 {
			t.Errorf("%+v %+v", w, w.Table)
		}
		b.job.Zones[1].Air = 50
		if w := b.solve(nil).Wires[0]; w.Ruled != Balance || !strings.Contains(w.Why, "ambient 50 C") {
			t.Errorf("50 C outside an engine space: %q", w.Why)
		}
		b.job.Zones[1].With = []string{"engine-space"}
		if w := b.solve(nil).Wires[0]; w.Ruled != Marine || math.Abs(float64(w.Ampacity)-0.85*24.5) > 1e-9 || !w.Verified {
			t.Errorf("engine space: %+v %+v", w, w.Table)
		}
		b.conds[0].Heat = 125 // a better insulation counts as 105 C there
		if w := b.solve(nil).Wires[0]; w.Ruled != Marine || math.Abs(float64(w.Ampacity)-0.85*24.5) > 1e-9 {
			t.Errorf("125 C in an engine space: %v", w.Ampacity)
		}
		b.conds[0].Heat = 90
		if w := b.solve(nil).Wires[0]; w.Ruled != Balance || !strings.Contains(w.Why, "90 C in an engine space") {
			t.Errorf("90 C insulation in an engine space: %q", w.Why)
		}
	})
	t.Run("unverified conductor", func(t *testing.T) {
		b := newBench(1)
		b.conds[0].Verified = false
		if b.solve(nil).Wires[0].Verified {
			t.Error("the balance cannot be surer than the resistance")
		}
	})
}

func TestOddInput(t *testing.T) {
	b := newBench(1, 1, 0.5)
	b.conds[1].Known = false
	b.conds[2] = size.Conductor{Known: true}
	b.nt.Wires = append(b.nt.Wires, net.Wire{Name: "lead", Loose: true, LooseLength: 500, Core: -1}, net.Wire{Name: "lost", Core: -1, Path: []net.Step{{Edge: 99}}})
	b.conds = append(b.conds, cond(unit.Metric(4), 105), cond(unit.Metric(4), 105))
	b.c.WireAmps = []unit.Current{unit.Current(math.NaN()), 5, 5, 1e6}
	b.job.Zones[1].Air = 1e9
	r := b.solve(DutyCurrents{"key-on": {{On: -1, Amps: nil}}})
	if len(r.Wires) != 5 || r.Wires[1].Known || !r.Wires[1].Met {
		t.Errorf("%+v", r.Wires)
	}
	if w := r.Wires[3]; w.Met || !w.Runaway || w.Edge != -1 {
		t.Errorf("a megampere: %+v", w)
	}
	for _, w := range r.Wires {
		if !unit.Finite(w.Hottest) || !unit.Finite(w.Balance) || !unit.Finite(w.Ampacity) {
			t.Errorf("%+v", w)
		}
	}
	for _, x := range r.Temps["key-on"] {
		if !unit.Finite(x) {
			t.Errorf("%v", r.Temps)
		}
	}
}

// Around knows of the places of the wires it is asked for, and there it says what Solve says.
func TestAround(t *testing.T) {
	b := newBench(1, 1, 1)
	b.c.WireAmps = []unit.Current{6, 5, 4}
	b.nt.Wires[0].Path = b.nt.Wires[0].Path[:1]
	b.nt.Wires[2].Path = b.nt.Wires[2].Path[1:]
	cases := []*solve.CaseResult{b.c}
	all, part := Solve(b.job, b.nt, b.conds, cases, nil), Around(b.job, b.nt, b.conds, cases, nil, []int{2})
	if !reflect.DeepEqual(all.Wires[2], part.Wires[2]) || part.Wires[0].Known {
		t.Errorf("%+v against %+v; %+v", part.Wires[2], all.Wires[2], part.Wires[0])
	}
	if r := all.Wires[2]; r.Rest <= 80 || r.Rest >= r.Hottest {
		t.Errorf("at rest among others %v, at work %v", r.Rest, r.Hottest)
	}
	b.c.WireAmps = []unit.Current{6, 0, 4}
	if r := Solve(b.job, b.nt, b.conds, cases, nil).Wires[1]; math.Abs(float64(r.Rest-r.Hottest)) > 1e-9 {
		t.Errorf("a wire that carries nothing: %v, at rest %v", r.Hottest, r.Rest)
	}
}

func TestSameTwiceAndInputKept(t *testing.T) {
	b := newBench(1, 2.5, 4)
	b.c.WireAmps = []unit.Current{5, 10, 20}
	conds := append(size.Sizes(nil), b.conds...)
	one, two := b.solve(nil), b.solve(nil)
	if !reflect.DeepEqual(one, two) || !reflect.DeepEqual(conds, b.conds) {
		t.Error("the same input gave another result, or was changed")
	}
}

// A balance is verified only when its resistance, its wire's figures and every coefficient somebody set are.
func TestBalanceIsFirm(t *testing.T) {
	firm := func(change func(b *bench)) bool {
		b := newBench(1)
		for _, n := range []string{"emissivity", "bundle-conductivity", "insulation-conductivity"} {
			def := design.FindSetting(n)
			b.set(n, def.Default, nil)
		}
		b.conds[0].Family = "measured"
		b.job.Parts.Wires = append(b.job.Parts.Wires, &design.Wire{Part: design.Part{Name: "measured", Common: design.Common{Source: "data sheet 12, table 3"}}})
		change(b)
		return b.solve(nil).Wires[0].Verified
	}
	if !firm(func(*bench) {}) {
		t.Error("all is stated with a source")
	}
	for name, change := range map[string]func(*bench){
		"a default coefficient":    func(b *bench) { b.job.Settings.Lines = b.job.Settings.Lines[:2] },
		"an unverified resistance": func(b *bench) { b.conds[0].Verified = false },
		"a wire without a source":  func(b *bench) { b.job.Parts.Wires[len(b.job.Parts.Wires)-1].Source = "" },
		"typical diameters":        func(b *bench) { b.job.Parts.Wires[len(b.job.Parts.Wires)-1].Source = "outside diameters typical" },
	} {
		if firm(change) {
			t.Errorf("%s: and yet verified", name)
		}
	}
}
