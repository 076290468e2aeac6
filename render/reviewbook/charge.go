package reviewbook

import (
	"strings"

	"loomsheet/harness/charge"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// charge is what the batteries give over time.
func (b *book) charge(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Batteries, cranking and sensors")
	if b.in.Charge == nil || len(b.in.Job.Batteries()) == 0 {
		fl.Say(prose, "The job has no battery to weigh: no supply states what it stores, and none without a current limit is listed in a case.")
		return
	}
	b.balances(fl)
	b.drains(fl)
	b.kept(fl)
}

func (b *book) balances(fl *page.Flow) {
	fl.Heading(2, "What each case takes from its batteries")
	if len(b.in.Charge.Balances) == 0 {
		fl.Say(prose, "No battery that lives in a case states what it stores, so no charge was weighed. `stores` says it, on its supply.")
		return
	}
	fl.Say(prose, "Mean amps = each share of the time x the amps the battery gives in it, added up. Used Ah = mean amps x hours of the case. Usable Ah = battery-share x what it stores. Lasts h = usable Ah / mean amps. "+
		"A load that works on and off counts for on / (on + off) of the time, one that works once for on / hours of the case, and all the time in a case without hours. Loads of several rhythms are laid to come on together, which asks most of a battery that helps an alternator. "+
		"Nothing is left out that the case does not rest. A case without hours gets no verdict.")
	t := table.New(typed([]table.Column{{Title: "Case, battery", Type: bold, Weight: 3, Min: 46}, {Title: "Shares of the time x amps", Type: fine, Weight: 3, Min: 40}, {Title: "Mean A", Align: page.Right, Min: 15}, {Title: "Hours", Align: page.Right, Whole: true},
		{Title: "Used Ah", Align: page.Right, Min: 16}, {Title: "Usable Ah", Align: page.Right, Min: 17}, {Title: "Lasts h", Align: page.Right, Min: 15}, {Title: "Verdict", Type: fine, Min: 18}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	for i := range b.in.Charge.Balances {
		x := &b.in.Charge.Balances[i]
		hours, used, verdict := "–", "–", small("no hours")
		if x.Hours > 0 {
			hours, used, verdict = inHours(x.Hours), fixed(float64(x.Used), 2), verdictCell(x.Met)
		}
		t.Row(table.T(x.Case), table.T(spellWords(x.Spells)), table.T(amps(x.Amps)), table.T(hours), table.T(used), table.T(fixed(float64(x.Usable), 2)), table.T(lastsWords(x.Lasts)), verdict)
		t.More(small(b.batteryName(x.Device, x.Index) + ", " + x.Share.String() + " of " + fixed(float64(x.Stores), 2) + " Ah"))
	}
	fl.Add(t)
}

// spellWords is 33.3 % x 102.5 + 66.7 % x 73.70 without fan.
func spellWords(spells []charge.Spell) string {
	var out []string
	for i, s := range spells {
		w := fixed(float64(s.Share)*100, 2) + " % x " + amps(s.Amps)
		if i > 0 {
			w += " without " + list(s.Rests)
		}
		out = append(out, w)
	}
	return strings.Join(out, "\n+ ")
}

func inHours(t unit.Time) string { return fixed(float64(t)/3600, 2) }

func lastsWords(t unit.Time) string {
	if t <= 0 {
		return "–"
	}
	return inHours(t)
}

func (b *book) batteryName(device string, index int) string {
	if d := b.device(device); d != nil && len(d.Supplies) > 1 && index < len(d.Supplies) {
		return device + " " + d.Supplies[index].From.Pin + " - " + d.Supplies[index].To.Pin
	}
	return device
}

func (b *book) drains(fl *page.Flow) {
	fl.Together(func() { b.drainTable(fl) })
}

func (b *book) drainTable(fl *page.Flow) {
	fl.Heading(2, "Parked")
	fl.Say(prose, "Solved with every switch off, every relay where its coil leaves it, the batteries connected and nothing else. A load that some case rests although it would be fed is taken to switch itself and left out.")
	t := table.New(typed([]table.Column{{Title: "Battery", Type: bold, Min: 28}, {Title: "Feeds, mean A", Type: fine, Weight: 3, Min: 40}, {Title: "Mean A", Align: page.Right, Min: 18}, {Title: "At most A", Align: page.Right, Min: 18},
		{Title: "Usable Ah gone after h", Align: page.Right, Min: 26}, {Title: "Verdict", Type: fine, Min: 18}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	var left []string
	for i := range b.in.Charge.Drains {
		x := &b.in.Charge.Drains[i]
		var feeds []string
		for _, l := range x.Loads {
			n := l.Device
			if l.Coil {
				n += " coil"
			}
			feeds = append(feeds, n+" "+amps(l.Amps))
		}
		if len(feeds) == 0 {
			feeds = []string{"nothing"}
		}
		gone := "–"
		if x.Lasts > 0 {
			gone = inHours(x.Lasts)
		}
		t.Row(table.T(b.batteryName(x.Device, x.Index)), table.T(list(feeds)), table.T(amps(x.Amps)), table.T(amps(x.Most)), table.T(gone), verdictCell(x.Met))
		t.More(table.Cell{}, table.Cell{}, table.Cell{}, small(x.Ruling.Scope))
		left = x.LeftOut
	}
	fl.Add(t)
	if len(left) > 0 {
		fl.Say(prose, "Left out, since they rest in some case: "+list(left)+".")
	}
}

func (b *book) kept(fl *page.Flow) {
	fl.Heading(2, "Isolator opened while another supply runs")
	if len(b.in.Charge.Kept) == 0 {
		fl.Say(prose, "In no case does a switch that cuts off the batteries leave a load alive on another supply.")
		return
	}
	fl.Say(prose, "An isolator is a switch after whose opening the batteries alone feed no more than with all switches off. Opened with everything connected, these stay fed. A relay that the case states falls off when its coil is left below drop-out.")
	t := table.New(typed([]table.Column{{Title: "Case", Type: bold, Min: 24}, {Title: "Switch opened", Min: 26}, {Title: "Goes on", Min: 24}, {Title: "Stay fed", Type: fine, Weight: 4, Min: 50}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	for i := range b.in.Charge.Kept {
		k := &b.in.Charge.Kept[i]
		name := k.Device
		if k.Group != "" {
			name += "." + k.Group
		}
		t.Row(table.T(k.Case), table.T(name), table.T(list(k.By)), table.T(list(k.Loads)))
	}
	fl.Add(t)
}
