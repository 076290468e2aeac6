package solve

import (
	"slices"
	"sync"
)

// orderer is what it takes to find an order of elimination.
type orderer struct {
	links               []link
	first               []int32 // link of each node, -1
	deg                 []int32 // neighbours still there
	mark                []int32 // slots by neighbour of the node that is looked at, and one more
	gone                []bool
	queue               degrees
	next, slot, targets []int32
}

// link is a neighbour of a node, gone ones too.
type link struct{ next, node, slot int32 }

// degrees is a heap of degrees and their nodes, a node with fewer neighbours before one with more, of equals the first.
type degrees []uint64

func (q *degrees) push(deg, node int32) {
	x := append(*q, uint64(deg)<<32|uint64(node))
	for k := len(x) - 1; k > 0 && x[k] < x[(k-1)/2]; k = (k - 1) / 2 {
		x[k], x[(k-1)/2] = x[(k-1)/2], x[k]
	}
	*q = x
}

func (q *degrees) pop() (deg, node int32) {
	x := *q
	top, last := x[0], len(x)-1
	x[0] = x[last]
	x = x[:last]
	for k := 0; ; {
		c := 2*k + 1
		if c >= last {
			break
		}
		if c+1 < last && x[c+1] < x[c] {
			c++
		}
		if x[k] <= x[c] {
			break
		}
		x[k], x[c] = x[c], x[k]
		k = c
	}
	*q = x
	return int32(top >> 32), int32(uint32(top))
}

var orderers = sync.Pool{New: func() any { return new(orderer) }}

// fit gives a slice of n in the room of another, whatever is in it.
func fit[T any](in []T, n int) []T {
	if cap(in) < n {
		return make([]T, n)
	}
	return in[:n]
}

// cleared is fit with nothing in it.
func cleared[T any](in []T, n int) []T {
	in = fit(in, n)
	clear(in)
	return in
}

// newPattern orders n nodes joined by edges, all of them unknown: which are references is said when the matrix is taken apart, so that
// one order serves whatever is open and whichever supply lives.
func newPattern(n int, edges [][2]int32) *pattern {
	o := orderers.Get().(*orderer)
	defer orderers.Put(o)
	o.links, o.first, o.deg, o.mark, o.gone = o.links[:0], cleared(o.first, n), cleared(o.deg, n), cleared(o.mark, n), cleared(o.gone, n)
	o.queue, o.next, o.slot, o.targets = o.queue[:0], o.next[:0], o.slot[:0], o.targets[:0]
	for k := range o.first {
		o.first[k] = -1
	}
	p := &pattern{order: make([]int32, 0, n), first: make([]int32, 1, n+1), place: make([]int32, len(edges))}
	for e, ab := range edges {
		p.place[e] = nowhere
		if ab[0] != ab[1] {
			if p.place[e] = o.between(ab[0], ab[1]); p.place[e] < 0 {
				p.place[e] = o.join(ab[0], ab[1])
			}
		}
	}
	for k, d := range o.deg {
		o.queue.push(d, int32(k))
	}
	for len(o.queue) > 0 {
		deg, k := o.queue.pop()
		if o.gone[k] || o.deg[k] != deg {
			continue
		}
		o.gone[k] = true
		p.order = append(p.order, k)
		from := len(o.next)
		for i := o.first[k]; i >= 0; i = o.links[i].next {
			if x := &o.links[i]; !o.gone[x.node] {
				o.next = append(o.next, x.node)
				o.mark[x.node] = x.slot
			}
		}
		around := o.next[from:]
		slices.Sort(around)
		for _, b := range around {
			o.slot = append(o.slot, o.mark[b])
			o.mark[b] = 0
			o.deg[b]--
		}
		o.mesh(around)
		for _, b := range around {
			o.queue.push(o.deg[b], b)
		}
		p.first = append(p.first, int32(len(o.next)))
	}
	p.next, p.slot, p.targets, p.slots = slices.Clone(o.next), slices.Clone(o.slot), slices.Clone(o.targets), len(o.links)/2
	return p
}

// fewAround is up to how many neighbours each pair of them is looked for by itself.
const fewAround = 6

// mesh joins each two of some nodes, and notes the slots in the order of the pairs.
func (o *orderer) mesh(around []int32) {
	for i, a := range around {
		few := len(around) <= fewAround
		if !few {
			for l := o.first[a]; l >= 0; l = o.links[l].next {
				o.mark[o.links[l].node] = o.links[l].slot + 1
			}
		}
		for _, b := range around[i+1:] {
			s := o.mark[b] - 1
			if few {
				s = o.between(a, b)
			}
			if s < 0 {
				s = o.join(a, b)
			}
			o.targets = append(o.targets, s)
		}
		if !few {
			for l := o.first[a]; l >= 0; l = o.links[l].next {
				o.mark[o.links[l].node] = 0
			}
		}
	}
}

// between is the slot of two nodes, -1 where they are not joined: it is looked for among the neighbours of both at once.
func (o *orderer) between(a, b int32) int32 {
	for i, j := o.first[a], o.first[b]; i >= 0 && j >= 0; i, j = o.links[i].next, o.links[j].next {
		if o.links[i].node == b {
			return o.links[i].slot
		}
		if o.links[j].node == a {
			return o.links[j].slot
		}
	}
	return -1
}

func (o *orderer) join(a, b int32) int32 {
	s := int32(len(o.links) / 2)
	o.links = append(o.links, link{o.first[a], b, s}, link{o.first[b], a, s})
	o.first[a], o.first[b] = 2*s, 2*s+1
	o.deg[a]++
	o.deg[b]++
	return s
}
