package protect

import (
	"slices"

	"loomsheet/harness/solve"
)

// starting tells which starts of a case may move what an element carries.
type starting struct {
	part []int         // by node: the part of the net it lies in, by whatever its elements join, open ones too
	in   map[int][]int // by part: the starts of devices with a load in it, ascending
	any  []int         // starts of which only the currents are known
}

func (t *tracer) startsOf(c *solve.CaseResult) starting {
	s := starting{in: map[int][]int{}}
	if len(c.Starts) == 0 {
		return s
	}
	s.part = t.partsOf(c.Net)
	at := map[string]int{}
	for n := range c.Starts {
		at[c.Starts[n].Device] = n
	}
	solved := make([]bool, len(c.Starts))
	for e := range c.Net.Elements {
		x := &c.Net.Elements[e]
		if x.Kind != solve.Load && x.Kind != solve.Coil {
			continue
		}
		n, ok := at[x.Device]
		if !ok || c.Starts[n].Net != c.Net {
			continue
		}
		solved[n] = solved[n] || c.Starts[n].MovesNode(x.From)
		s.in[s.part[x.From]] = append(s.in[s.part[x.From]], n)
	}
	for n, ok := range solved {
		if !ok {
			s.any = append(s.any, n)
		}
	}
	for p, list := range s.in {
		list = append(list, s.any...)
		slices.Sort(list)
		s.in[p] = slices.Compact(list)
	}
	return s
}

// at lists the starts that may move an element, in the order of the case.
func (s *starting) at(e *solve.Element) []int {
	if s.part != nil {
		if list, ok := s.in[s.part[e.From]]; ok {
			return list
		}
	}
	return s.any
}

// partsOf tells by node of a net which part of it the node lies in. The variants of a case have one net.
func (t *tracer) partsOf(nw *solve.Network) []int {
	if up, ok := t.parts[nw]; ok {
		return up
	}
	up := make([]int, len(nw.Nodes))
	for i := range up {
		up[i] = i
	}
	root := func(i int) int {
		for up[i] != i {
			up[i] = up[up[i]]
			i = up[i]
		}
		return i
	}
	for i := range nw.Elements {
		a, b := root(nw.Elements[i].From), root(nw.Elements[i].To)
		up[max(a, b)] = min(a, b)
	}
	for i := range up {
		up[i] = root(i)
	}
	t.parts[nw] = up
	return up
}
