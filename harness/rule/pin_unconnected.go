package rule

import (
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

var pinUnconnected = &Rule{
	Key: "pin-unconnected", Title: "a device pin is never connected", Severity: diag.Finding,
	Why:     "A terminal without a wire is a forgotten circuit, unless somebody says that it stays empty.",
	Formula: "each pin of a device in the job has a wire or is declared `unused`",
	Source:  "common practice",
	Do:      "Write its circuit, or say `unused` in the device.",
	Fires:   with(smallJob, "device lamp at (1000, 0, 0 mm) housing sealed-2", "device lamp at (1000, 0, 0 mm) housing sealed-3"),
	Silent:  with(smallJob, "device lamp at (1000, 0, 0 mm) housing sealed-2 {", "device lamp at (1000, 0, 0 mm) housing sealed-3 {\n  unused 3"),
	Check: func(m *Model, out *diag.List) {
		used := map[[2]string]bool{}
		for _, u := range m.Net.Uses {
			used[[2]string{u.Device, u.Pin}] = true
		}
		for _, dev := range m.Job.Devices {
			if dev.Pattern {
				continue
			}
			var bare []string
			where := dev.Span
			for _, p := range dev.Pins {
				if !p.Inner && !p.Unused && !used[[2]string{dev.Name, p.Name}] && !linked(m.Job, dev.Name, p.Name) {
					bare = append(bare, p.Name)
				}
			}
			if len(bare) == 0 {
				continue
			}
			title := dev.Name + ": pin " + bare[0] + " is not connected"
			if len(bare) > 1 {
				title = dev.Name + ": pins " + strings.Join(bare, ", ") + " are not connected"
			}
			out.Finding(where, "", title, "Write a circuit for each, or declare `unused "+strings.Join(bare, ", ")+"` in the device.", diag.Subject{Kind: "device", Name: dev.Name})
		}
	},
}

// linked tells whether a link names the pin, so that a link without a way is not reported twice.
func linked(job *design.Job, device, pin string) bool {
	for _, c := range job.Circuits {
		for i := range c.Links {
			for _, e := range [2]design.End{c.Links[i].From, c.Links[i].To} {
				if e.Kind == design.AtPin && e.Name == device && e.Pin == pin {
					return true
				}
			}
		}
	}
	for _, c := range job.Cables {
		for _, s := range c.Screen {
			if s.Device == device && s.Pin == pin {
				return true
			}
		}
	}
	return false
}
