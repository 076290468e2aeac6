package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// runs is for each run the strips of its stretches and the list of its clips.
func runs(fl *page.Flow, plan *body) {
	if len(plan.Runs) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Runs and clips")
	common.Intro(fl, "A strip shows a stretch laid straight: places named above, clips below, the distances between. It is not to scale; the figures rule. "+
		"A filled square is a clip decided by hand or frozen, an open one is worked out.")
	for i := 0; i < len(plan.Runs); {
		j := i
		for j < len(plan.Runs) && plan.Runs[j].Run == plan.Runs[i].Run {
			j++
		}
		run(fl, plan.Runs[i:j])
		i = j
	}
	bare(fl, plan)
}

// run is the strips of the stretches that have clips, side by side where they are short, and one list for all.
func run(fl *page.Flow, stretches []fix.RunPlan) {
	var held []*fix.RunPlan
	for i := range stretches {
		if len(stretches[i].Clips) > 0 {
			held = append(held, &stretches[i])
		}
	}
	if len(held) == 0 {
		return
	}
	fl.Heading(2, "Run "+held[0].Run)
	common.Intro(fl, describe(held[0]))
	t := table.New(
		table.Column{Title: "Mark, why", Weight: 4, Min: 30},
		table.Column{Title: "Station", Align: page.Right, Whole: true},
		table.Column{Title: "Place, fixed to", Weight: 3, Min: 30},
		table.Column{Title: "Clip, fixing", Weight: 3, Min: 24},
		table.Column{Title: "Ø, bundle", Align: page.Right, Min: 21, Whole: true},
		table.Column{Title: "Drill, hole", Align: page.Right, Min: 22, Whole: true},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later, t.GroupsTogether, t.GroupEvery, t.Pad, t.RowHeight = 20, "Run "+held[0].Run, true, 0, padHand, 6
	drawn := strips{run: held[0].Run}
	for _, r := range held {
		name := ""
		if len(stretches) > 1 {
			name = strconv.Itoa(r.Stretch + 1)
		}
		if s := newStrip(r); s != nil {
			s.name = name
			drawn.list = append(drawn.list, s)
		}
		t.Sub(stretchText(r, name))
		clipRows(t, r)
	}
	if len(drawn.list) > 0 {
		fl.Add(drawn)
	}
	fl.Add(t)
}

// padHand is what stays free above and below the rows that the hand works from.
const padHand page.MM = 0.5

// fromTo names the ends of a stretch; empty when it has none.
func fromTo(r *fix.RunPlan, lead string) string {
	if n := len(r.Nodes); n > 1 {
		return lead + r.Nodes[0].What + " to " + r.Nodes[n-1].What
	}
	return ""
}

// bare lists the stretches without clips.
func bare(fl *page.Flow, plan *body) {
	t := table.New(
		table.Column{Title: "Run", Type: page.Strong, Weight: 2, Min: 26},
		table.Column{Title: "From, to", Weight: 3, Min: 36},
		table.Column{Title: "Section", Weight: 1},
		table.Column{Title: "Length mm", Align: page.Right, Whole: true},
		table.Column{Title: "Wires", Align: page.Right, Whole: true},
		table.Column{Title: "Bundle Ø mm", Align: page.Right, Whole: true},
		table.Column{Title: "Seen", Align: page.Centre, Whole: true},
	)
	t.Later = "Stretches without clips"
	for i := range plan.Runs {
		r := &plan.Runs[i]
		if len(r.Clips) > 0 {
			continue
		}
		wires, outside := "none", "–"
		if r.Wires > 0 {
			wires, outside = strconv.Itoa(r.Wires), common.Tenths(r.Outside)
		}
		t.Row(table.T(stretchName(r)[len("run "):]), table.T(fromTo(r, "")), table.T(r.Section), table.T(common.Whole(r.Length)), table.T(wires), table.T(outside), table.Tick())
		if r.Note != "" {
			t.Note(common.Sentence(r.Note) + ".")
		}
	}
	if t.Len() == 0 {
		return
	}
	fl.Heading(2, "Stretches without clips")
	common.Intro(fl, "The plan puts no clip on these. See on the shell that nothing on them hangs, chafes or reaches what moves or is hot.")
	fl.Add(t)
}

// describe says in a sentence or two what holds for all stretches of a run.
func describe(r *fix.RunPlan) string {
	out := []string{"Section " + r.Section}
	if r.Section == "" {
		out[0] = "No section"
	}
	if r.Zone != "" {
		out = append(out, "zone "+r.Zone)
	}
	if len(r.Sleeves) > 0 {
		out = append(out, "in sleeve "+r.Sleeves[0].Part)
	}
	if r.Panel != "" {
		out = append(out, "clipped to panel "+r.Panel)
	} else {
		out = append(out, "on no panel: each fixing is decided by hand on the shell and written on the line")
	}
	s := strings.Join(out, ", ") + ". "
	if r.SpanLimit > 0 {
		s += "Largest span " + common.Whole(r.SpanLimit) + " mm"
		if r.SpanSource != "" {
			s += " (" + r.SpanSource + ")"
		}
		s += ". "
	}
	return strings.TrimRight(s, " ")
}

// stretchText heads the clips of a stretch.
func stretchText(r *fix.RunPlan, name string) string {
	var out []string
	if name != "" {
		name = "Stretch " + name + ": "
	}
	if n := len(r.Nodes); n > 1 {
		out = append(out, name+nodeText(&r.Nodes[0])+" to "+nodeText(&r.Nodes[n-1]))
	} else if name != "" {
		out = append(out, strings.TrimSuffix(name, ": "))
	}
	if r.Length > 0 && unit.Finite(r.Length) {
		out = append(out, common.Whole(r.Length)+" mm "+r.LengthStatus.String())
	} else {
		out = append(out, "length not known")
	}
	if r.Wires > 0 {
		s := "at most " + common.Count(r.Wires, "wire", "wires")
		if r.Outside > 0 {
			s += ", outside " + common.Tenths(r.Outside) + " mm"
		}
		out = append(out, s)
	}
	if r.Note != "" {
		out = append(out, r.Note)
	}
	return strings.Join(out, "; ")
}

// nodeText is a place with its coordinates.
func nodeText(s *fix.Station) string {
	if !s.Known {
		return nodeName(s)
	}
	return nodeName(s) + " (" + triple(s.At, 0) + ")"
}

// clipRows lists the clips of a stretch and the places between its ends, as one walks it.
func clipRows(t *table.Table, r *fix.RunPlan) {
	var inner []fix.Station
	if n := len(r.Nodes); n > 2 {
		inner = r.Nodes[1 : n-1]
	}
	n := 0
	last, have := unit.Length(0), false
	for i := range r.Clips {
		c := &r.Clips[i]
		for ; n < len(inner) && inner[n].After <= c.After; n++ {
			nodeRow(t, &inner[n])
		}
		clipRow(t, c, r.Panel, last, have)
		last, have = c.After, true
	}
	for ; n < len(inner); n++ {
		nodeRow(t, &inner[n])
	}
}

// nodeName is what a place is called; one that is only a coordinate is a waypoint.
func nodeName(s *fix.Station) string {
	if strings.HasPrefix(s.What, "(") {
		return "waypoint"
	}
	return s.What
}

func nodeRow(t *table.Table, s *fix.Station) {
	at := "no coordinates"
	if s.Known {
		at = triple(s.At, 0)
	}
	b := table.Blank("")
	t.Row(table.Blank(nodeName(s)), table.Blank(coordinate(s.After, 0)), table.Cell{Text: at, Type: page.Tight, Shade: true}, b, b, b, b)
}

func clipRow(t *table.Table, c *fix.Clip, panel string, last unit.Length, have bool) {
	at := "no coordinates"
	if c.Known {
		at = triple(c.At, 0)
	}
	station := table.Cell{Text: "not on run", Type: page.Strong}
	gap := ""
	if onRun(c) {
		station = table.Cell{Text: coordinate(c.After, 0), Type: figure}
		if have && unit.Finite(last) {
			gap = "+" + coordinate(c.After-last, 0)
		}
	}
	part, fastener := c.Part, c.Fastener
	if part == "" {
		part = "no clip chosen"
	}
	if fastener == "" {
		fastener = "no fixing stated"
	}
	size := "none fits"
	if c.ClipSize > 0 {
		size = common.Tenths(c.ClipSize)
	}
	bundle := common.Tenths(c.Bundle)
	why := c.Why
	if c.Why == "fixed" {
		why = "fixed by hand"
	}
	if c.Status != design.Computed {
		why += ", " + c.Status.String()
	}
	on := table.Write()
	switch {
	case c.Panel != "":
		on = table.Cell{Text: c.Panel, Type: page.Tight}
	case panel != "":
		on = table.Cell{Text: "no panel: decide by hand", Type: page.Tight}
	}
	drill := "no hole"
	if c.Drill > 0 {
		drill = common.Tenths(c.Drill)
	} else if c.Fastener == "" {
		drill = "not known"
	}
	small := func(s string) table.Cell { return table.Cell{Text: s, Type: page.Tight} }
	t.Row(table.Cell{Text: c.Mark, Type: mark}, station, small(at), table.T(part), table.Strong(size), table.Strong(drill), table.Tick())
	t.More(small(why), small(gap), on, small(fastener), small(bundle), small(c.Hole))
}

// onRun tells whether a clip has a station on its stretch.
func onRun(c *fix.Clip) bool { return unit.Finite(c.After) && c.After >= 0 }
