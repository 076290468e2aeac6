package benchbook

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/reel"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// pick is everything to take from the shelf for the section, samples and scrap counted in: wires with the reels that they are cut from, the rest in two
// columns.
func pick(fl *page.Flow, s *bench.SectionPlan, plan *reel.Plan) {
	if len(s.Picks) == 0 {
		return
	}
	fl.Heading(1, "Materials to pick")
	common.Intro(fl, "All of it at hand before the first cut. Crimps that are pulled off as samples, and those that will be spoiled, are counted in: of them is said samples + scrap.")
	from := reelsOf(plan, s.Name)
	wires := table.New(
		table.Column{Title: "Wire", Type: page.Strong.Faced(label.Face), Weight: 5, Min: 46},
		table.Column{Title: "Length", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Reel", Weight: 3, Min: 34, Type: page.Tight},
		table.Column{Title: "Pieces", Align: page.Right, Whole: true, Type: page.Tight},
		table.Column{Title: "Samples", Align: page.Right, Whole: true, Type: page.Tight},
		table.Column{Title: "Rest of the reel", Align: page.Right, Min: 22, Type: page.Tight},
		table.Column{Title: "Have", Align: page.Centre, Whole: true},
	)
	wires.Later, wires.RowHeight, wires.Pad, wires.GroupEvery = "Materials to pick: wire", 5, 0.3, 0
	other := table.New()
	for range 2 {
		other.Columns = append(other.Columns,
			table.Column{Title: "What", Type: page.Strong.Faced(label.Face), Weight: 5, Min: 34},
			table.Column{Title: "Take", Align: page.Right, Whole: true, Type: page.Strong},
			table.Column{Title: "Of them", Align: page.Right, Whole: true, Type: page.Tight},
			table.Column{Title: "Have", Align: page.Centre, Whole: true})
	}
	other.Later, other.RowHeight, other.Pad, other.GroupEvery = "Materials to pick", 5.4, 0.3, 0
	kind := ""
	var half []table.Cell
	flush := func() {
		if half != nil {
			other.Row(half...)
			half = nil
		}
	}
	for i := range s.Picks {
		p := &s.Picks[i]
		if list := from[p.Name]; len(list) > 0 {
			if p.Kind != kind {
				kind = p.Kind
				wires.Sub(kind)
			}
			pickWire(wires, p, list)
			delete(from, p.Name)
			continue
		}
		if p.Kind != kind {
			flush()
			kind = p.Kind
			other.Sub(kind)
		}
		cells := []table.Cell{table.T(common.Squared(p.Name)), table.T(take(p)), table.T(ofThem(p)), table.Tick()}
		if half == nil {
			half = cells
			continue
		}
		half = append(half, cells...)
		flush()
	}
	flush()
	if plan != nil { // in the plan's order; a wire that the list of parts knows by another name
		for i := range plan.Wires {
			if list := from[plan.Wires[i].Name]; len(list) > 0 {
				pickWire(wires, &bench.PartCount{Name: plan.Wires[i].Name}, list)
			}
		}
	}
	if wires.Len() > 0 {
		fl.Add(wires)
		fl.Say(page.Tight, "Which reel for what: each reel's pieces are cut longest first; samples are counted in, the rest is that after the whole job. The plan covers all sections together; the parts tables hold it whole. "+common.Squared(plan.Summary()))
	}
	if other.Len() > 0 {
		fl.Add(other)
	}
}

// take is how much of a part is taken.
func take(p *bench.PartCount) string {
	s := ""
	if p.Count > 0 {
		s = strconv.Itoa(p.Count)
	}
	if p.Length > 0 {
		if s != "" {
			s += " = "
		}
		s += common.Metres(p.Length)
	}
	if p.Unknown > 0 {
		s += " + " + strconv.Itoa(p.Unknown) + " of no known length"
	}
	return s
}

// ofThem is how many are for samples and for scrap.
func ofThem(p *bench.PartCount) string {
	if p.Samples+p.Scrap == 0 {
		return ""
	}
	return strconv.Itoa(p.Samples) + " + " + strconv.Itoa(p.Scrap)
}

// from is one reel of which pieces of a section are cut.
type from struct {
	reel *reel.Reel
	n    int
}

// reelsOf is the reels of each wire that pieces of a section are cut from, by the wire's name.
func reelsOf(plan *reel.Plan, section string) map[string][]from {
	out := map[string][]from{}
	if plan == nil {
		return out
	}
	for i := range plan.Wires {
		w := &plan.Wires[i]
		for k := range w.Reels {
			n := 0
			for _, c := range w.Reels[k].Cuts {
				if c.Section == section {
					n += c.Count
				}
			}
			if n > 0 {
				out[w.Name] = append(out[w.Name], from{&w.Reels[k], n})
			}
		}
	}
	return out
}

// pickWire is a wire with its reels, a row each.
func pickWire(t *table.Table, p *bench.PartCount, list []from) {
	for k, f := range list {
		rest := common.Metres(f.reel.Rest)
		if !f.reel.Kept {
			rest += ", scrap"
		}
		cells := []table.Cell{{}, {}, table.T(f.reel.Name), table.T(strconv.Itoa(f.n)), {}, table.T(rest), table.Tick()}
		if k > 0 {
			t.Tied(cells...)
			continue
		}
		cells[0] = table.T(common.Squared(p.Name))
		if p.Length > 0 {
			cells[1] = table.T(common.Metres(p.Length))
		}
		if p.Unknown > 0 {
			cells[1].Text += " + " + strconv.Itoa(p.Unknown) + " not known"
		}
		if p.Samples > 0 {
			cells[4] = table.T(strconv.Itoa(p.Samples))
		}
		t.Row(cells...)
	}
}
