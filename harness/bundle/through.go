package bundle

import (
	"slices"

	"loomsheet/harness/unit"
)

// Through is how thick at the most is what passes a node from edge to edge, such as in a bush there, sleeved, and the edges it comes from and
// goes to. The wires that go from one edge into one other are a bundle of the band that Shared gives; what branches off one edge is no thicker
// than that edge; otherwise several bundles lie together as thick as the trade's figure for so many circles, 1.2 sqrt(sum d2). known is false
// where the outside of a wire is not known, most 0 where nothing passes.
func (b *Bundles) Through(node int) (most unit.Length, edges []int, known bool) {
	var tops []unit.Length
	common := []int(nil)
	known = true
	for i := range b.turns {
		t := &b.turns[i]
		if t.Node != node || node < 0 {
			continue
		}
		if common == nil {
			common = t.Edges[:]
		}
		common = slices.DeleteFunc(slices.Clone(common), func(e int) bool { return !slices.Contains(t.Edges[:], e) })
		_, top := t.MakeUp.Over()
		tops, known = append(tops, top), known && !t.MakeUp.Unknown
		for _, e := range t.Edges {
			if !slices.Contains(edges, e) {
				edges = append(edges, e)
			}
		}
	}
	slices.Sort(edges)
	most = trade(tops)
	if len(tops) > 1 {
		for _, e := range common {
			if _, top := b.Edges[e].Over(); top > 0 && !b.Edges[e].Unknown {
				most = min(most, max(top, slices.Max(tops)))
			}
		}
	}
	return most, edges, known
}
