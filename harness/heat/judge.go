package heat

import (
	"math"
	"sync"

	"loomsheet/harness/data"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// stand is a place in a case at rest.
type stand struct {
	c          string // the case
	given      int
	place      *place
	amb        unit.Temperature
	ta         float64
	model      *bundle
	limits, sq []float64
	st         state
	peaks      []float64 // of starts; nil where there are none
	who        []string
	at         *setting
	scores     []score
	amps       []unit.Current // current.full of the known wires
}

// score is what decides which of its places and cases is a wire's worst.
type score struct{ used, hottest, limit float64 }

// stand solves a place in a case and weighs its wires. pi is the place's own number.
func (s *solver) stand(p *place, pi, given int, c string, cur *current) *stand {
	x := &stand{c: c, given: given, place: p, scores: make([]score, len(p.known)), amps: make([]unit.Current, len(p.known))}
	x.amb, x.ta, x.model, x.limits, x.sq = s.load(p, c, cur)
	x.st = x.model.solve(x.ta, x.sq)
	at := &setting{ambient: x.amb, altitude: unit.Length(s.set.number("altitude", p.scope(c))), engine: s.set.engine(p.zone)}
	at.amps = make([]unit.Current, len(p.known))
	for k, i := range p.known {
		x.amps[k], at.amps[k] = cur.full[i], unit.Current(math.Sqrt(x.sq[k]))
		if s.nt.Wires[i].Kind != net.Screen {
			at.count++
		}
		if at.amps[k] > 1e-3 {
			at.carrying++
		}
	}
	conds := s.conds
	at.share = sync.OnceValues(func() (unit.Ratio, bool) {
		for _, i := range p.known {
			at.conds = append(at.conds, conds[i])
		}
		return aircraftShare(at)
	})
	x.at = at
	if starts := cur.at[pi]; len(starts) > 0 {
		x.peaks, x.who = s.peaks(x, cur, starts)
	}
	for k := range p.known {
		y := s.candidate(x, k)
		x.scores[k] = score{y.used, float64(y.Hottest), float64(y.Limit)}
	}
	return x
}

// candidate is one wire at one place in one case, with what is needed to work out its figures should it be the worst.
type candidate struct {
	WireResult
	used  float64 // share of the room to the limit; above 1 is not met
	table *TableResult
	asked string
}

// candidate weighs the known wire k of a place in a case.
func (s *solver) candidate(x *stand, k int) (y candidate) {
	p, ta, limit, steady := x.place, x.ta, x.limits[k], x.st.temps[k]
	i := p.known[k]
	y.asked = s.set.get("ampacity", p.wireScope(&s.nt.Wires[i], x.c)).Name
	y.WireResult = WireResult{Wire: i, Case: x.c, Given: x.given, Edge: p.edge, Zone: p.zone, Ambient: x.amb, Amps: x.amps[k], Effective: x.at.amps[k],
		Count: x.at.count, Hottest: unit.Temperature(steady), Runaway: x.st.runaway, Limit: unit.Temperature(limit), Known: true}
	y.used = (steady - ta) / math.Max(limit-ta, 1e-9)
	if limit < ta {
		y.used = 1e12 + (ta-limit)*1e9
	}
	t0 := steady
	if y.asked != "balance" {
		y.table = pick(y.asked, s.conds[i], x.at)
		if y.table != nil && y.table.Holds {
			r := float64(x.at.amps[k]) / math.Max(float64(y.table.Amps), 1e-9)
			y.used = r * r
			t0 = math.Min(t0, ta+(limit-ta)*y.used)
		}
	}
	if x.peaks != nil && x.peaks[k] > 0 {
		peak := t0 + x.peaks[k]
		if used := (peak - ta) / math.Max(limit-ta, 1e-9); unit.Worse(used, y.used) {
			y.used, y.Start, y.Peak = used, x.who[k], unit.Temperature(math.Min(peak, hottest))
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

// peaks is how far starting currents lift each wire above its steady temperature, and which device's does it. Taken is the lower of
// two bounds, both too hot rather than too cool: all heat of the start kept in the wire's copper (adiabatic) and what the neighbours
// add; or the steady state of the bundle, each wire's heat raised by the share 1 - e^(-t/tau) of what the start adds, with tau for
// the copper alone, since in a short start the insulation lags behind.
func (s *solver) peaks(at *stand, cur *current, starts []lift) ([]float64, []string) {
	p, m, ta, limits, sq, st := at.place, at.model, at.ta, at.limits, at.sq, at.st
	rise, who := make([]float64, len(p.known)), make([]string, len(p.known))
	var amps []unit.Current
	for n := range starts {
		x := &cur.starts[starts[n].start]
		amps = starts[n].over(p.known, amps)
		slow, added := s.slowly(p, m, ta, limits, sq, amps, x.d)
		beside := 0.0
		if added > littleHeat {
			beside = math.Max(0, slow().inside(m)-st.inside(m))
		}
		for k, i := range p.known {
			top := st.temps[k]
			if full := square(amps[k]); unit.Worse(full, sq[k]) {
				c := copperCapacity * float64(data.Copper.HeatCapacity) * float64(s.conds[i].Size.Area()) * 1e-6
				top = after(top, full, p.strands[k].r20, c, x.d)
			}
			top += beside
			if top > limits[k] && added > 0 {
				top = math.Min(top, slow().temps[k])
			}
			if r := top - st.temps[k]; unit.WorseBy(r, rise[k], leastRise) {
				rise[k], who[k] = r, x.device
			}
		}
	}
	return rise, who
}

// inside is what the surface and the heat of all wires make of a bundle's inside; the hottest bound where nothing is steady.
func (s state) inside(m *bundle) float64 {
	if s.runaway {
		return hottest
	}
	return s.surface + m.a*s.watts
}

// slowly prepares the steady state at the heat a start has built up by its end, and says how much heat per metre it adds.
func (s *solver) slowly(p *place, m *bundle, ta float64, limits, sq []float64, amps []unit.Current, d unit.Time) (at func() state, added float64) {
	up := make([]float64, len(sq))
	for k := range up {
		up[k] = sq[k]
		if more := square(amps[k]) - sq[k]; more > unit.Alike*sq[k] {
			up[k] += share(d, 0, s.tau(p, m, k, ta, limits[k], 0)) * more
			added += (up[k] - sq[k]) * p.strands[k].r20 * factor(limits[k])
		}
	}
	return sync.OnceValue(func() state { return m.solve(ta, up) }), added
}
