package fix

import (
	"math"
	"strconv"
	"strings"
)

// mark names the clips run-1, run-2 ... along each run. A stated one keeps its name, one in a stated hole takes the hole's; a computed name is
// never that of a stated clip or of a hole.
func (m *maker) mark(all []held) {
	taken := map[string]bool{}
	for _, f := range m.job.Fixings {
		taken[f.Name] = true
	}
	fixing := map[string]bool{}
	for k := range taken {
		fixing[k] = true
	}
	for _, h := range m.job.Holes {
		taken[h.Name] = true
	}
	inHole := map[string]bool{}
	next, run := 1, ""
	for i := range all {
		c := &all[i]
		if i == 0 || c.run != run {
			next, run = 1, c.run
		}
		switch {
		case c.Why == "fixed":
		case c.Hole != "" && !fixing[c.Hole] && !inHole[c.Hole]:
			c.Mark = c.Hole
			inHole[c.Hole] = true
		default:
			for taken[nameOf(c.run, next)] {
				next++
			}
			c.Mark = nameOf(c.run, next)
			taken[c.Mark] = true
			next++
			continue
		}
		if n, ok := ordinal(c.run, c.Mark); ok && n >= next {
			next = n + 1
		}
	}
}

func nameOf(run string, n int) string { return run + "-" + strconv.Itoa(n) }

// ordinal is the number in a mark of that run.
func ordinal(run, name string) (int, bool) {
	rest, ok := strings.CutPrefix(name, run+"-")
	n, err := strconv.Atoi(rest)
	return n, ok && err == nil && n > 0 && n < math.MaxInt32
}
