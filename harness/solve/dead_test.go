package solve

import (
	"math"
	"testing"

	"loomsheet/harness/design"
)

// TestDeadSupply: an alternator that is a dead short itself takes what the battery drives: counted as a supply's, less than nothing is delivered, and the currents
// add up at every node. By hand 12.6 V over 10 mohm inside, 4 mohm of leads and 4 lugs.
func TestDeadSupply(t *testing.T) {
	r := newRig(t).supply("bat", 12.6, 0.01, 0).supply("alt", 14, 0.02, 60).load("lamp", design.ConstantCurrent, 2)
	r.wires("bat.plus", "alt.plus", 0.003, "alt.minus", "bat.minus", 0.001, "bat.plus", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1)
	for _, side := range []Side{Weakest, Strongest} {
		f := NewFaults(r.job, r.nt, r.sizes, nil, r.c, side)
		for i, e := range f.Net.Elements {
			if e.Kind != Supply || e.Device != "alt" {
				continue
			}
			x := f.AtLoad(i)
			want := 12.6 / (0.014 + 4*lug + float64(ShortResistance))
			near(t, "short", float64(x.Amps), want, 1e-6*want)
			near(t, "delivered", float64(x.Point.Amps[i]), -want, 1e-6*want)
			sum := make([]float64, len(f.Net.Nodes))
			for k, y := range f.Net.Elements {
				a := float64(x.Point.Amps[k])
				if y.Kind == Supply {
					a = -a
				}
				sum[y.From] -= a
				sum[y.To] += a
			}
			for n, s := range sum {
				if math.Abs(s) > 1e-9*want {
					t.Errorf("%g A left over at %s", s, f.Net.Nodes[n])
				}
			}
		}
	}
}
