package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
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
				if worst == nil || unit.Worse(worst.Amps, s.Amps) {
					worst = s
				}
			}
			wire, hot := least(worst)
			title, detail := weakWords(m, worst)
			if wire >= 0 && wire < len(m.Net.Wires) {
				detail += fmt.Sprintf(" %s, %s, stands %s for good before it is past %s, and carries %s: it reaches %s.",
					m.Net.Wires[wire].Name, m.Sizes[wire].Size, hot.Sustained, hot.Limit, hot.Amps, heat.Words(hot.Reaches))
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
				span = own(m, worst.Device, span)
			}
			d := out.Finding(span, "", title, detail, subject).
				Measured(amps(hot.Amps), amps(hot.Sustained), false)
			d.Case = worst.Case
		}
	},
}

// weakWords words a short that nothing clears: as it is, or what is left of it after fuses have opened.
func weakWords(m *Model, s *protect.Short) (title, detail string) {
	c, o := nearest(s), s.On
	copper := map[bool]string{false: "hot", true: "cold"}[s.Strong]
	detail = fmt.Sprintf("In case %s, with %s copper, through a loop of %s from %s.", s.Case, copper, s.Loop, s.Source)
	rating := fmt.Sprintf(" That is %s of the fuse's rating, at which nothing says that it opens.", c.Times)
	if o == nil {
		return fmt.Sprintf("a dead short at %s draws %s and need not blow %s", s.At, s.Amps, fuseName(m, c.Fuse)), detail + rating
	}
	title = fmt.Sprintf("a dead short at %s: %s flow on from %s after %s has opened", s.At, o.Amps, o.Source, fuseName(m, s.Fuses[0].Fuse))
	detail += fmt.Sprintf(" It draws %s at first, until %s has opened after at most %s; after %s at most %s flow on for good.",
		s.Amps, fuseName(m, s.Fuses[0].Fuse), s.Fuses[0].Latest, o.After, o.Amps)
	if len(o.Fuses) > 0 {
		title = fmt.Sprintf("a dead short at %s: %s flow on from %s and need not blow %s", s.At, o.Amps, o.Source, fuseName(m, c.Fuse))
		return title, detail + rating
	}
	return title, detail + " No other fuse is on their way."
}

// tooWeak tells whether nothing clears a short that some wire does not stand, though fuses with gates lie on its way: a way without any is no-fuse's
// to tell, a fuse without a gate fuse-gate-unknown's, and a wire that is hot before the short too-hot's.
func tooWeak(m *Model, s *protect.Short) bool {
	wire, hot := least(s)
	if !s.Unborne() || wire < 0 || hotAlready(m, wire, hot.Limit) {
		return false
	}
	for _, c := range s.Fuses {
		if f := m.Protect.Fuse(c.Fuse); f == nil || len(f.Gate) == 0 {
			return false
		}
	}
	return true
}

// least is the wire that stands least what flows for good in a short.
func least(s *protect.Short) (wire int, h protect.ShortHeat) {
	if s.On != nil {
		return s.On.Hot, s.On.Worst
	}
	return s.Hot, s.Worst
}

// nearest is the fuse on the way of a short that comes nearest to opening, of those it need not open where there are any, else of all.
func nearest(s *protect.Short) protect.Clearing {
	fuses := s.Fuses
	if s.On != nil && len(s.On.Fuses) > 0 {
		fuses = s.On.Fuses
	}
	var best protect.Clearing
	for _, c := range fuses {
		if unit.Worse(c.Times, best.Times) {
			best = c
		}
	}
	return best
}
