package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/layup"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/section"
	"loomsheet/render/table"
)

// A bundle laid by hand is drawn where it is a trunk: of so many pieces, and so long.
const (
	drawnFrom             = 6
	drawnLong unit.Length = 250
)

// layUp is how the bundles of a section lie: drawn where they lie in layers or many together, a row each where they do not lie in layers.
func layUp(fl *page.Flow, plan *layup.Plan, name string, body page.Box) {
	if plan == nil {
		return
	}
	plain := table.New(
		table.Column{Title: "Bundle", Type: page.Strong, Weight: 4, Min: 40},
		table.Column{Title: "Lay", Weight: 2, Min: 22},
		table.Column{Title: "Pieces", Align: page.Right, Whole: true},
		table.Column{Title: "Across mm", Align: page.Right, Whole: true},
		table.Column{Title: "Why", Weight: 4, Type: page.Tight, Min: 30},
		table.Column{Title: "Laid", Align: page.Centre, Whole: true},
	)
	plain.Later, plain.RowHeight, plain.Pad = "Bundles by hand, short and thin ones", 6, 0.6
	first := true
	var byHand []*layup.Trunk
	for i := range plan.Trunks {
		k := &plan.Trunks[i]
		if k.Section != name || k.Kind == layup.Empty {
			continue
		}
		lay := plan.Drawn(k.Most)
		if lay == nil {
			continue
		}
		if k.Kind != layup.Layers {
			if k.Kind == layup.ByHand && lay.Placed && len(lay.Pieces) >= drawnFrom && k.Length >= drawnLong {
				byHand = append(byHand, k)
			}
			plain.Row(table.T(k.Name), table.T(k.Kind.String()), table.T(strconv.Itoa(len(lay.Pieces))), table.T(common.Tenths(lay.Outside)), table.T(k.Why), table.Tick())
			continue
		}
		if first {
			fl.Heading(1, "Lay-up")
			common.Intro(fl, "Each drawing is the bundle where it is thickest, seen along its run from the first of the two places in its name. Core first; each layer turns against the one below it.")
			first = false
		}
		trunk(fl, plan, k, lay, body)
	}
	for i, k := range byHand {
		if first {
			fl.Heading(1, "Lay-up")
			first = false
		}
		if i == 0 {
			common.Intro(fl, "Bundles twisted gently by hand: heavy wires and cables towards the middle, what leaves first outside. The drawings are the closest that each packs where it is thickest; no wire has to lie just there.")
		}
		fl.Together(func() {
			fl.Heading(2, common.Sentence(k.Name))
			common.Intro(fl, common.Sentence(k.Why)+".")
			fl.Add(section.Block(plan.Drawn(k.Most)))
		})
	}
	if plain.Len() == 0 {
		return
	}
	if first {
		fl.Heading(1, "Lay-up")
	} else {
		fl.Heading(2, "Bundles by hand, short and thin ones")
	}
	fl.Add(plain)
}

// trunk is one that lies in layers: its cross-section, the table of its layers, and what changes on the way.
func trunk(fl *page.Flow, plan *layup.Plan, k *layup.Trunk, lay *layup.Lay, body page.Box) {
	fl.Heading(2, common.Sentence(k.Name))
	common.Intro(fl, common.Whole(k.Length)+" mm; "+strconv.Itoa(len(lay.Pieces))+" pieces, "+common.Tenths(lay.Outside)+" mm across as laid. "+common.Sentence(lay.Band)+".")
	fl.Add(section.Block(lay))
	t := table.New(
		table.Column{Title: "Layer", Align: page.Right, Whole: true},
		table.Column{Title: "Pieces", Weight: 8, Min: 60, Type: page.Tight},
		table.Column{Title: "Turns", Weight: 2, Min: 20},
		table.Column{Title: "Lay mm", Align: page.Right, Whole: true},
		table.Column{Title: "Take-up", Align: page.Right, Whole: true},
		table.Column{Title: "Laid", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = k.Name, 5.5, 0.5
	for _, l := range lay.Layers {
		var in []string
		for _, p := range l.Pieces {
			in = append(in, or(lay.Pieces[p].Label, lay.Pieces[p].Name))
		}
		text := strings.Join(in, ", ")
		if n := len(l.Fillers); n > 0 {
			text += "; " + common.Count(n, "filler", "fillers") + " of " + common.Tenths(l.Diameter) + " mm"
		}
		if l.Built > 0 {
			text += "; tape what lies within up to " + common.Tenths(l.Built) + " mm first"
		}
		long := "-"
		if l.Lay > 0 {
			long = common.Whole(l.Lay)
		}
		t.Row(table.T(strconv.Itoa(l.Number)), table.T(text), table.T(l.Hand.String()), table.T(long), table.T(l.TakeUp.String()), table.Tick())
	}
	fl.Add(t)
	for _, c := range k.Changes {
		fl.Say(page.Tight, change(&c))
	}
}

func change(c *layup.Change) string {
	s := "At " + c.Place + ", " + common.Whole(c.Station) + " mm along:"
	if len(c.Leave) > 0 {
		s += " leave " + strings.Join(c.Leave, ", ") + "."
	}
	if len(c.Join) > 0 {
		s += " Join " + strings.Join(c.Join, ", ") + "."
	}
	if c.Relaid {
		s += " The rest is laid anew."
	}
	return s
}
