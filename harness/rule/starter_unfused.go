package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var starterUnfused = &Rule{
	Key: "starter-unfused", Title: "a starter's cable in its sleeve has no fuse", Severity: diag.Finding,
	Why:     "Nothing clears a short on it: the battery drives over a thousand amperes until something burns through. So it is a risk that somebody must name.",
	Formula: "the stretch from a source feeds a starting motor and nothing else, lies in a sleeve all the way, and no fuse stands in it",
	Source:  "33 CFR 183.455 leaves out the starting motor's cables; common practice",
	Do:      "Put a link at the battery; or see to sheath and clearance, and let a named person accept it: `accept starter-unfused circuit NAME value LENGTH reason ... by ... until ...`. What else is fed from it is no-fuse, which that does not cover.",
	Fires:   with(starterJob, "  inner cell\n  fuse link-200 from cell to pos\n", "", "from cell to neg", "from pos to neg"),
	Silent:  starterJob,
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Unfused {
			u := &m.Protect.Unfused[i]
			if u.Met || !starterCable(u) || !u.Sheathed || len(u.Wires) == 0 {
				continue
			}
			first := &m.Net.Wires[u.Wires[0]]
			out.Finding(first.Span, "", fmt.Sprintf("nothing clears a short on the starter's cable, from %s to %s", u.Source.Device, list(u.Loads, 4)),
				fmt.Sprintf("A dead short at its far end draws %s%s. It lies in a sleeve all the way; that it keeps clear of metal, edges and heat is for whoever accepts it. Wires: %s.", map[bool]string{false: "up to "}[u.Loop], u.Amps, wireNames(m, u)),
				diag.Subject{Kind: "circuit", Name: first.Circuit}).Measured(lengthQuantity(u.Length), lengthQuantity(u.Most), false)
		}
	},
}

// A battery, a starter with its solenoid and a button, in a sleeve all the way.
const starterJob = `harness "Example" revision B
section body
zone cabin air 40 C
set drop to 20 %
run main from battery to cell-fuse to button to starter section body zone cabin sleeve braid
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse link-200 from cell to pos
  supply 12.6 V inside 10 mohm from cell to neg
}
device button at (500, 0, 0 mm) housing plain-2 { state on joins 1, 2 }
device starter at (900, 0, 0 mm) {
  pin b, e stud M8
  pin s stud M5
  inner m
  coil 8 A at 12 V as resistance from s to e moves on pull-in 7 V drop-out 3 V
  state on joins b, m resistance 0.5 mohm
  draw 80 mohm from m to e on 8 s start 300 A for 0.1 s
}
circuit main from battery.pos to starter.b size 95 mm2 wire battery-cable colour red
circuit feed from cell-fuse.out to button.1 colour violet
circuit call from button.2 to starter.s colour white
device cell-fuse at (200, 0, 0 mm) {
  pin in, out stud M5
  fuse blade-15 from in to out
}
circuit tap from battery.pos to cell-fuse.in size 70 mm2 colour red
circuit back from starter.e to battery.neg size 95 mm2 wire battery-cable colour black
case cranking {
  supply battery
  set button to on
}
`
