package contact

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Find weighs every contact. Currents are the greatest steady ones: of loads that work on and off the current while on, since a contact
// comes to its heat within the order of a minute (common practice), and of a starting load what it draws once it runs. What a link
// `carries` counts where it is more. All currents of a housing are those of one case, with its supplies as stated or at one end of their spread.
//
// A contact may carry its rating x loading x warm: what a thinner wire and a fuller connector leave (load), and what the air leaves
// (warm). contact-derating none leaves out the loading, where the source of the part says that the rating holds for a full
// connector. Of parallel ways the one with the contacts of least resistance must hold as well (Shares).
//
// More current in a neighbour never raises what a contact may carry. More current of its own may, since the neighbours then weigh less; its load, the
// current over what is allowed, does not fall by that but for the unevenness of the print, some 5 %.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult) *Result {
	if job == nil || nt == nil {
		return &Result{}
	}
	f := newFinder(job, nt, sizes)
	seats := f.seats()
	worst := make([]WireShare, len(nt.Wires))
	ends := newWorst(len(nt.Wires))
	housings := make([]HousingResult, len(seats))
	all := sides(cases)
	if len(all) == 0 {
		all = []*solve.CaseResult{{}} // what links carry is judged without a case
	}
	for _, c := range all {
		now := f.currents(c)
		for _, s := range now.shares {
			if old := &worst[s.Wire]; old.Parallel == 0 || unit.Worse(s.Shared, old.Shared) {
				*old = s
			}
		}
		for i, s := range seats {
			f.weigh(s, c.Case, now, ends)
			f.together(s, c.Case, now, &housings[i])
		}
	}
	res := &Result{Shares: slices.DeleteFunc(worst, func(s WireShare) bool { return s.Parallel == 0 })}
	res.Shares = slices.Clone(res.Shares) // without the room of all wires
	res.Ends = ends.all()
	for _, h := range housings {
		if h.Rating > 0 {
			res.Housings = append(res.Housings, h)
		}
	}
	return res
}

// sides is the cases with their supplies as they stand and at both ends of their spread.
func sides(cases []*solve.CaseResult) (out []*solve.CaseResult) {
	for _, c := range cases {
		if c != nil {
			out = append(out, c.Variants()...)
		}
	}
	return out
}

// currents is what the wires of one case carry.
type currents struct {
	amps    []float64 // from the first end to the second
	carries []float64
	shares  []WireShare
	shared  map[int]WireShare
}

func (f *finder) currents(c *solve.CaseResult) *currents {
	n := len(f.nt.Wires)
	now := &currents{amps: make([]float64, n), carries: make([]float64, n), shared: map[int]WireShare{}}
	for i := range f.nt.Wires {
		if i < len(c.WireAmps) && unit.Finite(c.WireAmps[i]) {
			now.amps[i] = float64(c.WireAmps[i])
		}
		if k := f.nt.Wires[i].Carries; k > 0 && unit.Finite(k) {
			now.carries[i] = float64(k)
		}
	}
	now.shares = f.shares(c)
	for _, s := range now.shares {
		now.shared[s.Wire] = s
	}
	return now
}

// through is the current of a contact. Of several wires in it the sum counts with its signs, but never less than the greatest of them.
func (p *pin) through(now *currents) (amps float64, carried bool) {
	sum, most, said := 0.0, 0.0, 0.0
	for _, e := range p.ends {
		a := now.amps[e.wire]
		most, said = max(most, math.Abs(a)), max(said, now.carries[e.wire])
		if e.end == 0 {
			a = -a
		}
		sum += a
	}
	most = max(most, math.Abs(sum))
	return max(most, said), said > most
}

// weigh holds the contacts of a seat against what they may carry in one case, and keeps for each the worst.
func (f *finder) weigh(s *seat, of string, now *currents, worst *worst) {
	all := 0.0
	own := make([]float64, len(s.pins)) // heat of each
	ohm := make([]float64, len(s.pins))
	amps := make([]float64, len(s.pins))
	carried := make([]bool, len(s.pins))
	for i := range s.pins {
		p := &s.pins[i]
		ohm[i] = f.fact(p.ends[0], of).nominal
		amps[i], carried[i] = p.through(now)
		own[i] = amps[i] * amps[i] * ohm[i]
		all += own[i]
	}
	air := f.air(s, of)
	cavities := s.cavities()
	for i := range s.pins {
		p := &s.pins[i]
		part := f.part(p.ends[0])
		if part == nil || !part.Rating.Given {
			continue
		}
		for _, e := range p.ends {
			r := EndResult{Wire: e.wire, End: e.end, Contact: part.Name, Housing: s.part(), Case: of, Carried: carried[i], Parallel: 1,
				Amps: unit.Current(amps[i]), Shared: unit.Current(amps[i]), Rating: part.Rating.Nominal, Cavities: cavities, Equal: 1, Ambient: air}
			if sh, ok := now.shared[e.wire]; ok {
				r.Parallel, r.Shared = sh.Parallel, max(r.Shared, sh.Shared)
			}
			if mine := float64(r.Shared) * float64(r.Shared) * ohm[i]; mine > 0 {
				r.Equal = unit.Ratio(max(1, (all-own[i]+mine)/mine))
			} else if all > 0 {
				r.Equal = unit.Ratio(r.Cavities)
			}
			f.allow(s, e, part, &r)
			if old := worst.of(e); old == nil || r.over(old) {
				if r.LoadingBy = f.same(r.LoadingBy); old != nil {
					r.Where = old.Where
				} else {
					r.Where = f.where(e)
				}
				worst.keep(e, &r)
			}
		}
	}
}

// allow works out what a contact may carry.
func (f *finder) allow(s *seat, e end, part *design.Contact, r *EndResult) {
	r.Loaded = 1
	if r.Cavities > 0 {
		r.Loaded = min(1, r.Equal/unit.Ratio(r.Cavities))
	}
	if r.Equal > unit.Ratio(r.Cavities) && r.Cavities > 0 { // heated by the others: as in a full connector and no worse
		r.Equal = unit.Ratio(r.Cavities)
	}
	on := part.RatedOn
	if on.IsZero() {
		on = part.WireMost
	}
	if e.wire < len(f.sizes) && on.Area() > 0 && f.sizes[e.wire].Size.Area() > 0 {
		r.Wired = min(1, unit.Ratio(f.sizes[e.wire].Size.Area()/on.Area()))
	}
	r.Verified = size.Verified(part.Source) || part.Rating.Source != "" && size.Verified(part.Rating.Source)
	at := f.fact(e, r.Case)
	r.Ruling = at.derating
	equal := float64(r.Equal)
	if r.Ruling.Value.Name == "none" {
		equal = 1
	}
	var known bool
	r.Loading, r.LoadingBy, known = load(equal, r.Cavities, r.Wired)
	r.Verified = r.Verified && known && r.Loading == 1 // the pattern is another part's
	if equal < float64(r.Equal) {
		r.LoadingBy = "contact-derating none, " + r.Ruling.Source() + ": only the wire counts, by " + r.LoadingBy
	}
	r.Rise = at.rise
	if s.housing != nil && s.housing.Heat.Given {
		r.Heat = s.housing.Heat.Nominal
		r.Verified = r.Verified && size.Verified(s.housing.Source)
	}
	r.Warm = warm(r.Heat, r.Ambient, r.Rise)
	if r.Warm < 1 && !at.riseSet {
		r.Verified = false
	}
	r.Allowed = r.Rating * unit.Current(r.Loading) * unit.Current(r.Warm)
	r.Met = float64(r.Shared) <= float64(r.Allowed)*(1+1e-9)
}

// over tells whether a result is worse than another of the same end: a greater share of what is allowed, then more current.
func (r *EndResult) over(o *EndResult) bool {
	a, b := float64(r.Shared)*float64(o.Allowed), float64(o.Shared)*float64(r.Allowed)
	if unit.Worse(a, b) || unit.Worse(b, a) {
		return a > b
	}
	if unit.Worse(r.Shared, o.Shared) || unit.Worse(o.Shared, r.Shared) {
		return r.Shared > o.Shared
	}
	return unit.Worse(o.Allowed, r.Allowed)
}

// together holds a housing against the rating of all its contacts together.
func (f *finder) together(s *seat, of string, now *currents, worst *HousingResult) {
	if s.housing == nil || !s.housing.Rating.Given {
		return
	}
	sum := 0.0
	for i := range s.pins {
		a, _ := s.pins[i].through(now)
		sum += a
	}
	if worst.Rating > 0 && !unit.Worse(sum, float64(worst.Amps)) {
		return
	}
	*worst = HousingResult{Where: s.name(), Housing: s.housing.Name, Case: of, Amps: unit.Current(sum), Rating: s.housing.Rating.Nominal,
		Verified: size.Verified(s.housing.Source), Met: sum <= float64(s.housing.Rating.Nominal)*(1+1e-9)}
	if s.brk != nil {
		worst.Break = s.brk.Name
	} else if s.device != nil {
		worst.Device = s.device.Name
	}
}
