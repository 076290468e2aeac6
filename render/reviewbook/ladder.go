package reviewbook

import (
	"cmp"
	"slices"
	"strconv"

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
}

const (
	mostLadders = 12
	leastRoom   = 7 // of them for the loads with the least room; the rest go to the largest currents
)

// choose picks the ways that are printed: for each supply the load with the least room, the loads with the least room of all, then
// those with the largest currents, which stand for the long battery runs.
func (b *book) choose() {
	type id struct {
		load  loadKey
		start bool
	}
	taken := map[id]bool{}
	add := func(l ladder) {
		k := id{keyOf(l.load), l.start != ""}
		if taken[k] || len(l.load.Feed)+len(l.load.Return) == 0 || l.net == nil || len(b.ladders) >= mostLadders {
			return
		}
		taken[k] = true
		b.ladders = append(b.ladders, l)
	}
	steady := func(r *loadRow, why string) ladder { return ladder{*r.steady, r.steady.c.Net, why} }
	fed := map[string]bool{}
	var rows []*loadRow
	for _, r := range b.loads {
		if r.steady != nil {
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(x, y *loadRow) int {
		return cmp.Compare((&loadRow{worst: x.steady}).rank(), (&loadRow{worst: y.steady}).rank())
	})
	for _, r := range rows {
		if s := r.steady.load.Supply; s != "" && !fed[s] {
			fed[s] = true
			add(steady(r, "least room of the loads fed by "+s))
		}
	}
	for i, r := range rows {
		if l := steady(r, "number "+strconv.Itoa(i+1)+" in the order of least room"); len(b.ladders) < leastRoom && !b.twin(&l) {
			add(l)
		}
	}
	var large []ladder
	for _, r := range b.loads {
		switch {
		case r.most != nil:
			large = append(large, ladder{r.most.held, r.most.net, "large current while it starts"})
		case r.steady != nil:
			large = append(large, steady(r, "large current"))
		}
	}
	slices.SortStableFunc(large, func(x, y ladder) int { return cmp.Compare(y.load.Amps, x.load.Amps) })
	for _, l := range large {
		if !b.twin(&l) {
			add(l)
		}
	}
}

// sameWay is the share of joints from which two ways are alike enough that one is printed.
const sameWay = 0.8

// twin tells whether a way in the same case and state is there already that shares most of its joints.
func (b *book) twin(l *ladder) bool {
	for i := range b.ladders {
		o := &b.ladders[i]
		if o.c != l.c || o.start != l.start {
			continue
		}
		on := map[int]bool{}
		for _, s := range o.steps() {
			on[s.Element] = true
		}
		shared := 0
		for _, s := range l.steps() {
			if on[s.Element] {
				shared++
			}
		}
		if float64(shared) >= sameWay*float64(len(l.steps())) {
			return true
		}
	}
	return false
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
		"A load whose way is the same as one printed here but for a few joints is left out. * marks a wire whose resistance per metre is typical or from memory; where those of contacts, fuses and joints come from stands under Sources.")
	for i := range b.ladders {
		b.ladderPage(fl, i+1, &b.ladders[i])
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
		fl.Say(prose, "Here for: "+l.why+". The terminals of "+r.Supply+" give "+volts(r.SupplyVolts)+" V; the load draws "+amps(r.Amps)+" A at "+volts(r.Volts)+" V. "+b.ladderSum(l))
		fl.Figure(plotHeight, func(c *page.Canvas) { drawPlot(c, b.loadName(r), l) })
	})
	t := table.New(typed([]table.Column{{Title: "No.", Align: page.Right}, {Title: "Joint", Weight: 1}, {Title: "mohm", Align: page.Right, Min: 18}, {Title: "A", Align: page.Right, Min: 18},
		{Title: "mV", Align: page.Right, Min: 18}, {Title: "Volts after", Align: page.Right, Min: 20}}, plain)...)
	t.RowHeight, t.Close = 4.8, true
	no := 0
	way := func(sub string, steps []solve.Step) {
		if len(steps) == 0 {
			t.Sub(sub)
			return
		}
		t.Sub(sub + ", from " + volts(steps[0].Volts+steps[0].Drop) + " V")
		for _, s := range steps {
			no++
			b.rung(t, no, l, s)
		}
	}
	way("Out: plus terminal of "+r.Supply, r.Feed)
	way("Back: from "+b.loadName(r)+" to the minus terminal of "+r.Supply, r.Return)
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
		ohm = milliohms(e.Resistance)
	}
	t.Row(table.T(strconv.Itoa(no)), table.T(e.Kind.String()+" "+e.Name), table.T(ohm), table.T(amps(s.Amps)), table.T(millivolts(s.Drop)), table.T(volts(s.Volts)))
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
