package heat

import (
	"math"
	"slices"
	"sync/atomic"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// stand is a place in a case at rest. There are as many as places times cases for as long as they are kept, so it holds only what is not at once
// worked out again. What its wires are made of and carry is looked up where it is told: it stands only as long as those are what they were.
type stand struct {
	place          *place
	model          *bundle
	amb            unit.Temperature
	of             []figure // by known wire; nil of a place where nothing flows and nothing starts: each has the figures idle
	rises          []rise   // of starts; of the wires that one lifts, ascending
	surface, watts float64
	share          uint64 // of the aircraft table's capacity, as its bits: 0 where not asked for, no number where there is none
	given          int32  // the case
	carrying       int32  // wires that carry current
	runaway        bool
}

// figure is what is kept of a wire at a place in a case: the square of the current that heats it, its conductor's temperature, and the share used of the room
// to its limit.
type figure struct{ sq, temp, used float64 }

// rise is how far a start lifts the known wire k of a place above its steady temperature, and how hot that makes it.
type rise struct {
	k, start    int32
	by, hottest float64
}

// air is the temperature that the balance reckons with.
func (x *stand) air() float64 { return within(float64(x.amb), coolest, hottest) }

func (x *stand) idle() figure { return figure{temp: x.air()} }

func (x *stand) figure(k int) figure {
	if x.of == nil {
		return x.idle()
	}
	return x.of[k]
}

// effective is the steady current that heats the known wire k as what it carries does.
func (x *stand) effective(k int) unit.Current { return unit.Current(math.Sqrt(x.figure(k).sq)) }

// squares is the squares of the currents of all known wires.
func (x *stand) squares() []float64 {
	out := make([]float64, len(x.place.known))
	for k := range x.of {
		out[k] = x.of[k].sq
	}
	return out
}

// rise of the known wire k; nil where no start lifts it.
func (x *stand) rise(k int) *rise {
	if n, ok := slices.BinarySearchFunc(x.rises, int32(k), func(r rise, k int32) int { return int(r.k - k) }); ok {
		return &x.rises[n]
	}
	return nil
}

// score is what decides which of its places and cases is a wire's worst.
type score struct{ used, hottest, limit float64 }

// score of the known wire k; limit is how hot it may get.
func (x *stand) score(k int, limit float64) score {
	f := x.figure(k)
	if r := x.rise(k); r != nil {
		return score{f.used, r.hottest, limit}
	}
	return score{f.used, f.temp, limit}
}

// stand solves a place in a case and weighs its wires, on the desk: it stands until the next.
func (s *solver) stand(p *place, given int, d *desk) *stand {
	cur, n := &s.cur[given], len(p.known)
	d.limits, d.sq, d.figures = resized(d.limits, n), resized(d.sq, n), resized(d.figures, n)
	amb, ta, model := s.loadIn(p, s.cases[given], cur, d.limits, d.sq)
	st := &d.steady
	model.settle(st, ta, d.sq)
	x := &d.stand
	*x = stand{place: p, given: int32(given), model: model, amb: amb, of: d.figures, surface: st.surface, watts: st.watts, runaway: st.runaway}
	for k := range n {
		x.of[k] = figure{sq: d.sq[k], temp: st.temps[k]}
		if x.effective(k) > 1e-3 {
			x.carrying++
		}
	}
	x.rises = s.rises(x, cur.lifts.at(p.known, d), d)
	still := len(x.rises) == 0
	idle, rises := x.idle(), x.rises
	for k := range n {
		var lift *rise
		if len(rises) > 0 && int(rises[0].k) == k {
			lift, rises = &rises[0], rises[1:]
		}
		w := s.weigh(x, k, d.limits[k], lift, &d.at)
		x.of[k].used = w.used
		if lift != nil {
			lift.hottest = float64(w.hottest)
		}
		still = still && x.of[k] == idle
	}
	if still {
		x.of = nil
	}
	d.at = setting{}
	return x
}

// kept is a stand off the desk.
func (x *stand) kept() *stand {
	y := *x
	y.of, y.rises = slices.Clone(x.of), nil
	if len(x.rises) > 0 {
		y.rises = slices.Clone(x.rises)
	}
	return &y
}

// beside copies a stand to y, what it lists to the heap on the desk.
func (x *stand) beside(y *stand, d *desk) {
	*y = *x
	if from := len(d.heap); x.of != nil {
		d.heap = append(d.heap, x.of...)
		y.of = d.heap[from:len(d.heap):len(d.heap)]
	}
	y.rises = slices.Clone(x.rises)
}

// around is what the tables ask of a place in a case.
func (s *solver) around(x *stand) setting {
	return setting{ambient: x.amb, altitude: unit.Length(s.set.number("altitude", x.place.scope(s.cases[x.given]))), engine: s.set.engine(x.place.zone), count: x.place.count, carrying: int(x.carrying),
		at: x, conds: s.conds}
}

// share of the capacity by the aircraft table is in use.
func (at *setting) share() (unit.Ratio, bool) {
	bits := atomic.LoadUint64(&at.at.share)
	if bits == 0 {
		share, ok := aircraftShare(at.at, at.conds)
		if !ok {
			share = unit.Ratio(math.NaN())
		}
		bits = math.Float64bits(float64(share))
		atomic.StoreUint64(&at.at.share, bits)
	}
	share := math.Float64frombits(bits)
	return unit.Ratio(share), !math.IsNaN(share)
}

// weight is how near a wire is to its limit at one place in one case, and by what.
type weight struct {
	used          float64 // share of the room to the limit; above 1 is not met
	hottest, peak unit.Temperature
	lift          *rise // the start that makes the peak, where one does
	table         *TableResult
	asked         string
}

// weigh weighs the known wire k of a place in a case. at: what around tells, worked out if it is not yet.
func (s *solver) weigh(x *stand, k int, limit float64, lift *rise, at *setting) (y weight) {
	p, ta, f, i := x.place, x.air(), x.figure(k), x.place.known[k]
	if y.asked = s.set.ampacity; s.set.tables {
		y.asked = s.set.get("ampacity", p.wireScope(&s.nt.Wires[i], s.cases[x.given])).Name
	}
	y.used, y.hottest = (f.temp-ta)/math.Max(limit-ta, 1e-9), unit.Temperature(f.temp)
	if limit < ta {
		y.used = 1e12 + (ta-limit)*1e9
	}
	t0 := f.temp
	if y.asked != "balance" {
		if at.at == nil {
			*at = s.around(x)
		}
		y.table = pick(y.asked, s.conds[i], at)
		if y.table != nil && y.table.Holds {
			r := math.Sqrt(f.sq) / math.Max(float64(y.table.Amps), 1e-9)
			y.used = r * r
			t0 = math.Min(t0, ta+(limit-ta)*y.used)
		}
	}
	if lift != nil {
		peak := t0 + lift.by
		if used := (peak - ta) / math.Max(limit-ta, 1e-9); unit.Worse(used, y.used) {
			y.used, y.lift, y.peak = used, lift, unit.Temperature(math.Min(peak, hottest))
			y.hottest = max(y.hottest, y.peak)
		}
	}
	return y
}

// candidate is one wire at one place in one case, with what is needed to work out its figures should it be the worst.
type candidate struct {
	WireResult
	weight
}

func (s *solver) candidate(x *stand, k int, at *setting) (y candidate) {
	p, i, c := x.place, x.place.known[k], s.cases[x.given]
	limit := s.limit(p, i, c)
	y.weight = s.weigh(x, k, limit, x.rise(k), at)
	y.WireResult = WireResult{Wire: i, Case: c, Given: int(x.given), Edge: p.edge, Zone: p.zone, Ambient: x.amb, Amps: s.cur[x.given].full[i], Effective: x.effective(k),
		Count: p.count, Hottest: y.hottest, Runaway: x.runaway, Limit: unit.Temperature(limit), Known: true}
	if y.lift != nil {
		y.Start, y.Peak = s.cur[x.given].starts[y.lift.start].device, y.peak
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

// lifting is the rise found for a wire so far, and of what it came: what is no more in anything rises no further. full is 0 where the rise was cut down.
type lifting struct {
	rise
	full, beside float64
	long         unit.Time
}

// rises is how far starting currents lift each wire above its steady temperature, and which device's does it. Taken is the lower of
// two bounds, both too hot rather than too cool: all heat of the start kept in the wire's copper (adiabatic) and what the neighbours
// add; or the steady state of the bundle, each wire's heat raised by the share 1 - e^(-t/tau) of what the start adds, with tau for
// the copper alone, since in a short start the insulation lags behind.
func (s *solver) rises(x *stand, lifts []liftedAt, d *desk) []rise {
	if len(lifts) == 0 {
		return nil
	}
	p, m, ta, st := x.place, x.model, x.air(), &d.steady
	d.most, d.taus = resized(d.most, len(p.known)), resized(d.taus, len(p.known))
	clear(d.most)
	clear(d.taus)
	lifted := false
	for len(lifts) > 0 {
		end := 1
		for end < len(lifts) && lifts[end].start == lifts[0].start {
			end++
		}
		own, n, long := lifts[:end], lifts[0].start, s.cur[x.given].starts[lifts[0].start].d
		lifts = lifts[end:]
		added, heated, solved := 0.0, false, false // few starts ask for these
		heat := func() float64 {
			if !heated {
				added, heated = s.slowly(x, own, long, d), true
			}
			return added
		}
		slow := func() *state {
			if !solved {
				heat()
				m.settle(&d.slow, ta, d.up)
				solved = true
			}
			return &d.slow
		}
		beside := 0.0
		if s.atMost(x, own, d) > 0.99*littleHeat && heat() > littleHeat {
			beside = math.Max(0, slow().inside(m)-st.inside(m))
		}
		lift := func(k int, full float64) {
			b := &d.most[k]
			if b.full > 0 && full <= b.full && long <= b.long && beside <= b.beside {
				return
			}
			top := st.temps[k]
			if unit.Worse(full, d.sq[k]) {
				i := p.known[k]
				c := copperCapacity * float64(data.Copper.HeatCapacity) * float64(s.conds[i].Size.Area()) * 1e-6
				top = after(top, full, p.strands[k].r20, c, long)
			}
			top += beside
			keeps := full
			if top > d.limits[k] && heat() > 0 {
				top, keeps = math.Min(top, slow().temps[k]), 0
			}
			if by := top - st.temps[k]; unit.WorseBy(by, b.by, leastRise) {
				*b = lifting{rise{k: int32(k), start: n, by: by}, keeps, beside, long}
				lifted = true
			}
		}
		if beside > 0 {
			for k := range p.known {
				if len(own) > 0 && int(own[0].k) == k {
					lift(k, square(own[0].amps))
					own = own[1:]
				} else {
					lift(k, 0)
				}
			}
			continue
		}
		for _, l := range own { // the others do not rise
			lift(int(l.k), square(l.amps))
		}
	}
	if !lifted {
		return nil
	}
	d.rises = d.rises[:0]
	for i := range d.most {
		if d.most[i].by > 0 {
			d.rises = append(d.rises, d.most[i].rise)
		}
	}
	return d.rises
}

// inside is what the surface and the heat of all wires make of a bundle's inside; the hottest bound where nothing is steady.
func (s *state) inside(m *bundle) float64 {
	if s.runaway {
		return hottest
	}
	return s.surface + m.a*s.watts
}

// atMost is the heat per metre that a start adds if it lasts for good.
func (s *solver) atMost(x *stand, own []liftedAt, d *desk) (added float64) {
	for _, l := range own {
		if more := square(l.amps) - d.sq[l.k]; more > 0 {
			added += more * x.place.strands[l.k].r20 * factor(d.limits[l.k])
		}
	}
	return added
}

// slowly sets up to the heat a start has built up by its end, and says how much heat per metre it adds. taus are those worked out for starts before; 0: not yet.
func (s *solver) slowly(x *stand, own []liftedAt, long unit.Time, d *desk) (added float64) {
	d.up = append(d.up[:0], d.sq...)
	for _, l := range own {
		k := l.k
		if more := square(l.amps) - d.sq[k]; more > unit.Alike*d.sq[k] {
			if d.taus[k] == 0 {
				d.taus[k] = s.tauAsBefore(x, int(k), d)
			}
			d.up[k] += share(long, 0, d.taus[k]) * more
			added += (d.up[k] - d.sq[k]) * x.place.strands[k].r20 * factor(d.limits[k])
		}
	}
	return added
}

// tauAsBefore is the time constant of the copper of a wire, that of an equal wire of the place if it was worked out.
func (s *solver) tauAsBefore(x *stand, k int, d *desk) float64 {
	p := x.place
	for n, t := range d.taus {
		if t != 0 && p.strands[n] == p.strands[k] && d.limits[n] == d.limits[k] && s.conds[p.known[n]].Size == s.conds[p.known[k]].Size {
			return t
		}
	}
	return s.tau(p, x.model, k, x.air(), d.limits[k], 0)
}
