package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var contactGauge = &Rule{
	Key: "contact-gauge", Title: "no contact of the cavity takes the wire", Severity: diag.Finding,
	Why:     "A contact holds wires of a range of areas and insulation diameters; outside it the crimp or the seal fails.",
	Formula: "least <= conductor size <= most, and least <= outside diameter <= most, of a contact the cavity accepts",
	Source:  "the parts library; contact tables of makers",
	Do:      "Take another size, another cavity or another housing; in a break, the finding says whether what would take the wire is full.",
	Fires:   with(smallJob, "to lamp.1 colour red", "to lamp.1 colour red size 10 mm2"),
	Silent:  with(smallJob, "to lamp.1 colour red", "to lamp.1 colour red size 1 mm2"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Net.Wires {
			w, c := &m.Net.Wires[i], &m.Sizes[i]
			if !c.Known || w.Kind != net.Plain {
				continue
			}
			for e := range w.Ends {
				t := &w.Ends[e]
				if c.Fits[e] || t.Cavity == "" || t.Kind != net.InCavity && t.Kind != net.InHalf {
					continue
				}
				detail := fmt.Sprintf("The wire is %s, %s outside.", c.Size, c.Outside)
				if takes := takes(m.Job, t); takes != "" {
					detail += " The cavity takes " + takes + "."
				}
				detail += m.roomElsewhere(i, e)
				out.Finding(w.Span, "", fmt.Sprintf("%s: %s does not take %s", w.Name, termText(m.Job, t), c.Size), detail, wireSubject(w))
			}
		}
	},
}

func sizeQuantity(s unit.Size) unit.Quantity {
	return unit.Quantity{Value: float64(s.Area()), Dim: unit.DimArea}
}

func wireSubject(w *net.Wire) diag.Subject {
	return diag.Subject{Kind: "circuit", Name: w.Circuit, From: w.From, To: w.To}
}

// termText names a termination for a message.
func termText(job *design.Job, t *net.Termination) string {
	switch t.Kind {
	case net.InHalf, net.OnPost:
		return "cavity " + t.Break + "." + t.Cavity
	case net.InCavity:
		return "cavity " + t.Device + "." + t.Pin
	case net.OnStud:
		return "stud " + t.Device + "." + t.Pin
	case net.InSplice:
		return "splice " + t.Splice
	}
	return "the end cut back at " + t.Near
}

// takes lists what the contacts of a cavity take, in words.
func takes(job *design.Job, t *net.Termination) string {
	var part string
	switch t.Kind {
	case net.InHalf:
		for _, b := range job.Breaks {
			if b.Name == t.Break {
				part = b.Halves[t.Half].Housing
			}
		}
	case net.InCavity:
		for _, d := range job.Devices {
			if d.Name == t.Device && t.Housing >= 0 && t.Housing < len(d.Housings) {
				part = d.Housings[t.Housing].Part
			}
		}
	}
	var out []string
	for _, h := range job.Parts.Housings {
		if h.Name != part {
			continue
		}
		for _, c := range h.Cavities {
			if c.Name != t.Cavity {
				continue
			}
			for _, k := range job.Parts.Contacts {
				for _, n := range c.Takes {
					if k.Name == n {
						out = append(out, fmt.Sprintf("%s: %s to %s, %s to %s outside", n, k.WireLeast, k.WireMost, k.InsulLeast, k.InsulMost))
					}
				}
			}
		}
	}
	return strings.Join(out, "; ")
}
