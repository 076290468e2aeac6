package rule

import (
	"fmt"
	"math"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var relayWeak = &Rule{
	Key: "relay-weak", Title: "a coil is fed and does not pull in", Severity: diag.Finding,
	Why:     "Somebody pressed the switch and nothing moves, or only on a good day: the way to the coil takes its volts, or the current of its own start does.",
	Formula: "volts at a coil that is fed, at its starting current if it states one, >= its pull-in; a coil fed through another load is not asked",
	Source:  "the relay's own pull-in volts",
	Do:      "Feed the coil by a thicker or shorter way, or through a relay.",
	Fires: with(relayJob, "coil 85 ohm from 86 to 85 moves on pull-in 8 V", "coil 2 A at 12 V as resistance start 40 A for 0.1 s from 86 to 85 moves on pull-in 11 V", "to relay.86", "to relay.86 size 0.5 mm2",
		"to relay.85", "to relay.85 size 0.5 mm2"),
	Silent: relayJob,
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
				if r.On || r.Stated || r.Hunts || told[k] {
					continue
				}
				for j := range c.Loads {
					l := &c.Loads[j]
					if !l.Coil || l.Device != r.Device || l.Index != r.Coil || !l.Fed || loadOnWay(c, l) != "" {
						continue
					}
					if v := unit.Voltage(math.Abs(float64(l.Volts))); v < r.PullIn {
						told[k] = true
						d := out.Finding(own(m.Job, r.Device, r.Span), "", fmt.Sprintf("%s does not pull in in case %s", r.Device, c.Case),
							fmt.Sprintf("Its coil draws %s and gets %s of the %s at %s; it pulls in at %s.", l.Amps, v, l.SupplyVolts, l.Supply, r.PullIn), diag.Subject{Kind: "device", Name: r.Device}).
							Measured(volts(v), volts(r.PullIn), true)
						d.Case = c.Case
					}
				}
			}
		}
	},
}
