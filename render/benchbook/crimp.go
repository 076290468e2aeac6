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
		"numbers behind a connector are its cavities. The letters behind Least stand below the table: where the figure comes from, and how much bare conductor must be seen.")
	t := table.New(
		table.Column{Title: "Contact", Weight: 4, Min: 24, Type: page.Strong.Faced(label.Face)},
		table.Column{Title: "Wire", Weight: 8, Min: 36, Type: page.Tight},
		table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Strip mm", Min: 11},
		table.Column{Title: "Height mm", Min: 15},
		table.Column{Title: "Tool, setting", Width: 28, Type: page.Tight},
		table.Column{Title: "Least N", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Lowest N", Width: 14},
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
		if c.Gap != "" {
			least += " " + why.mark(gapSource(c))
		}
		tool := tooling(c)
		if page.Tight.Width(tool.Text) > 24 && !tool.Write { // it has more room below
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

// pullSource is where the least force of a set-up comes from: the document with its column, and what of it.
func pullSource(c *bench.Crimp) (from, says string) {
	if len(c.Pull) == 0 {
		return "Least", c.PullText
	}
	s := strings.TrimPrefix(c.PullText, "at least "+c.Pull[0].Force.String()+" ")
	s = strings.NewReplacer("(", "", ")", "").Replace(s)
	if column := string(c.Pull[0].Column) + " column"; strings.Contains(s, column) {
		from, says, _ = strings.Cut(s, column)
		return "Least: " + from + column, strings.TrimPrefix(strings.TrimSpace(says), ", ")
	}
	if says, ok := strings.CutPrefix(s, c.Pull[0].Info.Document+", "); ok {
		return "Least: " + c.Pull[0].Info.Document, says
	}
	return "Least", s
}

// gapSource is how much bare conductor must be seen, and where that comes from.
func gapSource(c *bench.Crimp) (from, says string) {
	const seen = "Bare conductor to be seen before the barrel"
	much, source, ok := strings.Cut(strings.TrimSuffix(c.Gap, ")"), " (")
	if document, condition, two := strings.Cut(source, ", "); ok && two {
		return seen + ", " + document, much + ", " + condition
	}
	return seen, c.Gap
}

// sources are remarks that many rows share: each has a letter in the rows, and stands once below them. Those out of one document stand together,
// and the document is named once.
type sources []remark

type remark struct{ from, says string }

// mark is the letter of a remark, from is the document or whatever it has in common with others.
func (s *sources) mark(from, says string) string {
	i := slices.Index(*s, remark{from, says})
	if i < 0 {
		i = len(*s)
		*s = append(*s, remark{from, says})
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
	var order []string
	of := map[string][]string{}
	for i, r := range s {
		if of[r.from] == nil {
			order = append(order, r.from)
		}
		of[r.from] = append(of[r.from], letter(i)+" "+r.says)
	}
	for i, from := range order {
		order[i] = strings.TrimSuffix(from+": "+strings.Join(of[from], "; "), " ") + "."
	}
	fl.Together(func() { fl.Say(page.Tight, common.Squared(strings.Join(order, "  "))) })
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
