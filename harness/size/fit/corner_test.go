package fit

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestLimitsAtTheirCorners: a lamp loses most at the battery's high volts, is left least at its low ones; each limit is judged there, and the
// wires grow for it.
func TestLimitsAtTheirCorners(t *testing.T) {
	build := func(spread unit.Ratio) (*shop, *Outcome) {
		s := newShop()
		s.load("lamp", 10).As = design.ConstantResistance
		s.job.Devices[0].Supplies[0].Volts.Spread = unit.Within(unit.Voltage(12.6), spread)
		s.wire("feed", "battery.pos", "lamp.1", 6000, "cabin")
		s.wire("back", "lamp.2", "battery.neg", 6000, "cabin")
		s.set("drop", "4 %", nil)
		s.set("least-volts", "9 V", nil)
		return s, s.loop()
	}
	s, o := build(0.1)
	c := o.Cases[0]
	l := &c.Loads[0]
	limits := Limits(s.job, o.Net, c, l)
	if names(limits) != "drop least-volts " || limits[0].Corner == nil || limits[1].Corner == nil {
		t.Fatalf("%+v", limits)
	}
	lamp := 1.2
	way := float64(l.FeedDrop+l.ReturnDrop) / float64(l.Amps)
	for i, want := range []float64{12.6 * 1.1 * way / (lamp + way + 0.005), 12.6 * 0.9 * lamp / (lamp + way + 0.005)} {
		if got := float64(limits[i].Got); math.Abs(got-want) > 1e-9 || !limits[i].Met() {
			t.Errorf("%s: %.12g, want %.12g, met %v", limits[i].Name, got, want, limits[i].Met())
		}
	}
	_, plain := build(0)
	if o.Sizes[0].Size == plain.Sizes[0].Size && o.Sizes[1].Size == plain.Sizes[1].Size {
		t.Errorf("sizes as without a spread: %s", sizes(o))
	}
}

// TestStartLimitsAtTheirCorners: while a motor starts the relay coil beside it is left least at the battery's low volts.
func TestStartLimitsAtTheirCorners(t *testing.T) {
	s := newShop()
	s.load("motor", 5).Start = fact[unit.Current](60)
	s.load("coil", 0.2)
	s.job.Devices[0].Supplies[0].Volts.Spread = unit.Within(unit.Voltage(12.6), 0.1)
	s.joint("bar")
	s.wire("main", "battery.pos", "bar.s", 3000, "cabin")
	s.wire("a", "bar.s", "motor.1", 100, "cabin")
	s.wire("b", "bar.s", "coil.1", 100, "cabin")
	s.wire("back", "motor.2", "battery.neg", 1000, "cabin")
	s.wire("back2", "coil.2", "battery.neg", 1000, "cabin")
	s.set("least-start-volts", "5 V", nil)
	o := s.loop()
	c := o.Cases[0]
	for i := range c.Loads {
		st := c.Starts[0].Load(i)
		ls := StartLimits(s.job, o.Net, c, &c.Loads[i], st)
		if len(ls) != 1 || ls[0].Corner == nil || !(ls[0].Got < st.Volts) {
			t.Errorf("%s: %+v", st.Device, ls)
		}
	}
}
