package bundle

import (
	"cmp"
	"slices"
)

// On lists the wires in an edge, in the order of the net.
func (b *Bundles) On(edge int) []int {
	if edge < 0 || edge >= len(b.on) {
		return nil
	}
	return b.on[edge]
}

// Laden cuts edges that follow one another into the parts in which wires lie.
func (b *Bundles) Laden(edges []int) [][]int {
	var out [][]int
	open := false
	for _, e := range edges {
		if len(b.On(e)) == 0 {
			open = false
			continue
		}
		if !open {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], e)
		open = true
	}
	return out
}

// Turns lists every pair of edges between which wires pass, by their edges.
func (b *Bundles) Turns() []Turn { return b.turns }

// Shared is the make-up of the wires that pass from one edge into another, in either direction; the zero MakeUp if none do.
func (b *Bundles) Shared(e, f int) MakeUp {
	k := pair(e, f)
	i, ok := slices.BinarySearchFunc(b.turns, k, func(t Turn, k [2]int) int { return compare(t.Edges, k) })
	if !ok {
		return MakeUp{}
	}
	return b.turns[i].MakeUp
}

func pair(e, f int) [2]int { return [2]int{min(e, f), max(e, f)} }

func compare(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
