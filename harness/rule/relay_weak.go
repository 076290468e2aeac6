package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var relayWeak = &Rule{
	Key: "relay-weak", Title: "a coil is fed and does not pull in", Severity: diag.Finding,
	Why:     "Somebody pressed the switch and nothing moves, or only on a good day: the way to the coil takes its volts, or the current of its own start does.",
	Formula: "volts at a coil that is fed, its contact still open, at its starting current if it states one, at its own corner of the spreads >= its pull-in; a coil fed through another load is not asked",
	Source:  "the relay's own pull-in volts",
	Do:      "Feed the coil by a thicker or shorter way, or through a relay.",
	Fires: with(relayJob, "coil 85 ohm from 86 to 85 moves on pull-in 8 V", "coil 2 A at 12 V as resistance start 40 A for 0.1 s from 86 to 85 moves on pull-in 11 V", "to relay.86", "to relay.86 size 0.5 mm2",
		"to relay.85", "to relay.85 size 0.5 mm2"),
	Silent: relayJob,
	Check: func(m *Model, out *diag.List) {
		told := map[coilKey]bool{}
		for _, c := range m.Cases {
			coils := coilLoads(c)
			for i := range c.Relays {
				r, n := &c.Relays[i], coils[i]
				if r.Stated || r.Hunts || n < 0 || told[coilKey{r.Device, r.Coil}] {
					continue
				}
				tell := func(title, detail string, v unit.Voltage) {
					told[coilKey{r.Device, r.Coil}] = true
					d := out.Finding(own(m, r.Device, r.Span), "", title, detail, diag.Subject{Kind: "device", Name: r.Device}).Measured(volts(v), volts(r.PullIn), true)
					d.Case = c.Case
				}
				if r.On {
					if k := c.PullIn(i); k != nil && k.Got < r.PullIn {
						tell(fmt.Sprintf("%s may not pull in in case %s", r.Device, c.Case),
							fmt.Sprintf("With its contact still open its coil gets %s%s; it pulls in at %s%s.", k.Got, commas(atCorner(k)), r.PullIn, assumed(r)), k.Got)
					}
					continue
				}
				l := &c.Loads[n]
				if !l.Fed || loadOnWay(c, l) != "" {
					continue
				}
				k := c.Corner(n, solve.LeastVolts)
				if v := coilVolts(l, k); v < r.PullIn {
					tell(fmt.Sprintf("%s does not pull in in case %s", r.Device, c.Case),
						fmt.Sprintf("Its coil draws %s and gets %s of the %s at %s%s; it pulls in at %s%s.", l.Amps, v, l.SupplyVolts, l.Supply, commas(atCorner(k)), r.PullIn, assumed(r)), v)
				}
			}
		}
	},
}
