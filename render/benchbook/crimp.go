package benchbook

import (
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// crimps is one row for each set-up of a tool: what is crimped on what, how, with how many samples, and what they must hold. The ends stand below it.
func crimps(fl *page.Flow, s *bench.SectionPlan) {
	if len(s.Crimps) == 0 {
		return
	}
	fl.Heading(1, "Crimps by set-up")
	common.Intro(fl, "Set the tool, crimp the samples on wire of the reel, pull each: the lowest counts, and is written down. No end is crimped before its set-up has held. "+
		"A crimp of several wires is no better than its thinnest. A line to write on stands where only the contact's own sheet tells. Count is what stays on the wires, and samples; numbers behind a connector are its cavities.")
	t := table.New(
		table.Column{Title: "Contact, wire", Weight: 6, Min: 52},
		table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Strip mm", Weight: 2, Min: 14},
		table.Column{Title: "Height mm", Weight: 2, Min: 16},
		table.Column{Title: "Tool, setting", Weight: 4, Min: 30, Type: page.Tight},
		table.Column{Title: "Least N", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Lowest N", Width: 18},
		table.Column{Title: "Set", Align: page.Centre, Whole: true},
	)
	t.Later, t.Pad = "Crimps by set-up", 0.7
	for i := range s.Crimps {
		c := &s.Crimps[i]
		count := strconv.Itoa(c.Count)
		same := ""
		if c.SameAs != "" {
			same = "Samples: those of " + c.SameAs + " hold. "
		}
		if c.Samples > 0 {
			count += " + " + strconv.Itoa(c.Samples)
		}
		least := "?"
		if len(c.Pull) > 0 {
			least = unit.Number(float64(c.Pull[0].Force), 1)
		}
		t.Row(table.Strong(c.Contact), table.T(count), stated(c.Strip), stated(c.Height), stated(c.Tool), table.T(least), table.Write(), table.Tick())
		t.More(table.T(common.Squared(c.Wire)), table.T(""), table.T(""), table.T(""), stated(c.Setting))
		t.Note(same + "Pull: " + common.Squared(c.PullText) + ". Ends: " + ends(c))
	}
	fl.Add(t)
}

// stated is a figure of the contact, or a line to write on what its own sheet tells.
func stated(s string) table.Cell {
	if s == bench.NotStated || s == "" {
		return table.Write()
	}
	return table.T(strings.TrimSuffix(s, " mm"))
}

// ends lists the crimps of a set-up: cavities of one connector together, anything else with the labels of its wires.
func ends(c *bench.Crimp) string {
	var order []string
	cavities := map[string][]string{}
	for _, e := range c.Ends {
		thing, cavity, ok := strings.Cut(e.Where, ", cavity ")
		if !ok {
			thing = e.Label + " at " + e.Where
		}
		if _, seen := cavities[thing]; !seen {
			order = append(order, thing)
		}
		if ok {
			cavities[thing] = append(cavities[thing], cavity)
		} else {
			cavities[thing] = nil
		}
	}
	for i, thing := range order {
		if list := cavities[thing]; len(list) > 0 {
			slices.SortFunc(list, design.Natural)
			order[i] = thing + " " + strings.Join(list, ", ")
		}
	}
	return strings.Join(order, "; ")
}
