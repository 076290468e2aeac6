package resolve

import (
	"fmt"

	"loomsheet/harness/diag"
)

// How large a job may be, so that any text comes to an end within minutes. Heat is worked out for each wire beside each other in its
// bundle, and for each wire in each case.
const (
	mostSections = 500
	mostRuns     = 10000
	mostWires    = 4000
	mostWork     = 100000 // wires, and a hundred for all else, times cases
)

// large tells when a job is larger than can be worked out. A car is some 300 wires, 30 runs, 10 cases and 6 sections.
func (b *builder) large() {
	say := func(span diag.Span, title string) {
		b.msgs.Mistake(span, "too-much", title, "No harness is that large: look for a number that is too large, or write it as several jobs.")
	}
	if j := b.job; len(j.Sections) > mostSections {
		say(j.Sections[mostSections].Span, fmt.Sprintf("this job has more than %d sections", mostSections))
	}
	if j := b.job; len(j.Runs) > mostRuns {
		say(j.Runs[mostRuns].Span, fmt.Sprintf("this job has more than %d runs", mostRuns))
	}
	wires := 0
	for _, c := range b.job.Circuits {
		for i := range c.Links {
			before := wires
			wires += min(max(1, c.Links[i].Parallel), mostWires+1)
			if before <= mostWires && wires > mostWires {
				say(c.Links[i].Span, fmt.Sprintf("this job has more than %d wires", mostWires))
			}
		}
	}
	if cases := mostWork / (100 + min(wires, mostWires)); len(b.job.Cases) > cases {
		say(b.job.Cases[cases].Span, fmt.Sprintf("%d cases of %d wires are more than can be worked out", len(b.job.Cases), wires))
	}
}
