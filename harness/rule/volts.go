package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/margin"
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
			if !ok || w.limit.Over() > old.limit.Over() {
				found[key] = &w
			}
		}
		for _, c := range m.Cases {
			judge := func(l, s *solve.LoadResult, limits []fit.Limit, while string) {
				for _, k := range limits {
					if k.Name == limit && !k.Met() {
						take(fmt.Sprint(l.Device, l.Coil, l.Index), worst{s, k, c, while})
					}
				}
			}
			for i := range c.Loads {
				l := &c.Loads[i]
				if cannotBeFed(c, l) {
					continue
				}
				if !starting {
					judge(l, l, fit.Limits(m.Job, m.Net, c, l), "")
					continue
				}
				for k := range c.Starts {
					st := &c.Starts[k]
					for j := range st.Loads {
						if s := &st.Loads[j]; s.Device == l.Device && s.Coil == l.Coil && s.Index == l.Index {
							judge(l, s, fit.StartLimits(m.Job, m.Net, c, l, s), st.Device)
						}
					}
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
			d := out.Finding(own(m.Job, w.load.Device, w.load.Span), "", title(w.load, &w.limit), detail, diag.Subject{Kind: "device", Name: w.load.Device}).
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
			if s.Element >= 0 && s.Element < len(c.Net.Elements) && s.Drop > most {
				most, name = s.Drop, c.Net.Elements[s.Element].Kind.String()+" "+c.Net.Elements[s.Element].Name
			}
		}
	}
	return most, name
}

// mend says in at most four sentences what would do for a limit on volts: the sizes next to those on its way, a second earth, the single
// change that buys most; and which stated sizes are short and what would pass in their place, or how near the limit could be had at best.
func mend(m *Model, l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult, while string) string {
	var say []string
	if a := answerTo(m, l, k, c, while); a != nil {
		say = tried(a)
	}
	if s := bySizes(m, l, k, c); s != "" {
		say = append(say, s)
	}
	return strings.Join(say, " ")
}

func answerTo(m *Model, l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult, while string) *margin.Answer {
	for i := range m.Answers {
		a := &m.Answers[i]
		if a.Device == l.Device && a.Index == l.Index && a.Coil == l.Coil && a.Subject.Limit == k.Name && a.Case == c.Case && a.Start == while {
			return a
		}
	}
	return nil
}

// tried words what single changes make of a limit.
func tried(a *margin.Answer) (say []string) {
	if a.Skipped {
		return []string{"What single changes would give was not worked out: too many limits on volts are missed."}
	}
	gives := func(c *margin.Change) string {
		s := "loses " + c.Got.String()
		if a.Limit.Floor {
			s = "leaves " + c.Got.String()
		}
		if c.Meets {
			s += ", which meets the limit"
		}
		if c.Note != "" {
			s += " (" + c.Note + ")"
		}
		return s
	}
	var next []string
	if a.Up != nil {
		next = append(next, "one size up "+gives(a.Up))
	}
	if a.Down != nil {
		next = append(next, "one size down "+gives(a.Down))
	}
	if len(next) > 0 {
		say = append(say, "All wires on its way "+strings.Join(next, "; ")+".")
	}
	for i := range a.Changes {
		if c := &a.Changes[i]; c.Kind == margin.SecondEarth {
			if i > 0 {
				say = append(say, "A"+strings.TrimPrefix(c.What, "a")+" "+gives(c)+".")
			}
			break
		}
	}
	if len(a.Changes) == 0 {
		return say
	}
	of := "Of single changes"
	if a.Left > 0 {
		of = fmt.Sprintf("Of the first %d of %d single changes", len(a.Changes), len(a.Changes)+a.Left)
	}
	if best := &a.Changes[0]; best.Gain > 0 {
		return append(say, of+" this buys most: "+best.What+" "+gives(best)+".")
	}
	return append(say, of+" none gains anything.")
}

// bySizes says which stated sizes are short and what would pass, or how near sizes alone could bring it.
func bySizes(m *Model, l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult) string {
	if m.Fit == nil {
		return ""
	}
	if m.Freed != nil && c.Net != nil && !m.Freed.Unmet[l.Device] {
		var names []string
		for _, way := range [2][]solve.Step{l.Feed, l.Return} {
			for _, s := range way {
				if s.Element < 0 || s.Element >= len(c.Net.Elements) || c.Net.Elements[s.Element].Wire < 0 {
					continue
				}
				i := c.Net.Elements[s.Element].Wire
				w := &m.Net.Wires[i]
				if to, ok := m.Freed.Sizes[w.Name]; ok && m.Sizes[i].Size.Less(to) {
					names = append(names, fmt.Sprintf("%s %s in place of %s", w.Name, to, m.Sizes[i].Size))
				}
			}
		}
		if len(names) > 0 {
			return "The smallest sizes that pass: " + strings.Join(names, "; ") + "."
		}
	}
	for i := range m.Fit.Beyond {
		b := &m.Fit.Beyond[i]
		if b.Device == l.Device && b.Index == l.Index && b.Coil == l.Coil && b.Limit.Name == k.Name && b.Case == c.Case {
			return fmt.Sprintf("Sizes alone do not mend it: at best %s, with every wire on its way that is left to the program as large as its contacts take.", b.Best)
		}
	}
	if m.Freed != nil && m.Freed.Unmet[l.Device] {
		return "Larger sizes alone do not mend it: look at the contacts, the way, the joints, or what shares it."
	}
	return ""
}
