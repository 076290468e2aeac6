package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
)

// misses words what the clips of a run could not meet, the worst of each run first.
func misses(m *Model, out *diag.List, whats []string, title func(x *fix.Miss) string) {
	var list []fix.Miss
	for _, x := range m.Fixed.Misses {
		for _, w := range whats {
			if x.What == w {
				list = append(list, x)
			}
		}
	}
	for _, g := range byRun(list, func(x *fix.Miss) string { return x.Run }, func(x *fix.Miss) unit.Length { return x.Limit - x.Gap }) {
		x := g[0]
		detail := fmt.Sprintf("The limit is %s (%s).", x.Limit, x.Source)
		if x.Why != "" {
			detail += " In the way: " + x.Why + "."
		}
		detail += others(g, func(x *fix.Miss) string { return fmt.Sprintf("%s at %s along stretch %d", x.Gap, x.From, x.Stretch+1) })
		out.Finding(x.Span, "", title(x), detail, aboutRun(x.Run)).Measured(mm(x.Gap), mm(x.Limit), false)
	}
}
