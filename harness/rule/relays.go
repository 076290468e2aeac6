package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

func relays(title func(c *solve.CaseResult, r *solve.RelayResult) string, fires func(r *solve.RelayResult) bool) func(*Model, *diag.List) {
	return func(m *Model, out *diag.List) {
		for _, c := range m.Cases {
			for i := range c.Relays {
				r := &c.Relays[i]
				if fires(r) {
					d := out.Finding(own(m, r.Device, r.Span), "", title(c, r), fmt.Sprintf("Its coil sees %s in case %s.", r.Volts, c.Case), diag.Subject{Kind: "device", Name: r.Device})
					d.Case = c.Case
					d.Value, d.HasValue = volts(r.Volts), true
				}
			}
		}
	}
}

const relayDevice = `device relay at hub housing relay-base-5 {
  coil 85 ohm from 86 to 85 moves on pull-in 8 V drop-out 3 V
  state on joins 30, 87 resistance 3 mohm
  unused 87a
}
`

const relayJob = `harness "Example" revision B
section body
zone cabin air 40 C
point hub at (500, 0, 0 mm)
run main from battery to hub to lamp section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (1000, 0, 0 mm) housing sealed-2 { draw 2 A at 12 V as resistance from 1 to 2 }
` + relayDevice + `circuit coil-feed from battery.pos to relay.86 colour red
circuit coil-back from battery.neg to relay.85 colour black
circuit contact from battery.pos to relay.30 colour red
circuit feed from relay.87 to lamp.1 colour red
circuit back from battery.neg to lamp.2 colour black
case on { supply battery }
`
