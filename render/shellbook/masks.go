package shellbook

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// masks is the sheet for the painter: what stays bare: a row each, but for threads, which stand together by panel, kind and side.
func masks(fl *page.Flow, plan *body) {
	fl.NewPage()
	fl.Heading(1, "Masking sheet")
	list := plan.Shell.Masks
	if len(list) == 0 {
		fl.Para("Nothing is to be kept bare: the plan has no thread, no shoulder and no bare earth pad.")
		return
	}
	common.Intro(fl, "For the painter: what stays bare, and on which side. Tick when it is masked, and again when the mask is off and the metal under it bare and clean. The torque is for later, when something is bolted there.")
	t := table.New(
		table.Column{Title: "Mark, place", Weight: 3, Min: 40},
		table.Column{Title: "What stays bare", Weight: 4, Min: 50, Type: page.Strong},
		table.Column{Title: "Size mm", Align: page.Right, Min: 18},
		table.Column{Title: "Side", Weight: 1, Min: 16},
		table.Column{Title: "Torque later", Align: page.Right, Min: 18, Type: page.Tight},
		table.Column{Title: "Masked", Align: page.Centre, Whole: true},
		table.Column{Title: "Un- masked", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later, t.Pad = rowsOnPage, "Masking sheet", padHand
	panel := ""
	for i := range list {
		m := &list[i]
		if m.Panel == "" {
			continue
		}
		if m.Panel != panel {
			panel = m.Panel
			t.Sub("Panel " + panel)
			for _, g := range threads(list, panel) {
				name, place := table.Cell{Text: strings.Join(series(g.marks), ", "), Type: page.Strong}, g.place
				if len(g.marks) > 1 {
					place = common.Count(len(g.marks), "thread", "threads") + ", by the map and the list of the panel"
				}
				maskRow(t, g.mask, name, place)
			}
		}
		if !thread(m) {
			maskRow(t, m, table.Cell{Text: m.Mark, Type: mark}, placeText(m.At, m.Known, 0))
		}
	}
	for i, g := range likeMasks(list) {
		if i == 0 {
			t.Sub("On no panel: where they are decided by hand")
		}
		maskRow(t, g.mask, small(strings.Join(series(g.marks), ", ")), g.place)
	}
	fl.Add(t)
}

func maskRow(t *table.Table, m *shell.Mask, name table.Cell, place string) {
	size := table.T("–")
	if m.Size > 0 && unit.Finite(m.Size) {
		size = table.Cell{Text: common.Tenths(m.Size), Type: figure}
	}
	torque := ""
	if m.Torque > 0 && unit.Finite(m.Torque) {
		torque = m.Torque.String()
	}
	side := m.Side
	if side == "" && m.Panel != "" {
		side = "not stated"
	}
	t.Row(name, table.T(m.What), size, table.T(side), table.T(torque), table.Tick(), table.Tick())
	if place != "" {
		t.More(small(place))
	}
	t.Note(m.Note)
}

// thread tells whether only a thread stays bare.
func thread(m *shell.Mask) bool { return !(m.Size > 0) && !(m.Torque > 0) }

// threads are the threads of a panel, those of one sort and side together.
func threads(list []shell.Mask, panel string) (out []alike) {
	for i := range list {
		m := &list[i]
		if m.Panel != panel || !thread(m) {
			continue
		}
		if n := slices.IndexFunc(out, func(a alike) bool { return a.mask.What == m.What && a.mask.Side == m.Side && a.mask.Note == m.Note }); n >= 0 {
			out[n].marks, out[n].place = append(out[n].marks, m.Mark), ""
			continue
		}
		out = append(out, alike{m, "", []string{m.Mark}, placeText(m.At, m.Known, 0)})
	}
	for i := range out {
		slices.SortFunc(out[i].marks, design.Natural)
	}
	return out
}

// alike is masks on no panel of one run that want the same.
type alike struct {
	mask  *shell.Mask
	stem  string
	marks []string
	place string
}

func likeMasks(list []shell.Mask) []alike {
	var out []alike
	for i := range list {
		m := &list[i]
		if m.Panel != "" {
			continue
		}
		stem, _, ok := numbered(m.Mark)
		if n := slices.IndexFunc(out, func(a alike) bool {
			return ok && a.stem == stem && a.mask.What == m.What && a.mask.Size == m.Size && a.mask.Torque == m.Torque && a.mask.Side == m.Side && a.mask.Note == m.Note
		}); n >= 0 {
			out[n].marks, out[n].place = append(out[n].marks, m.Mark), ""
			continue
		}
		if !ok {
			stem = ""
		}
		out = append(out, alike{m, stem, []string{m.Mark}, placeText(m.At, m.Known, 0)})
	}
	return out
}
