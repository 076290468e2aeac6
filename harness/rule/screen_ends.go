package rule

import (
	"fmt"
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

// screenChain is one screen through all breaks that it passes.
type screenChain struct {
	cable  string
	ends   []string // pins that it is earthed at
	span   diag.Span
	pieces []int // wires
}

// screens follows every screen through its breaks, by cable.
func screens(m *Model) []screenChain {
	next := map[int][]int{}
	for _, c := range m.Net.Crossings {
		next[c.Wires[0]] = append(next[c.Wires[0]], c.Wires[1])
		next[c.Wires[1]] = append(next[c.Wires[1]], c.Wires[0])
	}
	var out []screenChain
	met := map[int]bool{}
	for i := range m.Net.Wires {
		w := &m.Net.Wires[i]
		if w.Kind != net.Screen || met[i] {
			continue
		}
		s := screenChain{cable: w.Cable, span: w.Span}
		met[i] = true
		for todo := []int{i}; len(todo) > 0; todo = todo[1:] {
			s.pieces = append(s.pieces, todo[0])
			for _, t := range m.Net.Wires[todo[0]].Ends {
				if t.Kind == net.InCavity || t.Kind == net.OnStud {
					s.ends = append(s.ends, t.Device+"."+t.Pin)
				}
			}
			for _, n := range next[todo[0]] {
				if !met[n] {
					met[n] = true
					todo = append(todo, n)
				}
			}
		}
		slices.Sort(s.ends)
		out = append(out, s)
	}
	return out
}

var screenBothEnds = &Rule{
	Key: "screen-both-ends", Title: "a screen is earthed at both ends", Severity: diag.Finding,
	Why:     "Earthed at both ends it is one more return: the current of starter and fans runs through the braid, and the signal inside picks it up.",
	Formula: "a screen, through all breaks that it passes, ends on one pin at most",
	Source:  "common practice for signals of low frequency; screens against radio frequency are earthed at both, accept it then",
	Do:      "Keep the pin at the reader, take the other out of the cable's `screen`.",
	Fires:   with(screenJob, "screen unit.5", "screen unit.5, sensor.3", "  unused 3\n", ""),
	Silent:  screenJob,
	Check: func(m *Model, out *diag.List) {
		for _, s := range screens(m) {
			if len(s.ends) > 1 {
				out.Finding(s.span, "", fmt.Sprintf("the screen of cable %s is earthed at %s and at %s", s.cable, s.ends[0], s.ends[1]), "Keep one of the two, that at the reader.", diag.Subject{Kind: "cable", Name: s.cable})
			}
		}
	},
}

var screenUnearthed = &Rule{
	Key: "screen-unearthed", Title: "a screen is earthed nowhere", Severity: diag.Finding,
	Why:     "A screen that hangs on nothing shields nothing, and couples the cores that it surrounds.",
	Formula: "a screen, through all breaks that it passes, ends on a pin",
	Source:  "common practice",
	Do:      "Name the pin at the reader with `screen` of the cable, or take a cable without a screen.",
	Fires:   with(screenJob, " screen unit.5", "", "  joins 2, 4, 5\n", "  joins 2, 4\n  unused 5\n"),
	Silent:  screenJob,
	Check: func(m *Model, out *diag.List) {
		told := map[string]bool{}
		for _, s := range screens(m) {
			if len(s.ends) == 0 && !told[s.cable] {
				told[s.cable] = true
				out.Finding(s.span, "", fmt.Sprintf("the screen of cable %s is earthed nowhere", s.cable), "It is cut back at both ends.", diag.Subject{Kind: "cable", Name: s.cable})
			}
		}
	},
}

// A sensor on a screened pair.
var screenJob = with(smallJob, "circuit back from", `device sensor at lamp {
  housing sealed-3 key B
  draw 1 mA from 1 to 2
  unused 3
}
device unit at hub housing sealed-5 {
  draw 0.1 A at 12 V from 1 to 2
  supply 5 V inside 1 ohm most 50 mA from 3 to 2
  joins 2, 4, 5
}
circuit signal from unit.3 to sensor.1 class signal
circuit ref from unit.4 to sensor.2 class signal
circuit unit-feed from battery.pos to unit.1 colour brown
circuit unit-back from battery.neg to unit.2 colour black
cable lead holds signal, ref as pair wire screened-2 screen unit.5
circuit back from`)
