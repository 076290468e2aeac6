package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
)

var alternatorKeeps = &Rule{
	Key: "alternator-keeps", Title: "an alternator keeps loads alive past the isolator", Severity: diag.Finding,
	Why:     "Whoever pulls the isolator wants the engine to stop and no wire to be live; a running alternator feeds the ignition on, without a battery to hold its volts down.",
	Formula: "in a case with a battery and another supply, opening a switch after which batteries alone feed no more than with all switches off leaves no load fed by the other supply",
	Source:  "common practice; rules of competition ask that the isolator stops the engine",
	Do:      "Give the isolator a second contact in the ignition's or the field's feed and lead that circuit through it, or take the other supply's lead to the battery's side of the isolator.",
	Fires: with(keeping, "circuit charge from alternator.b to lamp.1 colour red",
		"circuit charge from alternator.b to isolator.2 colour red"),
	Silent: with(keeping, "circuit charge from alternator.b to lamp.1 colour red",
		"circuit charge from alternator.b to isolator.1 colour red"),
	Check: func(m *Model, out *diag.List) {
		if m.Charge == nil {
			return
		}
		for i := range m.Charge.Kept {
			k := &m.Charge.Kept[i]
			var also []string
			first := true
			for j := range m.Charge.Kept {
				if o := &m.Charge.Kept[j]; o.Device == k.Device && o.Group == k.Group && j != i {
					first = first && j > i
					also = append(also, o.Case)
				}
			}
			if !first {
				continue // told in its first case
			}
			name := k.Device
			if k.Group != "" {
				name += "." + k.Group
			}
			detail := fmt.Sprintf("In case %s: opened, it cuts every battery off, and these stay fed: %s.", k.Case, strings.Join(k.Loads, ", "))
			if len(also) > 0 {
				detail += " So it is in " + strings.Join(also, ", ") + " as well."
			}
			d := out.Finding(own(m, k.Device, k.Span), "", fmt.Sprintf("with %s opened, %s keeps %s alive", name, strings.Join(k.By, ", "), some(k.Loads)),
				detail, diag.Subject{Kind: "device", Name: k.Device})
			d.Case = k.Case
		}
	},
}

// some is a list cut to what a title bears.
func some(names []string) string {
	if len(names) <= 3 {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:2], ", "), len(names)-2)
}

// A small job with an isolator and an alternator.
var keeping = with(smallJob, "most 200 A", "stores 60 Ah",
	"circuit feed from battery.pos to lamp.1 colour red", `device isolator at hub {
  pin 1, 2 stud M8
  state on joins 1, 2
}
device alternator at hub {
  pin b, e stud M6
  inner out
  fuse blade-4 from out to b
  supply 14 V inside 10 mohm most 50 A from out to e
}
circuit plus from battery.pos to isolator.1 colour red
circuit feed from isolator.2 to lamp.1 colour red
circuit charge from alternator.b to lamp.1 colour red
circuit charge-back from alternator.e to battery.neg colour black`,
	"case on { supply battery }", "case on {\n  supply battery, alternator\n  set isolator to on\n}\ncase standing {\n  supply battery\n  set isolator to on\n}")
