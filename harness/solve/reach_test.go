package solve

import (
	"fmt"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestCutOff: what is missing on the way of a load that no switch can help.
func TestCutOff(t *testing.T) {
	build := func() *rig {
		r := newRig(t).supply("bat", 12, 0.01, 0).heater("a", 6).heater("b", 6).switched("sw", 0.01)
		r.device(design.Device{Name: "two", Supplies: []design.Supply{{Volts: given(unit.Voltage(5)), From: at("plus"), To: at("minus")}}})
		return r
	}
	for _, c := range []struct {
		name  string
		wires []any
		want  string
	}{
		{"through an open switch", []any{"bat.plus", "sw.1", 0.1, "sw.2", "a.plus", 0.1, "a.minus", "bat.minus", 0.1}, ""},
		{"turned", []any{"bat.plus", "a.minus", 0.1, "a.plus", "bat.minus", 0.1}, ""},
		{"minus in the air", []any{"bat.plus", "a.plus", 0.1}, "1 a.minus []"},
		{"minus to a splice of its own", []any{"bat.plus", "a.plus", 0.1, "a.minus", "sp", 0.1, "sp", "b.minus", 0.1, "bat.plus", "b.plus", 0.1}, "1 a.minus [b.minus sp]"},
		{"plus in the air", []any{"a.plus", "sw.1", 0.1, "a.minus", "bat.minus", 0.1}, "0 a.plus [sw.1]"},
		{"both at minus", []any{"bat.minus", "a.plus", 0.1, "a.minus", "bat.minus", 0.1}, "2 a.plus and a.minus []"},
		{"two supplies", []any{"bat.plus", "a.plus", 0.1, "a.minus", "two.minus", 0.1}, "3 a.plus and a.minus []"},
		{"two supplies in series", []any{"bat.plus", "a.plus", 0.1, "bat.minus", "two.plus", 0.1, "a.minus", "two.minus", 0.1}, ""},
	} {
		r := build().wires(c.wires...)
		got := ""
		for _, k := range CutOff(All(r.job, r.nt, r.sizes), func(d string, _ int, _ bool) bool { return d == "a" }) {
			got += fmt.Sprint(k.Lacks, " ", k.Pin, " ", k.Joins)
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// TestFeedable: 12 V behind half an ohm feeds 72 W at most.
func TestFeedable(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.1, 0).load("conv", design.ConstantPower, 10)
	res := r.wires("bat.plus", "conv.plus", 0.2, "conv.minus", "bat.minus", 0.2-4*lug).solve()
	if len(problems(res, CannotFeed)) != 1 {
		t.Fatalf("%+v", res.Problems)
	}
	f := res.Feedable(0)
	near(t, "volts", float64(f.Volts), 12, 1e-8)
	near(t, "ohms", float64(f.Resistance), 0.5, 1e-8)
	near(t, "watts", float64(f.Most), 72, 1e-5)
	if (res.Feedable(5) != Feedable{}) {
		t.Error("a load that is not there")
	}
}
