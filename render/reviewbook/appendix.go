package reviewbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
	"loomsheet/harness/worked"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// appendix is the calculation of every wire in a few lines, from length to protection.
func (b *book) appendix(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Calculation of each wire")
	fl.Say(prose, "Of each wire: length of its copper x milliohms per metre = milliohms at 20 C; x (234.5 + C) / 254.5 at its mean temperature in the case with least room on its way; x amps = millivolts. "+
		"Then the load with least room whose way leads through it; what it carries against its ampacity; its contacts (rating x loading x air); and what protects it: the overload with least room, and the worst dead short. "+
		"Each formula with every input and where that is written: `loomsheet worked FILE WIRE`. * marks what rests on figures that are typical or from memory.")
	m := &worked.Model{Job: b.in.Job, Net: b.in.Net, Sizes: b.in.Sizes, Cases: b.in.Cases, Heat: b.in.Heat, Protect: b.in.Protect, Contact: b.in.Contact}
	t := table.New(typed([]table.Column{{Title: "Wire, size, what decided it", Weight: 1}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 4.6, 0, true
	t.AddLong(fl, &b.widths.wires, table.Run{Rows: min(len(b.in.Net.Wires), len(b.in.Sizes)), Put: func(t *table.Table, i int) {
		c := b.conductor(i)
		t.Row(table.Cell{Text: b.wire(i).Name + ", " + sizeText(c) + ": " + worked.Decided(&c), Type: bold})
		for _, x := range []string{b.copperText(i), b.voltsText(m, i), b.heatText(i), b.contactText(i), b.guardText(i)} {
			if x != "" {
				t.More(small(common.Squared(x)))
			}
		}
	}})
}

func (b *book) copperText(i int) string {
	w, c := b.wire(i), b.conductor(i)
	r := c.Resistance.Over(wireLength(w))
	return metres(wireLength(w)) + " m x " + star(perMetre(c.Resistance)+" mohm/m", c.Verified) + " = " + milliohms(r) + " mohm at 20 C"
}

func (b *book) voltsText(m *worked.Model, i int) string {
	way, ok := worked.Tightest(m, i)
	if !ok {
		return "No limit on volts judges a load whose way leads through it."
	}
	t, known := b.temp(way.Case.Case, i)
	if !known {
		t = 20
	}
	c := b.conductor(i)
	r := c.Resistance.Over(wireLength(b.wire(i)))
	warm := unit.Resistance(float64(r) * (234.5 + float64(t)) / 254.5)
	what, figure := limitText(&way.Limit)
	s := "Case " + way.Case.Case + ": " + milliohms(r) + " x (234.5 + " + degrees(t) + ") / 254.5 = " + milliohms(warm) + " mohm; x " + amps(way.Step.Amps) + " A = " + millivolts(way.Step.Drop) + " mV. Least room: " +
		b.loadName(way.Load) + ", " + what + ", " + volts(way.Limit.Got) + " against " + figure + " V"
	if way.Limit.Met() {
		return s + ": met."
	}
	return s + ": " + notMetWords + "."
}

func (b *book) heatText(i int) string {
	if b.in.Heat == nil || i >= len(b.in.Heat.Wires) || !b.in.Heat.Wires[i].Known {
		return "Heat was not judged."
	}
	h := &b.in.Heat.Wires[i]
	s := "Heat, case " + h.Case + ", zone " + h.Zone + ", air " + degrees(h.Ambient) + " C, " + common.Count(h.Count, "wire", "wires") + " in the bundle: " + amps(h.Effective) + " A against " +
		star(amps(h.Ampacity)+" A", h.Verified) + " by " + string(h.Ruled) + "; " + degrees(h.Hottest) + " against " + degrees(h.Limit) + " C"
	if h.Start != "" {
		s += " at the end of the start of " + h.Start
	}
	return s + ": " + verdictOf(h.Met) + "."
}

func verdictOf(ok bool) string {
	if ok {
		return "met"
	}
	return notMetWords
}

func (b *book) contactText(i int) string {
	if b.in.Contact == nil {
		return ""
	}
	var out []string
	ends := b.in.Contact.At(i)
	for k := range ends {
		e := &ends[k]
		out = append(out, e.Where+" "+star(fixed(float64(e.Rating), 1)+" A", e.Verified)+" x "+fixed(float64(e.Loading), 3)+" x "+fixed(float64(e.Warm), 3)+" = "+amps(e.Allowed)+" A against "+amps(max(e.Amps, e.Shared))+" A: "+verdictOf(e.Met))
	}
	if len(out) == 0 {
		return ""
	}
	return "Contacts: " + strings.Join(out, "; ") + "."
}

func (b *book) guardText(i int) string {
	p := b.in.Protect
	if p == nil || i >= len(p.Wires) {
		return ""
	}
	w := &p.Wires[i]
	if !w.Reached {
		return "No source reaches it: it needs no protector."
	}
	var by []string
	for _, f := range w.By {
		if x := p.Fuse(f); x != nil {
			by = append(by, x.Part+" of "+b.fuseName(f))
		}
	}
	s := "Protected by " + strings.Join(by, ", ")
	switch {
	case len(by) == 0 && len(w.Limited) > 0:
		s = "Protected by the limit of " + w.Limited[0].Device + ", " + amps(w.Limited[0].Most) + " A"
	case len(by) == 0:
		s = "NOTHING protects it"
	case len(by) > 4:
		s = "Protected by " + strings.Join(by[:4], ", ") + " and " + strconv.Itoa(len(by)-4) + " more"
	}
	if o := w.Overload; o != nil {
		s += "; overload " + unit.Number(float64(o.Times), 2) + " times: " + amps(o.Amps) + " A "
		if o.Latest == protect.Never {
			s += "for ever, stands " + amps(o.Stands) + " A at " + degrees(o.Limit) + " C"
		} else {
			s += "for " + o.Latest.String() + ", reaches " + degrees(o.Reaches) + " of " + degrees(o.Limit) + " C"
		}
		s += ": " + verdictOf(o.Met)
	}
	if h := w.Short; h != nil && h.Short >= 0 && h.Short < len(p.Shorts) {
		s += "; dead short at " + p.Shorts[h.Short].At + ": " + unit.Number(float64(h.Amps), 1) + " A "
		if h.Latest == protect.Never {
			s += "not cleared"
		} else {
			s += "for " + unit.Number(float64(h.Latest), 4) + " s, " + unit.Number(float64(h.Energy), 0) + " of " + unit.Number(float64(h.Stands), 0) + " A2s, reaches " + degrees(h.Reaches) + " of " + degrees(h.Limit) + " C"
		}
		s += ": " + verdictOf(h.Met)
	}
	return s + "."
}
