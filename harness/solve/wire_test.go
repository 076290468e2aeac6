package solve

import (
	"math"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// TestResistanceOfAWire: what its conductor has per metre over its length, warmed by (234.5 + T)/254.5; where that is not known that of pure copper, 1/58 ohm mm2/m,
// over the area it has or should have; nothing where no area is known either.
func TestResistanceOfAWire(t *testing.T) {
	for _, c := range []struct {
		name string
		wire net.Wire
		size size.Conductor
		temp float64
		want float64
	}{
		{"10 mohm/m over 2 m", net.Wire{Length: 2000}, size.Conductor{Resistance: 0.01}, 20, 0.02},
		{"longer in copper", net.Wire{Length: 2000, Copper: 2500}, size.Conductor{Resistance: 0.01}, 20, 0.025},
		{"shorter in copper", net.Wire{Length: 2000, Copper: 1500}, size.Conductor{Resistance: 0.01}, 20, 0.02},
		{"loose", net.Wire{Loose: true, LooseLength: 3000}, size.Conductor{Resistance: 0.01}, 20, 0.03},
		{"loose with a length", net.Wire{Loose: true, Length: 500, LooseLength: 3000}, size.Conductor{Resistance: 0.01}, 20, 0.005},
		{"not loose", net.Wire{LooseLength: 3000}, size.Conductor{Resistance: 0.01}, 20, 0},
		{"at 100 C", net.Wire{Length: 2000}, size.Conductor{Resistance: 0.01}, 100, 0.02 * 334.5 / 254.5},
		{"at -40 C", net.Wire{Length: 2000}, size.Conductor{Resistance: 0.01}, -40, 0.02 * 194.5 / 254.5},
		{"colder than copper's zero", net.Wire{Length: 2000}, size.Conductor{Resistance: 0.01}, -300, 0.02 / 254.5},
		{"by its area", net.Wire{Length: 1000}, size.Conductor{Size: unit.Metric(2.5)}, 20, 1 / (58 * 2.5)},
		{"by the stated area", net.Wire{Length: 1000, Stated: unit.Metric(0.5)}, size.Conductor{}, 20, 1 / (58 * 0.5)},
		{"by its area before the stated one", net.Wire{Length: 1000, Stated: unit.Metric(0.5)}, size.Conductor{Size: unit.Metric(2.5)}, 20, 1 / (58 * 2.5)},
		{"nothing known", net.Wire{Length: 1000}, size.Conductor{}, 20, 0},
	} {
		v := &values{nt: &net.Net{Wires: []net.Wire{c.wire}}, sizes: size.Sizes{c.size}, temps: []unit.Temperature{unit.Temperature(c.temp)}}
		if got := float64(v.wireOhms(0)); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g ohm, want %g", c.name, got, c.want)
		}
	}
	bare := &values{nt: &net.Net{Wires: []net.Wire{{Length: 1000, Stated: unit.Metric(1)}}}}
	if got := float64(bare.wireOhms(0)); math.Abs(got-1.0/58) > 1e-12 {
		t.Errorf("no sizes and no temperatures: %g", got)
	}
}
