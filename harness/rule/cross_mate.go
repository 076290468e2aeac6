package rule

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/mate"
)

var crossMate = &Rule{
	Key: "cross-mate", Title: "a connector goes into another within its reach", Severity: diag.Finding,
	Why:     "What fits and reaches will be plugged in wrong once, in the dark, by somebody in a hurry.",
	Formula: "two halves of different connectors, pins and sockets, of one housing (or one that `mates`) and one key; every place that holds the tail of a free half lies within tail + mate-reach of the other. Of breaks every two nets that meet count; of the plug of a device, whose key its maker chose, what burns or feeds what is of another kind",
	Source:  "common practice; that the socket of a device holds pins, and that a key nobody states is the first of its housing, is from memory of what is sold",
	Do:      "Give one of the two another key, another housing, or a shorter tail.",
	Fires:   matingJob,
	Silent:  twoPlugs("(400, 80, 0 mm)"),
	Check: func(m *Model, out *diag.List) {
		done := map[int]int{} // by half that is plugged wrong: how many were told
		for i := range m.Mate.Pairs {
			p := &m.Mate.Pairs[i]
			if !p.SameKey || !p.Harmful() {
				continue
			}
			a, b := &m.Mate.Halves[p.First], &m.Mate.Halves[p.Second]
			if done[p.First]++; done[p.First] > 1 {
				continue
			}
			title := fmt.Sprintf("%s goes into %s: %s", a.Title, b.Title, p.Worst)
			detail := "Cavity " + listMeetings(p.Meetings) + " In reach: " + p.Reach + "."
			others := 0
			for k := range m.Mate.Pairs {
				if o := &m.Mate.Pairs[k]; k != i && o.SameKey && o.Harmful() && o.First == p.First {
					others++
				}
			}
			if others > 0 {
				detail += fmt.Sprintf(" It goes into %d more.", others)
			}
			out.Finding(a.Span, "", title, detail+" "+m.mateDo(i, a, b), halfSubject(a)).Point(b.Span, "the other")
		}
	},
}

// mateDo is what keeps a pair apart.
func (m *Model) mateDo(pair int, a, b *mate.Half) string {
	k := &m.Mate.Keys
	if n := slices.Index(k.Left, pair); n >= 0 {
		return "No key keeps them apart. " + k.Remedy[n] + "."
	}
	for _, c := range k.Changes {
		if c.Break == a.Break || c.Break == b.Break {
			return fmt.Sprintf("Give %s key %s.", c.Break, c.To)
		}
	}
	return k.Text
}

// listMeetings names the worst three things that meet.
func listMeetings(list []mate.Meeting) string {
	var parts []string
	for i := range list {
		if i == 3 {
			parts = append(parts, fmt.Sprintf("and %d more", len(list)-3))
			break
		}
		parts = append(parts, list[i].Text)
	}
	return strings.Join(parts, "; ") + "."
}

func halfSubject(h *mate.Half) diag.Subject {
	if h.Break != "" {
		return diag.Subject{Kind: "break", Name: h.Break}
	}
	return diag.Subject{Kind: "device", Name: h.Device}
}

// Two plugs of one housing and key, a hand apart on a wall.
var matingJob = with(twoPlugs("(400, 40, 0 mm)"), "housing own-4 key B", "housing own-4 key A")
