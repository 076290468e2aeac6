package contact

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// way is elements in a row between two points: a wire with what joins it at both ends, on through breaks.
type way struct {
	from, to int // points; from <= to
	wires    []int
	amps     float64
	best     float64 // resistance with its contacts as good as they may be
	usual    float64 // with its contacts nominal and aged
}

// shares is what parallel ways carry in one case; a wire is listed once.
func (f *finder) shares(c *solve.CaseResult) (out []WireShare) {
	if c == nil || c.Net == nil {
		return nil
	}
	ways := f.ways(c)
	beside := map[[2]int][]int{}
	var order [][2]int
	for i := range ways {
		k := [2]int{ways[i].from, ways[i].to}
		if beside[k] == nil {
			order = append(order, k)
		}
		beside[k] = append(beside[k], i)
	}
	for _, k := range order {
		group := beside[k]
		if len(group) < 2 {
			continue
		}
		total, usual := 0.0, 0.0
		said := 0.0
		for _, i := range group {
			total += ways[i].amps
			usual += 1 / ways[i].usual
			for _, w := range ways[i].wires {
				said = max(said, float64(f.nt.Wires[w].Carries))
			}
		}
		total = max(total, said)
		for _, i := range group {
			best := 1 / ways[i].best
			share := total * best / (usual - 1/ways[i].usual + best)
			for _, w := range ways[i].wires {
				out = append(out, WireShare{Wire: w, Case: c.Case, Amps: unit.Current(ways[i].amps), Shared: unit.Current(max(share, ways[i].amps)), Parallel: len(group)})
			}
		}
	}
	return out
}

// ways finds the rows of elements of a case.
func (f *finder) ways(c *solve.CaseResult) []way {
	els := c.Net.Elements
	point := f.points(c)
	at := make([][]int, len(c.Net.Nodes)) // by point, the elements there
	for i := range els {
		a, b := point[els[i].From], point[els[i].To]
		if a == b {
			continue
		}
		at[a], at[b] = append(at[a], i), append(at[b], i)
	}
	touches := f.touches(c)
	seen := make([]bool, len(els))
	var out []way
	for i := range els {
		if seen[i] || !inRow(els[i].Kind) || point[els[i].From] == point[els[i].To] {
			continue
		}
		seen[i] = true
		row := []int{i}
		ends := [2]int{point[els[i].From], point[els[i].To]}
		for k := range ends {
			for len(at[ends[k]]) == 2 && ends[0] != ends[1] {
				next := at[ends[k]][0]
				if seen[next] {
					next = at[ends[k]][1]
				}
				if seen[next] || !inRow(els[next].Kind) {
					break
				}
				seen[next] = true
				row = append(row, next)
				ends[k] = point[els[next].From] + point[els[next].To] - ends[k]
			}
		}
		if ends[0] == ends[1] {
			continue
		}
		out = append(out, f.way(c, row, ends, touches))
	}
	return out
}

// inRow tells whether an element may lie in a way.
func inRow(k solve.ElementKind) bool {
	switch k {
	case solve.Wire, solve.Contact, solve.Lug, solve.SpliceJoint, solve.Post, solve.Join:
		return true
	}
	return false
}

// points makes one point of the pins that a device joins by metal no worse than a joint nobody stated.
func (f *finder) points(c *solve.CaseResult) []int {
	root := make([]int, len(c.Net.Nodes))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for i := range c.Net.Elements {
		e := &c.Net.Elements[i]
		if e.Kind != solve.Join {
			continue
		}
		at := design.Scope{Device: e.Device, Case: c.Case}
		if d := f.devices[e.Device]; d != nil {
			at.Class, at.Zone, at.Section = d.Class, d.Zone, d.Section
		}
		if float64(c.Net.Resistance(i)) <= f.number("joint-resistance", at)*math.Max(1, f.number("joint-age", at))*(1+1e-9) {
			a, b := find(e.From), find(e.To)
			root[max(a, b)] = min(a, b)
		}
	}
	for i := range root {
		root[i] = find(i)
	}
	return root
}

// touches lists the ends of wires at each node of a case.
func (f *finder) touches(c *solve.CaseResult) [][]end {
	count := make([]int, len(c.Net.Nodes))
	each := func(do func(node int, e end)) {
		for i := range c.Net.Elements {
			if e := &c.Net.Elements[i]; e.Kind == solve.Wire && e.Wire >= 0 && e.Wire < len(f.nt.Wires) {
				do(e.From, end{e.Wire, 0})
				do(e.To, end{e.Wire, 1})
			}
		}
	}
	all := 0
	each(func(n int, _ end) { count[n]++; all++ })
	out, room := make([][]end, len(count)), make([]end, all)
	for n, k := range count {
		out[n], room = room[:0:k], room[k:]
	}
	each(func(n int, e end) { out[n] = append(out[n], e) })
	return out
}

func (f *finder) way(c *solve.CaseResult, row []int, ends [2]int, touches [][]end) way {
	w := way{from: min(ends[0], ends[1]), to: max(ends[0], ends[1])}
	for _, i := range row {
		e := &c.Net.Elements[i]
		if i < len(c.Point.Amps) && unit.Finite(c.Point.Amps[i]) {
			w.amps = max(w.amps, math.Abs(float64(c.Point.Amps[i])))
		}
		if e.Kind == solve.Wire && e.Wire >= 0 && e.Wire < len(f.nt.Wires) {
			w.wires = append(w.wires, e.Wire)
		}
		if e.Kind != solve.Contact || len(touches[e.From])+len(touches[e.To]) == 0 {
			w.best += float64(c.Net.Resistance(i))
			w.usual += float64(c.Net.Resistance(i))
			continue
		}
		// Of a mated pair whose halves name different parts the greater is the usual one, the lesser the best.
		usual, best := 0.0, math.Inf(1)
		for _, at := range [2][]end{touches[e.From], touches[e.To]} {
			for _, t := range at {
				x := f.fact(t, c.Case)
				usual = max(usual, x.nominal*math.Max(0, x.age))
				best = min(best, x.low)
			}
		}
		w.usual += usual
		w.best += best
	}
	const least = 1e-9 // ohm: no way is without any
	w.usual, w.best = max(w.usual, least), max(w.best, least)
	return w
}
