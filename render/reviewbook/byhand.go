package reviewbook

import (
	"math"
	"strconv"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// byHand works one line of a ladder and one line of the ampacity table from what this book prints.
func (b *book) byHand(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "How to check a line by hand")
	b.dropByHand(fl)
	b.heatByHand(fl)
	formulae(fl)
}

func sumTable() *table.Table {
	t := table.New(typed([]table.Column{{Title: "What", Type: bold, Min: 34}, {Title: "From this book", Weight: 3}, {Title: "Figure", Align: page.Right, Min: 30}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	return t
}

// widest finds the wire that takes most of a ladder: its line in the table and its step.
func widest(l *ladder) (no int, s solve.Step, ok bool) {
	for i, x := range l.steps() {
		if x.Element < 0 || x.Element >= len(l.net.Elements) || l.net.Elements[x.Element].Kind != solve.Wire {
			continue
		}
		if !ok || unit.Worse(x.Drop, s.Drop) {
			no, s, ok = i+1, x, true
		}
	}
	return no, s, ok
}

func (b *book) dropByHand(fl *page.Flow) {
	fl.Heading(2, "A line of a drop ladder")
	if len(b.ladders) == 0 {
		fl.Say(prose, "There is no ladder in this book.")
		return
	}
	l := &b.ladders[0]
	no, s, ok := widest(l)
	if !ok {
		fl.Say(prose, "No wire lies on the way of ladder 1.")
		return
	}
	e := &l.net.Elements[s.Element]
	w, c := b.wire(e.Wire), b.conductor(e.Wire)
	if w == nil {
		fl.Say(prose, "The wire of that line is not known.")
		return
	}
	t, known := b.temp(l.c.Case, e.Wire)
	where := "mean of its way in case " + l.c.Case + ", by the heat balance"
	if !known {
		t, where = 20, "not worked out: taken at 20 C"
	}
	factor := (234.5 + float64(t)) / 254.5
	fl.Say(prose, b.ladderTitle(1, l)+", line "+strconv.Itoa(no)+": wire "+e.Name+", "+sizeText(c)+".")
	x := sumTable()
	source := c.Source
	if source == "" {
		source = "no source given"
	}
	if !c.Verified {
		source += " (typical or from memory: not verified)"
	}
	x.Row(table.T("Resistance at 20 C"), table.T(source), table.T(perMetre(c.Resistance)+" mohm/m"))
	x.Row(table.T("Length"), table.T("of the copper: its way with slack and take-up, tails and service loops"+unmeasured(w.Unmeasured)), table.T(metres(wireLength(w))+" m"))
	x.Row(table.T("Temperature of the copper"), table.T(where), table.T(degrees(t)+" C"))
	x.Row(table.T("Factor"), table.T("(234.5 + "+degrees(t)+") / 254.5"), table.T(fixed(factor, 4)))
	x.Row(table.T("Resistance"), table.T(perMetre(c.Resistance)+" x "+metres(wireLength(w))+" x "+fixed(factor, 4)), table.T(milliohms(l.net.Resistance(s.Element))+" mohm"))
	x.Row(table.T("Current"), table.T("line "+strconv.Itoa(no)+": all that this wire carries"), table.T(amps(s.Amps)+" A"))
	x.Row(table.T("Drop"), table.T(milliohms(l.net.Resistance(s.Element))+" x "+amps(s.Amps)), table.T(millivolts(s.Drop)+" mV"))
	r := l.load
	x.Row(table.T("Lost out"), table.T(lineSum(l, 0, len(r.Feed))), table.T(volts(r.FeedDrop)+" V"))
	x.Row(table.T("Lost back"), table.T(lineSum(l, len(r.Feed), len(r.Feed)+len(r.Return))), table.T(volts(r.ReturnDrop)+" V"))
	x.Row(table.T("At the load"), table.T(volts(r.SupplyVolts)+" - "+volts(r.FeedDrop)+" - "+volts(r.ReturnDrop)), table.T(volts(r.Volts)+" V"))
	x.Row(table.T("Share"), table.T("("+volts(r.FeedDrop)+" + "+volts(r.ReturnDrop)+") / "+plainVolts(l.of())), table.T(percent(both(r), l.of())))
	if l.has {
		what, figure := limitText(&l.limit)
		x.Row(table.T("Limit"), table.T(what+", "+b.limitSource(&l.limit)), table.T(figure+" V"))
	}
	fl.Add(x)
}

func unmeasured(yes bool) string {
	if yes {
		return "; a PART OF IT HAS NO KNOWN LENGTH and is left out"
	}
	return ""
}

// lineSum names the lines of a ladder whose millivolts add up.
func lineSum(l *ladder, from, to int) string {
	switch {
	case to <= from:
		return "no joint on this side"
	case to == from+1:
		return "line " + strconv.Itoa(to)
	}
	return "millivolts of lines " + strconv.Itoa(from+1) + " to " + strconv.Itoa(to) + ", added up"
}

// example picks the wire that uses most of its ampacity, of those in a bundle at rest.
func (b *book) example() (h *heat.WireResult, bundle *heat.BundleResult) {
	for _, x := range b.byUse() {
		if x.Runaway || !(x.Effective > 0) || x.Start != "" || h != nil && !unit.Worse(used(x).amps, used(h).amps) {
			continue
		}
		if k := b.in.Heat.Bundle(x); k != nil && !k.Runaway {
			h, bundle = x, k
		}
	}
	return h, bundle
}

const (
	zeroC     = 273.15      // K
	stefan    = 5.670374e-8 // W/m2K4, CODATA
	stefanFor = "5.670374e-8"
)

func (b *book) heatByHand(fl *page.Flow) {
	fl.Heading(2, "A line of the ampacity table")
	h, k := b.example()
	if h == nil {
		fl.Say(prose, "No wire with current in a bundle was judged.")
		return
	}
	w, c := b.wire(h.Wire), b.conductor(h.Wire)
	fl.Say(prose, "Wire "+w.Name+", "+sizeText(c)+", in case "+h.Case+", "+plural(len(k.Wires), "alone", strconv.Itoa(len(k.Wires))+" wires in the bundle")+", zone "+h.Zone+".")
	per := float64(c.Resistance)
	watts := float64(h.Effective) * float64(h.Effective) * per * float64(data.Copper.Factor(h.Hottest))
	at := design.Scope{Zone: h.Zone, Case: h.Case}
	if s := b.in.Net.Space; s != nil && h.Edge < len(s.Edges) {
		at.Run, at.Section = s.Edges[h.Edge].Run, s.Edges[h.Edge].Section
	}
	eps := b.in.Job.Settings.Get("emissivity", at)
	kb, ki := b.in.Job.Settings.Get("bundle-conductivity", at), b.in.Job.Settings.Get("insulation-conductivity", at)
	hot, cold := float64(k.Surface)+zeroC, float64(k.Ambient)+zeroC
	around := math.Pi * float64(k.Outside) / 1000
	rad := around * min(max(eps.Value.Quantity.Value, 0), 1) * stefan * (math.Pow(hot, 4) - math.Pow(cold, 4))
	x := sumTable()
	x.Row(table.T("Heat of this wire"), table.T(amps(h.Effective)+"² x "+perMetre(c.Resistance)+" / 1000 x (234.5 + "+degrees(h.Hottest)+") / 254.5"), table.T(fixed(watts, 3)+" W/m"))
	x.Row(table.T("Heat of the bundle"), table.T("the same for each of its wires at its own temperature, added up"), table.T(fixed(float64(k.Watts), 3)+" W/m"))
	x.Row(table.T("Outside of the bundle"), table.T("with its sleeve"), table.T(fixed(float64(k.Outside), 2)+" mm"))
	x.Row(table.T("Air and surface"), table.T("the surface settles where it sheds what the bundle makes"), table.T(degrees(k.Ambient)+" C, "+fixed(float64(k.Surface), 2)+" C"))
	x.Row(table.T("Radiation"), table.T("pi x "+fixed(float64(k.Outside), 2)+" / 1000 x "+eps.Value.String()+" x "+stefanFor+" x ("+fixed(hot, 2)+"^4 - "+fixed(cold, 2)+"^4)"), table.T(fixed(rad, 3)+" W/m"))
	x.Row(table.T("Convection"), table.T("what is left of the bundle's heat: formula 4 gives it"), table.T(fixed(float64(k.Watts)-rad, 3)+" W/m"))
	x.Row(table.T("Copper"), table.T("formula 5 with kb "+kb.Value.String()+", ki "+ki.Value.String()+"; over the insulation "+fixed(float64(c.Outside), 2)+" mm, copper as a solid rod "+fixed(float64(c.Size.Diameter()), 2)+" mm"), table.T(degrees(h.Hottest)+" C"))
	x.Row(table.T("Limit"), table.T("rating "+degrees(c.Heat)+" C less heat-margin "+fixed(float64(c.Heat-h.Limit), 1)+" K"), table.T(degrees(h.Limit)+" C"))
	x.Row(table.T("Ampacity"), table.T(common.Squared(h.Why)), table.T(amps(h.Ampacity)+" A"))
	u := used(h)
	x.Row(table.T("Share of amps"), table.T(amps(h.Effective)+" / "+amps(h.Ampacity)), table.T(fixed(u.amps*100, 0)+" %"))
	x.Row(table.T("Share of rise"), table.T("("+degrees(h.Hottest)+" - "+degrees(h.Ambient)+") / ("+degrees(h.Limit)+" - "+degrees(h.Ambient)+")"), table.T(fixed(u.rise*100, 0)+" %"))
	fl.Add(x)
}

func formulae(fl *page.Flow) {
	fl.Heading(2, "Formulae and their sources")
	t := table.New(typed([]table.Column{{Title: "No.", Align: page.Right}, {Title: "Formula", Weight: 3}, {Title: "Source", Weight: 2, Type: fine}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	for i, f := range [][2]string{
		{"R(T) = R20 x (234.5 + T) / 254.5, T in C, copper", "AC 43.13-1B para 11-66d; 234.5 also in IEC 60364-5-54"},
		{"Drop = R x I for each joint; at each joint the currents add up to nothing; round each loop the volts do", "Ohm's and Kirchhoff's laws, solved for the whole net at once"},
		{"Lost out and back = sum of the drops on the feed + sum of those on the return; volts at the load = volts at the supply - lost out - lost back", "the same"},
		{"Convection = Nu k (Ts - Ta) pi, Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))²; air at the mean of both temperatures", "Churchill and Chu 1975, horizontal cylinder in still air; properties of air by Sutherland's laws, constants from memory"},
		{"T = Ts + a Q + b q: Ts surface, Q heat of the bundle, q of the wire, per metre. a = ln(D/Db)/(2 pi ki) + 1/(4 pi kb); b = -1/(4 pi kb) + ln(Rb/r)/(2 pi kb) + ln(r/rc)/(2 pi ki). D over the sleeve, Db of the bundle, Rb its radius, r over the insulation, rc of the copper, kb bundle-conductivity, ki insulation-conductivity. No wire counts as cooler than it would be alone in the same air", "heat conduction in a cylinder; the wire in the middle, the worst place"},
		{"Ampacity by the balance: the current that brings this wire to its limit while the others carry what they carry in the case", "the heat balance above"},
		{"Peak of a start: the lower of all heat kept in the copper, and the steady state raised by the share 1 - e^(-t/tau)", "both bounds lie on the hot side"},
	} {
		t.Row(table.T(strconv.Itoa(i+1)), table.T(f[0]), table.T(f[1]))
	}
	fl.Add(t)
}
