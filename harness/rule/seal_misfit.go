package rule

import (
	"fmt"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var sealMisfit = &Rule{
	Key: "seal-misfit", Title: "a seal does not close on its wire", Severity: diag.Finding,
	Why:     "A seal holds a range of diameters; a wire too thin leaves a gap, one too thick tears it, and water finds the contact either way.",
	Formula: "least <= outside diameter <= most of the seal: of one stated by hand everywhere; in a wet place some seal of the library fits a wire in a sealed housing",
	Source:  "the parts library; TRADE: a seal is lost by 0.2 mm",
	Do:      "Take the next seal, another wire family or size, or declare the seal that you have.",
	Fires:   breakJob + "cavity P.1 circuit feed seal seal-7\n",
	Silent:  breakJob + "cavity P.1 circuit feed seal seal-3\n",
	Check: func(m *Model, out *diag.List) {
		seals := design.Index(m.Job.Parts.Seals, func(s *design.Seal) string { return s.Name })
		for i := range m.Net.Wires {
			w, c := &m.Net.Wires[i], &m.Sizes[i]
			if w.Kind != net.Plain || c.Outside <= 0 {
				continue
			}
			for e := range w.Ends {
				t := &w.Ends[e]
				if t.Kind != net.InCavity && t.Kind != net.InHalf || t.Cavity == "" {
					continue
				}
				s := seals[t.Seal]
				switch {
				case s != nil && len(s.Plugs) > 0:
					out.Finding(w.Span, "", fmt.Sprintf("%s: %s of %s is a blanking plug", w.Name, s.Name, termText(m.Job, t)), "It takes no wire.", wireSubject(w))
				case s != nil && (c.Outside < s.InsulLeast || s.InsulMost > 0 && c.Outside > s.InsulMost):
					out.Finding(w.Span, "", fmt.Sprintf("%s: %s of %s does not close on %s", w.Name, s.Name, termText(m.Job, t), c.Outside),
						fmt.Sprintf("It takes %s to %s.", s.InsulLeast, s.InsulMost), wireSubject(w)).Measured(mm(c.Outside), mm(sealLimit(s, c.Outside)), c.Outside < s.InsulLeast)
				case t.Seal == "" && bench.Sealed(housingAt(m, t)) && !sealFor(m.Job, c.Outside) && wetEnd(m, t):
					out.Finding(w.Span, "", fmt.Sprintf("%s: no seal closes on %s in %s", w.Name, c.Outside, termText(m.Job, t)), "It sits in the wet, and no seal of the library takes that wire.", wireSubject(w))
				}
			}
		}
	},
}

func sealLimit(s *design.Seal, outside unit.Length) unit.Length {
	if outside < s.InsulLeast {
		return s.InsulLeast
	}
	return s.InsulMost
}

func sealFor(job *design.Job, outside unit.Length) bool {
	for _, s := range job.Parts.Seals {
		if len(s.Plugs) == 0 && s.InsulLeast <= outside && (outside <= s.InsulMost || s.InsulMost <= 0) {
			return true
		}
	}
	return false
}
