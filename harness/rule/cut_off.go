package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var cutOff = &Rule{
	Key: "cut-off", Title: "a load that no supply can reach", Severity: diag.Finding,
	Why:     "No switch makes it work: a wire of its feed or of its return is missing, and it was never checked.",
	Formula: "for each load that no case feeds: with every contact of every switch and relay in place, a way over metal, diodes and supplies in series leads from its plus round to its minus",
	Source:  "circuit theory",
	Do:      "Write the circuit that is missing, or take the load out.",
	Fires:   with(smallJob, "circuit back from battery.neg to lamp.2 colour black\n", "", "from 1 to 2\n", "from 1 to 2\n  unused 2\n"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		dark, through := unfed(m)
		for _, c := range cutOffs(m, dark) {
			for _, l := range dark {
				k := keyOf(l)
				if k != (loadKey{c.Device, c.Coil, c.Index}) || bare(m, &c) {
					continue
				}
				what := "the load"
				if c.Coil {
					what = "the coil"
				}
				d := out.Finding(own(m, l.Device, l.Span), "", fmt.Sprintf("no supply can reach %s of %s from %s to %s", what, l.Device, l.From, l.To), lacking(&c), diag.Subject{Kind: "device", Name: l.Device})
				if other := through[k]; other != "" {
					d.Detail += " What current it gets runs through " + other + "."
				}
				for i := range m.Job.Circuits {
					for n := range m.Job.Circuits[i].Links {
						if x := &m.Job.Circuits[i].Links[n]; c.Lacks <= solve.NoMinus && (x.From.Name+"."+x.From.Pin == c.Pin || x.To.Name+"."+x.To.Pin == c.Pin) {
							d.Point(x.Span, "this leads to no supply")
						}
					}
				}
			}
		}
	},
}

// bare tells whether the end is a pin without a wire that is not declared unused: that is told of the pin.
func bare(m *Model, c *solve.Cut) bool {
	if c.Lacks > solve.NoMinus || len(c.Joins) > 0 {
		return false
	}
	device, pin, _ := strings.Cut(c.Pin, ".")
	for _, p := range m.device(device).Pins {
		if p.Name == pin {
			return !p.Inner && !p.Unused
		}
	}
	return false
}

// lacking says which end is in the air.
func lacking(c *solve.Cut) string {
	side := "plus"
	switch c.Lacks {
	case solve.NoMinus:
		side = "minus"
	case solve.OneSide:
		return "Both its ends, " + c.Pin + ", join the same metal."
	case solve.NoCommon:
		return "Its ends, " + c.Pin + ", join supplies, but nothing leads from the one round to the other: a return between them is missing."
	}
	if len(c.Joins) == 0 {
		return "Its " + side + ", " + c.Pin + ", joins nothing, in any position of the switches."
	}
	more := ""
	if n := len(c.Joins); n > 6 {
		more = fmt.Sprintf(" and %d more", n-6)
	}
	return "Its " + side + ", " + c.Pin + ", joins " + strings.Join(c.Joins[:min(6, len(c.Joins))], ", ") + more + " and no supply, in any position of the switches."
}
