package benchbook

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/reel"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// pick is everything to take from the shelf for the section, samples and scrap counted in.
func pick(fl *page.Flow, s *bench.SectionPlan) {
	if len(s.Picks) == 0 {
		return
	}
	fl.Heading(1, "Materials to pick")
	common.Intro(fl, "All of it at hand before the first cut. Crimps that are pulled off as samples, and those that will be spoiled, are counted in.")
	t := table.New(
		table.Column{Title: "What", Type: page.Strong, Weight: 5, Min: 50},
		table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Length", Align: page.Right, Whole: true},
		table.Column{Title: "Of these for samples, for scrap", Weight: 3, Type: page.Tight},
		table.Column{Title: "Have", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Materials to pick", 6, 0.6
	kind := ""
	for _, p := range s.Picks {
		if p.Kind != kind {
			kind = p.Kind
			t.Sub(kind)
		}
		count, length := "", ""
		if p.Count > 0 {
			count = strconv.Itoa(p.Count)
		}
		if p.Length > 0 {
			length = common.Metres(p.Length)
		}
		if p.Unknown > 0 {
			length += " + " + strconv.Itoa(p.Unknown) + " unknown"
		}
		of := ""
		switch {
		case p.Samples > 0 && p.Scrap > 0:
			of = strconv.Itoa(p.Samples) + ", " + strconv.Itoa(p.Scrap)
		case p.Samples > 0:
			of = strconv.Itoa(p.Samples) + ", 0"
		case p.Scrap > 0:
			of = "0, " + strconv.Itoa(p.Scrap)
		}
		t.Row(table.T(common.Squared(p.Name)), table.T(count), table.T(length), table.T(of), table.Tick())
	}
	fl.Add(t)
}

// reels is from which reel each wire of the section is cut, and what is bought.
func reels(fl *page.Flow, s *bench.SectionPlan, plan *reel.Plan) {
	if plan == nil {
		return
	}
	t := table.New(
		table.Column{Title: "Wire", Type: page.Strong, Weight: 4, Min: 42},
		table.Column{Title: "Reel", Weight: 3, Min: 30},
		table.Column{Title: "Pieces here", Align: page.Right, Whole: true},
		table.Column{Title: "Rest after the whole job", Align: page.Right, Weight: 2},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Reels", 6, 0.6
	for i := range plan.Wires {
		w := &plan.Wires[i]
		first := true
		for _, r := range w.Reels {
			n := 0
			for _, c := range r.Cuts {
				if c.Section == s.Name {
					n += c.Count
				}
			}
			if n == 0 {
				continue
			}
			rest := common.Metres(r.Rest)
			if !r.Kept {
				rest += ", scrap"
			}
			name := table.T("")
			if first {
				name = table.T(common.Squared(w.Name))
			}
			cells := []table.Cell{name, table.T(r.Name), table.T(strconv.Itoa(n)), table.T(rest), table.Tick()}
			if first {
				t.Row(cells...)
			} else {
				t.Tied(cells...)
			}
			first = false
		}
	}
	if t.Len() == 0 {
		return
	}
	fl.Heading(2, "Which reel for what")
	common.Intro(fl, "Cut from these reels, longest piece first. The plan covers all sections together; the parts tables hold it whole, with what is proved of it.")
	fl.Add(t)
}
