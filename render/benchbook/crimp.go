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
func crimps(fl *page.Flow, s *bench.SectionPlan, body page.Box) {
	if len(s.Crimps) == 0 {
		return
	}
	fl.Heading(1, "Crimps by set-up")
	common.Intro(fl, "Set the tool, crimp the samples on wire of the reel, pull each: the lowest counts, and is written down. No end is crimped before its set-up has held. "+
		"A crimp of several wires is no better than its thinnest. A line to write on stands where only the contact's own sheet tells. Count is what stays on the wires, + samples, + what may be spoiled; "+
		"numbers behind a connector are its cavities. A letter behind Least names the source of the figure, below the table.")
	t := table.New(
		table.Column{Title: "Contact", Weight: 4, Min: 24, Type: page.Strong.Faced(label.Face)},
		table.Column{Title: "Wire", Weight: 8, Min: 36, Type: page.Tight},
		table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Strip mm", Min: 11},
		table.Column{Title: "Height mm", Min: 15},
		table.Column{Title: "Tool, setting", Width: 30, Type: page.Tight},
		table.Column{Title: "Least N", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Lowest N", Width: 16},
		table.Column{Title: "Set", Align: page.Centre, Whole: true},
	)
	t.Later, t.Pad, t.RowHeight, t.GroupEvery = "Crimps by set-up", 0.4, 5, 0
	var why sources
	for i := range s.Crimps {
		c := &s.Crimps[i]
		count, lowest := strconv.Itoa(c.Count), table.Write()
		same := ""
		if c.SameAs != "" {
			same, lowest = "Sampled with "+c.SameAs+" above. ", table.T("")
		}
		if c.Samples > 0 {
			count += " + " + strconv.Itoa(c.Samples)
		}
		if c.Scrap > 0 {
			count += " + " + strconv.Itoa(c.Scrap)
		}
		least := "?"
		if len(c.Pull) > 0 {
			least = unit.Number(float64(c.Pull[0].Force), 1)
		}
		least += " " + why.mark(pullSource(c))
		tool := tooling(c)
		if page.Tight.Width(tool.Text) > 26 && !tool.Write { // it has more room below
			same = "Tool: " + common.Squared(tool.Text) + ". " + same
			tool = table.T("see below")
		}
		t.Row(table.T(c.Contact), table.T(common.Squared(c.Wire)), table.T(count), stated(c.Strip), stated(c.Height), tool, table.T(least), lowest, table.Tick())
		t.Note(same + "Ends: " + ends(c))
	}
	settle(t, body.W, 0, 1)
	fl.Add(t)
	why.print(fl)
}

// tooling is the tool and its setting; of two that are not stated one line to write both on.
func tooling(c *bench.Crimp) table.Cell {
	tool, setting := stated(c.Tool), stated(c.Setting)
	switch {
	case tool.Write && setting.Write:
		return table.Write()
	case tool.Write:
		return table.T(setting.Text + ", tool: ________")
	case setting.Write:
		return table.T(tool.Text + ", set to: ________")
	}
	return table.T(tool.Text + ", " + setting.Text)
}

// pullSource is where the least force of a set-up comes from, and what must be seen of the conductor.
func pullSource(c *bench.Crimp) string {
	s := c.PullText
	if len(c.Pull) > 0 {
		s = strings.TrimPrefix(s, "at least "+c.Pull[0].Force.String()+" ")
		s = strings.NewReplacer("(", "", ")", "").Replace(s)
	}
	if c.Gap != "" {
		s += "; " + c.Gap + " of bare conductor to be seen before the barrel"
	}
	return s
}

// sources are remarks that many rows share: each has a letter in the rows, and stands once below them.
type sources []string

// mark is the letter of a remark.
func (s *sources) mark(text string) string {
	i := slices.Index(*s, text)
	if i < 0 {
		i = len(*s)
		*s = append(*s, text)
	}
	return letter(i)
}

// letter is a, b ... z, aa, ab ...
func letter(i int) string {
	if i >= 26 {
		return letter(i/26-1) + letter(i%26)
	}
	return string(rune('a' + i))
}

func (s sources) print(fl *page.Flow) {
	var out []string
	for i, text := range s {
		out = append(out, letter(i)+": "+common.Squared(text)+".")
	}
	fl.Say(page.Tight, strings.Join(out, "  "))
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
