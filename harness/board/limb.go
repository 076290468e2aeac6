package board

import (
	"cmp"
	"slices"
)

// limb is a line of bundles before and after it is laid.
type limb struct {
	spans   []span
	parent  int     // of the job's limbs; -1 a trunk
	joint   int     // where it begins
	hangs   float64 // where that is on its parent, true station
	length  float64
	holder  int       // index into the layer's ends of the holder at its end, -1 none; of a limb without spans: of what it holds
	radius  float64   // of the centre line where it is folded
	stops   []float64 // true stations at which it may not be bent: nodes and splices
	weight  float64   // of all that hangs on it
	kids    []int
	ordinal int // in the order in which limbs were found
}

// span is one edge along a limb.
type span struct {
	edge    int
	reverse bool
	length  float64
	half    float64 // of the bundle's outside
	joint   int     // at its end
}

// limbs takes a tree apart: the trunk, and what goes off it, heaviest first, each going on along its heaviest way. Weight is length times
// outside, which is about the copper and sleeve in it, and what anybody sees as the trunk.
func (l *layer) limbs(edges []int) []int {
	g := l.graph
	weight := func(e int) float64 { return float64(g.length(e)*max(g.outside(e), 1)) + 1e-6 } // the least keeps bundles of no length on the way
	start := g.joint[tipOf(edges[0], false)]
	far, _ := l.heaviest(start, -1, weight)
	from := far
	_, path := l.heaviest(from, -1, weight)
	// Drawn from the end with the edge that comes first, so that the order of joints does not show.
	if len(path) > 0 && path[0].edge() > path[len(path)-1].edge() {
		path = reversed(path)
		from = g.joint[path[0]]
	}
	first := len(l.all)
	l.add(path, -1, from, 0)
	for i := first; i < len(l.all); i++ {
		l.branch(i, weight)
	}
	var out []int
	for i := len(l.all) - 1; i >= first; i-- {
		b := l.all[i]
		for _, s := range b.spans {
			b.weight += weight(s.edge)
		}
		b.weight += 1 // a holder weighs a little, so that it comes after what is laid straight on
		if b.parent >= 0 {
			p := l.all[b.parent]
			p.weight += b.weight
		}
	}
	for i := first; i < len(l.all); i++ {
		out = append(out, i)
	}
	return out
}

func reversed(path []tip) []tip {
	out := slices.Clone(path)
	slices.Reverse(out)
	for i := range out {
		out[i] ^= 1
	}
	return out
}

// heaviest is the joint at the end of the heaviest way from a joint, and the way as tips that it leaves by; without names the tip by which
// it may not leave, -1 none.
func (l *layer) heaviest(from int, without tip, weight func(int) float64) (int, []tip) {
	type step struct {
		joint  int
		by     tip // left the joint before by it
		before int // index of the step before
		sum    float64
	}
	steps := []step{{joint: from, by: -1, before: -1}}
	best := 0
	for i := 0; i < len(steps); i++ {
		s := steps[i]
		if s.sum > steps[best].sum {
			best = i
		}
		for _, t := range l.graph.at[s.joint] {
			if t == without || s.by >= 0 && t == s.by^1 {
				continue
			}
			steps = append(steps, step{l.graph.far(t), t, i, s.sum + weight(t.edge())})
		}
	}
	var path []tip
	for i := best; steps[i].before >= 0; i = steps[i].before {
		path = append(path, steps[i].by)
	}
	slices.Reverse(path)
	return steps[best].joint, path
}

// add makes a limb of a way.
func (l *layer) add(path []tip, parent, joint int, hangs float64) int {
	b := &limb{parent: parent, joint: joint, hangs: hangs, holder: -1, ordinal: len(l.all)}
	for _, t := range path {
		s := span{edge: t.edge(), reverse: t%2 == 1, length: l.graph.length(t.edge()), joint: l.graph.far(t)}
		s.half = l.graph.outside(t.edge()) / 2
		b.length += s.length
		b.radius = max(b.radius, l.bend(t.edge()))
		b.spans = append(b.spans, s)
	}
	l.all = append(l.all, b)
	if parent >= 0 {
		l.all[parent].kids = append(l.all[parent].kids, len(l.all)-1)
	}
	return len(l.all) - 1
}

// branch adds what leaves a limb, and the holders of what ends along it.
func (l *layer) branch(n int, weight func(int) float64) {
	b := l.all[n]
	station := 0.0
	came := tip(-1)
	for k := -1; k < len(b.spans); k++ {
		joint := b.joint
		if k >= 0 {
			station += b.spans[k].length
			joint = b.spans[k].joint
			came = tipOf(b.spans[k].edge, !b.spans[k].reverse)
		}
		if k < 0 && b.parent >= 0 {
			continue // that joint belongs to its parent
		}
		going := tip(-1)
		if k+1 < len(b.spans) {
			going = tipOf(b.spans[k+1].edge, b.spans[k+1].reverse)
		}
		type off struct {
			t   tip
			sum float64
		}
		var offs []off
		for _, t := range l.graph.at[joint] {
			if t == came || t == going {
				continue
			}
			sum := 0.0
			_, path := l.heaviest(l.graph.far(t), t^1, weight)
			for _, p := range append(path, t) {
				sum += weight(p.edge())
			}
			offs = append(offs, off{t, sum})
		}
		slices.SortStableFunc(offs, func(a, b off) int { return cmp.Or(cmp.Compare(b.sum, a.sum), cmp.Compare(a.t, b.t)) })
		if len(offs) > 0 || len(l.endsAt[joint]) > 0 || l.spliced[joint] {
			b.stops = append(b.stops, station)
		}
		for _, o := range offs {
			_, path := l.heaviest(l.graph.far(o.t), o.t^1, weight)
			l.add(append([]tip{o.t}, path...), n, joint, station)
		}
		for i, e := range l.endsAt[joint] {
			if i == 0 && k == len(b.spans)-1 && len(offs) == 0 && k >= 0 {
				b.holder = e
				continue
			}
			h := l.add(nil, n, joint, station)
			l.all[h].holder = e
		}
	}
}
