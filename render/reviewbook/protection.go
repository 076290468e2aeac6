package reviewbook

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// protection is what protects each wire: fuses against their loads and starts, shorts at the far ends, fuses in series, and the charts.
func (b *book) protection(fl *page.Flow) {
	r := b.in.Protect
	fl.NewPage()
	fl.Heading(1, "Protection")
	if r == nil || len(r.Fuses) == 0 {
		fl.Say(prose, "The job has no fuse.")
		return
	}
	fl.Say(prose, "An interrupting claim reads the latest time of a fuse's gate at the next lower listed multiple, a holding claim the earliest at the next higher. Beyond the last listed multiple the energy let through counts as constant; at or below its rating a fuse holds 100 h (ISO 8820, from memory). "+
		"* marks what rests on figures that are typical or from memory.")
	fl.Later(b.fuseTable)
	fl.Later(b.shortTable)
	fl.Later(b.pairTable)
	fl.Later(b.fuseCharts)
}

func (b *book) fuseName(f protect.FuseRef) string {
	x := b.fuse(f)
	if x == nil {
		return f.Device
	}
	return x.Device + " " + x.From + " - " + x.To
}

func met(ok bool) string {
	if ok {
		return "met"
	}
	return "NOT MET"
}

func (b *book) fuseTable(fl *page.Flow) {
	fl.Heading(2, "Fuses against their loads")
	fl.Say(prose, "Asked: rating >= steady amps x fuse-load / what the air leaves of the rating. Start: the current that passes while something starts, or works on and off, for how long, and the earliest the fuse may open at it.")
	t := table.New(typed([]table.Column{{Title: "Fuse", Type: bold, Weight: 3, Min: 36}, {Title: "Rated A", Align: page.Right}, {Title: "Steady A", Align: page.Right, Min: 17}, {Title: "x", Align: page.Right}, {Title: "/", Align: page.Right},
		{Title: "Asked A", Align: page.Right, Min: 17}, {Title: "Start", Weight: 3, Min: 40}, {Title: "Verdict", Type: bold, Min: 19}}, plain)...)
	t.RowHeight, t.Close = 5, true
	for i := range b.in.Protect.Fuses {
		f := &b.in.Protect.Fuses[i]
		ok := f.LoadMet
		start := "none passes"
		if len(f.Starts) > 0 {
			h := &f.Starts[0]
			ok = ok && h.Met
			does := " starts), "
			if h.Works {
				does = " works), "
			}
			start = amps(h.Amps) + " A for " + h.For.String() + " (" + h.Device + does + holds(h)
		}
		t.Row(table.T(star(b.fuseName(f.FuseRef), f.Verified)), table.T(plainNumber(f.Rating)), table.T(amps(f.Steady)), table.T(unit.Number(float64(f.Margin), 2)), table.T(fixed(float64(f.Factor), 3)),
			table.T(amps(f.Need)), table.T(start), table.T(met(ok)))
		t.More(small(f.Part + ", " + f.Kind + "; " + steadyOf(f) + ", air " + degrees(f.Ambient) + " C"))
	}
	fl.Add(t)
}

// steadyOf says what the steady amps of a fuse are.
func steadyOf(f *protect.FuseResult) string {
	switch {
	case f.Lead:
		return "the limit of the supply that charges through it"
	case f.Case == "":
		return "no case"
	}
	return "case " + f.Case + ", by its duty"
}

func plainNumber(a unit.Current) string { return unit.Number(float64(a), 2) }

func holds(h *protect.Hold) string {
	switch {
	case h.Listed == 0 && h.Met:
		return "below what could open it"
	case h.Earliest == 0:
		return "no time is listed"
	}
	return "opens at the earliest after " + h.Earliest.String() + " (at " + unit.Number(float64(h.Listed), 2) + " times)"
}

func (b *book) shortTable(fl *page.Flow) {
	fl.Heading(2, "A dead short at each far end")
	fl.Say(prose, "Each load's plus shorted to its minus, each supply at its own terminals, and what each main fuse feeds to the metal of the body; all loads out: weakest with low volts, hot copper and aged joints, which clears latest; strongest with high volts, cold copper and new joints, which lets most through. Loop = set-point / amps. The wire named is the one with least room while it is cleared.")
	t := table.New(typed([]table.Column{{Title: "Short at", Type: bold, Weight: 3, Min: 34}, {Title: "A", Align: page.Right, Min: 16}, {Title: "Loop mohm", Align: page.Right, Min: 18}, {Title: "Cleared by", Weight: 3, Min: 34}, {Title: "x", Align: page.Right, Min: 15},
		{Title: "Latest s", Align: page.Right, Min: 16}, {Title: "Hottest wire", Weight: 3, Min: 34}, {Title: "Verdict", Type: bold, Min: 19}}, plain)...)
	t.RowHeight, t.Close = 5, true
	var runs []table.Run
	for _, strong := range []bool{false, true} {
		var of []*protect.Short
		for i := range b.in.Protect.Shorts {
			if s := &b.in.Protect.Shorts[i]; s.Strong == strong {
				of = append(of, s)
			}
		}
		sub := "Weakest"
		if strong {
			sub = "Strongest"
		}
		runs = append(runs, table.Run{Sub: sub, Rows: len(of), Put: func(t *table.Table, i int) { b.shortRow(t, of[i]) }})
	}
	t.AddLong(fl, &b.widths.shorts, runs...)
}

func (b *book) shortRow(t *table.Table, s *protect.Short) {
	by, times, late := "nothing", "–", "–"
	if len(s.Fuses) > 0 {
		f := &s.Fuses[0]
		by, times = b.fuseName(f.Fuse), unit.Number(float64(f.Times), 2)
		if f.Latest != protect.Never {
			late = unit.Number(float64(f.Latest), 4)
		}
	}
	hot := "–"
	if w := b.wire(s.Hot); w != nil {
		hot = w.Name
	}
	t.Row(table.T(s.At), table.T(unit.Number(float64(s.Amps), 1)), table.T(milliohms(s.Loop)), table.T(by), table.T(times), table.T(late), table.T(hot), table.T(met(s.Met)))
	if o := s.On; o != nil {
		t.More(small("after " + o.After.String() + " at most " + unit.Number(float64(o.Amps), 1) + " A flow on from " + o.Source + ": " + met(o.Met)))
	}
}

func (b *book) pairTable(fl *page.Flow) {
	fl.Heading(2, "Fuses in series")
	if len(b.in.Protect.Pairs) == 0 {
		fl.Say(prose, "No fuse stands behind another.")
		return
	}
	fl.Say(prose, "The lower fuse must clear before the upper one may open: latest of the lower against earliest of the upper at the same short; where that is beyond the upper one's gate, the energy the lower one lets through at most against the least that opens the upper one.")
	t := table.New(typed([]table.Column{{Title: "Upper", Type: bold, Weight: 2, Min: 34}, {Title: "Lower", Weight: 2, Min: 34}, {Title: "Short A", Align: page.Right, Min: 18}, {Title: "Lower, latest", Align: page.Right, Min: 26}, {Title: "Upper, earliest", Align: page.Right, Min: 26},
		{Title: "Verdict", Type: bold, Min: 19}}, plain)...)
	t.RowHeight, t.Close = 5, true
	dead := 0
	for i := range b.in.Protect.Pairs {
		p := &b.in.Protect.Pairs[i]
		if !(p.Amps > 0) {
			dead++
			continue
		}
		down, up := p.DownLatest.String(), p.UpEarliest.String()
		if p.ByEnergy {
			down, up = unit.Number(float64(p.DownEnergy), 0)+" A2s", unit.Number(float64(p.UpEnergy), 0)+" A2s"
		}
		verdict := met(p.Met)
		if !p.Known {
			down, up, verdict = "–", "–", "not known"
		}
		t.Row(table.T(b.fuseName(p.Up)), table.T(b.fuseName(p.Down)), table.T(unit.Number(float64(p.Amps), 0)), table.T(common.Squared(down)), table.T(common.Squared(up)), table.T(verdict))
	}
	if dead > 0 {
		t.Note(common.Count(dead, "pair more carries", "pairs more carry") + " no short in any case.")
	}
	if t.Len() > 0 {
		fl.Add(t)
	}
}

func (b *book) fuseCharts(fl *page.Flow) {
	r := b.in.Protect
	// Fuses of one kind and rating whose weakest wire is the same make one chart.
	type chart struct {
		curve *protect.Curve
		fuse  *protect.FuseResult
		names []string
	}
	var charts []*chart
	for i := range r.Curves {
		c := &r.Curves[i]
		f := b.fuse(c.Fuse)
		if f == nil || c.Wire < 0 || len(f.Gate) == 0 {
			continue
		}
		at := slices.IndexFunc(charts, func(x *chart) bool {
			return x.fuse.Part == f.Part && b.conductor(x.curve.Wire).Size == b.conductor(c.Wire).Size && x.curve.Limit == c.Limit && x.curve.Rest <= c.Rest*1.02 && c.Rest <= x.curve.Rest*1.02
		})
		if at < 0 {
			charts = append(charts, &chart{c, f, nil})
			at = len(charts) - 1
		}
		charts[at].names = append(charts[at].names, b.fuseName(c.Fuse))
	}
	if len(charts) == 0 {
		return
	}
	slices.SortStableFunc(charts, func(x, y *chart) int { return cmp.Compare(x.fuse.Rating, y.fuse.Rating) })
	fl.NewPage()
	fl.Heading(2, "Time and current")
	fl.Say(prose, "Both scales logarithmic. Hatched: between the earliest and the latest time of the fuse at each listed multiple; it may open anywhere there. Heavy line: how long the wire that stands least behind it stands a current until it is at its limit for a short; "+
		"dashed: what it stands for ever. The wire is protected where the heavy line lies above the hatched field. Circle: the start with least room. Ticks at the foot: steady load and the weakest dead short.")
	for i := 0; i < len(charts); i += 2 {
		pair := charts[i:min(i+2, len(charts))]
		fl.Figure(chartHeight, func(c *page.Canvas) {
			w := c.W() / 2
			for k, x := range pair {
				box := c.Sub(page.Box{X: page.MM(k) * w, Y: 0, W: w - 4, H: c.H()})
				title := x.fuse.Part + ": " + strings.Join(x.names, ", ")
				var marks chartMarks
				marks.steady, marks.short = x.fuse.Steady, b.weakest(x.fuse.FuseRef)
				if len(x.fuse.Starts) > 0 {
					marks.start = &x.fuse.Starts[0]
				}
				wire := b.wire(x.curve.Wire)
				drawChart(box, title, wire.Name+", "+sizeText(b.conductor(x.curve.Wire))+", to "+degrees(x.curve.Limit)+" C", x.fuse, x.curve, marks)
			}
		})
	}
}

// weakest is the least dead short that a fuse has to clear; 0 for none.
func (b *book) weakest(f protect.FuseRef) unit.Current {
	if b.shorts == nil {
		b.shorts = map[protect.FuseRef]unit.Current{}
		for i := range b.in.Protect.Shorts {
			s := &b.in.Protect.Shorts[i]
			if s.Strong || len(s.Fuses) == 0 {
				continue
			}
			first := &s.Fuses[0]
			if least := b.shorts[first.Fuse]; least == 0 || first.Amps < least {
				b.shorts[first.Fuse] = first.Amps
			}
		}
	}
	return b.shorts[f]
}
