package shellbook

import (
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// rowsOnPage is how many rows of holes, clips or masks stand on a page at most.
const rowsOnPage = 20

// holes is the before-paint list: a map and a table for each panel in the order one walks, then what lies on no panel, then what is left over,
// then the last line.
func holes(fl *page.Flow, h common.Head, job *design.Job, plan *body, drawn map[string]flatMap) {
	s := &plan.Shell
	fl.NewPage()
	fl.Heading(1, "Before paint")
	if job.Painted == "" {
		common.Intro(fl, "Holes, cut-outs and studs, panel by panel as one walks round the body, on a panel by drill. Places in millimetres from the datum: "+datum(h)+".")
	} else {
		common.Intro(fl, "The body is painted. This list serves to find the holes that are there; what says \"not there yet\" is not drilled. Places in millimetres from the datum: "+datum(h)+".")
	}
	list, loose := apart(plan)
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].Panel == list[i].Panel {
			j++
		}
		here := list[i:j]
		fl.Later(func(fl *page.Flow) { panel(fl, job, s, here, drawn) })
		i = j
	}
	looseClips(fl, loose)
	if len(s.Holes) == 0 {
		fl.Para("The plan lists no hole and no stud.")
	}
	untouched(fl, s)
	late(fl, s)
	plugs(fl, s)
	lastLine(fl, s)
}

// panelOf is a panel by name; nil if the shell has none of it.
func panelOf(s *shell.Shell, name string) *shell.Panel {
	for i := range s.Panels {
		if name != "" && s.Panels[i].Name == name {
			return &s.Panels[i]
		}
	}
	return nil
}

func panel(fl *page.Flow, job *design.Job, s *shell.Shell, list []*shell.Hole, drawn map[string]flatMap) {
	name := "On no panel"
	if list[0].Panel != "" {
		name = "Panel " + list[0].Panel
	}
	fl.Heading(2, name)
	p := panelOf(s, list[0].Panel)
	if text := panelText(job, p, list[0].Panel); text != "" {
		common.Intro(fl, text)
	}
	drawn[list[0].Panel].add(fl, name)
	t := table.New(
		table.Column{Title: "Mark, for", Weight: 3, Min: 25},
		table.Column{Title: "x, y, z", Align: page.Right, Type: place.Sized(11), Whole: true},
		table.Column{Title: "By tape, from", Weight: 4, Min: 32, Type: place.Sized(10)},
		table.Column{Title: "Drill mm", Align: page.Right, Min: 18},
		table.Column{Title: "Fixing, side", Weight: 3, Min: 22},
		table.Column{Title: "Drilled", Align: page.Centre, Whole: true},
		table.Column{Title: "De- burred", Align: page.Centre, Whole: true},
		table.Column{Title: "Primed", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later, t.Pad = rowsOnPage, name, padHand
	for i := range list {
		part := ""
		if n := drawn[list[0].Panel].in[list[i].Mark]; n > 0 {
			part = partText(n)
		}
		holeRow(t, list[i], part)
		if job.Painted != "" && list[i].New {
			t.Note("Not there yet, and the body is painted: do not drill. See what would need a new hole.")
		}
	}
	fl.Add(t)
}

// holeRow is one hole in three lines: the upper boxes are for who did it, the lower for who checked it. part is the map on which it is, of several.
func holeRow(t *table.Table, x *shell.Hole, part string) {
	at := [3]string{"x –", "y –", "z –"}
	if x.Known {
		d := decimals(x.Status)
		at = [3]string{"x " + coordinate(x.At.X, d), "y " + coordinate(x.At.Y, d), "z " + coordinate(x.At.Z, d)}
	}
	var refs [2]table.Cell
	for i, r := range x.Refs {
		if i < len(refs) {
			refs[i] = table.T(coordinate(r.Distance, 0) + " " + r.To)
		}
	}
	if x.Known && len(x.Refs) == 0 {
		refs[0] = small("nothing to measure from")
	}
	what, status := strings.TrimSuffix(x.What, " "+x.Mark), x.Status.String()
	if what == "clip" || what == "hole" {
		what = ""
	}
	if x.Status == design.Computed {
		status = ""
	}
	from := after("from ", x.From)
	if from == "" && x.Panel != "" {
		from = "no side stated"
	}
	sum := x.DrillSum
	if x.High == 0 {
		sum = after("Ø ", sum)
	}
	tick := table.Tick()
	t.Row(table.Cell{Text: x.Mark, Type: mark.Sized(11)}, table.T(at[0]), refs[0], drillCell(x.Drill, x.High, x.Fastener), table.Cell{Text: fixing(x.Fastener, x.Drill), Type: page.Strong}, tick, tick, tick)
	t.More(tiny(joined("; ", part, what)), table.T(at[1]), refs[1], table.Cell{}, tiny(kindText(x.FastenerKind)))
	t.More(tiny(status), table.T(at[2]), tiny(sum), table.Cell{}, tiny(from), tick, tick, tick)
	t.Note(common.Sentence(joined("; ", after("of the two places that both tapes reach, ", x.Which), x.Note)))
	switch {
	case !x.Known:
		t.Note("No coordinates: its place is found on the shell and written here before it is drilled.")
	case x.Middle:
		t.Note("The place is the middle of the bundle over the panel: hold the clip there, its ear puts the hole beside it.")
	case x.Off >= offPanel || x.Off <= -offPanel:
		t.Note("What it is for lies " + common.Tenths(max(x.Off, -x.Off)) + " mm off the panel: the hole is square below it.")
	}
}

// offPanel is from where on it is said that a place lies off its panel.
const offPanel unit.Length = 0.1

// panelText is what is known of a panel that a driller wants to know.
func panelText(job *design.Job, p *shell.Panel, name string) string {
	if name == "" {
		return "The job names no panel for these. See what is there before anything is drilled or set."
	}
	var out []string
	if p != nil {
		if p.Thickness > 0 {
			out = append(out, common.Tenths(p.Thickness)+" mm thick")
		}
		out = append(out, sides(p)...)
		if !p.Flat && len(p.Outline) > 0 && p.Curved > 0 {
			out = append(out, "not flat: it stands up to "+common.Tenths(p.Curved)+" mm off the plane of the map")
		}
	}
	for _, x := range job.Panels {
		if x.Name == name && x.Skin == "bonded" {
			out = append(out, "bonded: nothing is drilled or welded for a clip")
		}
		if x.Name == name && x.Note != "" {
			out = append(out, x.Note)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return common.Sentence(strings.Join(out, "; ")) + "."
}

// sides says what lies on the two sides of a panel, and which will be seen.
func sides(p *shell.Panel) []string {
	var zones, seen []string
	for _, s := range p.Sides {
		if s.Zone == "" {
			continue
		}
		zones = append(zones, s.Zone)
		if s.Seen {
			seen = append(seen, s.Zone)
		}
	}
	var out []string
	if len(zones) > 0 {
		out = append(out, "between "+strings.Join(zones, " and "))
	}
	if len(seen) > 0 {
		out = append(out, "will be seen from "+strings.Join(seen, " and "))
	}
	return out
}

// untouched names the panels in which nothing is drilled.
func untouched(fl *page.Flow, s *shell.Shell) {
	used := map[string]bool{}
	for _, h := range s.Holes {
		used[h.Panel] = true
	}
	var names []string
	for _, p := range s.Panels {
		if !used[p.Name] {
			names = append(names, p.Name)
		}
	}
	if len(names) > 0 {
		fl.Para("Nothing is drilled in: " + strings.Join(names, ", ") + ".")
	}
}
