package solve

import "math"

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

// factor is a nodal matrix taken apart.
type factor struct {
	*pattern
	g      []float64 // by slot
	ground []float64 // of each node to the reference
	pivot  []float64 // by step of the elimination
	ratio  []float64 // as next
}

func newFactor(p *pattern) *factor {
	f := &factor{}
	f.use(p)
	return f
}

// use takes another order, in the same room.
func (f *factor) use(p *pattern) {
	f.pattern, f.g, f.ground, f.pivot, f.ratio = p, fit(f.g, p.slots), fit(f.ground, len(p.order)), fit(f.pivot, len(p.order)), fit(f.ratio, len(p.next))
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
