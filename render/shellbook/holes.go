package shellbook

import (
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// The voices that the hand looks for.
var (
	figure = page.Big.Sized(16)
	mark   = page.Strong.Sized(12)
	place  = page.Strong.Sized(11.5)
)

// holes is the before-paint list, a table for each panel.
func holes(fl *page.Flow, h common.Head, job *design.Job, plan *body, left []string) {
	fl.NewPage()
	fl.Heading(1, "Before paint")
	common.Intro(fl, "Holes, cut-outs and studs, in the order one walks. Places in millimetres from the datum: "+datum(h)+".")
	list, loose := apart(plan)
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].Panel == list[i].Panel {
			j++
		}
		panel(fl, job, list[i:j])
		i = j
	}
	looseClips(fl, loose)
	if len(plan.Holes) == 0 {
		fl.Para("The plan lists no hole and no stud.")
	}
	lastLine(fl, left)
}

// loose is the clips of a run that lie on no panel and want the same fixing.
type loose struct {
	run, fastener string
	drill         unit.Length
	marks         []string
}

// apart parts the clips that lie on no panel from the holes that can be drilled by this book. Each of those clips stands with its place
// in the list of its run.
func apart(plan *body) (list []shell.Hole, left []loose) {
	runOf := map[string]string{}
	for _, r := range plan.Runs {
		for _, c := range r.Clips {
			runOf["clip "+c.Mark] = r.Run
		}
	}
	for _, h := range plan.Holes {
		run, ok := runOf[h.What]
		if h.Panel != "" || !ok {
			list = append(list, h)
			continue
		}
		l := loose{run: run, fastener: h.Fastener, drill: h.Drill}
		n := slices.IndexFunc(left, func(o loose) bool { return o.run == l.run && o.fastener == l.fastener && o.drill == l.drill })
		if n < 0 {
			n, left = len(left), append(left, l)
		}
		left[n].marks = append(left[n].marks, h.Mark)
	}
	return list, left
}

// looseClips says of the clips on no panel that each wants a decision.
func looseClips(fl *page.Flow, list []loose) {
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "Clips on no panel")
	common.Intro(fl, "The job names no panel for these: they lie on a frame, an engine, a bracket or in the air, and nothing is drilled for them from this list. "+
		"Go to each with the list of its run, see what is there, decide by hand what it is fixed to and how, and write that down before paint. The fixing named is what the job would use on a panel.")
	t := table.New(
		table.Column{Title: "Run", Type: page.Strong, Weight: 2, Min: 24},
		table.Column{Title: "Clips", Weight: 3, Min: 30, Type: page.Tight},
		table.Column{Title: "Fixing named", Weight: 2, Min: 26, Type: page.Tight},
		table.Column{Title: "Drill mm", Align: page.Right, Min: 21, Whole: true},
		table.Column{Title: "Decided by hand", Weight: 4, Min: 44},
		table.Column{Title: "Done", Align: page.Centre, Whole: true},
	)
	t.Later = "Clips on no panel"
	for _, l := range list {
		t.Row(table.T(l.run), table.T(strings.Join(series(l.marks), ", ")), table.T(fixing(l.fastener, l.drill)), drillText(l.drill, l.fastener), table.Write(), table.Tick())
	}
	fl.Add(t)
}

// drillText is the hole's diameter in the size of the text.
func drillText(d unit.Length, fastener string) table.Cell {
	c := drillCell(d, fastener)
	c.Type = page.Strong
	return c
}

func panel(fl *page.Flow, job *design.Job, list []shell.Hole) {
	name := "On no panel"
	if list[0].Panel != "" {
		name = "Panel " + list[0].Panel
	}
	t := table.New(
		table.Column{Title: "Mark, for", Weight: 3, Min: 30},
		table.Column{Title: "x", Align: page.Right, Type: place, Whole: true},
		table.Column{Title: "y", Align: page.Right, Type: place, Whole: true},
		table.Column{Title: "z", Align: page.Right, Type: place, Whole: true},
		table.Column{Title: "Drill mm", Align: page.Right, Min: 21, Whole: true},
		table.Column{Title: "Fixing, mark", Weight: 2, Min: 28},
		table.Column{Title: "Drilled", Align: page.Centre, Whole: true},
		table.Column{Title: "Deburred", Align: page.Centre, Whole: true},
		table.Column{Title: "Primed", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later, t.Pad = 20, name, padHand
	for i := range list {
		x := &list[i]
		at := [3]table.Cell{table.T("–"), table.T("–"), table.T("–")}
		if x.Known {
			d := decimals(x.Status)
			at = [3]table.Cell{table.T(coordinate(x.At.X, d)), table.T(coordinate(x.At.Y, d)), table.T(coordinate(x.At.Z, d))}
		}
		t.Row(table.Cell{Text: x.Mark, Type: mark}, at[0], at[1], at[2], drillCell(x.Drill, x.Fastener), table.Cell{Text: fixing(x.Fastener, x.Drill), Type: page.Tight}, table.Tick(), table.Tick(), table.Tick())
		what, status := x.What, x.Status.String()
		if what == "clip "+x.Mark {
			what = ""
		}
		if x.Status == design.Computed {
			status = ""
		}
		if what != "" || status != "" {
			t.More(table.Cell{Text: what, Type: page.Tight}, table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{Text: status, Type: page.Tight})
		}
		t.Note(x.Note)
		if !x.Known {
			t.Note("No coordinates: its place is found on the shell and written here before it is drilled.")
		}
	}
	fl.Heading(2, name)
	if s := panelText(job, list[0].Panel); s != "" {
		common.Intro(fl, s)
	}
	fl.Add(t)
}

// panelText is what the job says of a panel that a driller wants to know.
func panelText(job *design.Job, name string) string {
	if name == "" {
		return "The job names no panel for these. See what is there before anything is drilled or set."
	}
	for _, p := range job.Panels {
		if p.Name != name {
			continue
		}
		var out []string
		if p.Thickness > 0 {
			out = append(out, common.Tenths(p.Thickness)+" mm thick")
		}
		if len(p.Zones) > 0 {
			out = append(out, "between "+strings.Join(p.Zones, " and "))
		}
		if len(p.Seen) > 0 {
			out = append(out, "will be seen from "+strings.Join(p.Seen, ", "))
		}
		if p.Note != "" {
			out = append(out, p.Note)
		}
		if len(out) > 0 {
			return common.Sentence(strings.Join(out, "; ")) + "."
		}
	}
	return ""
}

// drillCell is the hole's diameter, large.
func drillCell(d unit.Length, fastener string) table.Cell {
	switch {
	case d > 0 && unit.Finite(d):
		return table.Cell{Text: common.Tenths(d), Type: figure}
	case fastener != "":
		return table.Cell{Text: "no hole", Type: page.Strong}
	}
	return table.Cell{Text: "not\nknown", Type: page.Strong}
}

// fixing is the fastener, or that there is none yet.
func fixing(fastener string, drill unit.Length) string {
	switch {
	case fastener != "":
		return fastener
	case drill > 0:
		return "plain hole"
	}
	return "no fixing stated"
}

// open names what has no fixing or no place yet: it would have to be drilled after paint.
func open(plan *body) []string {
	var out []string
	reasons := map[string]int{} // where in out
	var marks [][]string
	for _, h := range plan.Holes {
		var why []string
		if !h.Known {
			why = append(why, "no coordinates")
		}
		if h.Panel == "" {
			why = append(why, "no panel")
		}
		if !(h.Drill > 0) && h.Fastener == "" {
			why = append(why, "no drill and no fixing")
		}
		if len(why) == 0 {
			continue
		}
		reason := strings.Join(why, ", ")
		n, ok := reasons[reason]
		if !ok {
			n = len(out)
			reasons[reason] = n
			out, marks = append(out, reason), append(marks, nil)
		}
		marks[n] = append(marks[n], h.Mark)
	}
	for i := range out {
		out[i] = common.Sentence(out[i]) + " (" + strconv.Itoa(len(marks[i])) + "): " + strings.Join(series(marks[i]), ", ")
	}
	for _, r := range plan.Runs {
		if r.Wires > 0 && !(r.Length > 0) {
			out = append(out, stretchName(&r)+": its length is not known, so its clips have no place")
		}
	}
	return out
}

// series shortens marks that count on: dash-1, dash-2, dash-3 become "dash-1 to 3".
func series(marks []string) []string {
	var out []string
	for i := 0; i < len(marks); {
		stem, first, ok := numbered(marks[i])
		j := i + 1
		for ok && j < len(marks) {
			s, n, more := numbered(marks[j])
			if !more || s != stem || n != first+j-i {
				break
			}
			j++
		}
		if j-i < 3 {
			j = i + 1
			out = append(out, marks[i])
		} else {
			out = append(out, marks[i]+" to "+strconv.Itoa(first+j-i-1))
		}
		i = j
	}
	return out
}

// numbered parts a mark from the number at its end.
func numbered(mark string) (stem string, n int, ok bool) {
	at := strings.LastIndexByte(mark, '-')
	if at < 0 {
		return mark, 0, false
	}
	n, err := strconv.Atoi(mark[at+1:])
	return mark[:at], n, err == nil && n > 0 && n < 1e6 && mark[at+1] != '0'
}

// lastLine says that nothing is left, or names what is.
func lastLine(fl *page.Flow, left []string) {
	if len(left) == 0 {
		fl.Together(func() {
			fl.Heading(2, "The last line")
			fl.Say(page.Strong.Sized(12), "Nothing left to drill after paint.")
			fl.Para("That holds for the harness as planned in this revision, not for what holds the devices.")
		})
		return
	}
	fl.Heading(2, "The last line: settle before paint")
	fl.Say(page.Strong.Sized(12), "Something on this list has no fixing or no place yet. Painting now means drilling after paint.")
	fl.Checklist(left...)
}

// panelConnectors lists the cut-outs of the breaks that sit on panels, with the half that is fixed there.
func panelConnectors(fl *page.Flow, job *design.Job, plan *body) {
	byWhat := map[string]*shell.Hole{}
	for i := range plan.Holes {
		byWhat[plan.Holes[i].What] = &plan.Holes[i]
	}
	t := table.New(
		table.Column{Title: "Break", Type: mark, Weight: 2, Min: 24},
		table.Column{Title: "Panel, place", Weight: 2, Min: 38},
		table.Column{Title: "Cut-out mm", Align: page.Right, Whole: true},
		table.Column{Title: "Halves", Weight: 4, Min: 50},
		table.Column{Title: "Key"},
		table.Column{Title: "Cut", Align: page.Centre, Whole: true},
	)
	t.Later = "Connectors on panels"
	for _, b := range job.Breaks {
		if b.Panel == "" {
			continue
		}
		at, drill := "no coordinates", table.Cell{Text: "not\nknown", Type: page.Strong}
		if b.Known {
			at = triple(b.At, decimals(b.Status()))
		}
		h := byWhat["break "+b.Name]
		if h == nil {
			h = byWhat["stud post "+b.Name]
		}
		if h != nil {
			drill = drillCell(h.Drill, h.Fastener)
			if h.Known {
				at = triple(h.At, decimals(h.Status))
			}
		}
		key := b.Key
		if key == "" {
			key = "–"
		}
		t.Row(table.T(b.Name), table.T(b.Panel), drill, table.T(halfText(b.Halves[0])), table.T(key), table.Tick())
		t.More(table.Cell{}, table.Cell{Text: at, Type: page.Tight}, table.Cell{}, table.T(halfText(b.Halves[1])))
	}
	if t.Len() == 0 {
		return
	}
	fl.Heading(1, "Connectors on panels")
	common.Intro(fl, "Cut-outs of the breaks. The half that is fixed stays on the panel; the free one comes away with its section. Turn the fixed half so that its key stands as the job says.")
	fl.Add(t)
}

func halfText(h design.Half) string {
	s := "section " + h.Section
	if h.Section == "" {
		s = "section not stated"
	}
	if h.Mount != "" {
		s += ", " + h.Mount
	}
	if h.Housing != "" {
		s += ": " + h.Housing
	}
	if h.Contacts != "" {
		s += ", " + h.Contacts
	}
	return s
}

// triple is a place in one line.
func triple(p design.Point3, decimals int) string {
	return coordinate(p.X, decimals) + ", " + coordinate(p.Y, decimals) + ", " + coordinate(p.Z, decimals)
}

// decimals of a place: a stated one is printed to the tenth it may have been stated to, a computed one to the millimetre.
func decimals(s design.Status) int {
	if s == design.Computed {
		return 0
	}
	return 1
}

func stretchName(r *fix.RunPlan) string {
	s := "run " + r.Run
	if r.Stretch > 0 {
		s += ", stretch " + strconv.Itoa(r.Stretch+1)
	}
	return s
}
