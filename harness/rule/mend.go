package rule

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/margin"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// mend says what would do for a limit on volts: a single change that meets it, the sizes next to those on its way, a second earth, the
// single change that buys most; and which stated sizes are short and what would pass in their place, or how near the limit could be had by
// sizes. What is said last never denies what was tried.
func mend(m *Model, l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult, while string) string {
	var say []string
	a := answerTo(m, l, k, c, while)
	if a != nil {
		say = tried(a)
	}
	if s := together(m, l, c); s != "" {
		say = append(say, s)
	} else if s := atBest(m, l, k, c, while, a); s != "" {
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
	of := "Of single changes"
	if a.Left > 0 {
		of = fmt.Sprintf("Of the first %d of %d single changes", len(a.Changes), len(a.Changes)+a.Left)
	}
	alone := enough(a)
	most := of + " none gains anything."
	if len(a.Changes) == 0 {
		most = ""
	} else if best := &a.Changes[0]; best.Gain > 0 {
		most = of + " this buys most: " + best.What + " " + gives(best) + "."
	}
	switch {
	case alone == 0:
		say, most = append(say, most), ""
	case alone > 0:
		c := &a.Changes[alone]
		say = append(say, "One change alone would do: "+c.What+" "+gives(c)+".")
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
			if i > 0 && i != alone {
				say = append(say, "A"+strings.TrimPrefix(c.What, "a")+" "+gives(c)+".")
			}
			break
		}
	}
	if most != "" {
		say = append(say, most)
	}
	return say
}

// enough is the single change to name first of those that meet a limit: the one that buys most of those with nothing in their way, else the one
// that buys most; -1 where none meets it.
func enough(a *margin.Answer) int {
	first := -1
	for i := range a.Changes {
		if c := &a.Changes[i]; c.Meets && c.Note == "" {
			return i
		} else if c.Meets && first < 0 {
			first = i
		}
	}
	return first
}

// together says which stated sizes are short and what passes where all of them are chosen anew at once.
func together(m *Model, l *solve.LoadResult, c *solve.CaseResult) string {
	if m.Freed == nil || m.Freed.Unmet[l.Device] {
		return ""
	}
	var names []string
	for _, i := range wiresOf(m, l, c) {
		w := &m.Net.Wires[i]
		if to, ok := m.Freed.Sizes[w.Name]; ok && m.Sizes[i].Size.Less(to) {
			s := fmt.Sprintf("%s %s in place of %s", w.Name, to, m.Sizes[i].Size)
			if m.Freed.Loose[w.Name] {
				s += " (no contact of its ends takes that)"
			}
			names = append(names, s)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Sizes that pass together, every other wire as small as it may be: " + strings.Join(names, "; ") + "."
}

// atBest says how near a limit the sizes of a way could bring it. It is silent where a change of sizes that was tried does better.
func atBest(m *Model, l *solve.LoadResult, k *fit.Limit, c *solve.CaseResult, while string, a *margin.Answer) string {
	stated, left := false, false
	for _, i := range wiresOf(m, l, c) {
		if i < len(m.Sizes) {
			free := size.Auto(&m.Net.Wires[i], &m.Sizes[i])
			stated, left = stated || !free, left || free
		}
	}
	bySize := bestBySize(a)
	if m.Fit != nil && left {
		for i := range m.Fit.Beyond {
			b := &m.Fit.Beyond[i]
			if b.Device != l.Device || b.Index != l.Index || b.Coil != l.Coil || b.Limit.Name != k.Name || b.Case != c.Case || b.Start != while {
				continue
			}
			const largest = " as large as its contacts take"
			switch {
			case stated:
				return fmt.Sprintf("With the stated sizes on its way as they are, sizes alone come to %s at best, every other wire on it%s.", b.Best, largest)
			case bySize == nil || shortOf(k, bySize.Got, b.Best):
				return fmt.Sprintf("Sizes alone do not mend it: at best %s, with every wire on its way%s.", b.Best, largest)
			}
			return ""
		}
	}
	if m.Freed != nil && m.Freed.Unmet[l.Device] && (bySize == nil || !bySize.Meets) {
		return "With the stated sizes on its way left to the program as well a limit on its volts is missed: look at the contacts, the way, the joints, or what shares it."
	}
	return ""
}

// bestBySize is the best of what was tried with other sizes; nil where none was.
func bestBySize(a *margin.Answer) (best *margin.Change) {
	if a == nil {
		return nil
	}
	best = a.Up
	for i := range a.Changes {
		if c := &a.Changes[i]; c.Kind == margin.Larger && (best == nil || unit.Worse(c.Gain, best.Gain)) {
			best = c
		}
	}
	return best
}

// shortOf tells whether one figure of a limit is worse than another.
func shortOf(k *fit.Limit, a, b unit.Voltage) bool {
	if k.Floor {
		return a < b
	}
	return a > b
}

// wiresOf is the wires on the way of a load, out and back.
func wiresOf(m *Model, l *solve.LoadResult, c *solve.CaseResult) (out []int) {
	if c.Net == nil {
		return nil
	}
	for _, way := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range way {
			if s.Element < 0 || s.Element >= len(c.Net.Elements) {
				continue
			}
			if i := c.Net.Elements[s.Element].Wire; i >= 0 && i < len(m.Net.Wires) && !slices.Contains(out, i) {
				out = append(out, i)
			}
		}
	}
	return out
}
