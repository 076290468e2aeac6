package solve

import (
	mathbits "math/bits"
	"slices"
	"sync"
)

// grid solves a net island by island. It keeps the scratch of those solved last, and so is for one user at a time.
type grid struct {
	*layout
	solvers []*solver // by island, nil where there is none
	held    []int32   // islands that have one, the last used at the end
	size    int       // elements of those
	tries   []branch  // laws of the island that is tried
	room    room
}

// mostHeld bounds the islands and mostScratch the elements of those whose scratch a grid keeps.
const (
	mostHeld    = 32
	mostScratch = 1 << 14
)

// idle is scratch that is free, by how many bits the number of its elements has: what is large is not for small islands.
var idle [33]sync.Pool

func (s *island) idle() *sync.Pool { return &idle[mathbits.Len32(uint32(len(s.elements)))] }

// room is where one patch at a time is worked out that nobody keeps: of the thousands of starts and shorts that are tried.
type room struct {
	all  []float64
	lent bool
	free bool // the next patch may have it
}

// patch is made in the room if that is free, else by itself. Without a room it is made by itself.
func (r *room) patch(br []branch, part []int32) *patch {
	if r == nil || !r.free || r.lent {
		return newPatch(br, part)
	}
	n := 2*len(part) + 2*len(br)
	if cap(r.all) < n {
		r.all = make([]float64, n)
	}
	r.lent = true
	all := r.all[:n]
	clear(all)
	return patchIn(all, br, part)
}

// has tells whether a patch was made there.
func (r *room) has(p *patch) bool {
	return r.lent && len(p.hi) > 0 && len(r.all) > 0 && &p.hi[0] == &r.all[0]
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
		for len(g.held) > 0 && (len(g.held) >= mostHeld || g.size+len(br) > mostScratch) {
			g.drop(g.held[0])
			g.held = slices.Delete(g.held, 0, 1)
		}
		at := &g.islands[island]
		if s, _ = at.idle().Get().(*solver); s == nil {
			s = &solver{}
		}
		s.island, s.room = at, &g.room
		g.solvers[island], g.held, g.size = s, append(g.held, island), g.size+len(g.islands[island].elements)
	} else if last := len(g.held) - 1; g.held[last] != island {
		k := slices.Index(g.held, island)
		copy(g.held[k:], g.held[k+1:])
		g.held[last] = island
	}
	s.use(br)
	return s
}

func (g *grid) drop(island int32) {
	s, at := g.solvers[island], &g.islands[island]
	g.solvers[island], g.size = nil, g.size-len(at.elements)
	s.leave()
	at.idle().Put(s)
}

// release gives the scratch back. The grid can be used on.
func (g *grid) release() {
	for _, i := range g.held {
		g.drop(i)
	}
	g.held, g.tries = g.held[:0], nil
}

// tried is again for who only looks: what is shown of each island, in their order, is gone when the next one is.
func (g *grid) tried(p *point, changes []change, look func(owned)) {
	var islands []int32
	for _, c := range changes {
		islands = append(islands, p.ofE[c.element])
	}
	slices.Sort(islands)
	for _, i := range slices.Compact(islands) {
		x := p.patch(i)
		g.tries = append(g.tries[:0], x.br...)
		for _, c := range changes {
			if p.ofE[c.element] == i {
				b := &g.tries[p.atE[c.element]]
				c.law.from, c.law.to = b.from, b.to
				*b = c.law
			}
		}
		s := g.solver(i, g.tries)
		g.room.free, g.room.lent = true, false
		q := s.solve(x)
		g.room.free, g.room.lent = false, false
		look(owned{i, q})
		s.br = nil // other laws will lie there
	}
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
	g.room.free = true
	q := s.newton(x)
	g.room.free = false
	if !q.converged {
		g.room.free, g.room.lent = true, g.room.lent && !g.room.has(q)
		q = s.newton(nil)
		g.room.free = false
	}
	s.bridge, s.spans = nil, nil
	return q.delivers()
}
