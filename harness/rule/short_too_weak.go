package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/protect"
)

var shortTooWeak = &Rule{
	Key: "short-too-weak", Title: "a dead short at the far end does not blow the fuse", Severity: diag.Finding,
	Why:     "On a long thin wire the loop itself limits the short, and the wire cooks before the fuse opens.",
	Formula: "least current of a dead short at the far end through the whole loop, copper at the rating of its insulation >= the least multiple at which the fuse must open, or every wire on the way stands it for good",
	Source:  "the loop solved in each case with its loads left out; ISO 8820 gates as makers print them",
	Do:      "Take a thicker wire, a smaller fuse, or a fuse nearer to the load.",
	Fires: with(smallJob, "lamp at (1000, 0, 0 mm)", "lamp at (5000, 0, 0 mm)", "fuse blade-10", "fuse blade-20",
		"to lamp.1 colour red", "to lamp.1 size 0.5 mm2 colour red", "to lamp.2 colour black", "to lamp.2 size 0.5 mm2 colour black"),
	Silent: with(smallJob, "lamp at (1000, 0, 0 mm)", "lamp at (5000, 0, 0 mm)", "fuse blade-10", "fuse blade-5",
		"to lamp.1 colour red", "to lamp.1 size 0.5 mm2 colour red", "to lamp.2 colour black", "to lamp.2 size 0.5 mm2 colour black"),
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		told := map[protect.FuseRef]bool{}
		for i := range m.Protect.Shorts {
			f := nearest(&m.Protect.Shorts[i]).Fuse
			if !tooWeak(m, &m.Protect.Shorts[i]) || told[f] {
				continue
			}
			told[f] = true
			var worst *protect.Short
			ends := map[string]bool{}
			for k := range m.Protect.Shorts {
				s := &m.Protect.Shorts[k]
				if !tooWeak(m, s) || nearest(s).Fuse != f {
					continue
				}
				ends[s.At] = true
				if worst == nil || s.Amps < worst.Amps {
					worst = s
				}
			}
			c, hot := nearest(worst), worst.Worst
			detail := fmt.Sprintf("In case %s, with hot copper, through a loop of %s from %s. That is %s of the fuse's rating, at which nothing says that it opens.", worst.Case, worst.Loop, worst.Source, c.Times)
			if worst.Hot >= 0 && worst.Hot < len(m.Net.Wires) {
				detail += fmt.Sprintf(" %s, %s, stands %s for good before it is past %s, and carries %s: it reaches %s.",
					m.Net.Wires[worst.Hot].Name, m.Sizes[worst.Hot].Size, hot.Sustained, hot.Limit, hot.Amps, hot.Reaches)
			}
			if len(ends) > 1 {
				detail += fmt.Sprintf(" So it is at %d more of its far ends.", len(ends)-1)
			}
			if x := m.Protect.Fuse(f); x == nil || !x.Verified {
				detail += " The fuse's gate is not verified for this very fuse."
			}
			subject, span := diag.Subject{Kind: "device", Name: worst.Device}, worst.Span
			if worst.Wire >= 0 && worst.Wire < len(m.Net.Wires) {
				subject = wireSubject(&m.Net.Wires[worst.Wire])
			} else {
				span = own(m.Job, worst.Device, span)
			}
			d := out.Finding(span, "", fmt.Sprintf("a dead short at %s draws %s and need not blow %s", worst.At, worst.Amps, fuseName(m, f)), detail, subject).
				Measured(amps(hot.Amps), amps(hot.Sustained), false)
			d.Case = worst.Case
		}
	},
}

// tooWeak tells whether nothing clears a short that some wire does not stand, though fuses with gates lie on its way: a way without any is no-fuse's
// to tell, a fuse without a gate fuse-gate-unknown's, and a wire that is hot before the short too-hot's.
func tooWeak(m *Model, s *protect.Short) bool {
	if s.Met || s.Clears != protect.Never || len(s.Fuses) == 0 || s.Hot < 0 || hotAlready(m, s.Hot, s.Worst.Limit) {
		return false
	}
	for _, c := range s.Fuses {
		if f := m.Protect.Fuse(c.Fuse); f == nil || len(f.Gate) == 0 {
			return false
		}
	}
	return true
}

// nearest is the fuse on the way of a short that comes nearest to opening.
func nearest(s *protect.Short) protect.Clearing {
	var best protect.Clearing
	for _, c := range s.Fuses {
		if c.Times > best.Times {
			best = c
		}
	}
	return best
}
