package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var pairSplit = &Rule{
	Key: "pair-split", Title: "the wires of a pair part in a connector", Severity: diag.Finding,
	Why:     "Between two cavities apart a pair opens to a loop, and picks up what it was twisted against; a screen far from its pair has to be untwisted as far.",
	Formula: "the cavities of a pair or a bus, and of a screen with its cores, hang together: each beside another, up to cavity-beside times the least distance on the face, or next in order where no places are known",
	Source:  "common practice",
	Do:      "Take neighbouring cavities, or leave them to the program; where none are free move a single wire.",
	Fires:   with(pairJob, "cavity P.3 circuit back", "cavity P.12 circuit back"),
	Silent:  pairJob,
	Check: func(m *Model, out *diag.List) {
		cables := design.Index(m.Job.Cables, func(c *design.Cable) string { return c.Name })
		for _, p := range net.Passages(m.Job, m.Net) {
			c := cables[p.Cable]
			if c == nil || p.Beside {
				continue
			}
			var where []string
			screened := false
			for _, i := range p.Crossings {
				x := &m.Net.Crossings[i]
				w := &m.Net.Wires[x.Wires[0]]
				name := w.Circuit
				if w.Kind == net.Screen {
					name, screened = "the screen", true
				}
				where = append(where, fmt.Sprintf("%s in %s", name, x.Cavity))
			}
			if c.As != "pair" && c.As != "bus" && !screened {
				continue // cores in a sheath fan out as they must
			}
			what := map[bool]string{true: "A cavity of it was decided by hand.", false: "No free cavities that take them lie side by side."}[p.Decided]
			d := out.Finding(c.Span, "", fmt.Sprintf("cable %s parts in %s: %s", c.Name, p.Break, strings.Join(where, ", ")), what, diag.Subject{Kind: "cable", Name: c.Name})
			if b := findBreak(m.Job, p.Break); b != nil {
				d.Point(b.Span, "in this connector")
			}
		}
	},
}

var pairJob = with(breakJob, "housing sealed-4 {", "housing sealed-12 {") + "cable twin holds feed, back as pair\ncavity P.2 circuit feed\ncavity P.3 circuit back\n"
