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

// runs is for each run the strips of its stretches and the list of its clips; then why each fixing is as it is.
func runs(fl *page.Flow, plan *body) {
	if len(plan.Runs) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Runs and clips")
	common.Intro(fl, "A strip shows a stretch laid straight: places named above, clips below, the distances between. It is not to scale; the figures rule. "+
		"A filled square is a clip decided by hand or frozen, an open one is worked out; a diamond is a bend with its turn and the radius of its middle line, a slanting stroke a breakout, a block an end in a connector or on a stud. "+
		"Brackets below say how thick the bundle is where that changes.")
	why := whys(plan.Runs)
	for i := 0; i < len(plan.Runs); {
		j := i
		for j < len(plan.Runs) && plan.Runs[j].Run == plan.Runs[i].Run {
			j++
		}
		stretches := plan.Runs[i:j]
		fl.Later(func(fl *page.Flow) { run(fl, plan, stretches, why) })
		i = j
	}
	bare(fl, plan)
	whyTable(fl, why)
}

// run is the strips of the stretches that have clips, side by side where they are short, and one list for all.
func run(fl *page.Flow, plan *body, stretches []fix.RunPlan, why *reasons) {
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
	t := clipTable("Run " + held[0].Run)
	drawn := strips{run: held[0].Run}
	for _, r := range held {
		name := ""
		if len(stretches) > 1 {
			name = ordinal(r.Stretch)
		}
		if s := newStrip(r); s != nil {
			s.name = name
			drawn.list = append(drawn.list, s)
		}
		t.Sub(stretchText(r, name, plan.taped(r)))
		clipRows(t, r, why)
	}
	if len(drawn.list) > 0 {
		fl.Add(drawn)
	}
	fl.Add(t)
}

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
			if d := r.Diameters; len(d) > 0 {
				outside = span(widest(d))
			}
		}
		t.Row(table.T(stretchName(r)[len("run "):]), table.T(fromTo(r, "")), table.T(r.Section), table.T(common.Whole(r.Length)), table.T(wires), table.T(outside), table.Tick())
		if r.Note != "" {
			t.Note(common.Sentence(r.Note) + ".")
		}
		if s := plan.taped(r); s != "" {
			t.Note("Its length is " + s + ".")
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
	switch {
	case r.Panel != "":
		out = append(out, "clipped to panel "+r.Panel)
	case r.Tube != "":
		out = append(out, "tied to tube "+r.Tube)
	default:
		out = append(out, "on no panel: decide each fixing by hand and write it on the line")
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
func stretchText(r *fix.RunPlan, name, taped string) string {
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
		s := common.Whole(r.Length) + " mm"
		if taped != "" {
			s += " " + taped
		} else if r.LengthStatus != design.Computed {
			s += " " + r.LengthStatus.String()
		}
		out = append(out, s)
	} else {
		out = append(out, "length not known")
	}
	if r.Wires > 0 {
		s := common.Count(r.Wires, "wire", "wires")
		switch d := r.Diameters; {
		case len(d) == 1:
			s += " " + bandText(d[0].Least.Length(), d[0].Most)
		case r.Outside > 0:
			s += " at most, Ø up to " + common.Tenths(r.Outside)
		}
		out = append(out, s)
	}
	if r.Note != "" {
		out = append(out, r.Note)
	}
	return strings.Join(out, ", ")
}

// nodeText is a place with its coordinates.
func nodeText(s *fix.Station) string {
	if !s.Known {
		return nodeName(s)
	}
	return nodeName(s) + " (" + triple(s.At, 0) + ")"
}

// widest is the band of the thickest piece.
func widest(pieces []fix.Diameter) (least, most unit.Length) {
	for _, d := range pieces {
		if d.Most > most {
			least, most = d.Least.Length(), d.Most
		}
	}
	return least, most
}
