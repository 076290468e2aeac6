package solve

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"loomsheet/harness/unit"
)

// Quantity is what a corner is sought for.
type Quantity uint8

// Quantities of a load; the corner is the one where it is worst: most volts lost, or least volts left.
const (
	LostBoth Quantity = iota // feed and return together
	LostFeed
	LostReturn
	LeastVolts
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
	v       *values
	s       *settled
	br      []branch
	knobs   []knob
	p       *point
	corners map[ask]*Corner
	solved  map[string]*point // by the ends taken
	names   map[knobName]string
	sides   []*CaseResult // at the low and at the high ends of the supplies
	varied  bool
}

type knobName struct {
	element int
	turns   turns
}

// name is what a knob is called, worked out once for a case and its starts.
func (a *again) name(k *knob) string {
	a = a.owner()
	at := knobName{k.element, k.turns}
	n, ok := a.names[at]
	if !ok {
		if a.names == nil {
			a.names = map[knobName]string{}
		}
		n = k.what(a.s.b.Network)
		a.names[at] = n
	}
	return n
}

type ask struct {
	load int
	q    Quantity
}

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
func (c *CaseResult) Corner(load int, q Quantity) *Corner { return c.again.corner(c.Loads, load, q) }

// Corner of a load while the device starts, as that of a case. What is lost on the way is known for the loads of that device only.
func (s *StartResult) Corner(load int, q Quantity) *Corner { return s.again.corner(s.Loads, load, q) }

func (a *again) corner(loads []LoadResult, load int, q Quantity) *Corner {
	if a == nil || load < 0 || load >= len(loads) || len(a.knobs) == 0 {
		return nil
	}
	a.lock()
	defer a.unlock()
	out, known := a.corners[ask{load, q}]
	if !known {
		if a.corners == nil {
			a.corners, a.solved = map[ask]*Corner{}, map[string]*point{}
		}
		out = a.seek(&loads[load], q)
		a.corners[ask{load, q}] = out
	}
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
	lost := a.lost(l, q)
	if lost == nil || a.br[l.element].law == open {
		return nil
	}
	ends := make([]byte, len(a.knobs))
	for i := range ends {
		ends[i] = asIs
	}
	br, p := slices.Clone(a.br), a.p
	a.solved[string(ends)] = p
	worst, most := slices.Clone(ends), lost.at(p)
	takes := make([]float64, len(a.knobs))
	best := slices.Clone(takes)
	any := false
	for turn := range mostTurns {
		next := a.signs(br, p, lost, ends, takes)
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
		p = a.solveAt(br, ends)
		if !p.converged {
			break
		}
		if x := lost.at(p); x > most {
			most = x
			copy(worst, ends)
			copy(best, takes)
		}
	}
	p = a.solveAt(br, worst)
	return a.word(l, q, lost, br, p, worst, best)
}

// signs is the end of each knob that costs most at a point, and what lies between its ends there.
func (a *again) signs(br []branch, p *point, lost objective, now []byte, takes []float64) []byte {
	g := a.owner().s.g
	g.use(br)
	next := slices.Clone(now)
	clear(takes)
	if !g.factorAt(p.drop, restSlope*restSlope) {
		return next
	}
	clear(g.rest)
	for _, t := range lost {
		g.add(&br[t.element], -t.sign)
	}
	g.f.solve(g.rest)
	for i := range a.knobs {
		k := &a.knobs[i]
		b := &br[k.element]
		v := p.drop[k.element]
		// A current more through the branch costs what the branch sees of the volts that an ampere into the objective makes.
		takes[i] = -g.step(b) * (k.carries(*b, atHigh, v) - k.carries(*b, atLow, v))
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

// solveAt turns the branches to the ends and solves from the case's own point.
func (a *again) solveAt(br []branch, ends []byte) *point {
	for i := range a.knobs {
		a.knobs[i].turn(&br[a.knobs[i].element], int(ends[i]))
	}
	if p := a.solved[string(ends)]; p != nil {
		return p
	}
	if len(a.solved) >= mostKept {
		clear(a.solved)
		a.solved[strings.Repeat(string(rune(asIs)), len(a.knobs))] = a.p // the case's own point, to the last digit
	}
	g := a.owner().s.g
	g.use(br)
	p := g.newton(a.p.hi)
	if !p.converged || starved(br, p) > starved(br, a.p) {
		p = g.solve(a.p.hi)
	}
	p.delivers(a.s.b.Network)
	a.solved[string(ends)] = p
	return p
}

// objective is a result as a sum of the volts across elements, each with a sign. More is worse.
type objective []term

type term struct {
	element int
	sign    float64
}

func (o objective) at(p *point) (x float64) {
	for _, t := range o {
		x += t.sign * p.drop[t.element]
	}
	return x
}

// lost is the objective of a quantity, nil when the load has none.
func (a *again) lost(l *LoadResult, q Quantity) (out objective) {
	if q == LeastVolts {
		sign := -1.0
		if l.Coil && l.Volts < 0 { // a coil pulls whichever way round it is fed
			sign = 1
		}
		return objective{{l.element, sign}}
	}
	if l.Supply == "" {
		return nil
	}
	add := func(steps []Step) {
		for _, s := range steps {
			if a.s.b.Elements[s.Element].Kind == Supply {
				continue
			}
			sign := 1.0
			if s.Reverse {
				sign = -1
			}
			out = append(out, term{s.Element, sign})
		}
	}
	if q != LostReturn {
		add(l.Feed)
	}
	if q != LostFeed {
		add(l.Return)
	}
	return out
}

// word makes the corner of a point.
func (a *again) word(l *LoadResult, q Quantity, lost objective, br []branch, p *point, ends []byte, takes []float64) *Corner {
	nw := a.s.b.Network
	c := &Corner{Quantity: q, Load: *l, Got: unit.Voltage(lost.at(p))}
	c.Load.Volts, c.Load.Amps = unit.Voltage(p.drop[l.element]), unit.Current(p.amps[l.element])
	if l.Supply != "" {
		c.Load.Feed, c.Load.Return = slices.Clone(l.Feed), slices.Clone(l.Return)
		x := ladder{Network: nw, br: br, p: p}
		_, minus := x.ends(l.element, l.Amps < 0)
		x.measure(minus, &c.Load)
	}
	if q == LeastVolts {
		c.Got = -c.Got
	}
	word := func(i int) Moved {
		k, end := &a.knobs[i], int(ends[i])
		return Moved{What: a.name(k), From: k.text(asIs), To: k.text(end), Element: k.element, Takes: unit.Voltage(abs(takes[i])), Joint: k.turns == joint}
	}
	var count []int
	for i := range a.knobs {
		if end := ends[i]; end != asIs && a.knobs[i].value[end] != a.knobs[i].value[asIs] {
			c.Moved = append(c.Moved, word(i))
		}
		if abs(takes[i]) > nothing {
			count = append(count, i)
		}
	}
	slices.SortStableFunc(count, func(x, y int) int { return cmp.Compare(abs(takes[y]), abs(takes[x])) })
	for _, i := range count[:min(len(count), mostEnds)] {
		c.Ends = append(c.Ends, word(i))
	}
	return c
}
