package rule

import (
	"fmt"

	"loomsheet/harness/data"
	"loomsheet/harness/diag"
)

var fuseGateUnknown = &Rule{
	Key: "fuse-gate-unknown", Title: "nothing says when a fuse opens", Severity: diag.Finding,
	Why:     "Without a time-current gate nobody can say that a fuse protects a wire, clears a short or lives through a start.",
	Formula: "the fuse's part names a `kind` whose gate holds for its rating",
	Source:  "ISO 8820 gates as makers print them",
	Do:      "Name the kind in the part: blade-f, blade-c, blade-e, bolt-in or link, or take a fuse that has one.",
	Fires:   with(smallJob, "fuse blade-10 from cell", "fuse odd from cell") + "fuse odd rating 10 A resistance 8 mohm\n",
	Silent:  with(smallJob, "fuse blade-10 from cell", "fuse odd from cell") + "fuse odd rating 10 A resistance 8 mohm kind blade-c\n",
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Fuses {
			f := &m.Protect.Fuses[i]
			if len(f.Gate) > 0 {
				continue
			}
			detail := fmt.Sprintf("Its part %s names no kind. Kinds with a gate: %s.", f.Part, list(data.FuseKinds, len(data.FuseKinds)))
			if f.Kind != "" {
				detail = fmt.Sprintf("No gate of kind %s holds for %s.", f.Kind, f.Rating)
			}
			out.Finding(own(m, f.Device, f.Span), "", fuseName(m, f.FuseRef)+": nothing says when it opens", detail, diag.Subject{Kind: "device", Name: f.Device})
		}
	},
}
