package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// mounts lists what sits in the panels: connectors, stud posts and bushes.
func mounts(fl *page.Flow, job *design.Job, plan *body) {
	list := plan.Shell.Mounts
	if len(list) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Connectors on panels")
	common.Intro(fl, "What sits in the panels. The half that is fixed stays on the panel; the free one comes away with its section. Up is the panel's own up; turns are clockwise, seen from the side on which the flange sits.")
	t := table.New(
		table.Column{Title: "Name, part", Weight: 2, Min: 28},
		table.Column{Title: "Cut-out mm", Align: page.Right, Min: 24},
		table.Column{Title: "Place, size and room mm", Weight: 4, Min: 60, Type: page.Tight},
		table.Column{Title: "Key", Weight: 1, Min: 30, Type: page.Tight},
		table.Column{Title: "Cut", Align: page.Centre, Whole: true},
		table.Column{Title: "Fitted", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later, t.Pad = rowsOnPage, "Connectors on panels", padHand
	panel, first := "", true
	for i := range list {
		m := &list[i]
		if first || m.Panel != panel {
			panel, first = m.Panel, false
			t.Sub(mountPanel(panelOf(&plan.Shell, panel), panel))
		}
		mountRow(t, job, m)
	}
	fl.Add(t)
}

func mountPanel(p *shell.Panel, name string) string {
	if p == nil || !(p.Thickness > 0) {
		return "Panel " + name
	}
	return "Panel " + name + ", " + common.Tenths(p.Thickness) + " mm thick"
}

func mountRow(t *table.Table, job *design.Job, m *shell.Mount) {
	cut := table.Cell{Text: "not known", Type: page.Strong}
	if m.CutOut[0] > 0 && unit.Finite(m.CutOut[0]) {
		cut = drillCell(m.CutOut[0], m.CutOut[1], "")
	}
	hole := ""
	if m.Hole != m.Name {
		hole = after("hole ", m.Hole)
	}
	shape := ""
	if cut.Type == figure {
		shape = "round"
	}
	key, turn := keyText(m)
	t.Row(table.Cell{Text: m.Name, Type: mark}, cut, table.T(placeText(m.At, m.Known, 1)), table.T(key), table.Tick(), table.Tick())
	t.More(small(joined(", ", m.Kind, m.Housing, hole)), small(shape), small(sizes(job, m)), small(turn))
	t.Note(sideText(m))
	if len(m.Screws) > 0 {
		var out []string
		for _, s := range m.Screws {
			out = append(out, s.Mark+" Ø "+common.Tenths(s.Drill)+" at "+triple(s.At, 1))
		}
		t.Note(common.Count(len(m.Screws), "screw hole", "screw holes") + ": " + strings.Join(out, "; ") + ".")
	}
	if m.Bond {
		t.Note("A screen is earthed through its shell: bare metal under the flange, see the masking sheet.")
	}
	for _, b := range job.Breaks {
		if b.Name == m.Name && m.Kind != "bush" {
			t.Note("Halves: " + joined("; ", halfText(b.Halves[0]), halfText(b.Halves[1])) + ".")
		}
	}
}

// sizes are the measures of what sits in the hole, and what it asks of the panel.
func sizes(job *design.Job, m *shell.Mount) string {
	var out []string
	if m.Flange[0] > 0 {
		s := "flange Ø " + common.Tenths(m.Flange[0])
		if m.Flange[1] > 0 {
			s = "flange " + common.Tenths(m.Flange[0]) + " × " + common.Tenths(m.Flange[1])
		}
		out = append(out, s)
	}
	if m.Bore > 0 {
		out = append(out, "bore Ø "+common.Tenths(m.Bore))
	}
	if m.Nut > 0 {
		out = append(out, "nut "+common.Tenths(m.Nut)+" across")
	}
	if m.Room > 0 {
		out = append(out, "keep Ø "+common.Tenths(m.Room)+" free")
	}
	for _, h := range job.Parts.Housings {
		if h.Name != m.Housing || m.Housing == "" {
			continue
		}
		if h.Behind > 0 {
			out = append(out, common.Tenths(h.Behind)+" deep behind")
		}
		if h.Grips[1] > 0 {
			out = append(out, "for panels of "+common.Tenths(h.Grips[0])+" to "+common.Tenths(h.Grips[1]))
		}
		break
	}
	if len(out) == 0 {
		return "not known"
	}
	return strings.Join(out, "; ")
}

// keyText is the key, and how it stands.
func keyText(m *shell.Mount) (key, turn string) {
	key = "no key"
	if m.Key != "" {
		key = "key " + m.Key
	}
	switch {
	case m.Kind == "bush":
		return "–", ""
	case m.Turn == 0 || !unit.Finite(m.Turn):
		return key, "up"
	}
	return key, "turned " + degrees(m.Turn) + " from up"
}

// sideText is on which side the flange sits and why, and on which it is mated.
func sideText(m *shell.Mount) string {
	if m.Side == "" && m.Mating == "" {
		if m.Kind == "bush" {
			return ""
		}
		return "On which side it sits is not known."
	}
	flange := after("flange on the side of ", m.Side)
	if flange != "" && m.SideWhy != "" {
		flange += " (" + m.SideWhy + ")"
	}
	return common.Sentence(joined(", ", flange, after("mated from ", m.Mating))) + "."
}

func halfText(h design.Half) string {
	s := "section " + h.Section
	if h.Section == "" {
		s = "section not stated"
	}
	return joined(", ", s, h.Mount, h.Contacts) + after(": ", h.Housing)
}

// ordinal of a stretch as a person counts.
func ordinal(stretch int) string { return strconv.Itoa(stretch + 1) }
