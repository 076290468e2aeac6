package heat

import (
	"fmt"
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

// Solve finds the temperature of every wire in every case and what each may carry. conds holds a conductor for each wire of the
// net. Without any case the wires are judged with what their links say they carry. It reads nothing but its arguments, changes
// none of them, and gives finite values for any finite input.
//
// A wire's result is its worst place over edges and cases: the one where most of the room between the air and its limit, or of its
// table's current, is used; for one that uses little everywhere the one where it comes nearest to its limit.
//
// Cases may carry one name more than once, a case with its supplies low and high as well: results take the worst of all, Temps are those of
// the first of a name.
func Solve(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents) *Result {
	return solveAt(job, nt, conds, cases, duty, func(*place) bool { return true })
}

// Around is Solve for the places where some wires lie, and no others: a wire's result tells only of those.
func Around(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents, wires []int) *Result {
	return solveAt(job, nt, conds, cases, duty, func(p *place) bool {
		return slices.ContainsFunc(wires, func(i int) bool { return slices.Contains(p.wires, i) })
	})
}

func solveAt(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents, want func(*place) bool) *Result {
	s := &solver{job: job, nt: nt, conds: conds, set: newSettings(job), duty: duty, worst: make([]candidate, len(nt.Wires))}
	s.places = places(job, nt, conds, want)
	cases = spread(cases)
	s.first = firsts(cases)
	res := &Result{Temps: map[string][]unit.Temperature{}}
	for i, c := range cases {
		bundles, temps := s.oneCase(i, c)
		res.Bundles = append(res.Bundles, CaseBundles{c.Case, bundles})
		if _, twice := res.Temps[c.Case]; !twice {
			res.Temps[c.Case] = temps
		}
	}
	for i := range nt.Wires {
		res.Wires = append(res.Wires, s.worst[i].result(s, i))
	}
	return res
}

// spread is the cases with, after all of them, what they become at both ends of their supplies' spreads; one that carries nothing where there is none.
func spread(cases []*solve.CaseResult) []*solve.CaseResult {
	if len(cases) == 0 {
		return []*solve.CaseResult{{}}
	}
	out := slices.Clone(cases)
	for _, c := range cases {
		out = append(out, c.Variants()[1:]...)
	}
	return out
}

type solver struct {
	job    *design.Job
	nt     *net.Net
	conds  size.Sizes
	set    *settings
	duty   DutyCurrents
	first  map[string]*solve.CaseResult // the first case of each name
	places []place
	worst  []candidate
}

// candidate is one wire at one place in one case, with what is needed to work out its figures should it be the worst.
type candidate struct {
	WireResult
	used  float64 // share of the room to the limit; above 1 is not met
	at    *setting
	table *TableResult
	model *bundle
	sq    []float64
	k     int
	asked string
	air   float64
}

// current is what heats in one case, by wire of the net.
type current struct {
	full   []unit.Current
	starts []start
	steps  []DutyStep
}

type start struct {
	device string
	d      unit.Time
	amps   []unit.Current
}

func (s *solver) currents(c *solve.CaseResult) current {
	n := len(s.nt.Wires)
	cur := current{full: s.floor(c.WireAmps)}
	for _, st := range s.duty[c.Case] {
		st.Amps = s.floor(st.Amps)
		if f := s.first[c.Case]; f != nil && f != c {
			st.Amps = raised(st.Amps, s.floor(f.WireAmps), cur.full)
		}
		cur.steps = append(cur.steps, st)
	}
	for i := range c.Starts {
		st := &c.Starts[i]
		d := startTime(s.job, st.Device)
		if d <= 0 || st.Net == nil {
			continue
		}
		amps := make([]unit.Current, n)
		for e, el := range st.Net.Elements {
			if el.Kind == solve.Wire && el.Wire >= 0 && el.Wire < n && e < len(st.Point.Amps) {
				amps[el.Wire] = st.Point.Amps[e]
			}
		}
		cur.starts = append(cur.starts, start{st.Device, d, s.floor(amps)})
	}
	return cur
}

func firsts(cases []*solve.CaseResult) map[string]*solve.CaseResult {
	out := map[string]*solve.CaseResult{}
	for _, c := range cases {
		if out[c.Case] == nil {
			out[c.Case] = c
		}
	}
	return out
}

// raised is what is left of the currents when duty loads rest, in another case of the name whose duty was worked out in the first: where the
// other carries more in all, as much more.
func raised(rest, first, other []unit.Current) []unit.Current {
	out := make([]unit.Current, len(rest))
	for i := range rest {
		out[i] = rest[i]
		switch {
		case other[i] <= first[i]:
		case first[i] <= 0:
			out[i] = other[i]
		default:
			out[i] = unit.Current(math.Min(float64(rest[i])*float64(other[i]/first[i]), math.Max(float64(rest[i]), float64(other[i]))))
		}
	}
	return out
}

// floor makes currents positive and not less than what the links say they carry.
func (s *solver) floor(amps []unit.Current) []unit.Current {
	out := make([]unit.Current, len(s.nt.Wires))
	for i := range out {
		if i < len(amps) && unit.Finite(amps[i]) {
			out[i] = unit.Current(math.Abs(float64(amps[i])))
		}
		if c := s.nt.Wires[i].Carries; c > out[i] && unit.Finite(c) {
			out[i] = c
		}
	}
	return out
}

// startTime is how long a device draws its starting current: the longest of its draws and coils; 0 where none says.
func startTime(job *design.Job, device string) unit.Time {
	var d unit.Time
	for _, x := range job.Devices {
		if x.Name != device {
			continue
		}
		for i := range x.Draws {
			if x.Draws[i].Start.Given {
				d = max(d, x.Draws[i].StartFor)
			}
		}
		for i := range x.Coils {
			if x.Coils[i].Start.Given {
				d = max(d, x.Coils[i].StartFor)
			}
		}
	}
	return d
}

// load is a place in a case: the air, its bundle, and for each of its known wires the limit and the square of the steady current that
// heats as it does.
func (s *solver) load(p *place, c string, cur *current) (amb unit.Temperature, ta float64, m *bundle, limits, sq []float64) {
	amb, _ = Ambient(s.job, p.scope(c))
	ta = within(float64(amb), coolest, hottest)
	m = p.model(s.set, c)
	limits, sq = make([]float64, len(p.known)), make([]float64, len(p.known))
	for k, i := range p.known {
		margin := s.set.number("heat-margin", p.wireScope(&s.nt.Wires[i], c))
		limits[k] = within(float64(s.conds[i].Heat)-margin, coolest, hottest)
		tau := 0.0
		if len(cur.steps) > 0 {
			tau = s.tau(p, m, k, ta, limits[k], plasticCapacity)
		}
		sq[k] = effective(float64(cur.full[i]), cur.steps, i, tau)
	}
	return amb, ta, m, limits, sq
}

func (s *solver) oneCase(given int, c *solve.CaseResult) ([]BundleResult, []unit.Temperature) {
	n := len(s.nt.Wires)
	cur := s.currents(c)
	sum, length := make([]float64, n), make([]float64, n)
	var bundles []BundleResult
	for pi := range s.places {
		p := &s.places[pi]
		amb, ta, m, limits, sq := s.load(p, c.Case, &cur)
		st := m.solve(ta, sq)
		for k, i := range p.known {
			l := math.Max(float64(p.length), 1e-6)
			sum[i] += st.temps[k] * l
			length[i] += l
		}
		if p.edge >= 0 {
			bundles = append(bundles, BundleResult{Edge: p.edge, Run: p.run, Station: p.station, Wires: p.wires, Amps: p.amps(sq), Temps: p.temps(st, ta), Outside: p.diameter + 2*p.wall, Bare: p.diameter, Ambient: amb,
				Surface: unit.Temperature(st.surface), Watts: unit.LinearPower(st.watts), Runaway: st.runaway})
		}
		s.judge(given, c.Case, p, m, amb, ta, limits, sq, st, cur)
	}
	temps := make([]unit.Temperature, n)
	for i := range temps {
		if length[i] > 0 {
			temps[i] = unit.Temperature(sum[i] / length[i])
			continue
		}
		amb, _ := Ambient(s.job, design.Scope{Zone: s.nt.Wires[i].Zone, Section: s.nt.Wires[i].Section, Case: c.Case})
		temps[i] = unit.Temperature(within(float64(amb), coolest, hottest))
	}
	return bundles, temps
}

// amps spreads the currents of the known wires over all of the place.
func (p *place) amps(sq []float64) []unit.Current {
	out := make([]unit.Current, len(p.wires))
	k := 0
	for j, i := range p.wires {
		if k < len(p.known) && p.known[k] == i {
			out[j] = unit.Current(math.Sqrt(sq[k]))
			k++
		}
	}
	return out
}

// temps spreads the temperatures of the known wires over all of the place.
func (p *place) temps(st state, ta float64) []unit.Temperature {
	out := make([]unit.Temperature, len(p.wires))
	k := 0
	for j, i := range p.wires {
		out[j] = unit.Temperature(ta)
		if k < len(p.known) && p.known[k] == i {
			out[j] = unit.Temperature(st.temps[k])
			k++
		}
	}
	return out
}

const copperCapacity = float64(1e9) // J/K per mm3 and K to J/m3K

func (s *solver) tau(p *place, m *bundle, k int, ta, limit, plastic float64) float64 {
	area := float64(s.conds[p.known[k]].Size.Area()) * 1e-6
	return p.strands[k].timeConstant(copperCapacity*float64(data.Copper.HeatCapacity), plastic, area, m.emissivity, m.pressure, ta, limit)
}

// judge weighs each wire of a place in a case against its worst so far.
func (s *solver) judge(given int, c string, p *place, m *bundle, amb unit.Temperature, ta float64, limits, sq []float64, st state, cur current) {
	at := &setting{ambient: amb, altitude: unit.Length(s.set.number("altitude", p.scope(c))), engine: s.engine(p.zone)}
	for k, i := range p.known {
		amps := unit.Current(math.Sqrt(sq[k]))
		at.amps = append(at.amps, amps)
		at.conds = append(at.conds, s.conds[i])
		if s.nt.Wires[i].Kind != net.Screen {
			at.count++
		}
		if amps > 1e-3 {
			at.carrying++
		}
	}
	at.share = sync.OnceValues(func() (unit.Ratio, bool) { return aircraftShare(at) })
	peaks, who := s.peaks(p, m, ta, limits, sq, st, cur)
	for k, i := range p.known {
		w := &s.nt.Wires[i]
		x := candidate{at: at, model: m, sq: sq, k: k, air: ta, asked: s.set.get("ampacity", p.wireScope(w, c)).Name}
		x.WireResult = WireResult{Wire: i, Case: c, Given: given, Edge: p.edge, Zone: p.zone, Ambient: amb, Amps: cur.full[i], Effective: at.amps[k],
			Count: at.count, Hottest: unit.Temperature(st.temps[k]), Runaway: st.runaway, Limit: unit.Temperature(limits[k]), Known: true}
		x.used = (st.temps[k] - ta) / math.Max(limits[k]-ta, 1e-9)
		if limits[k] < ta {
			x.used = 1e12 + (ta-limits[k])*1e9
		}
		t0 := st.temps[k]
		if x.asked != "balance" {
			x.table = pick(x.asked, s.conds[i], at)
			if x.table != nil && x.table.Holds {
				r := float64(at.amps[k]) / math.Max(float64(x.table.Amps), 1e-9)
				x.used = r * r
				t0 = math.Min(t0, ta+(limits[k]-ta)*x.used)
			}
		}
		if peak := t0 + peaks[k]; peaks[k] > 0 {
			if used := (peak - ta) / math.Max(limits[k]-ta, 1e-9); used > x.used {
				x.used, x.Start, x.Peak = used, who[k], unit.Temperature(math.Min(peak, hottest))
				x.Hottest = max(x.Hottest, x.Peak)
			}
		}
		if s.worst[i].model == nil || x.worse(&s.worst[i]) {
			s.worst[i] = x
		}
	}
}

// littleUsed of the room to its limit is what a wire uses that carries next to nothing. Where it uses no more anywhere, its worst place
// is the one nearest to its limit: else the coldest case could win by what a neighbour adds there.
const littleUsed = 0.1

func (x *candidate) worse(y *candidate) bool {
	a, b := math.Max(x.used, littleUsed), math.Max(y.used, littleUsed)
	if a != b {
		return a > b
	}
	return x.Hottest-x.Limit > y.Hottest-y.Limit || x.Hottest-x.Limit == y.Hottest-y.Limit && x.used > y.used
}

// littleHeat in W/m warms no bundle by more than a fraction of a kelvin.
const littleHeat = 0.05

// peaks is how far starting currents lift each wire above its steady temperature, and which device's does it. Taken is the lower of
// two bounds, both too hot rather than too cool: all heat of the start kept in the wire's copper (adiabatic) and what the neighbours
// add; or the steady state of the bundle, each wire's heat raised by the share 1 - e^(-t/tau) of what the start adds, with tau for
// the copper alone, since in a short start the insulation lags behind.
func (s *solver) peaks(p *place, m *bundle, ta float64, limits, sq []float64, st state, cur current) ([]float64, []string) {
	rise, who := make([]float64, len(p.known)), make([]string, len(p.known))
	for si := range cur.starts {
		x := &cur.starts[si]
		slow, added := s.slowly(p, m, ta, limits, sq, x)
		beside := 0.0
		if added > littleHeat {
			beside = math.Max(0, slow().inside(m)-st.inside(m))
		}
		for k, i := range p.known {
			top := st.temps[k]
			if full := square(x.amps[i]); full > sq[k] {
				c := copperCapacity * float64(data.Copper.HeatCapacity) * float64(s.conds[i].Size.Area()) * 1e-6
				top = after(top, full, p.strands[k].r20, c, x.d)
			}
			top += beside
			if top > limits[k] && added > 0 {
				top = math.Min(top, slow().temps[k])
			}
			if r := top - st.temps[k]; r > rise[k] {
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
func (s *solver) slowly(p *place, m *bundle, ta float64, limits, sq []float64, x *start) (at func() state, added float64) {
	up := make([]float64, len(sq))
	for k, i := range p.known {
		up[k] = sq[k]
		if more := square(x.amps[i]) - sq[k]; more > 0 {
			up[k] += share(x.d, 0, s.tau(p, m, k, ta, limits[k], 0)) * more
			added += (up[k] - sq[k]) * p.strands[k].r20 * factor(limits[k])
		}
	}
	return sync.OnceValue(func() state { return m.solve(ta, up) }), added
}

func (s *solver) engine(zone string) bool {
	for _, z := range s.job.Zones {
		if z.Name == zone {
			for _, w := range z.With {
				if w == "engine-space" {
					return true
				}
			}
		}
	}
	return false
}

// result works out the ampacities of a wire at its worst place, and puts the ruling into words.
func (x candidate) result(s *solver, wire int) WireResult {
	if x.model == nil {
		return WireResult{Wire: wire, Edge: -1, Met: true, Why: "its conductor is not known"}
	}
	r := x.WireResult
	limit := float64(r.Limit)
	r.Balance = unit.Current(x.model.ampacity(x.air, limit, x.sq, x.k))
	rest := append([]float64(nil), x.sq...)
	rest[x.k] = 0
	r.Rest = unit.Temperature(x.model.together(x.air, rest).temps[x.k])
	r.FreeAir = r.Balance
	if len(x.model.wires) > 1 {
		r.FreeAir = unit.Current(x.model.solo[x.k].ampacity(x.air, limit, []float64{0}, 0))
	}
	if x.asked == "balance" {
		x.table = pick(x.asked, s.conds[wire], x.at)
	}
	r.Table = x.table
	r.Ruled, r.Ampacity, r.Verified = Balance, r.Balance, s.firm(&s.conds[wire], design.Scope{Zone: r.Zone, Case: r.Case})
	switch {
	case x.asked == "balance":
		r.Why = "heat balance, the method in force"
	case x.table == nil:
		r.Why = "heat balance: " + string(asked(x.asked)) + " has no figure for " + s.conds[wire].Size.String() + " at " + s.conds[wire].Heat.String()
	case !x.table.Holds:
		r.Why = "heat balance, because " + string(x.table.Method) + " does not hold: " + x.table.Condition
	default:
		r.Ruled, r.Ampacity, r.Verified = x.table.Method, x.table.Amps, x.table.Verified
		r.Why = string(x.table.Method) + ", whose printed conditions hold: " + x.table.Condition
	}
	if r.Start != "" {
		r.Why += "; the start of " + r.Start + " makes the peak"
	}
	r.Met = x.used <= 1+1e-9
	if r.Unjudged = r.Ruled != Balance && r.Met && r.Hottest > r.Limit; r.Unjudged {
		r.Why += fmt.Sprintf("; by the heat balance, which is not judged here, the conductor reaches %s and may reach %s, and %s would be its most", r.Hottest, r.Limit, r.Balance)
	}
	return r
}

func asked(setting string) Method {
	if setting == "aircraft" {
		return Aircraft
	}
	return Marine
}

// firm tells whether a heat balance rests on verified values only: the resistance, the figures of the wire's family (outside diameter and
// heat rating), and an emissivity and conductivities that somebody set, since their defaults are from memory.
func (s *solver) firm(c *size.Conductor, at design.Scope) bool {
	if !c.Verified {
		return false
	}
	for _, name := range []string{"emissivity", "bundle-conductivity", "insulation-conductivity"} {
		if !s.job.Settings.Get(name, at).Set {
			return false
		}
	}
	for _, w := range s.job.Parts.Wires {
		if w.Name == c.Family {
			return size.Verified(w.Source)
		}
	}
	return false
}
