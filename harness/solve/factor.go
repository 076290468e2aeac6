package solve

import (
	"container/heap"
	"math"
	"slices"
)

// pattern is the order in which the nodes of a net are eliminated, and where each step writes. Eliminating a node replaces the
// star of conductances around it by the mesh between its neighbours; that is the LDL' factorization of the nodal matrix, but
// written so that conductances are only ever added and multiplied, never taken from one another. It stays exact where a
// micro-ohm joint meets a megohm. Least degree first keeps the meshes small: a tree makes none at all.
type pattern struct {
	order []int32
	// first[k]:first[k+1] is the part of next and slot that belongs to the k-th node eliminated.
	first []int32
	next  []int32 // neighbours still there
	slot  []int32 // their conductances
	// targets holds, pair after pair of those neighbours, the slot the mesh adds to.
	targets []int32
	slots   int
	place   []int32 // by edge: its slot, or nowhere
}

// nowhere is the place of an edge that joins a node to itself.
const nowhere = -1

type degree struct{ deg, node int32 }

type degrees []degree

func (d degrees) Len() int { return len(d) }
func (d degrees) Less(i, j int) bool {
	return d[i].deg < d[j].deg || d[i].deg == d[j].deg && d[i].node < d[j].node
}
func (d degrees) Swap(i, j int) { d[i], d[j] = d[j], d[i] }
func (d *degrees) Push(x any)   { *d = append(*d, x.(degree)) }
func (d *degrees) Pop() any {
	last := (*d)[len(*d)-1]
	*d = (*d)[:len(*d)-1]
	return last
}

// newPattern orders n nodes joined by edges, all of them unknown: which are references is said when the matrix is taken apart, so that
// one order serves whatever is open and whichever supply lives.
func newPattern(n int, edges [][2]int32) *pattern {
	p := &pattern{first: make([]int32, 1, n+1), place: make([]int32, len(edges))}
	slots := make(map[uint64]int32, len(edges))
	near := make([][]int32, n)
	deg := make([]int32, n)
	find := func(a, b int32) (slot int32, fresh bool) {
		key := uint64(min(a, b))<<32 | uint64(max(a, b))
		s, ok := slots[key]
		if ok {
			return s, false
		}
		s = int32(p.slots)
		p.slots++
		slots[key] = s
		near[a] = append(near[a], b)
		near[b] = append(near[b], a)
		deg[a]++
		deg[b]++
		return s, true
	}
	for e, ab := range edges {
		p.place[e] = nowhere
		if ab[0] != ab[1] {
			p.place[e], _ = find(ab[0], ab[1])
		}
	}
	queue := make(degrees, n)
	for k := range queue {
		queue[k] = degree{deg[k], int32(k)}
	}
	heap.Init(&queue)
	gone := make([]bool, n)
	for queue.Len() > 0 {
		top := heap.Pop(&queue).(degree)
		k := top.node
		if gone[k] || deg[k] != top.deg {
			continue
		}
		gone[k] = true
		p.order = append(p.order, k)
		from := len(p.next)
		for _, b := range near[k] {
			if !gone[b] {
				p.next = append(p.next, b)
			}
		}
		near[k] = nil
		around := p.next[from:]
		slices.Sort(around)
		for _, b := range around {
			s, _ := find(k, b)
			p.slot = append(p.slot, s)
			deg[b]--
		}
		for i, a := range around {
			for _, b := range around[i+1:] {
				s, _ := find(a, b)
				p.targets = append(p.targets, s)
			}
		}
		for _, b := range around {
			heap.Push(&queue, degree{deg[b], b})
		}
		p.first = append(p.first, int32(len(p.next)))
	}
	return p
}

// factor is a nodal matrix taken apart.
type factor struct {
	*pattern
	g      []float64 // by slot
	ground []float64 // of each node to the reference
	pivot  []float64 // by step of the elimination
	ratio  []float64 // as next
}

func newFactor(p *pattern) *factor {
	return &factor{pattern: p, g: make([]float64, p.slots), ground: make([]float64, len(p.order)),
		pivot: make([]float64, len(p.order)), ratio: make([]float64, len(p.next))}
}

// set takes apart the matrix with the given slope of each edge; reference tells the nodes that stay at no volts. It is false when the
// matrix is not positive definite, which only a falling slope (a load of constant power) can bring about.
func (f *factor) set(slopes []float64, reference []bool) bool {
	clear(f.g)
	clear(f.ground)
	for e, s := range slopes {
		if at := f.place[e]; at != nowhere {
			f.g[at] += s
		}
	}
	target := 0
	for step, k := range f.order {
		lo, hi := f.first[step], f.first[step+1]
		if reference[k] { // what joins it joins the reference
			f.pivot[step] = math.Inf(1)
			for i := lo; i < hi; i++ {
				f.ratio[i] = 0
				f.ground[f.next[i]] += f.g[f.slot[i]]
			}
			target += int(hi-lo) * int(hi-lo-1) / 2
			continue
		}
		d := f.ground[k]
		size := abs(d)
		for _, s := range f.slot[lo:hi] {
			d += f.g[s]
			size += abs(f.g[s])
		}
		if !(d > 1e-12*size) {
			return false
		}
		f.pivot[step] = d
		for i := lo; i < hi; i++ {
			r := f.g[f.slot[i]] / d
			f.ratio[i] = r
			f.ground[f.next[i]] += r * f.ground[k]
		}
		for i := lo; i < hi; i++ {
			for j := i + 1; j < hi; j++ {
				f.g[f.targets[target]] += f.ratio[i] * f.g[f.slot[j]]
				target++
			}
		}
	}
	return true
}

// solve replaces b, the currents into the nodes, by their volts.
func (f *factor) solve(b []float64) {
	for step, k := range f.order {
		x := b[k]
		if x == 0 {
			continue
		}
		for i := f.first[step]; i < f.first[step+1]; i++ {
			b[f.next[i]] += f.ratio[i] * x
		}
	}
	for step := len(f.order) - 1; step >= 0; step-- {
		k := f.order[step]
		x := b[k] / f.pivot[step]
		for i := f.first[step]; i < f.first[step+1]; i++ {
			x += f.ratio[i] * b[f.next[i]]
		}
		b[k] = x
	}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
