package rule

import (
	"fmt"
	"math"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var postRating = &Rule{
	Key: "post-over-rating", Title: "a stud post carries more than its rating", Severity: diag.Finding,
	Why:     "A post through a panel heats the insulator that keeps it off the body.",
	Formula: "greatest steady current through the post over all cases <= rating of its housing",
	Source:  "ratings of the parts library",
	Do:      "Take a larger post, or a second one.",
	Fires:   with(postJob, "rating 100 A", "rating 5 A"),
	Silent:  postJob,
	Check: func(m *Model, out *diag.List) {
		for _, b := range m.Job.Breaks {
			for _, half := range b.Halves {
				h := findHousing(m.Job, half.Housing)
				if h == nil || !h.Rating.Given {
					continue
				}
				most, in := mostThrough(m, func(e *solve.Element) bool { return e.Kind == solve.Post && e.Name == b.Name })
				if most > h.Rating.Nominal {
					d := out.Finding(b.Span, "", fmt.Sprintf("stud post %s carries %s, %s is rated %s", b.Name, most, h.Name, h.Rating.Nominal), where(in),
						diag.Subject{Kind: "break", Name: b.Name}).Measured(amps(most), amps(h.Rating.Nominal), false)
					d.Case = in
					break
				}
			}
		}
	},
}

// mostThrough is the greatest steady current through any of some elements over all cases, and its case.
func mostThrough(m *Model, want func(e *solve.Element) bool) (most unit.Current, in string) {
	for _, c := range m.Cases {
		if c.Net == nil {
			continue
		}
		for i := range c.Net.Elements {
			if i < len(c.Point.Amps) && want(&c.Net.Elements[i]) {
				if a := unit.Current(math.Abs(float64(c.Point.Amps[i]))); a > most {
					most, in = a, c.Case
				}
			}
		}
	}
	return most, in
}

const postJob = `harness "Example" revision B
section body, nose
zone cabin air 40 C
panel wall thickness 1.5 mm zone cabin, cabin {
  corners (400, -300, -300 mm), (400, 300, -300 mm), (400, 300, 300 mm), (400, -300, 300 mm)
}
housing own-post rating 100 A { cavity 1 stud M8 resistance 0.1 mohm }
break P at (400, 0, 0 mm) panel wall housing own-post {
  half body
  half nose
}
break Q at (400, 100, 0 mm) panel wall housing own-post {
  half body
  half nose
}
run rear from battery to P section body zone cabin
run rear-2 from battery to Q section body zone cabin
run front from P to lamp section nose zone cabin
run front-2 from Q to lamp section nose zone cabin
device battery at (0, 0, 0 mm) section body {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (900, 0, 0 mm) housing sealed-large-2 section nose { draw 7 A at 12 V as resistance from 1 to 2 }
circuit feed from battery.pos to lamp.1 via P colour red
circuit back from battery.neg to lamp.2 via Q colour black
case on { supply battery }
`
