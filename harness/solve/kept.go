package solve

import (
	"slices"
	"weak"
)

// Again is Case, to the bit, where the case was solved before with other figures (nil: never). An island whose laws are what they were keeps its point, and what
// follows from it: its loads with their ways, its starts, its corners. Of job and case it is only asked whether they are the same ones.
func (l *Laid) Again(before *CaseResult, f Figures) *CaseResult {
	if f.Job == nil || f.Case == nil {
		return l.Case(f)
	}
	v := l.with(f)
	v.past = pastOf(before, v)
	return v.result(v.settle())
}

// past is a result of the same case with other figures.
type past struct {
	res    *CaseResult
	a      *again
	alike  bool           // all loads were asked for, of the same job and case
	kept   []bool         // by island: its patch is the same; nil where the net stands otherwise
	starts map[string]int // by device
}

func pastOf(before *CaseResult, v *values) *past {
	if before == nil || before.again == nil {
		return nil
	}
	of := &before.again.of
	return &past{res: before, a: before.again, alike: of.Job == v.job && of.Case == v.c && len(of.Only) == 0 && len(v.only) == 0}
}

// grid is the one that the case was solved with, where it lies the same.
func (p *past) grid(l *layout) *grid {
	if p != nil && p.a.p.layout == l {
		p.a.lock()
		defer p.a.unlock()
		if g := p.a.scratch.Value(); g != nil {
			p.a.scratch = weak.Pointer[grid]{}
			return g
		}
	}
	return newGrid(l)
}

// patch is that of an island, where it was found for the same laws.
func (p *past) patch(l *layout, island int32, br []branch) *patch {
	if p == nil || p.a.p.layout != l {
		return nil
	}
	x := p.a.p.patch(island)
	for k, e := range l.islands[island].elements {
		if !x.br[k].alike(&br[e]) {
			return nil
		}
	}
	return x
}

// look finds out which islands of a settled net stand as they did.
func (p *past) look(s *settled) {
	if p == nil || !p.alike || p.a.p.layout != s.p.layout {
		return
	}
	p.kept, p.starts = make([]bool, len(s.p.islands)), make(map[string]int, len(p.res.Starts))
	for i := range p.kept {
		p.kept[i] = s.p.patch(int32(i)) == p.a.p.patch(int32(i))
	}
	for i := range p.res.Starts {
		p.starts[p.res.Starts[i].Device] = i
	}
}

// same tells whether all that is asked of an island has the answer it had.
func (p *past) same(island int32) bool { return p != nil && p.kept != nil && p.kept[island] }

// start is that of a device, as it was, where what moves in it has the answer it had.
func (p *past) start(x *startNet, l *layout) *StartResult {
	if p == nil || p.kept == nil {
		return nil
	}
	i, ok := p.starts[x.device]
	if !ok {
		return nil
	}
	was := &p.res.Starts[i]
	if !slices.Equal(was.again.lean.changes, x.changes) || !slices.Equal(was.again.knobs, x.knobs) {
		return nil
	}
	for _, c := range x.changes {
		if !p.kept[l.ofE[c.element]] {
			return nil
		}
	}
	return was
}

// recall hands over what was asked of the case before and has the same answer.
func (p *past) recall(res *CaseResult) {
	if p == nil || p.kept == nil {
		return
	}
	p.a.lock()
	defer p.a.unlock()
	if p.a.varied {
		res.again.before = &sides{p.a.sides, p.kept}
	}
	same := map[int32]bool{}
	p.corners(res, p.a, res.again, same)
	for i := range res.Starts {
		a := res.Starts[i].again
		if k, ok := p.starts[res.Starts[i].Device]; ok {
			if was := p.res.Starts[k].again; len(was.corners) > 0 && was.lean.stands(a.lean) {
				p.corners(res, was, a, same)
			}
		}
	}
}

// stands tells whether a point was taken over as it is.
func (x *lean) stands(y *lean) bool {
	return x.stood == y.stood && len(x.stood.islands) > 0
}

// corners hands over those of a case or a start whose island and knobs in the case are the same, which is remembered by island. The knobs of
// a start's own are compared where it is found to stand.
func (p *past) corners(res *CaseResult, was, now *again, same map[int32]bool) {
	for k, c := range was.corners {
		island := p.a.p.ofE[res.Loads[k.load].element]
		if !p.kept[island] {
			continue
		}
		ok, known := same[island]
		if !known {
			ok = slices.Equal(p.a.around(island), res.again.around(island))
			same[island] = ok
		}
		if !ok {
			continue
		}
		if now.corners == nil {
			now.corners = map[ask]*Corner{}
		}
		now.corners[k] = c
	}
}

// sides are those of a case before, and which islands of the case stand as they did then.
type sides struct {
	of   []*CaseResult
	kept []bool
}

// turned is the point p with the set-points of its supplies changed, b has the laws with them. What an island gave at this end before follows from the
// same point and the same laws.
func (s *sides) turned(n int, g *grid, p *point, changes []change, br []branch) (*point, *CaseResult) {
	if s == nil || n >= len(s.of) || s.of[n].again.p.layout != p.layout {
		return g.again(p, changes).flat(), nil
	}
	was := s.of[n]
	x := &past{res: was, a: was.again}
	var rest []change
	have := map[int32]*patch{}
	for _, c := range changes {
		i := p.ofE[c.element]
		q, met := have[i]
		if !met {
			if s.kept[i] {
				q = x.patch(p.layout, i, br)
			}
			have[i] = q
		}
		if q == nil {
			rest = append(rest, c)
		}
	}
	out := g.again(p, rest).flat()
	if out == p {
		out = &point{layout: p.layout, all: slices.Clone(p.all)}
	}
	for i, q := range have {
		if q != nil {
			out.all[i] = q
		}
	}
	return out, was
}
