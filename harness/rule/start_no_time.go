package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

var startNoTime = &Rule{
	Key: "start-no-time", Title: "a starting current lasts nobody knows how long", Severity: diag.Finding,
	Why:     "The volts are judged while it starts, but how far it warms its wires depends on the time; without one no heat of the start is counted.",
	Formula: "each `start` has a `for`",
	Source:  "common practice",
	Do:      "Say how long it lasts: `start 32 A for 0.2 s`.",
	Fires:   with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 6 A"),
	Silent:  with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 6 A for 0.1 s"),
	Check: func(m *Model, out *diag.List) {
		for _, dev := range m.Job.Devices {
			tell := func(d *design.Draw) {
				if !dev.Pattern && d.Start.Given && d.Start.Nominal > 0 && !(d.StartFor > 0) {
					out.Finding(own(m, dev.Name, d.Span), "", fmt.Sprintf("%s starts at %s, and for how long is not said", dev.Name, d.Start.Nominal), "",
						diag.Subject{Kind: "device", Name: dev.Name})
				}
			}
			for i := range dev.Draws {
				tell(&dev.Draws[i])
			}
			for i := range dev.Coils {
				tell(&dev.Coils[i].Draw)
			}
		}
	},
}
