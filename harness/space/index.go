package space

import "loomsheet/harness/unit"

// index finds edges without going through all of them. One that Lay made has it; a geometry put together by hand is gone through.
type index struct {
	stretches map[stretchKey]found
	around    [][]int // edges by node
}

// found is what is known of a stretch.
type found struct {
	edges []int // by station
	reach
	laid int // into Geometry.laid; -1: not there
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
	x := &index{map[stretchKey]found{}, make([][]int, len(g.Nodes))}
	at := func(k stretchKey) found {
		f, met := x.stretches[k]
		if !met {
			f.laid = -1
		}
		return f
	}
	for i := range g.Edges {
		e := &g.Edges[i]
		k := stretchKey{e.Run, e.Stretch}
		f := at(k)
		f.reach = reach{f.length + e.Length, (f.known || len(f.edges) == 0) && !e.Unknown}
		f.edges = append(f.edges, i)
		x.stretches[k] = f
		x.around[e.From] = append(x.around[e.From], i)
		if e.To != e.From {
			x.around[e.To] = append(x.around[e.To], i)
		}
	}
	for i := range g.laid {
		k := stretchKey{g.laid[i].run, g.laid[i].stretch}
		if f := at(k); f.laid < 0 {
			f.laid = i
			x.stretches[k] = f
		}
	}
	g.index = x
}

// stretch is the edges of a stretch by station; they are not to be changed.
func (g *Geometry) stretch(run string, stretch int) (out []int) {
	if g.index != nil {
		return g.index.stretches[stretchKey{run, stretch}].edges
	}
	for i := range g.Edges {
		if g.Edges[i].Run == run && g.Edges[i].Stretch == stretch {
			out = append(out, i)
		}
	}
	return out
}
