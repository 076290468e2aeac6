package protect

import (
	"math"
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestStrongestOfSeveralCases: a main feed chafed on the shell is strongest in the case whose battery stands highest, weakest in that where it stands lowest,
// in whatever order the cases are written. By hand: the volts over 10 mohm inside and 1 mohm of bond, the copper cold; all of
// them within one step of the gate, where more current lets more energy through.
func TestStrongestOfSeveralCases(t *testing.T) {
	at := func(name string, volts unit.Voltage) *design.Case {
		return &design.Case{Name: name, Supplies: []design.CaseSupply{{Device: "battery", At: fact(volts)}}}
	}
	for _, cases := range [][]*design.Case{
		{at("low", 13), at("high", 14)}, {at("high", 14), at("low", 13)}, {at("low", 13), at("middle", 13.5), at("high", 14)}, {at("low", 13), at("high", 14), at("middle", 13.5)},
	} {
		r := newRig(12.6, 0.010)
		r.job.Cases = cases
		r.job.Devices = append(r.job.Devices, &design.Device{Name: "shell", Pins: []design.Pin{{Name: "rear", Housing: -1, Stud: "M8"}}})
		f := r.fuse("a", 250, data.FuseGateOf(data.Link, 250))
		r.load("lamp", 1)
		r.wire("battery.pos", "a.in", 0.1, 50, 0)
		r.wire("a.out", "lamp.1", 1, 50, 0.001, f)
		r.wire("lamp.2", "shell.rear", 0.1, 50, 0, f)
		bond := r.wire("shell.rear", "battery.neg", 1, 50, 0.001, f)
		r.res.Wires[bond].Return = true
		r.res.Fuses[0].Wires = []int{1}
		r.weigh()
		strong, weak := 0, 0
		for _, s := range r.res.Shorts {
			if s.Metal == "" {
				continue
			}
			if s.Strong {
				strong++
				if want := 14 / 0.011; s.Case != "high" || math.Abs(float64(s.Amps)-want) > 0.02*want {
					t.Errorf("%d cases: strongest in %s: %v, by hand %g", len(cases), s.Case, s.Amps, want)
				}
				continue
			}
			weak++
			if s.Case != "low" || s.Amps > 13/0.011 || s.Amps < 13/0.012 {
				t.Errorf("%d cases: weakest in %s: %v", len(cases), s.Case, s.Amps)
			}
		}
		if strong == 0 || weak == 0 {
			t.Errorf("%d strong, %d weak", strong, weak)
		}
	}
}

// TestFuseOfNoRating: a fuse whose rating is not known, or which is not there, gives no overload to judge by.
func TestFuseOfNoRating(t *testing.T) {
	for rating, want := range map[unit.Current]bool{10: true, 0: false} {
		r := newRig(12, 0.01)
		f := r.fuse("a", rating, data.FuseGateOf(data.BladeC, 10))
		r.load("lamp", 2)
		r.wire("battery.pos", "a.in", 0.1, 4, 0.005)
		feed := r.wire("a.out", "lamp.1", 1, 1, 0.018, f)
		gone := r.wire("lamp.2", "battery.neg", 1, 1, 0.018, FuseRef{"nobody", 0})
		r.weigh()
		if got := r.res.Wires[feed].Overload != nil; got != want {
			t.Errorf("rated %v: %+v", rating, r.res.Wires[feed].Overload)
		}
		if o := r.res.Wires[gone].Overload; o != nil {
			t.Errorf("behind a fuse that is not there: %+v", o)
		}
	}
}
