package heat

import (
	"math"
	"slices"
	"sync"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Thermal answers how single wires warm past their steady state, each at its worst place over all edges and cases. Its neighbours carry
// what they carry in the case: a fault heats one circuit.
//
// The method. In its bundle a wire is held at T by some steady current I(T); so much heat leaves it there, and no less leaves it on the
// way up, since what lies around it is cooler then. All else stays in its copper:
//
//	c dT/dt = R(T) (I^2 - I(T)^2)
//
// with c the heat capacity of the copper per metre. That is never cooler than the wire: its insulation's capacity and that of the bundle
// are left out. For a short time it is the adiabatic rise, the factor k of IEC 60364-5-54 with the wire's own resistance; for a long time it
// ends where the steady balance does.
//
// A wire whose conductor is not known has no answers: see Known.
//
// A place is worked out when a wire there is first asked for, and a wire's curves when it is, no further than what is asked; they are kept for as many wires
// as a bound allows. Several may ask at a time.
type Thermal struct {
	solver
	on       [][]int   // by wire: the places where it lies
	capacity []float64 // by wire: of its copper, J/m3K times m2; 0 where nothing is known of it
	seats    []seat    // by place
	mu       sync.Mutex
	kept     map[drawn][]warming
	before   map[drawn][]warming // what was kept until it was much
	points   int                 // of all curves in kept
	most     int                 // of them
	begun    [][]begin           // by wire, as its onsets; nil: not asked for
	sheds    []*shedding         // of no one's at the moment
}

// drawn is the curves of a wire, whole or as far as most of what is asked goes. Which of the two tells follows from what is asked alone, so that it is told
// the same whatever was asked before.
type drawn struct {
	wire  int
	whole bool
}

// usual is how far past the rating of its insulation curves go that are not whole: past the limits of overloads and shorts as they usually are.
const usual = 60.0

func (t *Thermal) reach(wire int) float64 {
	return within(float64(t.conds[wire].Heat)+usual, coolest, hottest)
}

// mostPoints bounds the curves kept at a time, once and again in before: those of some thousand wires. Who asks goes from one part of a net to the next, and
// does not come back.
const mostPoints = 1 << 18

// seat is a place in all cases.
type seat struct {
	once  sync.Once
	cases []seated
}

// seated is a place in a case.
type seated struct {
	model      *bundle
	amb        unit.Temperature
	sq, others []float64 // by known wire, as in onset
}

// NewThermal prepares all places in all cases. Cases may carry one name more than once. Without any case the wires carry what their
// links say. Its arguments are only read, and must not change as long as it is asked.
func NewThermal(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents) *Thermal {
	t := &Thermal{solver: solver{job: job, nt: nt, conds: conds, set: newSettings(job), duty: duty}, capacity: make([]float64, len(nt.Wires)), kept: map[drawn][]warming{}, most: mostPoints, begun: make([][]begin, len(nt.Wires))}
	t.places = places(job, nt, conds, func(*place) bool { return true })
	t.on, t.seats = lying(nt, t.places), make([]seat, len(t.places))
	cases = spread(cases)
	t.first = firsts(cases)
	t.cases, t.cur = make([]string, len(cases)), make([]current, len(cases))
	for i, c := range cases {
		t.cases[i], t.cur[i] = c.Case, t.currents(c)
	}
	t.duty, t.first = nil, nil
	for i := range nt.Wires {
		if c := &conds[i]; c.Known && c.Resistance > 0 {
			t.capacity[i] = math.Max(0, copperCapacity*float64(data.Copper.HeatCapacity)*float64(c.Size.Area())*1e-6)
		}
	}
	return t
}

// lying lists for each wire the places where it lies.
func lying(nt *net.Net, places []place) [][]int {
	on, count, all := make([][]int, len(nt.Wires)), make([]int, len(nt.Wires)), 0
	for pi := range places {
		for _, i := range places[pi].wires {
			count[i]++
			all++
		}
	}
	room := make([]int, all)
	for i, n := range count {
		on[i], room = room[:0:n], room[n:]
	}
	for pi := range places {
		for _, i := range places[pi].wires {
			on[i] = append(on[i], pi)
		}
	}
	return on
}

// seat is a place in all cases, worked out once.
func (t *Thermal) seat(pi int) []seated {
	s := &t.seats[pi]
	s.once.Do(func() {
		s.cases = make([]seated, len(t.cases))
		for ci, c := range t.cases {
			amb, _, m, _, sq := t.load(&t.places[pi], c, &t.cur[ci])
			s.cases[ci] = seated{m, amb, sq, m.neighbours(sq)}
		}
	})
	return s.cases
}

// onsets lists the places and cases of a wire of which any may be the worst.
func (t *Thermal) onsets(wire int) (out []onset) {
	if !t.Known(wire) {
		return nil
	}
	for _, pi := range t.on[wire] {
		k, ok := slices.BinarySearch(t.places[pi].known, wire)
		if !ok {
			continue
		}
		from := len(out) // where the onsets of this place begin
		for ci, at := range t.seat(pi) {
			x := onset{at.model, k, within(float64(at.amb), coolest, hottest), at.others[k], at.sq[k], pi, ci}
			covers := func(y onset) bool { return y.covers(&x) }
			same := func(y onset) bool { return y.covers(&x) && x.covers(&y) && y.model.wires[y.k] == x.model.wires[x.k] }
			if slices.ContainsFunc(out[from:], covers) || slices.ContainsFunc(out[:from], same) {
				continue
			}
			out = append(out, x)
		}
	}
	return out
}

// upto is the curves of a wire that tell of a temperature.
func (t *Thermal) upto(wire int, temp float64) []warming {
	if !t.Known(wire) {
		return nil
	}
	return t.of(drawn{wire, temp > t.reach(wire)})
}

func (t *Thermal) of(d drawn) []warming {
	t.mu.Lock()
	ws, ok := t.kept[d]
	if !ok {
		if ws, ok = t.before[d]; ok {
			t.keep(d, ws)
		}
	}
	t.mu.Unlock()
	if ok {
		return ws
	}
	reach := hottest
	if !d.whole {
		reach = t.reach(d.wire)
	}
	known := t.shedding()
	defer t.giveBack(known)
	starts := t.onsets(d.wire)
	begun := t.begins(d.wire, starts, known)
	for i := range starts {
		ws = envelope(ws, starts[i].warming(t.capacity[d.wire], known, begun[i], reach))
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.keep(d, ws)
	return ws
}

// begins is where each of a wire's onsets begins.
func (t *Thermal) begins(wire int, starts []onset, known *shedding) []begin {
	t.mu.Lock()
	out := t.begun[wire]
	t.mu.Unlock()
	if out != nil {
		return out
	}
	out = make([]begin, len(starts))
	for i := range starts {
		x := &starts[i]
		same := slices.IndexFunc(starts[:i], func(y onset) bool { return x.apartAs(&y) })
		if out[i].amid = x.begin(known); same >= 0 {
			out[i].alone = out[same].alone
		} else {
			out[i].alone = x.beginApart(known)
		}
	}
	t.mu.Lock()
	t.begun[wire] = out
	t.mu.Unlock()
	return out
}

// keep keeps the curves of a wire; t is locked.
func (t *Thermal) keep(d drawn, ws []warming) {
	if t.points > t.most {
		t.before, t.kept, t.points = t.kept, map[drawn][]warming{}, 0
	}
	for i := range ws {
		t.points += len(ws[i].temps)
	}
	t.kept[d] = ws
}

func (t *Thermal) shedding() *shedding {
	t.mu.Lock()
	defer t.mu.Unlock()
	if n := len(t.sheds) - 1; n >= 0 {
		s := t.sheds[n]
		t.sheds = t.sheds[:n]
		return s
	}
	return &shedding{}
}

func (t *Thermal) giveBack(s *shedding) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.sheds = append(t.sheds, s)
}

// Known is false for a wire whose conductor or its resistance is not known, and for one that the net does not have: nothing can be told
// of it. Sustained is 0 for it, Lasts has no answer, Steady and After are nothing.
func (t *Thermal) Known(wire int) bool {
	return wire >= 0 && wire < len(t.capacity) && t.capacity[wire] > 0
}

// Steady is the wire's conductor at its hottest place and case as the cases have it, its duty loads at their peak. No temperature here is
// above 500 C: what gets there is reported there.
func (t *Thermal) Steady(wire int) unit.Temperature {
	if !t.Known(wire) {
		return 0
	}
	known := t.shedding()
	defer t.giveBack(known)
	top := coolest
	for _, b := range t.begins(wire, t.onsets(wire), known) {
		top = math.Max(top, b.top())
	}
	return unit.Temperature(top)
}

// Sustained is the steady current at which the conductor reaches the limit at its worst place, its neighbours as in the case; 0 where it
// is there without any.
func (t *Thermal) Sustained(wire int, limit unit.Temperature) unit.Current {
	least := math.Inf(1)
	ws := t.upto(wire, bound(limit))
	for i := range ws {
		least = math.Min(least, ws[i].holds(bound(limit)))
	}
	if math.IsInf(least, 0) {
		return 0
	}
	return unit.Current(math.Sqrt(least))
}

// Spot is a place in a case.
type Spot struct {
	Case    string
	Given   int // which of the cases given
	Edge    int // of the geometry; -1: a loose lead
	Zone    string
	Ambient unit.Temperature
	Count   int              // wires there
	Steady  unit.Temperature // of the conductor there
}

// spot is where a curve is from.
func (t *Thermal) spot(w *warming) Spot {
	p := &t.places[w.place]
	return Spot{Case: t.cases[w.given], Given: w.given, Edge: p.edge, Zone: p.zone, Ambient: t.seat(w.place)[w.given].amb, Count: len(p.wires), Steady: unit.Temperature(w.t0)}
}

// Spot is where Sustained finds its current: the place and the case that leave least for this limit. Nothing of a wire that is not known.
func (t *Thermal) Spot(wire int, limit unit.Temperature) Spot {
	out, least, hot := Spot{}, math.Inf(1), 0.0
	ws := t.upto(wire, bound(limit))
	for i := range ws {
		w := &ws[i]
		if sq := w.holds(bound(limit)); unit.Worse(least, sq) || !unit.Worse(sq, least) && unit.Worse(w.t0, hot) {
			out, least, hot = t.spot(w), sq, w.t0
		}
	}
	return out
}

// After is the hottest the conductor gets within so long once the current flows, from its steady state. It grows with the current and
// with the time, and is that state where the current is too small to warm it further. An infinite time gives where it ends.
func (t *Thermal) After(wire int, amps unit.Current, d unit.Time) unit.Temperature {
	sq, sec := squared(amps), float64(d)
	return t.hottest(wire, func(w *warming) float64 { return w.after(sq, sec) })
}

// Lasts is how long the current may flow from the steady state until the conductor reaches the limit, 0 where it is there already; ok is
// false when it never does. A limit above 500 C counts as 500 C.
func (t *Thermal) Lasts(wire int, amps unit.Current, limit unit.Temperature) (d unit.Time, ok bool) {
	least := math.Inf(1)
	ws := t.upto(wire, bound(limit))
	for i := range ws {
		least = math.Min(least, ws[i].lasts(squared(amps), bound(limit), least))
	}
	if math.IsInf(least, 0) {
		return 0, false
	}
	return unit.Time(least), true
}

func (t *Thermal) hottest(wire int, at func(*warming) float64) unit.Temperature {
	if !t.Known(wire) {
		return 0
	}
	top := coolest
	for _, whole := range []bool{false, true} {
		ws := t.of(drawn{wire, whole})
		if len(ws) == 0 {
			return 0
		}
		top = coolest
		for i := range ws {
			top = math.Max(top, at(&ws[i]))
		}
		if top < t.reach(wire) { // else it may go on
			break
		}
	}
	return unit.Temperature(top)
}

func bound(t unit.Temperature) float64 { return within(float64(t), coolest, hottest) }

// squared is the square of a current of either sign; beyond any that flows, and for what is not a number, a bound.
func squared(i unit.Current) float64 { return within(float64(i)*float64(i), 0, 1e30) }
