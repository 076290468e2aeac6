package protect

import (
	"math"
	"strings"
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// A dead alternator shorts its own lead, which the battery then feeds backwards. By hand: 12.6 V over 10 mohm inside, 3 mohm of lead and 1 mohm
// of earth at their coldest.
func TestLeadFedBackwards(t *testing.T) {
	for _, c := range []struct {
		area unit.Area
		met  bool
	}{{6, false}, {50, true}} {
		r := newRig(12.6, 0.010)
		r.job.Devices = append(r.job.Devices, &design.Device{Name: "alternator", Pins: []design.Pin{{Name: "b", Housing: -1, Stud: "M8"}, {Name: "e", Housing: -1, Stud: "M8"}},
			Supplies: []design.Supply{{Volts: fact[unit.Voltage](14), Inside: fact[unit.Resistance](0.01), Most: fact[unit.Current](40), From: design.PinRef{Pin: "b"}, To: design.PinRef{Pin: "e"}}}})
		r.job.Cases[0].Supplies = append(r.job.Cases[0].Supplies, design.CaseSupply{Device: "alternator"})
		f := r.fuse("a", 150, data.FuseGateOf(data.Link, 150))
		r.wire("battery.pos", "a.in", 0.1, 50, 0)
		lead := r.wire("a.out", "alternator.b", 1, c.area, 0.003, f)
		r.wire("alternator.e", "battery.neg", 1, 50, 0.001, f)
		r.weigh()
		seen := false
		for _, s := range r.res.Shorts {
			if !s.Supply || s.Device != "alternator" || !s.Strong {
				continue
			}
			seen = true
			want := 12.6 / 0.014
			if math.Abs(float64(s.Amps)-want) > 0.02*want || s.Source != "battery" || s.Fuses[0].Fuse != f {
				t.Errorf("%v: %+v, by hand %.0f A", c.area, s, want)
			}
		}
		h := r.res.Wires[lead].Short
		if !seen || h == nil || h.Met != c.met {
			t.Errorf("%v: the lead bears %+v", c.area, h)
		}
	}
}

// What the main fuse feeds, chafed on the body, comes back by the body's bond: a thin one is past its limit before the fuse has opened.
func TestBondBearsAChafe(t *testing.T) {
	for _, c := range []struct {
		area unit.Area
		met  bool
	}{{4, false}, {50, true}} {
		r := newRig(12.6, 0.010)
		r.job.Devices = append(r.job.Devices, &design.Device{Name: "shell", Pins: []design.Pin{{Name: "front", Housing: -1, Stud: "M8"}, {Name: "rear", Housing: -1, Stud: "M8"}},
			Joins: []design.Joins{{Pins: []string{"front", "rear"}, Resistance: fact[unit.Resistance](0.002)}}})
		f := r.fuse("a", 150, data.FuseGateOf(data.Link, 150))
		r.load("lamp", 1)
		r.wire("battery.pos", "a.in", 0.1, 50, 0)
		r.wire("a.out", "lamp.1", 1, 50, 0.001, f)
		r.wire("lamp.2", "shell.front", 0.1, 50, 0, f)
		bond := r.wire("shell.rear", "battery.neg", 1, c.area, 0.001, f)
		r.res.Wires[bond].Return = true
		r.res.Fuses[0].Wires = []int{1}
		r.weigh()
		studs := map[string]bool{}
		for _, s := range r.res.Shorts {
			if s.Metal == "" || !s.Strong {
				continue
			}
			studs[s.Metal] = true
			want := 12.6 / 0.011
			if s.Metal == "shell.front" {
				want = 12.6 / 0.013
			}
			if math.Abs(float64(s.Amps)-want) > 0.02*want || !strings.HasPrefix(s.At, "a.out to shell.") {
				t.Errorf("%+v, by hand %.0f A", s, want)
			}
		}
		if h := r.res.Wires[bond].Short; len(studs) != 2 || h == nil || h.Met != c.met {
			t.Errorf("%v: %v, the bond bears %+v", c.area, studs, h)
		}
	}
}
