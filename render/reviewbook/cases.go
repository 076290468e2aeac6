package reviewbook

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// cases says of each case what it sets, what it rests and what it runs: since a load draws when it is fed, nothing else tells.
func (b *book) cases(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Cases")
	fl.Say(prose, "What was solved. A load runs whenever it is fed; a case rests what it names, and a relay follows its coil unless the case states it. What is not listed as running gets no current in that case.")
	for _, c := range b.in.Cases {
		d := b.caseOf(c.Case)
		if d == nil {
			continue
		}
		fl.Together(func() {
			fl.Heading(2, "Case "+c.Case)
			t := table.New(table.Column{Title: "What", Type: bold, Min: 30}, table.Column{Title: "Which", Weight: 4, Type: plain})
			t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
			for _, r := range b.caseRows(c, d) {
				if r[1] != "" {
					t.Row(table.T(r[0]), table.T(r[1]))
				}
			}
			fl.Add(t)
		})
	}
}

func (b *book) caseOf(name string) *design.Case {
	for _, c := range b.in.Job.Cases {
		if c.Name == name {
			return c
		}
	}
	return nil
}

func (b *book) caseRows(c *solve.CaseResult, d *design.Case) [][2]string {
	var supplies, states, air, runs, rests, dead []string
	for i := range c.Supplies {
		if s := &c.Supplies[i]; s.Live && !s.Follows {
			supplies = append(supplies, b.supplyName(s)+" "+volts(s.Volts)+" V, "+amps(s.Amps)+" A")
		}
	}
	for _, s := range d.States {
		states = append(states, s.Device+" "+design.StateRef{Group: s.Group, State: s.State}.String())
	}
	for i := range c.Relays {
		if r := &c.Relays[i]; r.On && !r.Stated {
			states = append(states, strings.TrimSpace(r.Device+" "+r.State)+" (by its coil)")
		}
	}
	if d.HasAir {
		air = append(air, "outside "+degrees(d.Air)+" C")
	}
	for _, z := range d.ZoneAir {
		air = append(air, z.Zone+" "+degrees(z.Air)+" C")
	}
	for i := range c.Loads {
		l := &c.Loads[i]
		name := b.loadName(l)
		switch {
		case l.Rests:
			rests = append(rests, name)
		case l.Fed && !stray(c.Net, l):
			runs = append(runs, name+" "+amps(l.Amps)+" A")
		default:
			dead = append(dead, name)
		}
	}
	slices.SortStableFunc(rests, design.Natural)
	hours := ""
	if d.For > 0 {
		hours = d.For.String()
	}
	off := append([]string{}, d.Off...)
	slices.SortStableFunc(off, design.Natural)
	return [][2]string{{"Lasts", hours}, {"Supplies", strings.Join(supplies, "; ")}, {"Closed", strings.Join(states, ", ")}, {"Air", strings.Join(air, ", ")},
		{"Rests, by its word", strings.Join(off, ", ")}, {"Must run", strings.Join(d.Works, ", ")}, {"Runs (" + common.Count(len(runs), "load", "loads") + ")", strings.Join(runs, "; ")},
		{"Rests (" + common.Count(len(rests), "load", "loads") + ")", strings.Join(rests, ", ")}, {"Not fed (" + common.Count(len(dead), "load", "loads") + ")", strings.Join(dead, ", ")}}
}
