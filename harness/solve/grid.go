package solve

import "sync"

// grid solves a net island by island. It keeps the scratch of each, and so is for one user at a time.
type grid struct {
	*layout
	solvers []*solver
}

func newGrid(l *layout) *grid { return &grid{layout: l, solvers: make([]*solver, len(l.islands))} }

// warmed is the grids used last: they are kept, others only as long as memory is not wanted.
var warmed struct {
	sync.Mutex
	grids [4]*grid // the last one first
}

func warm(g *grid) {
	warmed.Lock()
	defer warmed.Unlock()
	k := 0
	for k < len(warmed.grids)-1 && warmed.grids[k] != g {
		k++
	}
	copy(warmed.grids[1:k+1], warmed.grids[:k])
	warmed.grids[0] = g
}

// solver of an island that has the given laws.
func (g *grid) solver(island int32, br []branch) *solver {
	s := g.solvers[island]
	if s == nil {
		s = &solver{island: &g.islands[island]}
		g.solvers[island] = s
	}
	s.use(br)
	return s
}

// solve finds the operating point of the whole net, each island from nothing or as it was.
func (g *grid) solve(br []branch, was *past) *point {
	p := &point{layout: g.layout, all: make([]*patch, len(g.islands))}
	for i := range p.all {
		if p.all[i] = was.patch(g.layout, int32(i), br); p.all[i] != nil {
			continue
		}
		p.all[i] = g.fresh(int32(i), g.laws(int32(i), br))
	}
	return p
}

// fresh solves an island from nothing, unless one of the same laws is remembered.
func (g *grid) fresh(island int32, br []branch) *patch {
	nodes := len(g.islands[island].nodes)
	key := keyOf(nodes, br)
	if s := recall(key, nodes, br); s != nil {
		return s
	}
	s := g.solver(island, br).solve(nil)
	remember(key, s)
	return s
}

// change is another law for an element.
type change struct {
	element int
	law     branch
}

// again solves the islands in which laws change, from the point as it stands. Changes may come in any order.
func (g *grid) again(p *point, changes []change) *point {
	var own []owned
	for _, o := range withLaws(p, changes).own {
		own = append(own, owned{o.island, g.solver(o.island, o.br).solve(p.patch(o.island))})
	}
	return p.but(own...)
}

// bridged solves the island of two nodes of one part with one resistance more between them.
func (g *grid) bridged(p *point, from, to int, ohms float64) *patch {
	i := g.of[from]
	x := p.patch(i)
	s := g.solver(i, x.br)
	b := resistor(g.at[from], g.at[to], ohms)
	s.bridge = &b
	q := s.newton(x)
	if !q.converged {
		q = s.newton(nil)
	}
	s.bridge, s.spans = nil, nil
	return q.delivers()
}
