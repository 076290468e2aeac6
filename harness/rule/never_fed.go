package rule

import (
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var neverFed = &Rule{
	Key: "never-fed", Title: "a load is fed in no case", Severity: diag.Finding,
	Why:     "A load that no case feeds was never checked: a case is missing, or a switch in one.",
	Formula: "each load draws current in at least one case, and in at least one not through another load alone, as when lamps that have lost their earth feed each other; a load between signal wires only, such as the end of a bus, may rest. One that no position of any switch feeds is told by cut-off",
	Source:  "common practice",
	Do:      "Write a case in which it runs, its switches and relays set; where it is fed and the supply breaks down under it, mend what it draws.",
	Fires:   with(relayJob, "case on { supply battery }", "case on {\n  supply battery\n  set relay to off\n}\naccept relay-against device relay reason \"tried\" by \"checker 1\" until C"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		cut := map[loadKey]bool{}
		dark, through := unfed(m)
		for _, c := range cutOffs(m, dark) {
			cut[loadKey{c.Device, c.Coil, c.Index}] = true
		}
		for _, l := range dark {
			k := keyOf(l)
			if cut[k] {
				continue
			}
			rests := true
			for _, c := range m.Cases {
				for i := range c.Loads {
					if keyOf(&c.Loads[i]) == k && !c.Loads[i].Rests {
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
			if c, amps := overwhelmed(m, k); c != nil {
				title = " takes more than what feeds it can give, in every case"
				why = fmt.Sprintf("It lies between a live plus and a minus. In case %s %s run through it, too small a part of what it should take for it to count as fed. Look at its watts or amps, and at the unit, and at what supply, fuses and wires can give.", c.Case, amps)
			}
			if other := through[k]; other != "" {
				title, why = " is fed only through another load", "Its current runs through "+other+" in each case: an earth or a feed of its own is missing, or both stand in series on purpose, which somebody accepts."
			}
			out.Finding(own(m, l.Device, l.Span), "", what+" of "+l.Device+" from "+l.From+" to "+l.To+title, why, diag.Subject{Kind: "device", Name: l.Device})
		}
	},
}

// overwhelmed is the case in which most current runs through a load that does not count as fed, though it lies between a live plus and a minus.
func overwhelmed(m *Model, k loadKey) (in *solve.CaseResult, most unit.Current) {
	for _, c := range m.Cases {
		if c.Net == nil || !c.Point.Converged || slices.ContainsFunc(c.Loads, func(l solve.LoadResult) bool { return keyOf(&l) == k && l.Rests }) {
			continue
		}
		asked := func(device string, index int, coil bool) bool { return k == (loadKey{device, coil, index}) }
		for i := range c.Net.Elements {
			e := &c.Net.Elements[i]
			if e.Kind != solve.Load && e.Kind != solve.Coil || !asked(e.Device, e.Index, e.Kind == solve.Coil) || i >= len(c.Point.Amps) {
				continue
			}
			amps := unit.Current(math.Abs(float64(c.Point.Amps[i])))
			if amps > most && amps >= leastDrawn && len(solve.CutOff(c.Net, asked)) == 0 {
				in, most = c, amps
			}
		}
	}
	return in, most
}

// leastDrawn is less than any current that a person would write, and more than what is left when a solution is found.
const leastDrawn unit.Current = 1e-6

type loadKey struct {
	device string
	coil   bool
	index  int
}

func keyOf(l *solve.LoadResult) loadKey { return loadKey{l.Device, l.Coil, l.Index} }

// unfed lists the loads that no case feeds but through another load, which through names.
func unfed(m *Model) (dark []*solve.LoadResult, through map[loadKey]string) {
	fed := map[loadKey]bool{}
	through = map[loadKey]string{}
	for _, c := range m.Cases {
		for i := range c.Loads {
			l := &c.Loads[i]
			if other := loadOnWay(c, l); other != "" {
				through[keyOf(l)] = other
			} else if l.Fed {
				fed[keyOf(l)] = true
			}
		}
	}
	if len(m.Cases) == 0 {
		return nil, through
	}
	for i := range m.Cases[0].Loads {
		if l := &m.Cases[0].Loads[i]; !fed[keyOf(l)] && !signalOnly(m, l.Device, l.From, l.To) {
			dark = append(dark, l)
		}
	}
	return dark, through
}

// cutOffs are those of the loads in the dark that no position of any switch feeds.
func cutOffs(m *Model, dark []*solve.LoadResult) []solve.Cut {
	if len(dark) == 0 {
		return nil
	}
	asked := map[loadKey]bool{}
	for _, l := range dark {
		asked[keyOf(l)] = true
	}
	return solve.CutOff(solve.All(m.Job, m.Net, m.Sizes), func(device string, index int, coil bool) bool { return asked[loadKey{device, coil, index}] })
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
