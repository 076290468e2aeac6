package rule

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/unit"
)

var partTooHot = &Rule{
	Key: "part-too-hot", Title: "a housing or a sleeve sits in more heat than it takes", Severity: diag.Finding,
	Why:     "A wire may be right for a place whose connector softens there and lets its contacts go.",
	Formula: "highest air of the device's zone, else of those its wires come through, and of both sides of the panel of a break <= `heat` of the housing; highest surface of the bundle <= `heat` of its run's sleeve; over all cases",
	Source:  "ratings of the parts library; the heat of the bundle",
	Do:      "Take a part that stands the heat, or move it to a cooler zone.",
	Fires:   with(smallJob, "draw 2 A at 12 V", "draw 1 A at 12 V", "housing sealed-2 {", "housing plain-2 {", "air 40 C", "air 110 C"),
	Silent:  with(smallJob, "draw 2 A at 12 V", "draw 1 A at 12 V", "housing sealed-2 {", "housing plain-2 {", "air 40 C", "air 100 C"),
	Check: func(m *Model, out *diag.List) {
		atDevice, atBreak := zonesAt(m)
		for _, dev := range m.Job.Devices {
			for _, h := range dev.Housings {
				if dev.Pattern {
					continue
				}
				zones := []string{dev.Zone}
				if dev.Zone == "" {
					zones = atDevice[dev.Name]
				}
				housingHeat(m, h.Part, zones, dev.Name, dev.Span, diag.Subject{Kind: "device", Name: dev.Name}, out)
			}
		}
		for _, b := range m.Job.Breaks {
			zones := slices.Clone(atBreak[b.Name])
			for _, p := range m.Job.Panels {
				if p.Name == b.Panel {
					zones = append(zones, p.Zones...)
				}
			}
			for side, half := range b.Halves {
				if side > 0 && half.Housing == b.Halves[0].Housing {
					continue
				}
				housingHeat(m, half.Housing, zones, b.Name, b.Span, diag.Subject{Kind: "break", Name: b.Name}, out)
			}
		}
		sleeveHeat(m, out)
	},
}

// zonesAt is the zones through which wires come to the terminations of each device, and of each break.
func zonesAt(m *Model) (device, of map[string][]string) {
	device, of = map[string][]string{}, map[string][]string{}
	add := func(to map[string][]string, name, zone string) {
		if !slices.Contains(to[name], zone) {
			to[name] = append(to[name], zone)
		}
	}
	for i := range m.Net.Wires {
		w := &m.Net.Wires[i]
		for k := range w.Ends {
			zone := w.Zone
			if n := len(w.Path); n > 0 && !w.Loose && m.Net.Space != nil {
				if e := w.Path[k*(n-1)].Edge; e >= 0 && e < len(m.Net.Space.Edges) {
					zone = m.Net.Space.Edges[e].Zone
				}
			}
			add(device, w.Ends[k].Device, zone)
			add(of, w.Ends[k].Break, zone)
		}
	}
	return device, of
}

func housingHeat(m *Model, part string, zones []string, name string, span diag.Span, about diag.Subject, out *diag.List) {
	h := findHousing(m.Job, part)
	if h == nil || !h.Heat.Given {
		return
	}
	var most unit.Temperature
	in, where := "", ""
	for _, c := range m.Cases {
		for _, z := range zones {
			if z == "" {
				continue
			}
			if t, _ := heat.Ambient(m.Job, design.Scope{Zone: z, Case: c.Case}); t > most {
				most, in, where = t, c.Case, z
			}
		}
	}
	if most > h.Heat.Nominal {
		d := out.Finding(span, "", fmt.Sprintf("%s: housing %s is rated %s, the air in zone %s reaches %s", name, part, h.Heat.Nominal, where, most), "In case "+in+".", about).
			Measured(celsius(most), celsius(h.Heat.Nominal), false)
		d.Case = in
	}
}

func sleeveHeat(m *Model, out *diag.List) {
	if m.Heat == nil || m.Net.Space == nil {
		return
	}
	for _, r := range m.Job.Runs {
		var rated unit.Temperature
		for _, s := range m.Job.Parts.Sleeves {
			if s.Name == r.Sleeve && s.Heat.Given {
				rated = s.Heat.Nominal
			}
		}
		if r.Sleeve == "" || rated == 0 {
			continue
		}
		var most unit.Temperature
		in := ""
		for _, c := range m.Heat.Bundles {
			for _, b := range c.Bundles {
				if b.Edge < len(m.Net.Space.Edges) && m.Net.Space.Edges[b.Edge].Run == r.Name && b.Surface > most {
					most, in = b.Surface, c.Case
				}
			}
		}
		if most > rated {
			d := out.Finding(r.Span, "", fmt.Sprintf("run %s: sleeve %s is rated %s, the bundle's surface reaches %s", r.Name, r.Sleeve, rated, most), "In case "+in+".", diag.Subject{Kind: "run", Name: r.Name}).
				Measured(celsius(most), celsius(rated), false)
			d.Case = in
		}
	}
}

func celsius(t unit.Temperature) unit.Quantity {
	return unit.Quantity{Value: float64(t), Dim: unit.DimTemperature}
}
