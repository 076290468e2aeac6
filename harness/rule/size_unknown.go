package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var sizeUnknown = &Rule{
	Key: "size-unknown", Title: "the wire family has no such size", Severity: diag.Finding,
	Why:     "Resistance and outside diameter are known per family and size; between sizes nothing is sold and nothing is known.",
	Formula: "the stated size is one of the family's",
	Source:  "the parts library",
	Do:      "Take a size of the family, another family, or describe the size in a `wire` part of the job's own.",
	Fires:   with(smallJob, "to lamp.1 colour red", "to lamp.1 colour red size 1.1 mm2"),
	Silent:  with(smallJob, "to lamp.1 colour red", "to lamp.1 colour red size 1 mm2"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Net.Wires {
			w, c := &m.Net.Wires[i], &m.Sizes[i]
			if c.Known || w.Kind != net.Plain {
				continue
			}
			detail := "The family is not known."
			for _, f := range m.Job.Parts.Wires {
				if f.Name == w.Family {
					detail = "It has:"
					for _, s := range f.Sizes {
						detail += " " + s.Size.String() + ","
					}
					detail = detail[:len(detail)-1] + "."
				}
			}
			what := "no size that suits it"
			if !w.Stated.IsZero() {
				what = "no " + w.Stated.String()
			}
			out.Finding(w.Span, "", fmt.Sprintf("%s: wire %s has %s", w.Name, w.Family, what), detail, wireSubject(w))
		}
	},
}
