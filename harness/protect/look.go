package protect

import (
	"slices"
	"sync/atomic"

	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Look is a result, and what it takes to ask on from it.
type Look struct {
	*Result
	by    *weigher
	order []order // by short
}

// Bears tells of some wires, whose sizes are others than those that were looked at, whether each would bear the overload that its fuses let pass and the short
// that was found to heat it most. What can flow is taken as it was found. Larger wires let more pass, so that only another look tells for certain.
func (l *Look) Bears(sizes size.Sizes, warm Warming, wires []int) []bool {
	g := *l.by
	g.sizes, g.warm = sizes, warm
	g.wires, g.rests = slices.Clone(g.wires), make([]atomic.Uint64, len(g.wires))
	out := make([]bool, len(wires))
	inParts(len(wires), func(n int) {
		i := wires[n]
		share := g.wires[i].share
		g.wires[i] = g.standing(i)
		g.wires[i].share = share
		out[n] = g.bears(&g.res.Wires[i])
	})
	return out
}

func (g *weigher) bears(w *WireResult) bool {
	if !g.wires[w.Wire].known {
		return true
	}
	if o := g.worst(w, false); o != nil && !o.Met {
		return false
	}
	s := w.Short
	if s == nil || !g.res.Shorts[s.Short].grows(s) {
		return true
	}
	steps := s.Steps
	if steps == nil {
		steps = []Step{{s.Amps, s.Latest}}
	}
	return g.bear(w.Wire, steps, false).Met
}

// worst is the overload that a fuse before a known wire lets it bear worst; nil if none can. Not finely only whether it is met counts.
func (g *weigher) worst(w *WireResult, fine bool) (out *Overload) {
	worst := -1.0
	for n, f := range w.By {
		fuse := g.fuses[f]
		beside := unit.Current(0)
		if n < len(w.Beside) {
			beside = w.Beside[n]
		}
		if fuse == nil || !(fuse.Rating > 0) {
			continue
		}
		for _, s := range stretches(fuse.Gate) {
			o, used, ok := g.overload(w.Wire, fuse, s, beside)
			if ok && fine && o.Latest != Never && unit.Worse(used, worst) {
				used = g.brings(w.Wire, &o, true)
			}
			if ok && unit.Worse(used, worst) {
				worst, out = used, &o
			}
		}
	}
	return out
}
