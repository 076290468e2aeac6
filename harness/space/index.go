package space

import "loomsheet/harness/unit"

// index finds edges without going through all of them. One that Lay made has it; a geometry put together by hand is gone through.
type index struct {
	stretches map[stretchKey][]int // edges by station
	lengths   map[stretchKey]reach
	around    [][]int            // edges by node
	laid      map[stretchKey]int // into Geometry.laid
}

type stretchKey struct {
	run     string
	stretch int
}

// reach is the length of a stretch.
type reach struct {
	length unit.Length
	known  bool
}

// buildIndex is called once the edges do not change any more.
func (g *Geometry) buildIndex() {
	x := &index{map[stretchKey][]int{}, map[stretchKey]reach{}, make([][]int, len(g.Nodes)), map[stretchKey]int{}}
	for i := range g.Edges {
		e := &g.Edges[i]
		k := stretchKey{e.Run, e.Stretch}
		x.stretches[k] = append(x.stretches[k], i)
		r, seen := x.lengths[k]
		x.lengths[k] = reach{r.length + e.Length, (r.known || !seen) && !e.Unknown}
		x.around[e.From] = append(x.around[e.From], i)
		if e.To != e.From {
			x.around[e.To] = append(x.around[e.To], i)
		}
	}
	for i := range g.laid {
		k := stretchKey{g.laid[i].run, g.laid[i].stretch}
		if _, ok := x.laid[k]; !ok {
			x.laid[k] = i
		}
	}
	g.index = x
}

// stretch is the edges of a stretch by station; they are not to be changed.
func (g *Geometry) stretch(run string, stretch int) (out []int) {
	if g.index != nil {
		return g.index.stretches[stretchKey{run, stretch}]
	}
	for i := range g.Edges {
		if g.Edges[i].Run == run && g.Edges[i].Stretch == stretch {
			out = append(out, i)
		}
	}
	return out
}
