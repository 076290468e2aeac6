package resolve

import (
	"fmt"

	"loomsheet/harness/diag"
)

// How large a job may be, so that any text comes to an end within minutes. Heat is worked out for each wire beside each other in its
// bundle, and for each wire in each case.
const (
	mostSections = 1000
	mostRuns     = 50000
	mostWires    = 40000
	mostPlaces   = 50000 // of corners, points on sheets, keep-outs, tubes and hazards
	mostHoles    = 50000
	mostWork     = 500000 // wires, and a hundred for all else, times cases
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
	b.largeBody(say)
	b.crowds(say)
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

// largeBody tells when the body has more shape or more holes than can be worked out: each is held against each run, holes against each other.
func (b *builder) largeBody(say func(diag.Span, string)) {
	if j := b.job; len(j.Holes) > mostHoles {
		say(j.Holes[mostHoles].Span, fmt.Sprintf("this job states more than %d holes", mostHoles))
	}
	places := 0
	count := func(n int, span diag.Span) {
		if places <= mostPlaces && places+n > mostPlaces {
			say(span, fmt.Sprintf("panels, tubes and hazards have more than %d places", mostPlaces))
		}
		places += n
	}
	for _, p := range b.job.Panels {
		n := len(p.Corners) + len(p.Points)
		for _, k := range p.KeepOuts {
			n += len(k)
		}
		count(n, p.Span)
	}
	for _, u := range b.job.Tubes {
		count(len(u.Nodes), u.Span)
	}
	for _, h := range b.job.Hazards {
		for _, s := range h.Shapes {
			count(len(s.Points), h.Span)
		}
	}
}
