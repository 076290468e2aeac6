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
// A wire's curves are worked out when it is first asked for, and kept for as many wires as a bound allows. Several may ask at a time.
type Thermal struct {
	onsets   [][]onset // by wire of the net: the places and cases of which any may be the worst
	capacity []float64 // by wire: of its copper, J/m3K times m2
	spots    []Spot    // of each place in each case; Steady is left out
	mu       sync.Mutex
	kept     map[int][]warming
	points   int         // of all curves kept
	sheds    []*shedding // of no one's at the moment
}

// mostPoints bounds the curves kept at a time.
const mostPoints = 4 << 20

// NewThermal prepares all places in all cases. Cases may carry one name more than once. Without any case the wires carry what their
// links say. Its arguments are only read.
func NewThermal(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents) *Thermal {
	s := &solver{job: job, nt: nt, conds: conds, set: newSettings(job), duty: duty}
	s.places = places(job, nt, conds, func(*place) bool { return true })
	cases = spread(cases)
	s.first = firsts(cases)
	currents := make([]current, len(cases))
	for i, c := range cases {
		currents[i] = s.currents(c)
	}
	t := &Thermal{onsets: make([][]onset, len(nt.Wires)), capacity: make([]float64, len(nt.Wires)), kept: map[int][]warming{}}
	for i := range nt.Wires {
		t.capacity[i] = copperCapacity * float64(data.Copper.HeatCapacity) * float64(conds[i].Size.Area()) * 1e-6
	}
	for pi := range s.places {
		p := &s.places[pi]
		from := make([]int, len(p.known)) // where the onsets of this place begin
		for k, i := range p.known {
			from[k] = len(t.onsets[i])
		}
		for ci, c := range cases {
			amb, ta, m, _, sq := s.load(p, c.Case, &currents[ci])
			others := m.neighbours(sq)
			for k, i := range p.known {
				if !(m.wires[k].r20 > 0) || !(t.capacity[i] > 0) {
					continue
				}
				x := onset{m, k, ta, others[k], sq[k], len(t.spots)}
				covers := func(y onset) bool { return y.covers(&x) }
				same := func(y onset) bool { return y.covers(&x) && x.covers(&y) && y.model.wires[y.k] == m.wires[k] }
				if slices.ContainsFunc(t.onsets[i][from[k]:], covers) || slices.ContainsFunc(t.onsets[i][:from[k]], same) {
					continue
				}
				t.onsets[i] = append(t.onsets[i], x)
			}
			t.spots = append(t.spots, Spot{Case: c.Case, Given: ci, Edge: p.edge, Zone: p.zone, Ambient: amb, Count: len(p.wires)})
		}
	}
	return t
}

// of is the curves of a wire.
func (t *Thermal) of(wire int) []warming {
	if wire < 0 || wire >= len(t.onsets) {
		return nil
	}
	t.mu.Lock()
	ws, ok := t.kept[wire]
	t.mu.Unlock()
	if ok {
		return ws
	}
	known := t.shedding()
	defer t.giveBack(known)
	points := 0
	for i := range t.onsets[wire] {
		x := &t.onsets[wire][i]
		w := x.warming(t.capacity[wire], known)
		w.spot = &t.spots[x.spot]
		ws = envelope(ws, w)
	}
	for i := range ws {
		points += len(ws[i].temps)
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.points > mostPoints {
		t.kept, t.points = map[int][]warming{}, 0
	}
	t.kept[wire], t.points = ws, t.points+points
	return ws
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
	return wire >= 0 && wire < len(t.onsets) && len(t.onsets[wire]) > 0
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
	for i := range t.onsets[wire] {
		top = math.Max(top, t.onsets[wire][i].start(known))
	}
	return unit.Temperature(top)
}

// Sustained is the steady current at which the conductor reaches the limit at its worst place, its neighbours as in the case; 0 where it
// is there without any.
func (t *Thermal) Sustained(wire int, limit unit.Temperature) unit.Current {
	least := math.Inf(1)
	ws := t.of(wire)
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

// Spot is where Sustained finds its current: the place and the case that leave least for this limit. Nothing of a wire that is not known.
func (t *Thermal) Spot(wire int, limit unit.Temperature) Spot {
	out, least, hot := Spot{}, math.Inf(1), 0.0
	ws := t.of(wire)
	for i := range ws {
		w := &ws[i]
		if sq := w.holds(bound(limit)); unit.Worse(least, sq) || !unit.Worse(sq, least) && unit.Worse(w.t0, hot) {
			out, least, hot = *w.spot, sq, w.t0
			out.Steady = unit.Temperature(w.t0)
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
	ws := t.of(wire)
	for i := range ws {
		least = math.Min(least, ws[i].lasts(squared(amps), bound(limit)))
	}
	if math.IsInf(least, 0) {
		return 0, false
	}
	return unit.Time(least), true
}

func (t *Thermal) hottest(wire int, at func(*warming) float64) unit.Temperature {
	ws := t.of(wire)
	if len(ws) == 0 {
		return 0
	}
	top := coolest
	for i := range ws {
		top = math.Max(top, at(&ws[i]))
	}
	return unit.Temperature(top)
}

func bound(t unit.Temperature) float64 { return within(float64(t), coolest, hottest) }

// squared is the square of a current of either sign; beyond any that flows, and for what is not a number, a bound.
func squared(i unit.Current) float64 { return within(float64(i)*float64(i), 0, 1e30) }
