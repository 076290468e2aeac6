package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var startBelowRun = &Rule{
	Key: "start-below-run", Title: "a load starts at less than it runs at", Severity: diag.Finding,
	Why:     "The dip, the fuse and the heat of a start are judged by `start`: a mA too many, or a digit lost, and none of them is.",
	Formula: "`start` >= the least that the load runs at; watts and ohms at the volts it was measured at",
	Source:  "common practice: lamps, motors and coils draw more as they start, never less",
	Do:      "Write what it draws as it starts. Where its electronics start it softly leave `start` away, or accept the finding.",
	Fires:   with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 20 mA for 0.1 s"),
	Silent:  with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 20 A for 0.1 s"),
	Check: func(m *Model, out *diag.List) {
		type load struct {
			device string
			coil   bool
			index  int
		}
		at := map[load]unit.Voltage{} // least that it was taken to be measured at, in any case
		for _, c := range m.Cases {
			for i := range c.Loads {
				l := &c.Loads[i]
				k := load{l.Device, l.Coil, l.Index}
				if v, known := at[k]; l.At > 0 && (!known || l.At < v) {
					at[k] = l.At
				}
			}
		}
		for _, dev := range m.Job.Devices {
			tell := func(d *design.Draw, k load) {
				if dev.Pattern || !d.Start.Given {
					return
				}
				runs, how := d.Runs(at[k])
				starts := max(d.Start.Nominal, d.Start.High)
				if !(unit.Compare(starts, runs*(1-1e-9)) < 0) {
					return
				}
				out.Finding(own(m, dev.Name, d.Span), "", fmt.Sprintf("%s starts at %s and runs at %s", dev.Name, starts, runs), how,
					diag.Subject{Kind: "device", Name: dev.Name}).Measured(amps(starts), amps(runs), true)
			}
			for i := range dev.Draws {
				tell(&dev.Draws[i], load{dev.Name, false, i})
			}
			for i := range dev.Coils {
				tell(&dev.Coils[i].Draw, load{dev.Name, true, i})
			}
		}
	},
}
