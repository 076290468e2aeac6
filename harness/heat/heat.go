package heat

import (
	"math"
	"slices"

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
	return Keep(job, nt, cases, duty).Solve(conds)
}

// Around is Solve for the places where some wires lie, and no others: a wire's result tells only of those, and Wires is all there is. Who asks
// more than once of one net asks Kept.Around.
func Around(job *design.Job, nt *net.Net, conds size.Sizes, cases []*solve.CaseResult, duty DutyCurrents, wires []int) *Result {
	out := &Result{}
	for i := range nt.Wires {
		out.Wires = append(out.Wires, nowhere(i))
	}
	for _, w := range Keep(job, nt, cases, duty).Around(conds, wires) {
		out.Wires[w.Wire] = w
	}
	return out
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
	cases  []string  // of each, those at the ends of their spreads too
	cur    []current // by case
}

// current is what heats in one case, by wire of the net.
type current struct {
	full   []unit.Current
	steps  []DutyStep
	starts []start
	lifts  lifts
	least  []unit.Current // what the case leaves a wire at least; nil where nothing starts
	solved bool           // what each start may move is known
}

func (s *solver) currents(c *solve.CaseResult) current {
	cur := current{full: s.floor(c.WireAmps)}
	for _, st := range s.duty[c.Case] {
		st.Amps = s.floor(st.Amps)
		if f := s.first[c.Case]; f != nil && f != c {
			st.Amps = raised(st.Amps, s.floor(f.WireAmps), cur.full)
		}
		cur.steps = append(cur.steps, st)
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
		a := unit.Current(0)
		if i < len(amps) {
			a = amps[i]
		}
		out[i] = s.atLeast(a, i)
	}
	return out
}

// atLeast is a current of a wire without its sign, or what its link says it carries where that is more.
func (s *solver) atLeast(a unit.Current, wire int) unit.Current {
	a = unit.Current(math.Abs(float64(a)))
	if !unit.Finite(a) {
		a = 0
	}
	if c := s.nt.Wires[wire].Carries; c > a && unit.Finite(c) {
		a = c
	}
	return a
}

// load is a place in a case: the air, its bundle, and for each of its known wires the limit and the square of the steady current that
// heats as it does.
func (s *solver) load(p *place, c string, cur *current) (amb unit.Temperature, ta float64, m *bundle, limits, sq []float64) {
	limits, sq = make([]float64, len(p.known)), make([]float64, len(p.known))
	amb, ta, m = s.loadIn(p, c, cur, limits, sq)
	return amb, ta, m, limits, sq
}

func (s *solver) loadIn(p *place, c string, cur *current, limits, sq []float64) (amb unit.Temperature, ta float64, m *bundle) {
	amb = s.set.ambient(p.scope(c))
	ta = within(float64(amb), coolest, hottest)
	m = p.model(s.set, c)
	for k, i := range p.known {
		limits[k] = s.limit(p, i, c)
		tau := 0.0
		if len(cur.steps) > 0 {
			tau = s.tau(p, m, k, ta, limits[k], plasticCapacity)
		}
		sq[k] = effective(float64(cur.full[i]), cur.steps, i, tau)
	}
	return amb, ta, m
}

// limit is how hot a wire may get at a place in a case.
func (s *solver) limit(p *place, wire int, c string) float64 {
	margin := s.set.margin
	if s.set.scoped {
		margin = s.set.number("heat-margin", p.wireScope(&s.nt.Wires[wire], c))
	}
	return within(float64(s.conds[wire].Heat)-margin, coolest, hottest)
}

const copperCapacity = float64(1e9) // J/K per mm3 and K to J/m3K

func (s *solver) tau(p *place, m *bundle, k int, ta, limit, plastic float64) float64 {
	area := float64(s.conds[p.known[k]].Size.Area()) * 1e-6
	return p.strands[k].timeConstant(copperCapacity*float64(data.Copper.HeatCapacity), plastic, area, m.emissivity, m.pressure, ta, limit)
}
