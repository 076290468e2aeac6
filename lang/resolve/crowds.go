package resolve

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

// How much may come together in one place. A short is tried at each load of a joint, each time with all the others on it; what faces a
// stretch is looked for at each of its corners.
const (
	mostAtEnd = 500  // wires at one pin, stud or splice: a common earth of a bus has some sixty
	mostNodes = 2000 // places along one stretch of a run: a real one has a dozen
	mostDrill = 5000 // holes stated of one panel: a short walk past them is looked for
)

// crowds tells when more comes together in one place than can be worked out.
func (b *builder) crowds(say func(diag.Span, string)) {
	wires := map[design.End]int{}
	for _, c := range b.job.Circuits {
		for i := range c.Links {
			l := &c.Links[i]
			n := min(max(1, l.Parallel), mostAtEnd+1)
			for _, e := range []design.End{l.From, l.To} {
				if e.Kind == design.AtBreak {
					continue // each has a cavity of its own
				}
				at := e.Span
				e.Span = diag.Span{}
				before := wires[e]
				if wires[e] += n; before <= mostAtEnd && wires[e] > mostAtEnd {
					say(at, fmt.Sprintf("more than %d wires end here", mostAtEnd))
				}
			}
		}
	}
	holes := map[string]int{}
	for _, h := range b.job.Holes {
		if holes[h.Panel]++; holes[h.Panel] == mostDrill+1 && h.Panel != "" {
			say(h.Span, fmt.Sprintf("panel %s has more than %d holes", h.Panel, mostDrill))
		}
	}
	for _, r := range b.job.Runs {
		for _, s := range r.Stretches {
			if len(s.Nodes) > mostNodes {
				say(s.Span, fmt.Sprintf("this way goes through more than %d places", mostNodes))
			}
		}
	}
}
