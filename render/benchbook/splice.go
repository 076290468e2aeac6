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
	var list []small
	for i := range s.Splices {
		p := &s.Splices[i]
		k := small{title: "Splice " + p.Name, parts: []page.Block{lines(page.Heading2, "Splice "+p.Name), lines(page.Tight, joined(p))}}
		for _, w := range p.Wrong {
			k.parts = append(k.parts, lines(page.Strong, "Open: "+w))
		}
		if len(p.Wires) > 0 {
			k.parts = append(k.parts, spliceTable(p, colours))
		}
		k.parts = append(k.parts, common.TickLine("sleeve slid on", "barrel crimped", "pulled", "sleeve shrunk"))
		if k.measure(body) {
			list = append(list, k)
			continue
		}
		fl.Heading(2, k.title) // too tall for half of the width
		for _, b := range k.parts[1:] {
			fl.Add(b)
		}
	}
	for _, row := range rowsOf(list, body, aboveSplices) {
		fl.Add(row)
	}
}

// spliceTable is the wires of a joint, each with the side on which it goes in below it.
func spliceTable(p *bench.Splice, colours map[int]colour) *table.Table {
	t := table.New(
		table.Column{Title: "Label", Weight: 4, Min: 26},
		table.Column{Title: "Colour, size", Weight: 1},
		table.Column{Title: "In, chk", Whole: true},
	)
	t.Later, t.Pad, t.RowHeight, t.GroupEvery = "Splice "+p.Name, padHand, 6, 0
	for _, w := range p.Wires {
		c := colours[w.Wire]
		t.Row(markCell(w.Label, w.Name), wireCell(w.Code, c.colour, c.status, w.Size), table.Ticks(2))
		leaves := or(w.Leaves, "at the same place")
		if w.Side != "" {
			leaves = strings.ToUpper(w.Side) + ": " + leaves
		}
		if w.To != "" {
			leaves += "; to " + w.To
		}
		t.Note(leaves)
	}
	return t
}

// aboveSplices is what stands above the first.
const aboveSplices page.MM = 26

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
