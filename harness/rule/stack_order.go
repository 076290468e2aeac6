package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

const twoLugs = "circuit x from battery.pos to clock.1\ncircuit y from battery.neg to clock.2\ndevice clock at hub housing sealed-2 { draw 1 A at 12 V from 1 to 2 }\n"

var stackOrder = &Rule{
	Key: "stack-order", Title: "lugs cannot lie on a stud as stated", Severity: diag.Finding,
	Why:     "The largest lug carries most and lies on the stud's own metal. Lugs above it pass their current through it, one below it is bent over its edge and loses its pressure.",
	Formula: "no two lugs of a stud have one `order`; none of a stated order lies below a larger one, or above it where set stack says so",
	Source:  "common practice: set stack",
	Do:      "Change the `order` on the cavity lines, or leave it out: the largest then lies lowest.",
	Fires:   with(smallJob, "case on", twoLugs+"cavity battery.pos circuit feed order 1\ncavity battery.pos circuit x order 1\ncase on"),
	Silent:  with(smallJob, "case on", twoLugs+"cavity battery.pos circuit feed order 1\ncavity battery.pos circuit x order 2\ncase on"),
	Check: func(m *Model, out *diag.List) {
		if m.Assembly == nil {
			return
		}
		for i := range m.Assembly.Stacks {
			s := &m.Assembly.Stacks[i]
			if len(s.Wrong) == 0 {
				continue
			}
			say := func(k int) string { return fmt.Sprintf("%s (%s)", s.Lugs[k].Name, s.Lugs[k].Size) }
			w := s.Wrong[0]
			title := fmt.Sprintf("%s: two lugs have one order, %s and %s", s.Title, say(w.Lower), say(w.Upper))
			if w.What == "size" {
				title = fmt.Sprintf("%s: the lug of %s lies below that of %s", s.Title, say(w.Lower), say(w.Upper))
			}
			detail := "By their sizes it is the other way round."
			if w.What == "same" {
				detail = "Give each a place of its own, 1 lowest."
			}
			if n := len(s.Wrong); n > 1 {
				detail += fmt.Sprintf(" There are %d more on this stud.", n-1)
			}
			about := diag.Subject{Kind: "device", Name: s.Device}
			if s.Device == "" {
				about = diag.Subject{Kind: "break", Name: s.Break}
			}
			out.Finding(own(m, s.Device, s.Span), "", title, detail, about).Point(s.Lugs[w.Lower].Span, "the lower one").Point(s.Lugs[w.Upper].Span, "the upper one")
		}
	},
}
