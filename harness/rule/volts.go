package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// voltsRule makes the check of a rule that holds the steady or starting volts of each load against one limit. A load is told once, in its worst case.
func voltsRule(limit string, starting bool, title func(l *solve.LoadResult, k *fit.Limit) string) func(*Model, *diag.List) {
	return func(m *Model, out *diag.List) {
		type worst struct {
			load  *solve.LoadResult
			limit fit.Limit
			c     *solve.CaseResult
			while string
		}
		found := map[string]*worst{}
		var order []string
		take := func(key string, w worst) {
			old, ok := found[key]
			if !ok {
				order = append(order, key)
			}
			if !ok || unit.WorseBy(w.limit.Over(), old.limit.Over(), leastOver) {
				found[key] = &w
			}
		}
		judge := fit.NewJudge(m.Job, m.Net)
		for _, c := range m.Cases {
			held := func(l *solve.LoadResult, s func() *solve.LoadResult, limits []fit.Limit, while string) {
				for _, k := range limits {
					if k.Name == limit && !k.Met() {
						take(fmt.Sprint(l.Device, l.Coil, l.Index), worst{s(), k, c, while})
					}
				}
			}
			moves, quiet := c.StartsAt()
			for i := range c.Loads {
				l := &c.Loads[i]
				if cannotBeFed(c, l) {
					continue
				}
				if !starting {
					held(l, func() *solve.LoadResult { return l }, judge.Limits(c, i), "")
					continue
				}
				for _, k := range solve.Telling(moves[i], quiet[i]) { // what leaves a load alone counts once
					st := &c.Starts[k]
					s := func() *solve.LoadResult { return st.Load(i) } // most are never asked for, and each asked for is kept
					held(l, s, judge.StartLimits(c, k, i), st.Device)
				}
			}
		}
		for _, key := range order {
			w := found[key]
			detail := voltsDetail(m, w.load, &w.limit, w.c)
			if w.while != "" {
				detail = "While " + w.while + " starts. " + detail
			}
			detail = join(detail, mend(m, w.load, &w.limit, w.c, w.while))
			d := out.Finding(own(m, w.load.Device, w.load.Span), "", title(w.load, &w.limit), detail, diag.Subject{Kind: "device", Name: w.load.Device}).
				Measured(volts(w.limit.Got), volts(w.limit.Value), w.limit.Floor)
			d.Case = w.c.Case
			if !w.limit.Span.IsZero() && w.limit.Span != w.load.Span {
				d.Point(w.limit.Span, "the limit is set here")
			}
		}
	}
}

func voltsDetail(m *Model, l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult) string {
	var b strings.Builder
	if k.Corner != nil { // its figures go with the one that is judged
		l = &k.Corner.Load
	}
	fmt.Fprintf(&b, "In case %s%s: %s at %s, %s at the load", c.Case, commas(atCorner(k.Corner)), l.SupplyVolts, l.Supply, l.Volts)
	fmt.Fprintf(&b, "; feed %s, return %s, out and back.", l.FeedDrop, l.ReturnDrop)
	if k.Of > 0 {
		fmt.Fprintf(&b, " The limit is %s of %s", k.Ruling.Value, k.Of)
	} else {
		fmt.Fprintf(&b, " The limit is %s", k.Value)
	}
	if k.Ruling.Known {
		fmt.Fprintf(&b, " (%s).", k.Ruling.Source())
	} else {
		b.WriteString(" (the load's own).")
	}
	if l.Volts < 0 {
		b.WriteString(" Current runs backwards through it: are its plus and minus swapped?")
	}
	if most, name := mostOf(c, l, k.Name); most > 0 {
		fmt.Fprintf(&b, " Most is lost in %s: %s.", name, most)
	}
	return b.String()
}

// leastOver is what a difference of two voltages may be that are equal.
const leastOver unit.Voltage = 1e-9

// mostOf is the element that takes most on the way of a load; of a limit on one side, on that side.
func mostOf(c *solve.CaseResult, l *solve.LoadResult, limit string) (most unit.Voltage, name string) {
	if c.Net == nil {
		return 0, ""
	}
	sides := [][]solve.Step{l.Feed, l.Return}
	switch limit {
	case "feed-drop":
		sides = sides[:1]
	case "return-drop":
		sides = sides[1:]
	}
	for _, way := range sides {
		for _, s := range way {
			if s.Element >= 0 && s.Element < len(c.Net.Elements) && unit.Worse(s.Drop, most) {
				most, name = s.Drop, c.Net.Elements[s.Element].Kind.String()+" "+c.Net.Elements[s.Element].Name
			}
		}
	}
	return most, name
}
