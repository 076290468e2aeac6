package solve

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// A strike is the fault it stands for: the same currents and volts in its island, and the sense in which the short carries them.
func TestStrikeIsTheFault(t *testing.T) {
	rapid.Check(t, func(x *rapid.T) {
		amps := func(name string) unit.Current { return unit.Current(rapid.Float64Range(0.1, 30).Draw(x, name)) }
		ohms := func(name string) float64 { return rapid.Float64Range(0.001, 0.5).Draw(x, name) }
		r := newRig(t).supply("bat", 12.6, 0.01, 0).supply("alt", 14, 0.02, amps("limit")).load("lamp", design.ConstantCurrent, amps("lamp")).load("near", design.ConstantPower, 20).
			supply("far", 24, 0.05, 0).load("off", design.ConstantCurrent, 1)
		r.wires("bat.plus", "near.plus", ohms("a"), "near.plus", "lamp.plus", ohms("b"), "lamp.minus", "bat.minus", ohms("c"), "near.minus", "lamp.minus", ohms("d"),
			"alt.plus", "near.plus", ohms("e"), "alt.minus", "bat.minus", ohms("f"), "far.plus", "off.plus", ohms("g"), "far.minus", "off.minus", ohms("h"))
		for _, side := range []Side{Weakest, Strongest} {
			f := NewFaults(r.job, r.nt, r.sizes, nil, r.c, side)
			same := func(what string, s Strike, want Fault, load, from, to int) {
				if math.Abs(float64(s.Amps-want.Amps)) > 1e-7*float64(want.Amps)+1e-9 {
					x.Fatalf("%s: %v, as a fault %v", what, s.Amps, want.Amps)
				}
				top := unit.Current(0)
				for _, a := range want.Point.Amps {
					top = max(top, a, -a)
				}
				listed := map[int32]bool{}
				for _, i := range s.Elements() {
					listed[i] = true
				}
				for i := range f.Net.Elements {
					if i == load { // the short carries it, not the load
						continue
					}
					if d := s.Current(i) - want.Point.Amps[i]; math.Abs(float64(d)) > 1e-7*float64(top)+1e-12 {
						x.Fatalf("%s, %s: %v, as a fault %v", what, f.Net.Elements[i].Name, s.Current(i), want.Point.Amps[i])
					}
					if s.Amps > 1e-3 && !listed[int32(i)] && f.layout.ofE[i] == s.island && math.Abs(float64(want.Point.Amps[i])) > 1e-9*float64(top)+1e-9 {
						x.Fatalf("%s: %s carries %v and is not listed", what, f.Net.Elements[i].Name, want.Point.Amps[i])
					}
				}
				for n := range f.Net.Nodes {
					if d := s.Volts(n) - want.Point.Volts[n]; s.Amps > 1e-3 && math.Abs(float64(d)) > 1e-6 {
						x.Fatalf("%s, node %s: %v, as a fault %v", what, f.Net.Nodes[n], s.Volts(n), want.Point.Volts[n])
					}
				}
				if from >= 0 && s.Amps > 1e-3 && s.Forward != (want.Point.Volts[from] > want.Point.Volts[to]) {
					x.Fatalf("%s: it runs the other way", what)
				}
			}
			for i, e := range f.Net.Elements {
				switch e.Kind {
				case Load, Supply:
					same(e.Name, f.StrikeLoad(i), f.AtLoad(i), i, e.From, e.To)
				}
			}
			for range 5 {
				a, b := rapid.IntRange(-1, len(f.Net.Nodes)).Draw(x, "from"), rapid.IntRange(0, len(f.Net.Nodes)-1).Draw(x, "to")
				same("between", f.Strike(a, b, 0.2), f.Between(a, b, 0.2), -1, a, b)
				if s := f.Strike(a, b, 0); s.Amps > 0 && !f.Together(a, b) {
					x.Fatal("current without a way")
				}
			}
		}
	})
}
