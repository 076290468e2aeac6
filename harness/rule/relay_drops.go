package rule

import (
	"fmt"
	"math"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var relayDrops = &Rule{
	Key: "relay-drops", Title: "a relay lets go while something starts", Severity: diag.Finding,
	Why:     "The dip of a start lets a held relay fall: the load stops, the volts recover, it pulls in again, and its contact burns.",
	Formula: "volts at each held coil while any device starts >= its drop-out",
	Source:  "the relay's own drop-out volts",
	Do:      "Feed the coil from nearer the supply, or what starts from a thicker or another feed.",
	Fires: with(relayJob, "drop-out 3 V", "drop-out 7 V", "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as resistance from 1 to 2 start 900 A for 0.01 s",
		"inside 10 mohm", "inside 300 mohm", "case on {", "set drop to 50 %\ncase on {"),
	Silent: with(relayJob, "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as resistance from 1 to 2 start 16 A for 0.01 s"),
	Check: func(m *Model, out *diag.List) {
		type key struct {
			device string
			coil   int
		}
		told := map[key]bool{}
		for _, c := range m.Cases {
			for i := range c.Relays {
				r := &c.Relays[i]
				k := key{r.Device, r.Coil}
				if !r.On || r.Against || told[k] {
					continue
				}
				least, who := unit.Voltage(math.Inf(1)), ""
				for s := range c.Starts {
					for j := range c.Starts[s].Loads {
						l := &c.Starts[s].Loads[j]
						if v := unit.Voltage(math.Abs(float64(l.Volts))); l.Coil && l.Device == r.Device && l.Index == r.Coil && v < least {
							least, who = v, c.Starts[s].Device
						}
					}
				}
				if least < r.DropOut {
					told[k] = true
					d := out.Finding(own(m.Job, r.Device, r.Span), "", fmt.Sprintf("%s lets go while %s starts in case %s", r.Device, who, c.Case),
						fmt.Sprintf("Its coil sees %s then; it holds down to %s.", least, r.DropOut), diag.Subject{Kind: "device", Name: r.Device}).
						Measured(volts(least), volts(r.DropOut), true)
					d.Case = c.Case
				}
			}
		}
	},
}
