package rule

import (
	"fmt"

	"loomsheet/harness/assembly"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var sleeveNone = &Rule{
	Key: "sleeve-none-fits", Title: "no size of a sleeve or a boot fits", Severity: diag.Finding,
	Why:     "A sleeve too small is never got on, or splits; one too large slides along the bundle, lets water in and chafes what it should guard.",
	Formula: "a size whose expanded diameter is at least the most it must pass or lie over, and whose recovered one is at most the least it must grip: the whole band of the bundle, from its closest packing to the trade's figure. A tube and a slit sleeve need not grip",
	Source:  "the sizes of the part; the bundle's band",
	Do:      "Take a sleeve that grows more, or one with sizes between; of a boot another one.",
	Fires:   with(smallJob, "section body zone cabin\n", "section body zone cabin sleeve tiny\nsleeve tiny as braid grows 2 sizes 1 mm sizes-are recovered\n"),
	Silent:  with(smallJob, "section body zone cabin\n", "section body zone cabin sleeve braid\n"),
	Check: func(m *Model, out *diag.List) {
		if m.Assembly == nil {
			return
		}
		for _, group := range byRun(m.Assembly.Misfits, misfitGroup, func(x *assembly.Misfit) unit.Length { return min(x.Expanded-x.Over, x.Grips-x.Recovered) }) {
			x := group[0]
			title := fmt.Sprintf("%s: no size of sleeve %s fits it", x.Where, x.Part)
			detail := fmt.Sprintf("It must open over %s", x.Over)
			if x.Grips > 0 {
				detail += fmt.Sprintf(" and close on %s", x.Grips)
			}
			if x.Expanded > 0 {
				detail += fmt.Sprintf(". The size that comes nearest goes from %s to %s", x.Recovered, x.Expanded)
			}
			switch {
			case x.What != "":
				title = fmt.Sprintf("%s: boot %s does not fit its %s", x.Where, x.Part, map[string]string{"bundle": "bundle", "body": "connector"}[x.What])
				detail = fmt.Sprintf("It holds %s to %s; there it is %s", x.Recovered, x.Expanded, x.Over)
				if x.Grips < x.Over {
					detail = fmt.Sprintf("It holds %s to %s; there it is between %s and %s", x.Recovered, x.Expanded, x.Grips, x.Over)
				}
			case x.Kind == "mark":
				title = fmt.Sprintf("section %s: no size of sleeve %s fits %d marks", x.Section, x.Part, len(group))
			}
			detail += "." + others(group, func(x *assembly.Misfit) string { return fmt.Sprintf("%s, %s", x.Where, x.Over) })
			about := x.Subject
			if x.Kind == "mark" {
				about = diag.Subject{Kind: "section", Name: x.Section}
			}
			d := out.Finding(x.Span, "", title, detail, about)
			if x.Expanded > 0 && x.Expanded < x.Over {
				d.Measured(mm(x.Over), mm(x.Expanded), false)
			} else if x.Grips > 0 && x.Recovered > x.Grips {
				d.Measured(mm(x.Grips), mm(x.Recovered), true)
			}
		}
	},
}

// misfitGroup is what is told together: the pieces of a run, and the marks of a section.
func misfitGroup(x *assembly.Misfit) string {
	if x.Kind == "mark" {
		return x.Section + "\nmark\n" + x.Part
	}
	return x.Section + "\n" + x.Subject.Kind + x.Subject.Name + x.Subject.From + x.Subject.To + "\n" + x.Part + x.What
}
