package joint

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// low tells whether a place in a wet zone is one to which water runs from every side: along each way from it the bundle rises by more than
// level-within before it falls by as much, or leaves the wet. It follows bundles, harness/route the wires themselves.
func (g *ground) low(at loc) bool {
	e := &g.geo.Edges[at.edge]
	if !g.rule(at.edge).wet {
		return false
	}
	level := g.length("level-within", g.rule(at.edge).at)
	here, ok := g.height(at)
	if !ok {
		return false
	}
	w := walk{g: g, from: here, level: level}
	return w.rises(at, e.From) && w.rises(at, e.To)
}

func (g *ground) height(at loc) (unit.Length, bool) {
	e := &g.geo.Edges[at.edge]
	way := g.geo.EdgeWay(at.edge)
	if len(way) == 0 {
		return 0, false
	}
	into := unit.Length(0)
	if e.Length > 0 {
		into = at.into / e.Length * way.Length()
	}
	p, _ := way.At(into)
	return up(g.job, p), true
}

func up(job *design.Job, p design.Point3) unit.Length {
	switch job.Up {
	case "x":
		return p.X
	case "y":
		return p.Y
	}
	return p.Z
}

// walk goes away from a place until it is settled whether water comes from there.
type walk struct {
	g           *ground
	from, level unit.Length
	passed      []int // edges
}

// samples is into how many pieces an edge is cut to read its height off: enough for an arc between two straight pieces.
const samples = 16

// rises tells whether, from a place towards a node of its edge and on from there, the bundle rises first.
func (w *walk) rises(at loc, node int) bool {
	e := &w.g.geo.Edges[at.edge]
	end := unit.Length(0)
	if node == e.To {
		end = e.Length
	}
	for i := 1; i <= samples; i++ {
		h, ok := w.g.height(loc{at.edge, at.into + (end-at.into)*unit.Length(i)/samples})
		switch {
		case !ok || h < w.from-w.level:
			return false
		case h > w.from+w.level:
			return true
		}
	}
	w.passed = append(w.passed, at.edge)
	on := 0
	for _, o := range w.g.around[nodeIn{node, e.Section}] {
		if slices.Contains(w.passed, o) || !w.g.laden[o] {
			continue
		}
		on++
		x := &w.g.geo.Edges[o]
		if !w.g.rule(o).wet || !w.rises(w.g.endOf(o, node), x.Other(node)) {
			return false
		}
	}
	return on > 0
}
