package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var fusesOutOfOrder = &Rule{
	Key: "fuses-out-of-order", Title: "a fuse may open before the one below it", Severity: diag.Finding,
	Why:     "A short on one branch must take out that branch, not all the others with it: whoever looks for it finds everything dead.",
	Formula: "at every dead short behind the lower fuse: its latest time < the upper one's earliest; beyond the upper one's gate the energy the lower one lets through < the energy the upper one stands",
	Source:  "ISO 8820 gates as makers print them; constant energy beyond them",
	Do:      "Take the upper fuse larger or slower, or the lower one smaller.",
	Fires: with(smallJob, "device lamp at (1000, 0, 0 mm) housing sealed-2 {", "device lamp at (1000, 0, 0 mm) housing sealed-2 {\n  inner f\n  fuse blade-5 from 1 to f",
		"from 1 to 2\n}\ncircuit", "from f to 2\n}\ncircuit", "fuse blade-10", "fuse blade-7-5"),
	Silent: with(smallJob, "device lamp at (1000, 0, 0 mm) housing sealed-2 {", "device lamp at (1000, 0, 0 mm) housing sealed-2 {\n  inner f\n  fuse blade-2 from 1 to f",
		"draw 2 A", "draw 1 A", "from 1 to 2\n}\ncircuit", "from f to 2\n}\ncircuit", "fuse blade-10", "fuse blade-7-5"),
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Pairs {
			p := &m.Protect.Pairs[i]
			if p.Met || !p.Known {
				continue
			}
			down, up := m.Protect.Fuse(p.Down), m.Protect.Fuse(p.Up)
			if down == nil || up == nil {
				continue
			}
			detail := fmt.Sprintf("In case %s a dead short at %s draws %s. The lower one may take %s, the upper one may open after %s.", p.Case, p.At, p.Amps, p.DownLatest, p.UpEarliest)
			if p.ByEnergy {
				detail = fmt.Sprintf("In case %s a dead short at %s draws %s, more than the upper one's gate tells of. The lower one may let through %.4g A2s, the upper one stands %.4g A2s: an estimate by energy.",
					p.Case, p.At, p.Amps, float64(p.DownEnergy), float64(p.UpEnergy))
			}
			if !up.Verified || !down.Verified {
				detail += " The gates are not verified for these very fuses."
			}
			d := out.Finding(own(m, down.Device, down.Span), "", fmt.Sprintf("%s, %s, may open before %s, %s", fuseName(m, p.Up), up.Rating, fuseName(m, p.Down), down.Rating), detail,
				diag.Subject{Kind: "device", Name: down.Device}).Point(own(m, up.Device, up.Span), "the upper fuse")
			d.Case = p.Case
		}
	},
}
