package fit

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// grower grows the automatic sizes of one net.
type grower struct {
	job      *design.Job
	nt       *net.Net
	fitter   *size.Fitter
	judge    *Judge
	parts    *parts
	laid     []*solve.Laid        // by case
	solved   []*solve.CaseResult  // by case, as solved last
	temps    [][]unit.Temperature // by case and wire, at which they were
	air      [][]unit.Temperature // by case and wire: where the temperatures begin
	kept     *heat.Kept           // with the currents it was asked with last
	looked   *protect.Look        // the last look at the protection, what may be taken over of it; nil: none was
	lookedAt int                  // what heat.Kept.Asked was then
	ladders  [][]size.Conductor   // by wire; empty for one that is not the program's to size
	strands  [][]int              // by wire: all wires that keep its size, itself among them
	floor    size.Sizes           // where growing began
	tried    []unit.Size          // by wire: to what it was cut last
	leapt    []unit.Size          // by wire, of parallel ones the first: the size it was lifted onward from, until that was looked at
	returned []bool               // likewise: it came back from that
	capped   []int                // by wire: the last step of its ladder that can be crimped at both ends
}

func newGrower(job *design.Job, nt *net.Net, f *size.Fitter, sizes size.Sizes) *grower {
	g := &grower{job: job, nt: nt, fitter: f, judge: NewJudge(job, nt), parts: newParts(job, nt, sizes), laid: layAll(job, nt, sizes), floor: f.Initial(),
		ladders: make([][]size.Conductor, len(nt.Wires)), strands: make([][]int, len(nt.Wires)), capped: make([]int, len(nt.Wires)), tried: make([]unit.Size, len(nt.Wires)),
		leapt: make([]unit.Size, len(nt.Wires)), returned: make([]bool, len(nt.Wires))}
	names := make([]string, len(job.Cases))
	for i, c := range job.Cases {
		names[i] = c.Name
	}
	g.air = heat.MeanAmbients(job, nt, names)
	type link struct {
		circuit     string
		link, piece int
	}
	together := map[link][]int{}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		if !size.Auto(w, &sizes[i]) {
			continue
		}
		g.ladders[i] = f.Ladder(i)
		g.capped[i] = len(g.ladders[i]) - 1
		for g.capped[i] > 0 && !f.CouldFit(i, &g.ladders[i][g.capped[i]]) {
			g.capped[i]--
		}
		k := link{w.Circuit, w.Link, w.Piece}
		if w.Link < 0 {
			g.strands[i] = []int{i}
			continue
		}
		together[k] = append(together[k], i)
	}
	for i := range nt.Wires {
		if w := &nt.Wires[i]; g.ladders[i] != nil && g.strands[i] == nil {
			g.strands[i] = together[link{w.Circuit, w.Link, w.Piece}]
		}
	}
	return g
}

// next is the step of a wire's ladder above a size, -1 if there is none.
func (g *grower) next(i int, s unit.Size) int {
	for k := range g.ladders[i] {
		if s.Less(g.ladders[i][k].Size) {
			return k
		}
	}
	return -1
}

// lift sets wire i and its parallel wires to a step of its ladder.
func (g *grower) lift(sizes size.Sizes, i, step int, why size.Reason) {
	for _, j := range g.strands[i] {
		c := g.ladders[i][step]
		c.Why = why
		c.Contacts, c.Fits = g.fitter.Contacts(j, &c)
		sizes[j] = c
	}
}

// grow makes one step: what is too hot grows until, at the currents of the cases, the balance or table is met; in parts where nothing is, what breaks a limit on
// volts grows by the linear estimate. Sizes only grow, up to size-most. It returns new sizes, the heat once what is too hot has grown, and the limits that no
// allowed size would meet.
func (g *grower) grow(sizes size.Sizes, temps map[string][]unit.Temperature, cases []*solve.CaseResult, duty heat.DutyCurrents) (size.Sizes, *heat.Result, []Reach) {
	out, h := g.growHeat(sizes, cases, duty)
	v := &volts{grower: g, solved: sizes, temps: temps, cases: cases, hot: g.parts.differing(sizes, out)}
	reach := v.grow(out, 1)
	g.fitter.Adjust(out)
	return out, h, reach
}

// heat is that of cases, with sizes; of what is met it tells no more than that.
func (g *grower) heat(sizes size.Sizes, cases []*solve.CaseResult, duty heat.DutyCurrents) *heat.Result {
	if g.kept == nil {
		g.kept = heat.Keep(g.job, g.nt, cases, duty)
	} else {
		g.kept.Carry(cases, duty)
	}
	return g.kept.Judge(sizes)
}

// mostSteps bounds how often sizes are stepped up in one go; no family has as many sizes.
const mostSteps = 60

// growHeat steps up what is not met by heat, at given currents, until all is or nothing can grow.
func (g *grower) growHeat(sizes size.Sizes, cases []*solve.CaseResult, duty heat.DutyCurrents) (size.Sizes, *heat.Result) {
	out := slices.Clone(sizes)
	h := g.heat(out, cases, duty)
	cure := make([]int, len(h.Wires))
	for range mostSteps {
		up := map[int]bool{}
		var order []int
		worst := map[place]float64{}
		for i := range h.Wires {
			if cure[i] = g.remedy(h, out, i); cure[i] == i {
				p := placeOf(&h.Wires[i])
				worst[p] = max(worst[p], strain(&h.Wires[i]))
			}
		}
		for i, j := range cure {
			// One that is over by far less than the worst beside it may be met once that one has grown.
			if r := &h.Wires[i]; j == i && r.Edge >= 0 && strain(r) < 0.8*worst[placeOf(r)] {
				continue
			}
			if j >= 0 && !up[j] {
				for _, k := range g.strands[j] {
					up[k] = true
				}
				order = append(order, j)
			}
		}
		if len(order) == 0 {
			break
		}
		for _, j := range order {
			g.lift(out, j, g.next(j, out[j].Size), size.ByHeat)
		}
		h = g.kept.Judge(out)
	}
	return out, h
}

type place struct {
	c    string
	edge int
}

// strain is what a wire carries over what it may.
func strain(r *heat.WireResult) float64 {
	return float64(r.Effective) / max(float64(r.Ampacity), 1e-3)
}

func placeOf(r *heat.WireResult) place { return place{r.Case, r.Edge} }

// leastHeat is the share of a bundle's heat from which a wire counts as one that warms it.
const leastHeat = 0.1

// remedy is the wire to grow for one that is too hot: itself, where its own heat is to blame; else the one in its bundle that makes
// most heat, if that is much. -1: nothing is wrong, or no growing would help.
func (g *grower) remedy(h *heat.Result, sizes size.Sizes, i int) int {
	r := &h.Wires[i]
	if r.Met || !r.Known || r.Limit <= r.Ambient {
		return -1
	}
	over, own, rise := r.Hottest-r.Limit, r.Hottest-r.Rest, r.Hottest-r.Ambient
	blame := own >= 2*over || own >= over*1.1 && float64(own) >= leastHeat*float64(rise)
	if r.Ruled != heat.Balance || r.Edge < 0 || blame {
		if g.ladders[i] == nil || g.room(i, sizes[i].Size) < 0 {
			return -1
		}
		return i
	}
	best, most, all := -1, 0.0, 0.0
	x := g.kept.Bundle(i)
	if x == nil {
		return -1
	}
	for k, j := range x.Wires {
		q := float64(x.Amps[k]) * float64(x.Amps[k]) * float64(sizes[j].Resistance)
		all += q
		if unit.Worse(q, most) && g.ladders[j] != nil && g.room(j, sizes[j].Size) >= 0 {
			best, most = j, q
		}
	}
	if most < leastHeat*all {
		return -1
	}
	return best
}

// room is the next step of a wire's ladder that can be crimped at both its ends, -1 if there is none: what is hotter than that allows is to be
// met elsewhere, by another contact, a cooler way or a smaller bundle.
func (g *grower) room(i int, now unit.Size) int {
	if k := g.next(i, now); k <= g.capped[i] {
		return k
	}
	return -1
}
