package board

import (
	"cmp"
	"slices"

	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Find lays out every section that has a bundle, by section and number. It changes none of its inputs. Bundles of unknown length are
// told as left; everything else is laid.
func Find(job *design.Job, nt *net.Net, bundles *bundle.Bundles, plan *bench.Plan) []Board {
	if nt == nil || nt.Space == nil || bundles == nil || plan == nil {
		return nil
	}
	shop := newShop(job, nt, bundles)
	boards := make([][]Board, len(plan.Sections))
	solve.Each(len(boards), func(i int) { boards[i] = shop.section(&plan.Sections[i]) })
	return slices.Concat(boards...)
}

func (s *shop) section(sec *bench.SectionPlan) []Board {
	g := s.gathered(sec.Name)
	if len(g.edges)+len(g.unknown) == 0 {
		return nil
	}
	l := &layer{graph: g, bend: bender(s.job, s.net, s.bundles)}
	get := func(name string) float64 {
		x := s.job.Settings.Get(name, design.Scope{Section: sec.Name}).Value.Quantity.Value
		if !unit.Finite(unit.Length(x)) || x < 0 {
			return 0
		}
		return min(x, 1e6)
	}
	l.rules = rules{w: get("board-width"), h: get("board-height"), edge: get("board-edge"), gap: max(get("board-gap"), 1), peg: max(get("board-peg"), 20), stub: max(get("board-stub"), 10),
		holder: get("board-holder"), holderHalf: get("board-holder-width") / 2, tail: max(get("tail"), 5)}
	l.findEnds(s, sec)
	trees := g.trees()
	var limbs [][]int
	for _, t := range trees {
		limbs = append(limbs, l.limbs(t))
	}
	slices.SortStableFunc(limbs, func(a, b []int) int { return cmp.Compare(l.all[b[0]].weight, l.all[a[0]].weight) })
	sheets, missing := l.layAll(limbs)
	var out []Board
	for i := range max(1, len(sheets)) {
		b := Board{Section: sec.Name, Number: i + 1, Of: max(1, len(sheets)), Width: unit.Length(l.rules.w), Height: unit.Length(l.rules.h), Edge: unit.Length(l.rules.edge),
			Gap: unit.Length(l.rules.gap), PegSpan: unit.Length(l.rules.peg), Holder: [2]unit.Length{unit.Length(l.rules.holder), unit.Length(2 * l.rules.holderHalf)}}
		if i < len(sheets) {
			w := &writer{layer: l, shop: s, sec: sec, trees: limbs}
			w.write(&b, sheets[i])
		}
		out = append(out, b)
	}
	last := &out[len(out)-1]
	for _, n := range missing {
		if len(l.all[n].spans) > 0 {
			last.Left = append(last.Left, l.leftOf(n))
		}
	}
	for _, e := range g.unknown {
		ed := &g.geo.Edges[e]
		last.Left = append(last.Left, Left{Limb: g.geo.Text(ed.From) + " to " + g.geo.Text(ed.To), Piece: ed.Run, Unknown: true, Span: ed.Span})
	}
	return out
}

// leftOf is a limb without a place.
func (l *layer) leftOf(n int) Left {
	top := n
	for l.all[top].parent >= 0 {
		top = l.all[top].parent
	}
	return Left{Piece: l.limbName(top), Limb: l.limbName(n), Length: unit.Length(l.all[n].length), Span: l.graph.geo.Edges[l.all[n].spans[0].edge].Span}
}

// text of a joint.
func (l *layer) text(joint int) string { return l.graph.geo.Text(l.graph.node[joint]) }

func (l *layer) limbName(n int) string {
	b := l.all[n]
	if len(b.spans) == 0 {
		if b.holder >= 0 {
			return l.ends[b.holder].title
		}
		return l.text(b.joint)
	}
	return l.text(b.joint) + " to " + l.text(b.spans[len(b.spans)-1].joint)
}

// bender is the radius of the centre line to which the bundle of an edge is folded: by the same settings as in the vehicle, the largest of
// those for its thickest wire, for the whole of it and for its cables, on its inner side.
func bender(job *design.Job, nt *net.Net, bundles *bundle.Bundles) func(int) float64 {
	factor := func(name string, edge int) float64 {
		e := &nt.Space.Edges[edge]
		x := job.Settings.Get(name, design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}).Value.Quantity.Value
		if !unit.Finite(unit.Ratio(x)) || x < 0 {
			return 0
		}
		return x
	}
	return func(edge int) float64 {
		m := &bundles.Edges[edge]
		_, top := m.Over()
		if m.Unknown || !(top > 0 && top < 1e6) {
			return factor("bend-radius", edge)
		}
		inner := factor("bend-bundle", edge) * float64(top)
		for _, p := range m.Pieces {
			switch {
			case p.Bend > 0:
				inner = max(inner, float64(p.Bend))
			case p.Cable != "":
				inner = max(inner, factor("bend-cable", edge)*float64(p.Outside))
			default:
				inner = max(inner, factor("bend-wire", edge)*float64(p.Outside))
			}
		}
		return inner + float64(top)/2
	}
}
