package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/free"
	"loomsheet/harness/unit"
)

var tailTooShort = &Rule{
	Key: "tail-too-short", Title: "a plug cannot be drawn back before what it holds has moved", Severity: diag.Finding,
	Why:     "The plug comes off only when the engine is out, and the engine comes out only when the plug is off.",
	Formula: "the free half comes back by `draw-back`: service loop and slack give way first, then its bundle bows out in one arc of no less than `bend-bundle` times its diameter, and the free length that takes is there before anything holds it that cannot be taken off; clips can. Two fixed halves never part",
	Source:  "geometry of an arc and its chord; common practice",
	Do:      "Make one half free, or give its tail more length or slack.",
	Fires:   with(breakJob, "contacts pins mount free", "contacts pins mount fixed"),
	Silent:  breakJob,
	Check: func(m *Model, out *diag.List) {
		said := map[string]bool{}
		eachPart(m, func(p *free.Part) {
			for i := range p.Steps {
				s := &p.Steps[i]
				for k := range s.Tails {
					t := &s.Tails[k]
					if key := stepName(s) + "\x00" + t.Half; !t.Short || said[key] {
						continue
					} else {
						said[key] = true
					}
					if t.Rigid {
						out.Finding(s.Span, "", fmt.Sprintf("both halves of %s are fixed: neither can be drawn back", stepName(s)), fmt.Sprintf("Seen with %s.", partName(p)), aboutStep(s))
						continue
					}
					d := out.Finding(s.Span, "", fmt.Sprintf("%s: its tail on the side of %s is too short to pull it by", stepName(s), t.Half),
						fmt.Sprintf("It must come back %s (%s); after %s of loop and slack its bundle of %s wants %s free for that, and %s is %s off.", t.Draw, t.Ruling.Source(), t.Loop, t.Bundle, t.Need, t.Fast, t.Free), aboutStep(s))
					d.Measured(mm(t.Free), unit.Quantity{Value: float64(t.Need), Dim: unit.DimLength}, true)
				}
			}
		})
	},
}
