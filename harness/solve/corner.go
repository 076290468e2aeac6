package solve

import (
	"runtime"
	"slices"
	"sync"
	"weak"

	"loomsheet/harness/unit"
)

// Quantity is what a corner is sought for.
type Quantity uint8

// Quantities of a load; the corner is the one where it is worst: most volts lost, least volts left, or most volts across it whichever way round.
const (
	LostBoth Quantity = iota // feed and return together
	LostFeed
	LostReturn
	LeastVolts
	MostVolts
)

// Moved is one stated value that the corner takes at an end of its spread.
type Moved struct {
	What    string // "battery set-point", "contact A.3", "lamp draw"
	From    string // as solved in the case
	To      string
	Element int
	// Takes is the volts that the result loses from the best end of this value to the worst, by the slopes that chose the end.
	Takes unit.Voltage
	Joint bool // of a joint, contact, switch or fuse, not of a supply or load
}

// Corner is a load solved again where one of its results is worst: each spread at the end that the sign of its sensitivity asks for. There is no corner
// that is worst for all.
type Corner struct {
	Quantity Quantity
	Load     LoadResult // with ways, as in the case
	Got      unit.Voltage
	Moved    []Moved // what differs from the case's own point; natural order
	Ends     []Moved // the spreads that take most, most first, those that stand as in the case too; at most 12
}

// again is what a result keeps to be solved again. What it works out later it remembers; that changes no answer.
type again struct {
	mu      sync.Mutex
	under   *again // the case of a start: it has the grid and the lock
	of      Figures
	nw      *Network
	pos     positions
	relays  []RelayResult
	p       *point // of a case; that of a start is lean
	scratch weak.Pointer[grid]
	looked  weak.Pointer[values]
	lean    *lean
	among   among            // of a case
	knobs   []knob           // of a start those that start
	near    map[int32][]knob // by island, all of them
	corners map[ask]*Corner
	solved  map[end]*patch // of a case and its starts
	said    map[knobName]*said
	sides   []*CaseResult // at the low and at the high ends of the supplies
	varied  bool
	terms   objective // room for the one that is sought
	before  *sides    // of the same case with other figures
}

func newAgain(v *values, s *settled) *again {
	warm(s.g)
	return &again{of: v.figures(), nw: s.b.Network, pos: s.b.pos, relays: s.relays, p: s.p, knobs: s.b.knobs, scratch: weak.Make(s.g), looked: weak.Make(v)}
}

// grid is for who has the lock. Its scratch follows from what is solved, and is forgotten when memory is wanted.
func (a *again) grid() *grid {
	a = a.owner()
	g := a.scratch.Value()
	if g == nil {
		g = newGrid(a.p.layout)
		a.scratch = weak.Make(g)
	}
	warm(g)
	return g
}

// values is for who has the lock, and is forgotten as the grid is.
func (a *again) values() *values {
	a = a.owner()
	v := a.looked.Value()
	if v == nil {
		v = newValues(a.of.Job, a.of.Net, a.of.Sizes, a.of.Temps, a.of.Case)
		v.only = a.of.Only
		a.looked = weak.Make(v)
	}
	return v
}

// settled is the case as it stands.
func (a *again) settled() *settled {
	return &settled{b: &builder{Network: a.nw, br: a.p.laws(), knobs: a.knobs, pos: a.pos}, g: a.grid(), p: a.p, relays: a.relays}
}

// around is the knobs in an island: of a start its own first, then those of the case that it leaves alone.
func (a *again) around(island int32) []knob {
	if a.near == nil {
		a.near = map[int32][]knob{}
		for _, k := range a.knobs {
			i := a.layout().ofE[k.element]
			a.near[i] = append(a.near[i], k)
		}
		if a.under != nil {
			for _, o := range a.at().own {
				for _, k := range a.under.around(o.island) {
					if at := a.layout().atE[k.element]; a.under.p.patch(o.island).br[at] == o.br[at] {
						a.near[o.island] = append(a.near[o.island], k)
					}
				}
			}
		}
	}
	if a.under != nil {
		if !a.lean.mine(island) {
			return a.under.around(island)
		}
	}
	return a.near[island]
}

// end is an island with the ends that its knobs stand at.
type end struct {
	of     *again
	island int32
	ends   string
}

type knobName struct {
	element int
	turns   turns
}

// said is what a knob is called and its values in words.
type said struct {
	what string
	text [ends]string
}

// name is what a knob is called, worked out once for a case and its starts.
func (a *again) name(k *knob) *said {
	a = a.owner()
	at := knobName{k.element, k.turns}
	n, ok := a.said[at]
	if !ok {
		if a.said == nil {
			a.said = map[knobName]*said{}
		}
		n = &said{what: k.what(a.nw)}
		for i := range n.text {
			n.text[i] = k.text(i)
		}
		a.said[at] = n
	}
	return n
}

type ask struct {
	load int
	q    Quantity
}

// at is the point of a case or a start.
func (a *again) at() *point {
	if a.lean != nil {
		return a.lean.point()
	}
	return a.p
}

func (a *again) layout() *layout { return a.owner().p.layout }

func (a *again) owner() *again {
	if a.under != nil {
		return a.under
	}
	return a
}

// lock keeps the scratch of the grid to one user.
func (a *again) lock()   { a.owner().mu.Lock() }
func (a *again) unlock() { a.owner().mu.Unlock() }

// Corner solves a load, by its index, again where a quantity is worst; nil when nothing with a spread has any influence on it. Relays and
// switches stay as they stand, what is lost is counted along the way it has in the case. It is never better than the case's own point.
func (c *CaseResult) Corner(load int, q Quantity) *Corner {
	if load < 0 || load >= len(c.Loads) {
		return nil
	}
	return c.again.corner(func() *LoadResult { return &c.Loads[load] }, load, q, false)
}

// Corner of a load while the device starts, as that of a case. Its ways are told for the loads of that device only.
func (s *StartResult) Corner(load int, q Quantity) *Corner {
	if s.of == nil || load < 0 || load >= len(s.of.Loads) {
		return nil
	}
	return s.again.corner(func() *LoadResult { return s.whole(load) }, load, q, s.of.Loads[load].Device != s.Device)
}

// corner is the one of a load, sought when it is first asked for; short leaves its ways out of it.
func (a *again) corner(whole func() *LoadResult, load int, q Quantity, short bool) *Corner {
	if a == nil {
		return nil
	}
	k := ask{load, q}
	a.lock()
	out, known := a.corners[k]
	a.unlock()
	if known {
		return out
	}
	l := whole()
	a.lock()
	defer a.unlock()
	if out, known = a.corners[k]; known {
		return out
	}
	if a.corners == nil {
		a.corners = map[ask]*Corner{}
	}
	if out = a.seek(l, q); out != nil && short {
		out.Load.Feed, out.Load.Return = nil, nil
	}
	a.corners[k] = out
	return out
}

// mostTurns bounds how often the signs are looked at again.
const mostTurns = 4

// mostKept bounds the points remembered, which loads of one corner share.
const mostKept = 16

// mostEnds is how many ends are worded.
const mostEnds = 12

// nothing is the volts below which a spread has no influence.
const nothing = 1e-9

// seek takes each knob to the end that costs most by the slopes at the point, solves there, and looks again until no sign changes.
func (a *again) seek(l *LoadResult, q Quantity) *Corner {
	own := a.at() // held, so that it is worked out once
	defer runtime.KeepAlive(own)
	i := own.ofE[l.element]
	if own.patch(i).br[own.atE[l.element]].law == open {
		return nil
	}
	lost, knobs := a.lost(l, q), a.around(i)
	if len(lost) == 0 || len(knobs) == 0 {
		return nil
	}
	ends := make([]byte, len(knobs))
	for i := range ends {
		ends[i] = asIs
	}
	p := own.patch(i)
	worst, most := slices.Clone(ends), lost.at(p)
	takes := make([]float64, len(knobs))
	best := slices.Clone(takes)
	any := false
	for turn := range mostTurns {
		next := a.signs(i, p, knobs, lost, ends, takes)
		if turn == 0 {
			copy(best, takes)
			for _, t := range takes {
				any = any || abs(t) > nothing
			}
			if !any {
				return nil
			}
		}
		if string(next) == string(ends) {
			break
		}
		ends = next
		p = a.solveAt(i, knobs, ends)
		if !p.converged {
			break
		}
		if x := lost.at(p); unit.Worse(x, most) {
			most = x
			copy(worst, ends)
			copy(best, takes)
		}
	}
	return a.word(l, q, lost, i, a.solveAt(i, knobs, worst), knobs, worst, best)
}

// signs is the end of each knob that costs most at a point, and what lies between its ends there.
func (a *again) signs(island int32, p *patch, knobs []knob, lost objective, now []byte, takes []float64) []byte {
	s := a.grid().solver(island, p.br)
	next := slices.Clone(now)
	clear(takes)
	if !s.live || !s.factorAt(p.drop, restSlope*restSlope) {
		return next
	}
	clear(s.rest)
	for _, t := range lost {
		s.add(&p.br[t.element], -t.sign)
	}
	s.f.solve(s.rest)
	for i := range knobs {
		k := &knobs[i]
		at := a.layout().atE[k.element]
		b := &p.br[at]
		v := p.drop[at]
		// A current more through the branch costs what the branch sees of the volts that an ampere into the objective makes.
		var more float64
		if b.law == ohmic {
			more = k.value[atHigh]*v - k.value[atLow]*v
		} else {
			more = k.carries(*b, atHigh, v) - k.carries(*b, atLow, v)
		}
		takes[i] = -s.step(b) * more
		switch {
		case takes[i] > nothing:
			next[i] = atHigh
		case takes[i] < -nothing:
			next[i] = atLow
		}
		if next[i] != asIs && k.value[next[i]] == k.value[asIs] {
			next[i] = asIs
		}
	}
	return next
}

// solveAt turns the branches of an island to the ends and solves from the case's own point.
func (a *again) solveAt(island int32, knobs []knob, ends []byte) *patch {
	own := a.at().patch(island)
	moved := false
	for _, e := range ends {
		moved = moved || e != asIs
	}
	if !moved {
		return own // to the last digit
	}
	at, o := end{a, island, string(ends)}, a.owner()
	if p := o.solved[at]; p != nil {
		return p
	}
	if o.solved == nil {
		o.solved = map[end]*patch{}
	}
	if len(o.solved) >= mostKept {
		clear(o.solved)
	}
	br := slices.Clone(own.br)
	for i := range knobs {
		if ends[i] != asIs {
			knobs[i].turn(&br[a.layout().atE[knobs[i].element]], int(ends[i]))
		}
	}
	s := a.grid().solver(island, br)
	p := s.newton(own)
	if !p.converged || starved(p) > starved(own) {
		p = s.solve(own)
	} else {
		p.delivers()
	}
	o.solved[at] = p
	return p
}

// objective is a result as a sum of the volts across elements, each with a sign. More is worse.
type objective []term

type term struct {
	element int // its place in the island
	sign    float64
}

func (o objective) at(p *patch) (x float64) {
	for _, t := range o {
		x += t.sign * p.drop[t.element]
	}
	return x
}

// lost is the objective of a quantity, empty when the load has none; gone when the next one is asked for.
func (a *again) lost(l *LoadResult, q Quantity) (out objective) {
	if q == MostVolts {
		sign := 1.0
		if l.Volts < 0 {
			sign = -1
		}
		return objective{{int(a.layout().atE[l.element]), sign}}
	}
	if q == LeastVolts {
		sign := -1.0
		if l.Coil && l.Volts < 0 { // a coil pulls whichever way round it is fed
			sign = 1
		}
		return objective{{int(a.layout().atE[l.element]), sign}}
	}
	if l.Supply == "" {
		return nil
	}
	o := a.owner()
	out = o.terms[:0]
	add := func(steps []Step) {
		for _, s := range steps {
			if o.nw.Elements[s.Element].Kind == Supply {
				continue
			}
			sign := 1.0
			if s.Reverse {
				sign = -1
			}
			out = append(out, term{int(a.layout().atE[s.Element]), sign})
		}
	}
	if q != LostReturn {
		add(l.Feed)
	}
	if q != LostFeed {
		add(l.Return)
	}
	o.terms = out
	return out
}

// word makes the corner of a point.
func (a *again) word(l *LoadResult, q Quantity, lost objective, island int32, p *patch, knobs []knob, ends []byte, takes []float64) *Corner {
	c := &Corner{Quantity: q, Load: *l, Got: unit.Voltage(lost.at(p))}
	at := a.layout().atE[l.element]
	c.Load.Volts, c.Load.Amps = unit.Voltage(p.drop[at]), unit.Current(p.amps[at])
	if l.Supply != "" {
		c.Load.Feed, c.Load.Return = slices.Clone(l.Feed), slices.Clone(l.Return)
		x := ladder{Network: a.owner().nw, p: a.at().but(owned{island, p})}
		_, minus := x.ends(l.element, l.Amps < 0)
		x.measure(minus, &c.Load)
	}
	if q == LeastVolts {
		c.Got = -c.Got
	}
	word := func(i int) Moved {
		k := &knobs[i]
		n := a.name(k)
		return Moved{What: n.what, From: n.text[asIs], To: n.text[ends[i]], Element: k.element, Takes: unit.Voltage(abs(takes[i])), Joint: k.turns == joint}
	}
	var top []int // of those that take most, most first, of equals the first
	for i := range knobs {
		if end := ends[i]; end != asIs && knobs[i].value[end] != knobs[i].value[asIs] {
			c.Moved = append(c.Moved, word(i))
		}
		t := abs(takes[i])
		if !(t > nothing) || len(top) == mostEnds && unit.Compare(t, abs(takes[top[mostEnds-1]])) <= 0 {
			continue
		}
		if len(top) < mostEnds {
			top = append(top, 0)
		}
		k := len(top) - 1
		for ; k > 0 && unit.Compare(t, abs(takes[top[k-1]])) > 0; k-- {
			top[k] = top[k-1]
		}
		top[k] = i
	}
	for _, i := range top {
		c.Ends = append(c.Ends, word(i))
	}
	return c
}
