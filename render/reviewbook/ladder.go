package reviewbook

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// ladder is the way of one load in one case, from the supply out and back.
type ladder struct {
	held
	net *solve.Network
	why string
	way unit.Length // of copper, out and back
	own shared
}

// mostStarts is how many ladders besides show the largest currents, while something starts.
const mostStarts = 6

// choose picks the ways that are printed: each load in its worst case, then the largest currents while something starts; the longest
// way first, which puts the long battery runs in front.
func (b *book) choose() {
	type id struct {
		load  loadKey
		start string
		c     *solve.CaseResult
	}
	taken := map[id]bool{}
	add := func(h *held, nw *solve.Network, why string) {
		k := id{keyOf(h.load), h.start, h.c}
		if taken[k] || len(h.load.Feed)+len(h.load.Return) == 0 || nw == nil {
			return
		}
		taken[k] = true
		b.ladders = append(b.ladders, ladder{held: *h, net: nw, why: why})
	}
	for _, r := range b.loads {
		switch {
		case r.worst != nil && len(r.worst.load.Feed)+len(r.worst.load.Return) > 0:
			add(r.worst, b.network(r.worst), "its worst case")
		case r.steady != nil:
			add(r.steady, r.steady.c.Net, "its worst steady case")
		}
	}
	var starts []*startRow
	for _, r := range b.loads {
		if r.most != nil {
			starts = append(starts, r.most)
		}
	}
	slices.SortStableFunc(starts, func(x, y *startRow) int { return unit.Compare(y.load.Amps, x.load.Amps) })
	for i, r := range starts {
		if i < mostStarts {
			add(&r.held, r.net, "large current while it starts")
		}
	}
	for i := range b.ladders {
		l := &b.ladders[i]
		for _, s := range l.steps() {
			if w := l.net.Elements[s.Element]; w.Kind == solve.Wire {
				l.way += wireLength(b.wire(w.Wire))
			}
		}
	}
	slices.SortStableFunc(b.ladders, func(x, y ladder) int { return unit.Compare(y.way, x.way) })
	b.share()
}

// network in which a load was solved.
func (b *book) network(h *held) *solve.Network {
	for i := range h.c.Starts {
		if h.start != "" && h.c.Starts[i].Device == h.start {
			return h.c.Starts[i].Net
		}
	}
	return h.c.Net
}

func (b *book) ladderPages(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Drop ladders")
	if len(b.ladders) == 0 {
		fl.Say(prose, "No load is fed in any case, so there is no way to follow.")
		return
	}
	fl.Say(prose, "Every joint from the plus terminal of the supply to the load, and back to its minus terminal. In each line milliohms x amps = millivolts, and the volts after a line are those before it less its millivolts. "+
		"Volts are against the minus terminal of the supply. Of a wire stand size, length x resistance per metre at 20 C, and the mean temperature of its copper: "+
		"milliohms = metres x milliohms per metre x (234.5 + C) / 254.5. Where wires share the way, the amps are those of all that the line carries. "+
		"Each load stands in its worst case, the longest way first. Joints that an earlier ladder of the same case has already are not printed again but referred to; so is the plot of a way that is nearly the same. * marks a wire whose resistance per metre is typical or from memory; where those of contacts, fuses and joints come from stands under Sources.")
	for i := range b.ladders {
		fl.Later(func(fl *page.Flow) { b.ladderPage(fl, i+1, &b.ladders[i]) })
	}
}

func (b *book) ladderTitle(n int, l *ladder) string {
	s := "Ladder " + strconv.Itoa(n) + ": " + b.loadName(l.load) + ", case " + l.c.Case
	if l.start != "" {
		s += ", starting"
	}
	return s
}

func (b *book) ladderPage(fl *page.Flow, n int, l *ladder) {
	r := l.load
	fl.Together(func() {
		fl.Heading(2, b.ladderTitle(n, l))
		fl.Say(prose, "Here for: "+l.why+". The terminals of "+r.Supply+" give "+volts(r.SupplyVolts)+" V; the load draws "+amps(r.Amps)+" A at "+volts(r.Volts)+" V. "+b.ladderSum(l)+common.Squared(l.corner()))
		if !l.own.twin {
			fl.Figure(plotHeight, func(c *page.Canvas) { drawPlot(c, b.loadName(r), l) })
		}
	})
	t := table.New(typed([]table.Column{{Title: "No.", Align: page.Right}, {Title: "Joint", Weight: 1}, {Title: "mohm", Align: page.Right, Min: 18}, {Title: "A", Align: page.Right, Min: 18},
		{Title: "mV", Align: page.Right, Min: 18}, {Title: "% of lost", Align: page.Right, Min: 15}, {Title: "Volts after", Align: page.Right, Min: 20}}, plain)...)
	t.RowHeight, t.Close = 4.8, true
	no := 0
	// way prints the steps; those of [from, to) stand in an earlier ladder.
	way := func(sub string, steps []solve.Step, other, from, to, first int) {
		if len(steps) == 0 {
			t.Sub(sub)
			return
		}
		t.Sub(sub + ", from " + volts(steps[0].Volts+steps[0].Drop) + " V")
		for i, s := range steps {
			no++
			switch {
			case i < from || i >= to:
				b.rung(t, no, l, s)
			case i == to-1:
				b.referred(t, no, l, other, first, steps[from:to])
			}
		}
	}
	other, shared := l.own.feed.other, l.own.feed.joints
	way("Out: plus terminal of "+r.Supply, r.Feed, other, 0, shared, 1)
	other, shared = l.own.back.other, l.own.back.joints
	first := 0
	if shared > 0 {
		first = len(b.ladders[other].steps()) - shared + 1
	}
	way("Back: from "+b.loadName(r)+" to the minus terminal of "+r.Supply, r.Return, other, len(r.Return)-shared, len(r.Return), first)
	if t.Len() > 0 {
		fl.Add(t)
	}
}

// ladderSum is the end of the sum: what is lost, of what, and the limit.
func (b *book) ladderSum(l *ladder) string {
	r := l.load
	s := "Lost out " + volts(r.FeedDrop) + " V, back " + volts(r.ReturnDrop) + " V, out and back " + volts(both(r)) + " V, " + percent(both(r), l.of()) + "."
	if !l.has {
		return s + " No limit is set for this."
	}
	what, figure := limitText(&l.limit)
	s += " Limit: " + what + ", " + figure + " V (" + b.limitSource(&l.limit) + "); room " + volts(l.room()) + " V: "
	if l.limit.Met() {
		return s + "met."
	}
	return s + notMetWords + "."
}

// corner says at which ends of the spreads the ladder was solved.
func (l *ladder) corner() string {
	if l.limit.Corner == nil || !l.has || len(l.limit.Corner.Moved) == 0 {
		return ""
	}
	var parts []string
	for i, m := range l.limit.Corner.Moved {
		if i == 8 {
			parts = append(parts, "and "+strconv.Itoa(len(l.limit.Corner.Moved)-i)+" more")
			break
		}
		parts = append(parts, m.What+" "+m.To+" (in the case "+m.From+")")
	}
	return " Solved where this result is worst: " + strings.Join(parts, "; ") + "."
}

// part is a share of all that is lost out and back.
func (l *ladder) part(v unit.Voltage) string {
	lost := both(l.load)
	if !(math.Abs(float64(lost)) > 1e-9) {
		return "–"
	}
	return fixed(float64(v)/float64(lost)*100, 1)
}

// referred is the one line for joints that an earlier ladder has: their millivolts added up, and the volts after them.
func (b *book) referred(t *table.Table, no int, l *ladder, other, first int, steps []solve.Step) {
	var sum unit.Voltage
	for _, s := range steps {
		sum += s.Drop
	}
	lines := strconv.Itoa(no-len(steps)+1) + " to " + strconv.Itoa(no)
	t.Row(table.T(lines), table.T("lines "+strconv.Itoa(first)+" to "+strconv.Itoa(first+len(steps)-1)+" of ladder "+strconv.Itoa(other+1)), table.T(""), table.T(""), table.T(millivolts(sum)), table.T(l.part(sum)), table.T(volts(steps[len(steps)-1].Volts)))
}

// ohmic tells whether a step's drop is its resistance times its current.
func ohmic(k solve.ElementKind) bool {
	return k != solve.Diode && k != solve.Supply && k != solve.Load && k != solve.Coil
}

func (b *book) rung(t *table.Table, no int, l *ladder, s solve.Step) {
	if s.Element < 0 || s.Element >= len(l.net.Elements) {
		return
	}
	e := &l.net.Elements[s.Element]
	ohm := "–"
	if ohmic(e.Kind) {
		ohm = milliohms(l.net.Resistance(s.Element))
		if l.limit.Corner != nil && math.Abs(float64(s.Amps)) > 1e-6 { // joints may stand at another end than in the case
			ohm = milliohms(unit.Resistance(float64(s.Drop) / float64(s.Amps)))
		}
	}
	t.Row(table.T(strconv.Itoa(no)), table.T(e.Kind.String()+" "+e.Name), table.T(ohm), table.T(amps(s.Amps)), table.T(millivolts(s.Drop)), table.T(l.part(s.Drop)), table.T(volts(s.Volts)))
	if e.Kind == solve.Wire {
		if text := b.wireText(l.c.Case, e.Wire); text != "" {
			t.More(table.Cell{}, small(text))
		}
	}
}

// wireText is what the resistance of a wire is worked from.
func (b *book) wireText(c string, wire int) string {
	w := b.wire(wire)
	if w == nil {
		return ""
	}
	k := b.conductor(wire)
	s := common.SizeText(k.Size) + ", " + metres(wireLength(w)) + " m x " + star(perMetre(k.Resistance)+" mohm/m", k.Verified)
	if t, ok := b.temp(c, wire); ok {
		s += " at " + degrees(t) + " C"
	} else {
		s += " at 20 C"
	}
	return s
}

// steps of the way, out and then back.
func (l *ladder) steps() []solve.Step {
	return append(append([]solve.Step{}, l.load.Feed...), l.load.Return...)
}

// left is the volts left of those at the terminals before the first step and after each.
func (l *ladder) left() []unit.Voltage {
	v := l.load.SupplyVolts
	out := []unit.Voltage{v}
	for _, s := range l.steps() {
		if s.Element >= 0 && s.Element < len(l.net.Elements) && l.net.Elements[s.Element].Kind != solve.Supply {
			v -= s.Drop
		}
		out = append(out, v)
	}
	return out
}
