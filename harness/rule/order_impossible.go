package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/assembly"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var orderImpossible = &Rule{
	Key: "order-impossible", Title: "there is no order in which it can be put together", Severity: diag.Finding,
	Why:     "A sleeve or a boot that is forgotten, or cannot pass, costs every contact at that end: they are cut off and made anew.",
	Formula: "an order of all acts in which each sleeve and boot goes on, from one of its sides, before everything there that it cannot pass; found by search",
	Source:  "the graph of acts; diameters of the parts, expanded and recovered",
	Do:      "Take a sleeve that is slit or split, one that grows more, or a plug that does not come on its wires; or part the run there.",
	Fires: with(breakJob, "half nose contacts pins mount free", "half nose contacts pins mount free fitted yes", "section nose zone cabin\n", "section nose zone cabin sleeve shrink\n",
		"lamp at (900, 100, 0 mm)", "lamp at (900, 100, 0 mm) fitted yes", "horn at (900, -100, 0 mm)", "horn at (900, -100, 0 mm) fitted yes"),
	Silent: with(breakJob, "section nose zone cabin\n", "section nose zone cabin sleeve shrink\n", "lamp at (900, 100, 0 mm)", "lamp at (900, 100, 0 mm) fitted yes", "horn at (900, -100, 0 mm)", "horn at (900, -100, 0 mm) fitted yes"),
	Check: func(m *Model, out *diag.List) {
		if m.Assembly == nil {
			return
		}
		for _, group := range byRun(m.Assembly.Against, againstGroup, func(*assembly.Against) unit.Length { return 0 }) {
			x := group[0]
			title := "section " + x.Section + ": " + x.Things[0] + ", cannot go on"
			detail := strings.Join(x.Why, ". ") + "."
			if len(x.Things) > 1 {
				title = fmt.Sprintf("section %s: there is no order for %s", x.Section, strings.Join(x.Things, " and "))
				detail = "Each goes on alone, but not all of them. Of the first: " + detail
			}
			if !x.Whole {
				detail += " Not every order was tried: there are too many."
			}
			about := x.Subject
			if strings.HasPrefix(x.Things[0], "mark ") {
				about = diag.Subject{Kind: "section", Name: x.Section}
				if n := len(group); n > 1 {
					title = fmt.Sprintf("section %s: %d marks cannot go on, of which the first is %s", x.Section, n, x.Things[0])
				}
				detail += " A mark on a sleeve that is slit goes on at any time: `set marker`."
			}
			d := out.Finding(x.Spans[0], "", title, detail, about)
			for _, s := range x.Spans[1:] {
				d.Point(s, "another of them")
			}
		}
	},
}

// againstGroup tells the marks of a section together, and everything else by itself.
func againstGroup(x *assembly.Against) string {
	if len(x.Things) == 1 && strings.HasPrefix(x.Things[0], "mark ") {
		return x.Section + "\nmark"
	}
	return x.Section + "\n" + strings.Join(x.Things, "\n")
}
