package margin

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/charge"
	"loomsheet/harness/contact"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/protect"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Tightest finds the n results with least room of those that meet their limit, and what they turn on. What misses its limit is a finding and
// has answers. A load is told once for each limit, a wire once, both in their worst case; loads whose ways are the same are told together,
// and of wires that lie together the one with least room.
func Tightest(job *design.Job, o *fit.Outcome, n int) []Tight {
	if job == nil || o == nil || o.Net == nil || n <= 0 {
		return nil
	}
	return tightest(job, o, n, districtsOf(o))
}

// Find is the n results with least room of those that Tightest and Others find. What they turn on is sought only for those that are told: a
// search solves the net some dozens of times.
func Find(job *design.Job, o *fit.Outcome, p *protect.Result, c *contact.Result, b *charge.Result, n int) []Tight {
	var solved []Tight
	if job != nil && o != nil && o.Net != nil && n > 0 {
		solved = solvedMost(job, o, n)
	}
	out := Merge(n, solved, Others(job, o, p, c, b, n))
	seekRooms(job, o, out, districtsOf(o))
	return out
}

func tightest(job *design.Job, o *fit.Outcome, n int, by districts) []Tight {
	out := solvedMost(job, o, n)
	seekRooms(job, o, out, by)
	return out
}

// solvedMost is the n results on volts and heat with least room.
func solvedMost(job *design.Job, o *fit.Outcome, n int) []Tight {
	out := append(tightVolts(job, o), tightHeat(o)...)
	slices.SortStableFunc(out, func(a, b Tight) int { return unit.Compare(b.Used, a.Used) })
	return out[:min(n, len(out))]
}

// seekRooms finds what the results on volts and heat turn on; others have closed forms.
func seekRooms(job *design.Job, o *fit.Outcome, all []Tight, by districts) {
	var out []*Tight
	for i := range all {
		if x := &all[i]; x.Limit == Heat || x.Held.Name != "" {
			out = append(out, x)
		}
	}
	if len(out) == 0 {
		return
	}
	p, around := newParted(job, o, by), fit.NewSurroundings(job, o)
	each := make([][]func(), len(out))
	solve.Each(len(out), func(i int) {
		if out[i].Wire >= 0 {
			each[i] = heatRooms(p, around, out[i])
		} else {
			each[i] = voltRooms(p, out[i])
		}
	})
	tasks := slices.Concat(each...)
	solve.Each(len(tasks), func(i int) { tasks[i]() })
}

func tightVolts(job *design.Job, o *fit.Outcome) []Tight {
	var out []Tight
	var ways []string
	at := map[key]int{}
	broken := map[key]bool{}
	visit(job, o, func(s Subject, k fit.Limit, c *solve.CaseResult, l *solve.LoadResult) {
		if !k.Met() {
			broken[s.key()] = true
			return
		}
		if !unit.Finite(k.Got) || !unit.Finite(k.Value) {
			return
		}
		x := Tight{Subject: s, Used: usedVolts(&k, noLoad(c, l)), Got: voltage(k.Got), Most: voltage(k.Value), Least: k.Floor, Held: k}
		i, ok := at[s.key()]
		switch {
		case !ok:
			at[s.key()] = len(out)
			out, ways = append(out, x), append(ways, way(c, l))
		case unit.Worse(x.Used, out[i].Used):
			out[i], ways[i] = x, way(c, l)
		}
	})
	first := map[string]int{}
	var kept []Tight
	for i := range out {
		x := &out[i]
		if broken[x.key()] {
			continue
		}
		x.Title = title(job, &x.Subject)
		twin := strings.Join([]string{x.Case, x.Start, x.Limit, ways[i]}, "\x00")
		k, ok := first[twin]
		switch {
		case !ok:
			first[twin] = len(kept)
			kept = append(kept, *x)
		case unit.Worse(x.Used, kept[k].Used):
			x.Also = append(kept[k].Also, kept[k].Title)
			kept[k] = *x
		default:
			kept[k].Also = append(kept[k].Also, x.Title)
		}
	}
	return kept
}

// noLoad is the volts a load would have if nothing flowed: the set-point of its supply, and what others in series with it give.
func noLoad(c *solve.CaseResult, l *solve.LoadResult) unit.Voltage {
	v := l.SupplySet
	for _, way := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range way {
			if s.Element >= 0 && s.Element < len(c.Net.Elements) && c.Net.Elements[s.Element].Kind == solve.Supply {
				v -= s.Drop
			}
		}
	}
	return v
}

func usedVolts(k *fit.Limit, none unit.Voltage) unit.Ratio {
	used, room := float64(k.Got), float64(k.Value)
	if k.Floor {
		used, room = float64(none-k.Got), float64(none-k.Value)
	}
	if !(room > 1e-9) {
		return 1
	}
	return unit.Ratio(math.Min(1, math.Max(0, used/room)))
}

// way names the elements a load's current passes.
func way(c *solve.CaseResult, l *solve.LoadResult) string {
	var b strings.Builder
	for _, steps := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range steps {
			fmt.Fprint(&b, s.Element, " ")
		}
		b.WriteString("/")
	}
	return b.String()
}

func voltage(v unit.Voltage) unit.Quantity {
	return unit.Quantity{Value: float64(v), Dim: unit.DimVoltage}
}

// title is the load as it is told apart from its device's others.
func title(job *design.Job, s *Subject) string {
	name := s.Device
	for _, d := range job.Devices {
		if d.Name != s.Device || d.Pattern {
			continue
		}
		switch {
		case s.Coil && len(d.Coils) > 1 && s.Index < len(d.Coils):
			name += " coil " + d.Coils[s.Index].From.Pin + " - " + d.Coils[s.Index].To.Pin
		case s.Coil:
			name += " coil"
		case len(d.Draws) > 1 && s.Index < len(d.Draws):
			name += " " + d.Draws[s.Index].From.Pin + " - " + d.Draws[s.Index].To.Pin
		}
	}
	return name
}

// usedHeat is the share of a wire's room that is used: of the rise that its limit leaves over the air, or where a table rules the square
// of the share of its current.
func usedHeat(r *heat.WireResult) float64 {
	switch {
	case r.Start != "":
		return float64((r.Peak - r.Ambient) / max(r.Limit-r.Ambient, 1e-9))
	case tabled(r):
		x := float64(r.Effective) / math.Max(float64(r.Ampacity), 1e-9)
		return x * x
	case r.Limit < r.Ambient:
		return math.Inf(1)
	}
	return float64((r.Hottest - r.Ambient) / max(r.Limit-r.Ambient, 1e-9))
}

func tabled(r *heat.WireResult) bool {
	return r.Ruled != heat.Balance && r.Ruled != "" && r.Start == ""
}

func tightHeat(o *fit.Outcome) []Tight {
	if o.Heat == nil {
		return nil
	}
	type place struct {
		c, zone string
		edge    int
	}
	at := map[place]int{}
	var out []Tight
	for i := range o.Heat.Wires {
		r := &o.Heat.Wires[i]
		if !r.Known || !r.Met || r.Runaway || i >= len(o.Net.Wires) {
			continue
		}
		x := Tight{Subject: Subject{Case: r.Case, Start: r.Start, Limit: Heat, Wire: i}, Title: "wire " + o.Net.Wires[i].Name, Used: unit.Ratio(math.Min(1, math.Max(0, usedHeat(r))))}
		if tabled(r) {
			x.Got, x.Most = unit.Quantity{Value: float64(r.Effective), Dim: unit.DimCurrent}, unit.Quantity{Value: float64(r.Ampacity), Dim: unit.DimCurrent}
		} else {
			x.Got, x.Most = unit.Quantity{Value: float64(r.Hottest), Dim: unit.DimTemperature}, unit.Quantity{Value: float64(r.Limit), Dim: unit.DimTemperature}
		}
		p := place{r.Case, r.Zone, r.Edge}
		k, ok := at[p]
		switch {
		case !ok || r.Edge < 0:
			at[p] = len(out)
			out = append(out, x)
		case unit.Worse(x.Used, out[k].Used):
			x.Also = append(out[k].Also, out[k].Title)
			out[k] = x
		default:
			out[k].Also = append(out[k].Also, x.Title)
		}
	}
	for i := range out {
		slices.Sort(out[i].Also)
	}
	return out
}
