package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var startBlowsFuse = &Rule{
	Key: "start-blows-fuse", Title: "a starting current may blow its fuse", Severity: diag.Finding,
	Why:     "A motor that starts, a cold lamp or a solenoid that pulls in draws several times its steady current.",
	Formula: "the start lasts less long than the fuse holds: the gate's earliest time at the next higher listed multiple of the rating; above all listed by the energy it stands at the highest",
	Source:  "ISO 8820-3 gates as makers print them",
	Do:      "Take a larger or slower fuse and see that its wires suit it.",
	Fires:   with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 25 A for 0.5 s"),
	Silent:  with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 12 A for 0.5 s"),
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Fuses {
			f := &m.Protect.Fuses[i]
			if len(f.Gate) == 0 {
				continue
			}
			told := map[string]bool{}
			for _, h := range f.Starts {
				if h.Met || told[h.Device] {
					continue
				}
				told[h.Device] = true
				does := "starts"
				if h.Works {
					does = "works"
				}
				of := "its rating"
				if h.Works {
					of = "what its air leaves of its rating"
				}
				holds := fmt.Sprintf("At %s of "+of+" it holds %s at least, read at the listed %s.", h.Times, h.Earliest, h.Listed)
				switch {
				case h.Earliest <= 0:
					holds = fmt.Sprintf("At %s of "+of+" nothing says that it holds at all.", h.Times)
				case h.ByEnergy:
					holds = fmt.Sprintf("At %s of "+of+", above all listed, it holds %s by the energy that it stands at the highest: an estimate.", h.Times, h.Earliest)
				}
				if !f.Verified {
					holds += " The gate is not verified for this very fuse."
				}
				d := out.Finding(own(m, f.Device, f.Span), "", fmt.Sprintf("%s may blow while %s %s: %s for %s", fuseName(m, f.FuseRef), h.Device, does, h.Amps, h.For),
					"In case "+h.Case+". "+holds, diag.Subject{Kind: "device", Name: f.Device})
				d.Case = h.Case
			}
		}
	},
}
