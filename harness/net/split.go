package net

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
)

// Passage is one passage of a cable through a break.
type Passage struct {
	Break, Cable string
	Crossings    []int // of the net: its cores in order, then its screens; of two and more
	Beside       bool  // its cavities hang together, each beside another of them
	Decided      bool  // a cavity of it was decided by hand
}

// Passages lists every passage of a cable through a break, by break and cable: of each core the first crossing, then the second ones. One without
// a cavity, or through a housing that nobody knows, is left out.
func Passages(job *design.Job, n *Net) []Passage {
	type key struct {
		brk, cable string
		nth        int
	}
	type core struct {
		brk, cable string
		core       int
		kind       WireKind
	}
	order := make([]int, len(n.Crossings))
	for i := range order {
		order[i] = i
	}
	wire := func(i int) *Wire {
		if w := &n.Wires[n.Crossings[i].Wires[0]]; w.Cable != "" {
			return w
		}
		return &n.Wires[n.Crossings[i].Wires[1]]
	}
	slices.SortStableFunc(order, func(x, y int) int {
		p, q := wire(x), wire(y)
		return cmp.Or(design.Natural(n.Crossings[x].Break, n.Crossings[y].Break), design.Natural(p.Cable, q.Cable), cmp.Compare(p.Link, q.Link), cmp.Compare(p.Piece, q.Piece),
			cmp.Compare(p.Strand, q.Strand), cmp.Compare(x, y))
	})
	seen := map[core]int{}
	at := map[key]int{}
	var out []Passage
	for _, i := range order {
		c, w := &n.Crossings[i], wire(i)
		if w.Cable == "" || c.Cavity == "" {
			continue
		}
		k := core{c.Break, w.Cable, w.Core, w.Kind}
		p := key{c.Break, w.Cable, seen[k]}
		seen[k]++
		if _, ok := at[p]; !ok {
			at[p] = len(out)
			out = append(out, Passage{Break: c.Break, Cable: w.Cable})
		}
		out[at[p]].Crossings = append(out[at[p]].Crossings, i)
	}
	breaks := design.Index(job.Breaks, func(b *design.Break) string { return b.Name })
	whole := out[:0]
	for _, p := range out {
		if len(p.Crossings) > 1 && p.weigh(job, n, breaks[p.Break], wire) {
			whole = append(whole, p)
		}
	}
	return whole
}

// weigh looks where the cavities of a passage lie; false where nothing is known of the housing.
func (p *Passage) weigh(job *design.Job, n *Net, of *design.Break, wire func(int) *Wire) bool {
	if of == nil {
		return false
	}
	slices.SortStableFunc(p.Crossings, func(x, y int) int {
		return cmp.Or(cmp.Compare(wire(x).Kind, wire(y).Kind), cmp.Compare(wire(x).Core, wire(y).Core))
	})
	b := &builder{job: job, housings: map[string]*design.Housing{}}
	for _, x := range job.Parts.Housings {
		first(b.housings, x.Name, x)
	}
	face := faceOf(b.cavities(of))
	if len(face) == 0 {
		return false
	}
	var cavities []int
	for _, i := range p.Crossings {
		c := &n.Crossings[i]
		p.Decided = p.Decided || c.Status != design.Computed
		k := slices.IndexFunc(face, func(x design.HousingCavity) bool { return x.Name == c.Cavity })
		if k < 0 {
			return false
		}
		cavities = append(cavities, k)
	}
	p.Beside = Together(Beside(face, besideWithin(job, of)), cavities)
	return true
}
