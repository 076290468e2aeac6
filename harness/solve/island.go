package solve

import "sync/atomic"

// layout is which elements of a net hang together. An island is what its elements join, open ones too: it is the same in whatever way loads
// rest and supplies live, and no current runs from one to another.
type layout struct {
	islands []island
	of, at  []int32 // by node: its island, and its place there
	ofE     []int32 // by element: its island
	atE     []int32 // and its place there
}

// island is the nodes and elements of one, in the order of the net.
type island struct {
	nodes, elements []int32
	ends            [][2]int32              // of its elements, as places among its nodes
	order           atomic.Pointer[pattern] // once it was asked for
}

// pattern is the order in which its nodes are eliminated.
func (s *island) pattern() *pattern {
	p := s.order.Load()
	if p == nil {
		p = patternOf(len(s.nodes), s.ends)
		s.order.Store(p)
	}
	return p
}

func newLayout(nodes int, br []branch) *layout {
	up := make([]int32, nodes)
	for i := range up {
		up[i] = int32(i)
	}
	for i := range br {
		join(up, br[i].from, br[i].to)
	}
	l := &layout{of: make([]int32, nodes), at: make([]int32, nodes), ofE: make([]int32, len(br)), atE: make([]int32, len(br))}
	var count, elements []int32 // by island
	for n := range up {
		if r := root(up, int32(n)); r == int32(n) {
			l.of[n] = int32(len(count))
			count, elements = append(count, 0), append(elements, 0)
		} else {
			l.of[n] = l.of[r] // the least node of an island is its root
		}
		i := l.of[n]
		l.at[n] = count[i]
		count[i]++
	}
	for e := range br {
		i := l.of[br[e].from]
		l.ofE[e], l.atE[e] = i, elements[i]
		elements[i]++
	}
	l.islands = make([]island, len(count))
	allNodes, allElements, allEnds := make([]int32, 0, nodes), make([]int32, 0, len(br)), make([][2]int32, 0, len(br))
	for i := range l.islands {
		s := &l.islands[i]
		n, e := int(count[i]), int(elements[i])
		s.nodes, s.elements, s.ends = allNodes[:0:n], allElements[:0:e], allEnds[:0:e]
		allNodes, allElements, allEnds = allNodes[n:n:cap(allNodes)], allElements[e:e:cap(allElements)], allEnds[e:e:cap(allEnds)]
	}
	for n, i := range l.of {
		l.islands[i].nodes = append(l.islands[i].nodes, int32(n))
	}
	for e, i := range l.ofE {
		s := &l.islands[i]
		s.elements = append(s.elements, int32(e))
		s.ends = append(s.ends, [2]int32{l.at[br[e].from], l.at[br[e].to]})
	}
	return l
}

func root(up []int32, i int32) int32 {
	for up[i] != i {
		up[i] = up[up[i]]
		i = up[i]
	}
	return i
}

// join puts two nodes into one part, whose root is its least node.
func join(up []int32, a, b int32) {
	a, b = root(up, a), root(up, b)
	up[max(a, b)] = min(a, b)
}

// laws are the branches of an island out of those of the net, with their ends counted within it.
func (l *layout) laws(i int32, br []branch) []branch {
	s := &l.islands[i]
	out := make([]branch, len(s.elements))
	for k, e := range s.elements {
		out[k] = br[e]
		out[k].from, out[k].to = s.ends[k][0], s.ends[k][1]
	}
	return out
}

// patch is the operating point of one island, with the laws it was found for. The volts are kept as a sum of two numbers: what matters is
// the difference across a wire of milli-ohms, some ten digits below the volts of its ends. It is never changed once it is made.
type patch struct {
	br        []branch
	part      []int32   // by node: which connected part of the island
	hi, lo    []float64 // by node
	drop      []float64 // by branch
	amps      []float64 // by branch, from from to to; a supply delivers
	bridge    float64   // amps through the solver's bridge
	residual  float64
	converged bool
}

func newPatch(br []branch, part []int32) *patch {
	return patchIn(make([]float64, 2*len(part)+2*len(br)), br, part)
}

// patchIn makes a patch of numbers that are all nought.
func patchIn(all []float64, br []branch, part []int32) *patch {
	n, m := len(part), len(br)
	return &patch{br: br, part: part, hi: all[:n:n], lo: all[n : 2*n : 2*n], drop: all[2*n : 2*n+m : 2*n+m], amps: all[2*n+m:]}
}

// point is an operating point of the net: a patch for each island, or those of another point but for some islands of its own.
type point struct {
	*layout
	all  []*patch
	base *point
	own  []owned // by island
}

type owned struct {
	island int32
	*patch
}

// but is the point with other patches in some islands, in their order.
func (p *point) but(own ...owned) *point {
	if p.base == nil {
		return &point{layout: p.layout, base: p, own: own}
	}
	merged := make([]owned, 0, len(p.own)+len(own))
	for i, k := 0, 0; i < len(p.own) || k < len(own); {
		switch {
		case k == len(own) || i < len(p.own) && p.own[i].island < own[k].island:
			merged = append(merged, p.own[i])
			i++
		case i < len(p.own) && p.own[i].island == own[k].island:
			i++
		default:
			merged = append(merged, own[k])
			k++
		}
	}
	return &point{layout: p.layout, base: p.base, own: merged}
}

// mine is the place of an island's own patch, or of the first one behind it.
func (p *point) mine(island int32) (int, bool) {
	lo, hi := 0, len(p.own)
	for lo < hi {
		if mid := (lo + hi) / 2; p.own[mid].island < island {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo, lo < len(p.own) && p.own[lo].island == island
}

func (p *point) patch(island int32) *patch {
	if p.base == nil {
		return p.all[island]
	}
	if k, ok := p.mine(island); ok {
		return p.own[k].patch
	}
	return p.base.all[island]
}

func (p *point) volts(node int) float64 {
	s, k := p.patch(p.of[node]), p.at[node]
	return s.hi[k] + s.lo[k]
}

func (p *point) drop(e int) float64   { return p.patch(p.ofE[e]).drop[p.atE[e]] }
func (p *point) amps(e int) float64   { return p.patch(p.ofE[e]).amps[p.atE[e]] }
func (p *point) branch(e int) *branch { return &p.patch(p.ofE[e]).br[p.atE[e]] }
func (p *point) together(a, b int) bool {
	s := p.patch(p.of[a])
	return p.of[a] == p.of[b] && s.part[p.at[a]] == s.part[p.at[b]]
}

// laws are those of the elements of the net; their ends are counted within their islands.
func (p *point) laws() []branch {
	br := make([]branch, len(p.ofE))
	p.each(func(i int32, s *patch) {
		for k, e := range p.islands[i].elements {
			br[e] = s.br[k]
		}
	})
	return br
}

// each shows the patches of all islands in their order.
func (p *point) each(do func(island int32, s *patch)) {
	if p.base == nil {
		for i, s := range p.all {
			do(int32(i), s)
		}
		return
	}
	k := 0
	for i, s := range p.base.all {
		if k < len(p.own) && p.own[k].island == int32(i) {
			s = p.own[k].patch
			k++
		}
		do(int32(i), s)
	}
}

// left is the largest current that does not add up, and whether every island was solved.
func (p *point) left() (residual float64, converged bool) {
	converged = true
	p.each(func(_ int32, s *patch) {
		residual, converged = max(residual, s.residual), converged && s.converged
	})
	return residual, converged
}

// flat is the same point standing on nothing else.
func (p *point) flat() *point {
	if p.base == nil {
		return p
	}
	q := &point{layout: p.layout, all: make([]*patch, len(p.islands))}
	p.each(func(i int32, s *patch) { q.all[i] = s })
	return q
}
