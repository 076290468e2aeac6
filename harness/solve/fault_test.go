package solve

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func elementOf(t tb, nw *Network, device string) int {
	t.Helper()
	for i, e := range nw.Elements {
		if e.Device == device && e.Kind == Load {
			return i
		}
	}
	t.Fatalf("no load %s", device)
	return -1
}

// TestFaultByHand: a far-end short through its loop, with every spread at the side asked for and the neighbour left out.
func TestFaultByHand(t *testing.T) {
	r := newRig(t).supply("bat", 12.6, 0.01, 0).supply("alt", 14, 0.02, 60).load("lamp", design.ConstantCurrent, 2).load("near", design.ConstantCurrent, 20).switched("sw", 0.02).on("sw").set("joint-age", "2")
	r.job.Devices[0].Supplies[0].Volts = ranged[unit.Voltage](11.8, 12.6, 13)
	r.job.Devices[0].Supplies[0].Inside = ranged[unit.Resistance](0.005, 0.01, 0.03)
	r.job.Devices[1].Supplies[0].Volts = ranged[unit.Voltage](13.8, 14, 14.4)
	r.job.Devices[4].States[0].Resistance = ranged[unit.Resistance](0.01, 0.02, 0.04)
	r.wires("bat.plus", "sw.1", 0.1, "sw.2", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1,
		"bat.plus", "near.plus", 0.1, "near.minus", "bat.minus", 0.1, "alt.plus", "bat.plus", 0.01, "alt.minus", "bat.minus", 0.01)
	dead := float64(ShortResistance)
	weak := NewFaults(r.job, r.nt, r.sizes, nil, r.c, Weakest)
	e := elementOf(t, weak.Net, "lamp")
	// The alternator has a limit and is left out.
	near(t, "weakest", float64(weak.AtLoad(e).Amps), 11.8/(0.03+0.3+2*0.04+6*2*lug+dead), 1e-9)
	strong := NewFaults(r.job, r.nt, r.sizes, nil, r.c, Strongest)
	// Both feed it: 14.4 V behind 0.02 + 0.02 + 4 lugs beside 13 V behind 0.005.
	ra, rb := 0.04+4*lug, 0.005
	e0, r0 := (14.4/ra+13/rb)/(1/ra+1/rb), 1/(1/ra+1/rb)
	near(t, "strongest", float64(strong.AtLoad(e).Amps), e0/(r0+0.3+0.01+6*lug+dead), 1e-9)
	if a := float64(strong.AtLoad(e).Amps); a <= float64(weak.AtLoad(e).Amps) {
		t.Errorf("the strongest short, %g A, is weaker", a)
	}
	// Between the same ends, through half an ohm and through nothing. Half an ohm leaves the battery above its own volts: it idles.
	half := 14.4 / (ra + 0.31 + 6*lug + 0.5)
	lamp := strong.Net.Elements[e]
	near(t, "between", float64(strong.Between(lamp.From, lamp.To, 0.5).Amps), half, 1e-9)
	near(t, "between, dead", float64(strong.Between(lamp.From, lamp.To, 0).Amps), float64(strong.AtLoad(e).Amps), 1e-9)
	near(t, "turned", float64(strong.Between(lamp.To, lamp.From, 0.5).Amps), half, 1e-9)
	for _, f := range []Fault{strong.Between(3, 3, 0), strong.Between(-1, 99999, 0), strong.AtLoad(-1)} {
		if f.Amps != 0 || len(f.Point.Amps) != len(strong.Net.Elements) {
			t.Errorf("%+v", f)
		}
	}
	// Made from a result it is the same.
	if a, b := r.solve().Faults(Weakest).AtLoad(e), weak.AtLoad(e); a.Amps != b.Amps {
		t.Errorf("%v and %v", a.Amps, b.Amps)
	}
}

// TestFaultOnLimit: an alternator alone is not left out, and gives its limit.
func TestFaultOnLimit(t *testing.T) {
	r := newRig(t).supply("alt", 14, 0.02, 60).load("lamp", design.ConstantCurrent, 2)
	r.wires("alt.plus", "lamp.plus", 0.01, "lamp.minus", "alt.minus", 0.01)
	f := NewFaults(r.job, r.nt, r.sizes, nil, r.c, Weakest)
	near(t, "short", float64(f.AtLoad(elementOf(t, f.Net, "lamp")).Amps), 60, 1e-9)
	lamp := f.Net.Elements[elementOf(t, f.Net, "lamp")]
	near(t, "between", float64(f.Between(lamp.From, lamp.To, 0).Amps), 60, 1e-9)
}

// TestFaultBesideAnother: a supply with a limit is not left out for a battery that hangs on it by an earth lead alone, or not at all, since that drives nothing
// of its short. By hand.
func TestFaultBesideAnother(t *testing.T) {
	for _, lead := range []bool{false, true} {
		r := newRig(t).supply("alt", 14, 0.02, 60).supply("bat", 12, 0.01, 0).load("lamp", design.ConstantCurrent, 2).load("near", design.ConstantCurrent, 2)
		w := []any{"alt.plus", "lamp.plus", 0.2, "lamp.minus", "alt.minus", 0.2, "bat.plus", "near.plus", 0.1, "near.minus", "bat.minus", 0.1}
		if lead {
			w = append(w, "alt.minus", "bat.minus", 0.05)
		}
		r.wires(w...)
		f := NewFaults(r.job, r.nt, r.sizes, nil, r.c, Weakest)
		near(t, "short", float64(f.AtLoad(elementOf(t, f.Net, "lamp")).Amps), 14/(0.02+0.4+4*lug+float64(ShortResistance)), 1e-9)
	}
}

// TestFaultBetweenParts: from a live net to a piece of metal that nothing joins nothing flows.
func TestFaultBetweenParts(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).load("lamp", design.ConstantCurrent, 2)
	r.wires("bat.plus", "lamp.plus", 0.01, "lamp.minus", "bat.minus", 0.01, "a", "b", 0.1)
	f := NewFaults(r.job, r.nt, r.sizes, nil, r.c, Strongest)
	at := map[string]int{}
	for n, name := range f.Net.Nodes {
		at[name] = n
	}
	if x := f.Between(at["bat.plus"], at["a"], 0); x.Amps != 0 || !x.Point.Converged {
		t.Errorf("%v", x.Amps)
	}
}

// TestFaultsAgainstDense holds shorts in random nets with rings and several supplies against the dense tableau.
func TestFaultsAgainstDense(t *testing.T) {
	checked := 0
	for seed := range uint64(60) {
		pick := seeded(seed)
		r := drawn(t, pick, 3+int(seed%25), true)
		f := NewFaults(r.job, r.nt, r.sizes, nil, r.c, Side(seed%2))
		a, b := int(pick(0, float64(len(f.Net.Nodes))-1e-6)), int(pick(0, float64(len(f.Net.Nodes))-1e-6))
		through := math.Pow(10, pick(-6, 0))
		load := elementOf(t, f.Net, "l0")
		for n, x := range []Fault{f.AtLoad(load), f.Between(a, b, unit.Resistance(through))} {
			var list []source2
			for i, e := range f.Net.Elements {
				switch {
				case e.Kind == Load || e.Kind == Supply && x.Point.Amps[i] == 0:
				case e.Kind == Supply:
					list = append(list, source2{e.From, e.To, 1 / f.point().branch(i).g, f.point().branch(i).e})
				default:
					list = append(list, source2{e.From, e.To, 1 / f.point().branch(i).g, 0})
				}
			}
			short := source2{f.Net.Elements[load].From, f.Net.Elements[load].To, float64(ShortResistance), 0}
			if n == 1 {
				short = source2{a, b, through, 0}
			}
			if short.from == short.to {
				continue
			}
			volts, amps := dense(t, len(f.Net.Nodes), append(list, short))
			checked++
			near(t, "short", float64(x.Amps), math.Abs(amps[len(amps)-1]), 1e-6*math.Abs(amps[len(amps)-1])+1e-9)
			for i := range volts {
				near(t, f.Net.Nodes[i], float64(x.Point.Volts[i]-x.Point.Volts[0]), volts[i], 1e-9*30)
			}
		}
	}
	if checked < 80 {
		t.Errorf("%d checked", checked)
	}
}
