package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var neverFed = &Rule{
	Key: "never-fed", Title: "a load is fed in no case", Severity: diag.Finding,
	Why:     "A load that no case feeds was never checked: its feed or its return is missing, or a case is.",
	Formula: "each load draws current in at least one case, and in at least one not through another load alone, as when lamps that have lost their earth feed each other; a load between signal wires only, such as the end of a bus, may rest",
	Source:  "common practice",
	Do:      "Complete its feed and its return, or write a case in which it runs.",
	Fires:   with(smallJob, "circuit back from battery.neg to lamp.2 colour black\n", "", "from 1 to 2\n", "from 1 to 2\n  unused 2\n"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		type key struct {
			device string
			coil   bool
			index  int
		}
		fed, through := map[key]bool{}, map[key]string{}
		for _, c := range m.Cases {
			for _, l := range c.Loads {
				k := key{l.Device, l.Coil, l.Index}
				if other := loadOnWay(c, &l); other != "" {
					through[k] = other
				} else if l.Fed {
					fed[k] = true
				}
			}
		}
		if len(m.Cases) == 0 {
			return
		}
		for _, l := range m.Cases[0].Loads {
			if fed[key{l.Device, l.Coil, l.Index}] || signalOnly(m, l.Device, l.From, l.To) {
				continue
			}
			rests := true
			for _, c := range m.Cases {
				for _, k := range c.Loads {
					if k.Device == l.Device && k.Coil == l.Coil && k.Index == l.Index && !k.Rests {
						rests = false
					}
				}
			}
			what := "the load"
			if l.Coil {
				what = "the coil"
			}
			why := "In no case does it lie between a live plus and a minus."
			title := " is fed in no case"
			if rests {
				why = "Every case rests it."
			}
			if other := through[key{l.Device, l.Coil, l.Index}]; other != "" {
				title, why = " is fed only through another load", "Its current runs through "+other+" in each case: an earth or a feed of its own is missing, or both stand in series on purpose, which somebody accepts."
			}
			out.Finding(own(m.Job, l.Device, l.Span), "", what+" of "+l.Device+" from "+l.From+" to "+l.To+title, why, diag.Subject{Kind: "device", Name: l.Device})
		}
	},
}

// loadOnWay names a load or coil on the way of another, which stands in series with it; empty if there is none.
func loadOnWay(c *solve.CaseResult, l *solve.LoadResult) string {
	for _, way := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range way {
			if c.Net != nil && s.Element >= 0 && s.Element < len(c.Net.Elements) {
				if e := &c.Net.Elements[s.Element]; e.Kind == solve.Load || e.Kind == solve.Coil {
					return e.Name
				}
			}
		}
	}
	return ""
}

// signalOnly tells whether a load hangs on wires of class signal alone.
func signalOnly(m *Model, device, from, to string) bool {
	n := 0
	for _, u := range m.Net.Uses {
		if u.Device != device || u.Pin != from && u.Pin != to {
			continue
		}
		for _, w := range u.Wires {
			if m.Net.Wires[w].Class != "signal" {
				return false
			}
			n++
		}
	}
	return n > 0
}
