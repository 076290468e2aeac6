package benchbook

import (
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// splices is a table for each joint with the wires that meet in it and the acts in their order.
func splices(fl *page.Flow, s *bench.SectionPlan, body page.Box) {
	if len(s.Splices) == 0 {
		return
	}
	fl.Heading(1, "Splices")
	common.Intro(fl, "The sleeve goes on before the barrel. Barrel and tool go by the copper of all wires together.")
	colours := colours(s)
	var tables []*table.Table
	var heights []need
	for i := range s.Splices {
		p := &s.Splices[i]
		t := table.New(
			table.Column{Title: "Label", Weight: 4, Min: 26},
			table.Column{Title: "Colour, size", Whole: true},
			table.Column{Title: "Side, leaves by", Weight: 5, Min: 28},
			table.Column{Title: "Goes to", Weight: 5, Min: 30},
			table.Column{Title: "In", Align: page.Centre, Whole: true},
			table.Column{Title: "Chk", Align: page.Centre, Whole: true},
		)
		t.Later, t.Together, t.Pad, t.RowHeight = "Splice "+p.Name, true, padHand, 6
		for _, w := range p.Wires {
			leaves := w.Leaves
			if leaves == "" {
				leaves = "at the same place"
			}
			if w.Side != "" {
				leaves = strings.ToUpper(w.Side) + ": " + leaves
			}
			c := colours[w.Wire]
			t.Row(markCell(w.Label, w.Name), wireCell(w.Code, c.colour, c.status, w.Size), table.Cell{Text: leaves, Type: page.Tight}, table.Cell{Text: w.To, Type: page.Tight}, table.Tick(), table.Tick())
		}
		h, err := page.Height(t, body.W)
		if err != nil {
			h = body.H
		}
		h += aboveTable + ticks + page.Tight.Height(len(page.Tight.Wrap(joined(p), body.W)))
		tables, heights = append(tables, t), append(heights, need{h, h})
	}
	for _, i := range filled(heights, body.H, aboveFirst) {
		p, t := &s.Splices[i], tables[i]
		fl.Together(func() {
			fl.Heading(2, "Splice "+p.Name)
			fl.Add(lines(page.Tight, joined(p)))
			for _, w := range p.Wrong {
				fl.Say(page.Strong, "Open: "+w)
			}
			if t.Len() > 0 {
				fl.Add(t)
			}
			fl.Add(common.TickLine("sleeve slid on", "barrel crimped", "pulled", "sleeve shrunk"))
		})
	}
}

// joined says what a joint is made of.
func joined(p *bench.Splice) string {
	text := common.Sentence(p.Where) + ", " + p.Status.String() + "; " + common.Count(len(p.Wires), "wire", "wires")
	if p.Area > 0 {
		text += ", " + p.Area.String() + " of copper together"
	}
	for _, more := range []string{p.Lie, or(p.Barrel, "barrel not chosen")} {
		if more != "" {
			text += "; " + more
		}
	}
	if p.Strip != "" {
		text += "; strip " + p.Strip
	}
	if p.Tool != "" {
		text += "; tool " + p.Tool
	}
	switch {
	case p.SleeveSize != "":
		text += "; sleeve " + p.SleeveSize
		if p.SleeveOver != "" {
			text += ", " + p.SleeveOver
		}
	case p.Sleeve != "":
		text += "; sleeve " + p.Sleeve
	default:
		text += "; no sleeve stated"
	}
	return common.Squared(text) + "."
}

// What stands above the first table, and above each besides the words; and the height of the acts below it, with the gap above them.
const (
	aboveFirst page.MM = 22
	aboveTable page.MM = 17
	ticks      page.MM = 9
)

// colour as it was written, or worked out.
type colour struct {
	colour string
	status design.Status
}

// colours of the section's wires, by their index in the net.
func colours(s *bench.SectionPlan) map[int]colour {
	out := map[int]colour{}
	for _, c := range s.Cuts {
		if len(c.Cores) == 0 {
			out[c.Wire] = colour{c.Colour, c.ColourStatus}
		}
		for _, k := range c.Cores {
			out[k.Wire] = colour{k.Colour, k.ColourStatus}
		}
	}
	return out
}
