package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// runs is for each stretch a strip with its clips and their list.
func runs(fl *page.Flow, plan *bench.Plan) {
	if len(plan.Runs) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Runs and clips")
	common.Intro(fl, "A strip shows a stretch laid straight: places named above, clips below, the distances between. It is not to scale; the figures rule. "+
		"A filled square is a clip decided by hand or frozen, an open one is worked out.")
	stretches := map[string]int{} // of each run, those with clips
	for _, r := range plan.Runs {
		if len(r.Clips) > 0 {
			stretches[r.Run]++
		}
	}
	last := ""
	for i := range plan.Runs {
		r := &plan.Runs[i]
		if len(r.Clips) == 0 {
			continue
		}
		if r.Run != last {
			fl.Heading(2, "Run "+r.Run)
		}
		last = r.Run
		stretch(fl, r, stretches[r.Run] > 1)
	}
	bare(fl, plan)
}

func stretch(fl *page.Flow, r *bench.RunPlan, several bool) {
	name := common.Sentence(stretchName(r)) + fromTo(r, ": ")
	if several {
		fl.Heading(3, name)
		common.Intro(fl, describe(r))
	} else {
		common.Intro(fl, strings.TrimPrefix(fromTo(r, "From ")+". ", ". ")+describe(r))
	}
	if s := newStrip(r); s != nil {
		fl.Add(s)
	}
	t := clipTable(r, name)
	t.Together = true
	fl.Add(t)
}

// fromTo names the ends of a stretch; empty when it has none.
func fromTo(r *bench.RunPlan, lead string) string {
	if n := len(r.Nodes); n > 1 {
		return lead + r.Nodes[0].What + " to " + r.Nodes[n-1].What
	}
	return ""
}

// bare lists the stretches without clips.
func bare(fl *page.Flow, plan *bench.Plan) {
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

// describe says in a sentence or two what a stretch is.
func describe(r *bench.RunPlan) string {
	out := []string{"Section " + r.Section}
	if r.Section == "" {
		out[0] = "No section"
	}
	if r.Zone != "" {
		out = append(out, "zone "+r.Zone)
	}
	if r.Panel != "" {
		out = append(out, "clipped to panel "+r.Panel)
	} else {
		out = append(out, "clipped to no panel")
	}
	if r.Length > 0 && unit.Finite(r.Length) {
		out = append(out, "length "+common.Whole(r.Length)+" mm ("+r.LengthStatus.String()+")")
	} else {
		out = append(out, "length not known")
	}
	s := strings.Join(out, ", ") + ". "
	if r.Wires > 0 {
		s += "At most " + common.Count(r.Wires, "wire", "wires") + " in the bundle"
		if r.Outside > 0 {
			s += ", outside " + common.Tenths(r.Outside) + " mm"
		}
		s += ". "
	}
	if r.SpanLimit > 0 {
		s += "Largest span " + common.Whole(r.SpanLimit) + " mm"
		if r.SpanSource != "" {
			s += " (" + r.SpanSource + ")"
		}
		s += ". "
	}
	if r.Note != "" {
		s += common.Sentence(r.Note) + "."
	}
	return strings.TrimRight(s, " ")
}

// clipTable lists the places along the stretch and its clips between them, as one walks it.
func clipTable(r *bench.RunPlan, name string) *table.Table {
	t := table.New(
		table.Column{Title: "Mark, why", Weight: 4, Min: 34},
		table.Column{Title: "Station mm", Align: page.Right, Whole: true},
		table.Column{Title: "Place, panel", Weight: 2, Min: 31},
		table.Column{Title: "Clip, fixing", Weight: 3, Min: 28},
		table.Column{Title: "Clip Ø, bundle", Align: page.Right, Min: 24},
		table.Column{Title: "Drill, hole", Align: page.Right, Whole: true},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later = 20, name
	n := 0
	last, have := unit.Length(0), false
	for i := range r.Clips {
		c := &r.Clips[i]
		for ; n < len(r.Nodes) && r.Nodes[n].After <= c.After; n++ {
			nodeRow(t, &r.Nodes[n])
		}
		clipRow(t, c, last, have)
		last, have = c.After, true
	}
	for ; n < len(r.Nodes); n++ {
		nodeRow(t, &r.Nodes[n])
	}
	return t
}

func nodeRow(t *table.Table, s *bench.Station) {
	at := "no coordinates"
	if s.Known {
		at = triple(s.At, 0)
	}
	b := table.Blank("")
	what := s.What
	if strings.HasPrefix(what, "(") {
		what = "waypoint"
	}
	t.Row(table.Blank(what), table.Blank(coordinate(s.After, 0)), table.Cell{Text: at, Type: page.Tight, Shade: true}, b, b, b, b)
}

func clipRow(t *table.Table, c *bench.Clip, last unit.Length, have bool) {
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
	bundle := "bundle " + common.Tenths(c.Bundle)
	why := c.Why + ", " + c.Status.String()
	if c.Why == "fixed" {
		why = "fixed by hand, " + c.Status.String()
	}
	panel := c.Panel
	if panel == "" {
		panel = "no panel"
	}
	drill := "no hole"
	if c.Drill > 0 {
		drill = common.Tenths(c.Drill)
	} else if c.Fastener == "" {
		drill = "not known"
	}
	small := func(s string) table.Cell { return table.Cell{Text: s, Type: page.Tight} }
	t.Row(table.Cell{Text: c.Mark, Type: mark}, station, small(at), table.T(part), table.Strong(size), table.Strong(drill), table.Tick())
	t.More(small(why), small(gap), small(panel), small(fastener), small(bundle), small(c.Hole))
}

// onRun tells whether a clip has a station on its stretch.
func onRun(c *bench.Clip) bool { return unit.Finite(c.After) && c.After >= 0 }
