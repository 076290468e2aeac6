package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var feedBesideSignal = &Rule{
	Key: "feed-beside-signal", Title: "an unfused feed beside a signal or an earth in a connector", Severity: diag.Finding,
	Why:     "A bent pin or a drop of water between the two is a short that no fuse ends, or battery volts on an input.",
	Formula: "no cavity beside that of a feed with no fuse before it holds a signal, a screen, a sensor's wire or an earth; beside: up to cavity-beside times the least distance on the face",
	Source:  "common practice",
	Do:      "Move one of the two, or leave both to the program; fuse the feed at its source.",
	Fires:   with(bareJob, "cavity P.12 circuit back", "cavity P.2 circuit back"),
	Silent:  bareJob,
	Check: func(m *Model, out *diag.List) {
		beside := map[string]map[string][]string{}
		at := map[[2]string]*net.Crossing{}
		for i := range m.Net.Crossings {
			c := &m.Net.Crossings[i]
			at[[2]string{c.Break, c.Cavity}] = c
			if b := findBreak(m.Job, c.Break); b != nil && beside[c.Break] == nil {
				beside[c.Break] = net.BesideIn(m.Job, b)
			}
		}
		for i := range m.Net.Crossings {
			c := &m.Net.Crossings[i]
			if !c.Unfused || c.Cavity == "" {
				continue
			}
			w := &m.Net.Wires[c.Wires[0]]
			var near []*net.Crossing
			for _, k := range beside[c.Break][c.Cavity] {
				if o := at[[2]string{c.Break, k}]; o != nil && o.Quiet {
					near = append(near, o)
				}
			}
			if len(near) == 0 {
				continue
			}
			o := near[0]
			detail := fmt.Sprintf("%s has no fuse before it.", w.Circuit)
			if n := len(near) - 1; n > 0 {
				detail += fmt.Sprintf(" %d more such neighbours.", n)
			}
			d := out.Finding(c.Span, "", fmt.Sprintf("%s in %s.%s sits beside %s in %s", w.Circuit, c.Break, c.Cavity, m.Net.Wires[o.Wires[0]].Circuit, o.Cavity), detail, wireSubject(w))
			if !c.Decision.IsZero() {
				d.Point(c.Decision, "its cavity was decided here")
			}
			if !o.Decision.IsZero() {
				d.Point(o.Decision, "that of its neighbour here")
			}
		}
	},
}

// The lamp of the job with a break hangs on its battery, of little current, with no fuse between.
var bareJob = with(breakJob, "housing sealed-4 {", "housing sealed-12 {", "pin pos, neg stud M8", "pin pos, neg, bare stud M8", "fuse blade-10 from cell to pos", "fuse blade-10 from cell to pos\n  joins cell, bare",
	"circuit feed from battery.pos", "circuit feed from battery.bare", "most 200 A", "most 12 A") + "cavity P.1 circuit feed\ncavity P.12 circuit back\n"
