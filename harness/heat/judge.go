package heat

import (
	"math"
	"slices"
	"sync"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// stand is a place in a case at rest. There are as many as places times cases for as long as they are kept, so it holds only what is not at once
// worked out again. What its wires are made of and carry is looked up where it is told: it stands only as long as those are what they were.
type stand struct {
	place          *place
	given          int // the case
	model          *bundle
	amb            unit.Temperature
	sq             []float64          // of each known wire the square of the current that heats it
	temps          []unit.Temperature // of each the conductor's
	scores         []score
	rises          []rise // of starts; of the wires that one lifts, ascending
	surface, watts float64
	runaway        bool
	carrying       int // wires that carry current
	share          struct {
		once  sync.Once
		value unit.Ratio
		ok    bool
	}
}

// score is what decides which of its places and cases is a wire's worst.
type score struct{ used, hottest, limit float64 }

// rise is how far a start lifts the known wire k of a place above its steady temperature.
type rise struct {
	k, start int32
	by       float64
}

// air is the temperature that the balance reckons with.
func (x *stand) air() float64 { return within(float64(x.amb), coolest, hottest) }

// effective is the steady current that heats the known wire k as what it carries does.
func (x *stand) effective(k int) unit.Current { return unit.Current(math.Sqrt(x.sq[k])) }

// stand solves a place in a case and weighs its wires.
func (s *solver) stand(p *place, given int) *stand {
	cur := &s.cur[given]
	amb, ta, model, limits, sq := s.load(p, s.cases[given], cur)
	st := model.solve(ta, sq)
	x := &stand{place: p, given: given, model: model, amb: amb, sq: sq, temps: make([]unit.Temperature, len(p.known)), scores: make([]score, len(p.known)),
		surface: st.surface, watts: st.watts, runaway: st.runaway}
	for k := range p.known {
		x.temps[k], x.scores[k].limit = unit.Temperature(st.temps[k]), limits[k]
		if x.effective(k) > 1e-3 {
			x.carrying++
		}
	}
	x.rises = s.rises(x, &st, limits, cur.lifts.at(p.known))
	at := s.around(x)
	for k := range p.known {
		y := s.candidate(x, k, at)
		x.scores[k].used, x.scores[k].hottest = y.used, float64(y.Hottest)
	}
	return x
}

// around is what the tables ask of a place in a case.
func (s *solver) around(x *stand) *setting {
	p := x.place
	return &setting{ambient: x.amb, altitude: unit.Length(s.set.number("altitude", p.scope(s.cases[x.given]))), engine: s.set.engine(p.zone), count: p.count, carrying: x.carrying,
		share: func() (unit.Ratio, bool) {
			x.share.once.Do(func() { x.share.value, x.share.ok = aircraftShare(x, s.conds) })
			return x.share.value, x.share.ok
		}}
}

// candidate is one wire at one place in one case, with what is needed to work out its figures should it be the worst.
type candidate struct {
	WireResult
	used  float64 // share of the room to the limit; above 1 is not met
	table *TableResult
	asked string
}

// candidate weighs the known wire k of a place in a case. at: what around tells, if that is worked out already.
func (s *solver) candidate(x *stand, k int, at *setting) (y candidate) {
	p, ta, limit, steady := x.place, x.air(), x.scores[k].limit, float64(x.temps[k])
	i, c := p.known[k], s.cases[x.given]
	y.asked = s.set.get("ampacity", p.wireScope(&s.nt.Wires[i], c)).Name
	y.WireResult = WireResult{Wire: i, Case: c, Given: x.given, Edge: p.edge, Zone: p.zone, Ambient: x.amb, Amps: s.cur[x.given].full[i], Effective: x.effective(k),
		Count: p.count, Hottest: unit.Temperature(steady), Runaway: x.runaway, Limit: unit.Temperature(limit), Known: true}
	y.used = (steady - ta) / math.Max(limit-ta, 1e-9)
	if limit < ta {
		y.used = 1e12 + (ta-limit)*1e9
	}
	t0 := steady
	if y.asked != "balance" {
		if at == nil {
			at = s.around(x)
		}
		y.table = pick(y.asked, s.conds[i], at)
		if y.table != nil && y.table.Holds {
			r := float64(y.Effective) / math.Max(float64(y.table.Amps), 1e-9)
			y.used = r * r
			t0 = math.Min(t0, ta+(limit-ta)*y.used)
		}
	}
	if n, ok := slices.BinarySearchFunc(x.rises, int32(k), func(r rise, k int32) int { return int(r.k - k) }); ok {
		peak := t0 + x.rises[n].by
		if used := (peak - ta) / math.Max(limit-ta, 1e-9); unit.Worse(used, y.used) {
			y.used, y.Start, y.Peak = used, s.cur[x.given].starts[x.rises[n].start].device, unit.Temperature(math.Min(peak, hottest))
			y.Hottest = max(y.Hottest, y.Peak)
		}
	}
	return y
}

// littleUsed of the room to its limit is what a wire uses that carries next to nothing. Where it uses no more anywhere, its worst place
// is the one nearest to its limit: else the coldest case could win by what a neighbour adds there.
const littleUsed = 0.1

func (x score) worse(y score) bool {
	a, b := math.Max(x.used, littleUsed), math.Max(y.used, littleUsed)
	if unit.Worse(a, b) || unit.Worse(b, a) {
		return a > b
	}
	// Of a difference of two temperatures what is left may be rounding.
	if p, q := x.hottest-x.limit, y.hottest-y.limit; unit.WorseBy(p, q, leastRise) || unit.WorseBy(q, p, leastRise) {
		return p > q
	}
	return unit.Worse(x.used, y.used)
}

// leastRise in K is what a difference of two temperatures may be that are equal.
const leastRise = 1e-9

// littleHeat in W/m warms no bundle by more than a fraction of a kelvin.
const littleHeat = 0.05

// rises is how far starting currents lift each wire above its steady temperature, and which device's does it. Taken is the lower of
// two bounds, both too hot rather than too cool: all heat of the start kept in the wire's copper (adiabatic) and what the neighbours
// add; or the steady state of the bundle, each wire's heat raised by the share 1 - e^(-t/tau) of what the start adds, with tau for
// the copper alone, since in a short start the insulation lags behind.
func (s *solver) rises(at *stand, st *state, limits []float64, lifts []liftedAt) []rise {
	if len(lifts) == 0 {
		return nil
	}
	p, m, ta, sq := at.place, at.model, at.air(), at.sq
	most := make([]rise, len(p.known))
	amps, all := make([]unit.Current, len(sq)), make([]float64, 2*len(sq))
	up, taus := all[:len(sq)], all[len(sq):]
	lifted := 0
	for len(lifts) > 0 {
		n := lifts[0].start
		x := &s.cur[at.given].starts[n]
		clear(amps)
		for len(lifts) > 0 && lifts[0].start == n {
			amps[lifts[0].k] = lifts[0].amps
			lifts = lifts[1:]
		}
		added := s.slowly(up, taus, p, m, ta, limits, sq, amps, x.d)
		var slow *state // most starts do not ask for it
		slowly := func() *state {
			if slow == nil {
				y := m.solve(ta, up)
				slow = &y
			}
			return slow
		}
		beside := 0.0
		if added > littleHeat {
			beside = math.Max(0, slowly().inside(m)-st.inside(m))
		}
		for k, i := range p.known {
			top := st.temps[k]
			if full := square(amps[k]); unit.Worse(full, sq[k]) {
				c := copperCapacity * float64(data.Copper.HeatCapacity) * float64(s.conds[i].Size.Area()) * 1e-6
				top = after(top, full, p.strands[k].r20, c, x.d)
			}
			top += beside
			if top > limits[k] && added > 0 {
				top = math.Min(top, slowly().temps[k])
			}
			if r := top - st.temps[k]; unit.WorseBy(r, most[k].by, leastRise) {
				if !(most[k].by > 0) {
					lifted++
				}
				most[k] = rise{int32(k), n, r}
			}
		}
	}
	if lifted == 0 {
		return nil
	}
	out := make([]rise, 0, lifted)
	for _, r := range most {
		if r.by > 0 {
			out = append(out, r)
		}
	}
	return out
}

// inside is what the surface and the heat of all wires make of a bundle's inside; the hottest bound where nothing is steady.
func (s *state) inside(m *bundle) float64 {
	if s.runaway {
		return hottest
	}
	return s.surface + m.a*s.watts
}

// slowly sets up to the heat a start has built up by its end, and says how much heat per metre it adds. taus are those worked out for starts before; 0: not yet.
func (s *solver) slowly(up, taus []float64, p *place, m *bundle, ta float64, limits, sq []float64, amps []unit.Current, d unit.Time) (added float64) {
	for k := range up {
		up[k] = sq[k]
		if more := square(amps[k]) - sq[k]; more > unit.Alike*sq[k] {
			if taus[k] == 0 {
				taus[k] = s.tauAsBefore(taus, p, m, k, ta, limits)
			}
			up[k] += share(d, 0, taus[k]) * more
			added += (up[k] - sq[k]) * p.strands[k].r20 * factor(limits[k])
		}
	}
	return added
}

// tauAsBefore is the time constant of the copper of a wire, that of an equal wire of the place if it was worked out.
func (s *solver) tauAsBefore(taus []float64, p *place, m *bundle, k int, ta float64, limits []float64) float64 {
	for n, t := range taus {
		if t != 0 && p.strands[n] == p.strands[k] && limits[n] == limits[k] && s.conds[p.known[n]].Size == s.conds[p.known[k]].Size {
			return t
		}
	}
	return s.tau(p, m, k, ta, limits[k], 0)
}
