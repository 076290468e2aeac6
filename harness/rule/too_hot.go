package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

var tooHot = &Rule{
	Key: "too-hot", Title: "a wire carries more than its ampacity", Severity: diag.Finding,
	Why:     "Insulation past its rating hardens, cracks and then burns; in a bundle the neighbours heat it as well.",
	Formula: "current in the worst case <= ampacity in its bundle, zone and insulation: the conductor stays heat-margin below the rating",
	Source:  "heat balance of the bundle (Churchill-Chu convection, radiation); AC 43.13-1B Table 11-9 or 33 CFR 183.425 Table 5 where set and their printed conditions hold",
	Do:      "Take a larger size or a hotter insulation class, or lead it through a cooler zone or a smaller bundle.",
	Fires:   with(smallJob, "fuse blade-10", "fuse bolt-50", "draw 2 A at 12 V", "draw 30 A at 12 V", "to lamp.1 colour red", "to lamp.1 size 0.5 mm2", "housing sealed-2", "housing power-large-2"),
	Silent:  with(smallJob, "fuse blade-10", "fuse bolt-50", "draw 2 A at 12 V", "draw 30 A at 12 V", "housing sealed-2", "housing power-large-2"),
	Check: func(m *Model, out *diag.List) {
		if m.Heat == nil || len(m.Cases) == 0 {
			return
		}
		for i := range m.Heat.Wires {
			h := &m.Heat.Wires[i]
			if h.Met || h.Wire >= len(m.Net.Wires) || heater(m, h) >= 0 {
				continue
			}
			w := &m.Net.Wires[h.Wire]
			reaches := "the conductor reaches"
			if h.Ruled != heat.Balance {
				reaches = "by the heat balance, which does not rule here, the conductor reaches"
			}
			detail := fmt.Sprintf("In case %s, zone %s at %s, %s in the bundle: %s %s, at most %s. Judged by: %s.", h.Case, h.Zone, h.Ambient, wires(h.Count), reaches, heat.Words(h.Hottest), h.Limit, h.Why)
			if v := heated(m, h.Wire); len(v) > 0 {
				detail += " It heats others past their limits as well: " + list(v, 4) + "."
			}
			if w.Lead {
				detail += " It is the lead of a supply that charges another, and must carry its limit, `most`."
			}
			if m.Sizes[h.Wire].Why == size.ByHeat && h.Rest < h.Limit {
				detail += " It is left to the program and as large as the contacts at its ends take, or as its family has."
			}
			if m.Freed != nil {
				if to, ok := m.Freed.Sizes[w.Name]; ok && !m.Freed.Hot[w.Name] && m.Sizes[h.Wire].Size.Less(to) {
					detail += fmt.Sprintf(" The smallest size that passes is %s", to)
					if m.Freed.Loose[w.Name] {
						detail += ", and no contact at its ends takes that"
					}
					detail += "."
				}
			}
			if !h.Verified {
				detail += " The figure rests on values that are not verified."
			}
			title := fmt.Sprintf("%s carries %s, its ampacity is %s", w.Name, h.Amps, h.Ampacity)
			if h.Ampacity <= 0 {
				title = fmt.Sprintf("%s: what lies beside it heats it past its limit, whatever it carries", w.Name)
			}
			if h.Ambient >= h.Limit {
				title = fmt.Sprintf("%s: the air in zone %s alone is hotter than its insulation may get", w.Name, h.Zone)
			}
			value, limit := amps(h.Amps), amps(h.Ampacity)
			if h.Start != "" && h.Ambient < h.Limit && h.Effective <= h.Ampacity {
				title = fmt.Sprintf("%s reaches %s while %s starts, at most %s", w.Name, heat.Words(h.Hottest), h.Start, h.Limit)
				value, limit = degrees(h.Hottest), degrees(h.Limit)
			}
			d := out.Finding(w.Span, "", title, detail, wireSubject(w)).Measured(value, limit, false)
			d.Case = h.Case
		}
	},
}

func wires(n int) string {
	if n == 1 {
		return "1 wire"
	}
	return fmt.Sprintf("%d wires", n)
}

// heater is the wire to blame for one that would be too hot without any current of its own: the one beside it, itself too hot, that makes most
// heat. It is -1 for a wire that is to blame itself, or if all are met but for the air. One cause is one finding.
func heater(m *Model, h *heat.WireResult) int {
	if h.Rest < h.Limit || h.Ambient >= h.Limit || h.Edge < 0 {
		return -1
	}
	x := m.Heat.Bundle(h)
	if x == nil {
		return -1
	}
	best, most := -1, 0.0
	for k, j := range x.Wires {
		if j == h.Wire || j >= len(m.Heat.Wires) || k >= len(x.Amps) || m.Heat.Wires[j].Met || m.Heat.Wires[j].Rest >= m.Heat.Wires[j].Limit {
			continue
		}
		if q := float64(x.Amps[k]) * float64(x.Amps[k]) * float64(m.Sizes[j].Resistance); unit.Worse(q, most) {
			best, most = j, q
		}
	}
	return best
}

// heated names the wires for whose heat one wire is to blame.
func heated(m *Model, wire int) []string {
	var out []string
	for i := range m.Heat.Wires {
		if h := &m.Heat.Wires[i]; !h.Met && h.Wire != wire && h.Wire < len(m.Net.Wires) && heater(m, h) == wire {
			out = append(out, m.Net.Wires[h.Wire].Name)
		}
	}
	return out
}

// list names at most so many, and counts the rest.
func list(names []string, most int) string {
	if len(names) <= most {
		return strings.Join(names, "; ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], "; "), len(names)-most)
}
