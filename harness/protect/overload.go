package protect

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// weigh holds every wire against its fuses once it is known which those are: shorts at the far ends, overloads, fuses in series. It fills in Shorts,
// Pairs, Curves and of each wire what is told of it. Parts of the net are weighed one by one, so that of a wire's warming all is asked while its curves are
// at hand; those that stand as they did in a look before are taken over from there.
func (g *weigher) weigh(laid []*solve.Laid, r *Result, last *Look, same func(wire int) bool) []order {
	g.of(r)
	g.ready(laid)
	r.rests, r.Curves = make([]unit.Current, len(g.wires)), make([]Curve, len(r.Fuses))
	k := g.takeOver(last, same)
	found := make([]*keeper, g.apart.n)
	solve.Each(g.apart.n, func(n int) {
		if part := int32(n); k == nil || !k.parts[part] {
			x := g.shorts(part)
			g.overloads(part)
			g.curves(part)
			found[part] = x
		}
	})
	orders := g.collect(found, k)
	for i := range r.Wires {
		w := &r.Wires[i]
		w.Met = (w.Overload == nil || w.Overload.Met) && (w.Short == nil || w.Short.Met)
	}
	if len(r.Curves) == 0 {
		r.Curves = nil
	}
	return orders
}

// collect puts the shorts of all parts in order, and the pairs.
func (g *weigher) collect(found []*keeper, last *takenOver) []order {
	type at struct {
		order
		seq  int32
		from []Short
		n    int
		to   []int32 // by short of the list it is from: which it became
	}
	var all []at
	add := func(o order, from []Short, n int, to []int32) {
		seq := o.nth
		switch o.turn {
		case atLoads:
			l := &g.sites[o.net].loads
			seq = l.elements[l.at(o.part)[o.nth]]
		case deadEnds:
			seq = g.apart.wires.at(o.part)[o.nth]
		}
		all = append(all, at{o, seq, from, n, to})
	}
	became := make([][]int32, len(found))
	for p, k := range found {
		if k != nil {
			became[p] = make([]int32, len(k.kept))
			for n := range k.kept {
				add(k.orders[n], k.kept, n, became[p])
			}
		}
	}
	if last != nil {
		to := make([]int32, len(last.res.Shorts))
		for n := range last.res.Shorts {
			if o := last.order[n]; last.parts[o.part] {
				add(o, last.res.Shorts, n, to)
			}
		}
		for p := range became {
			if last.parts[p] {
				became[p] = to
			}
		}
	}
	slices.SortFunc(all, func(a, b at) int {
		return cmp.Or(cmp.Compare(a.turn, b.turn), cmp.Compare(a.net, b.net), cmp.Compare(a.seq, b.seq))
	})
	orders := make([]order, len(all))
	if len(all) > 0 {
		g.res.Shorts = make([]Short, len(all))
	}
	for i := range all {
		x := &all[i]
		s := x.from[x.n]
		s.Worst.Short = i
		if s.On != nil {
			s.On.Worst.Short = i
		}
		g.res.Shorts[i], orders[i], x.to[x.n] = s, x.order, int32(i)
	}
	for i := range g.res.Wires {
		if h := g.res.Wires[i].Short; h != nil {
			h.Short = int(became[g.apart.of[i]][h.Short])
		}
	}
	for i := range g.res.Fuses {
		for _, p := range g.downs[g.res.Fuses[i].FuseRef] {
			g.res.Pairs = append(g.res.Pairs, p.best)
		}
	}
	return orders
}

// mostTimes is the greatest multiple of its rating at which a fuse is held against its wires as an overload; what is beyond is a short.
const mostTimes unit.Ratio = 6

// atRest is taken as long enough for any wire to be at rest: the 100 h for which gates say that a fuse holds.
const atRest unit.Time = 360000

// stretch is a range of multiples in which a fuse may take up to latest: from a listed one to just below the next.
type stretch struct {
	from, to unit.Ratio
	latest   unit.Time // Never: it need not open
	verified bool
}

// stretches cuts a gate into such ranges, up to mostTimes. The interrupting claim at a current reads the latest time at the next lower listed
// multiple, so the worst current of a range is just below its upper end.
func stretches(gate []data.FuseGate) []stretch {
	var out []stretch
	last := stretch{latest: Never, verified: true}
	for _, g := range gate {
		if !(g.Most > 0) {
			continue
		}
		last.to = g.Times
		if last.latest == Never {
			last.verified = g.Basis == data.Verified
		}
		out = append(out, last)
		last = stretch{from: g.Times, latest: g.Most, verified: g.Basis == data.Verified}
	}
	if last.latest == Never {
		return nil
	}
	end := last
	end.to = last.from
	out = append(out, end)
	if last.from < mostTimes { // beyond the gate at constant energy
		end.to = mostTimes
		r := float64(last.from / mostTimes)
		end.from, end.latest = mostTimes, unit.Time(float64(last.latest)*r*r)
		out = append(out, end)
	}
	return out
}

// overloads finds for each wire of a part the overload that a fuse before it lets it bear worst, what it stands for good, and how
// it warms in that and in its worst short.
func (g *weigher) overloads(part int32) {
	for _, i := range g.apart.wires.at(part) {
		if int(i) >= len(g.res.Wires) || !g.wires[i].known {
			continue
		}
		w := &g.res.Wires[i]
		if len(w.By) > 0 {
			g.res.rests[i] = g.sustained(int(i))
		}
		w.Overload = g.worst(w, true)
		if o := w.Overload; o != nil {
			g.lasts(int(i), o)
		}
		g.course(w)
	}
}

// inParts does something for each of n, a part of them at a time on each processor.
func inParts(n int, do func(i int)) {
	const part = 32
	solve.Each((n+part-1)/part, func(k int) {
		for i := k * part; i < min(n, (k+1)*part); i++ {
			do(i)
		}
	})
}

// overload holds a wire against one range of a fuse; used is how much of its room that takes, above 1 too much. ok is false where the range's
// currents cannot flow. Where the wire stands it with all heat kept it is told so, with what that takes: brings tells it finely.
//
// The wire carries all that the fuse lets pass, even where the fuse feeds several: the others may be off. Its own length does not limit the
// current, since what chafes may lie anywhere along it; what lies before it does.
func (g *weigher) overload(wire int, fuse *FuseResult, s stretch, beside unit.Current) (o Overload, used float64, ok bool) {
	x := &g.wires[wire]
	times := s.to
	amps := unit.Current((float64(times)*float64(fuse.Rating) + float64(beside)) * x.share)
	most := g.most[wire]
	if a, ok := g.letThrough(wire, fuse.FuseRef); ok {
		a += beside
		if a *= unit.Current(x.share); most == 0 || a < most {
			most = a
		}
	}
	if most > 0 && most < amps {
		amps = most
		times = unit.Ratio((float64(amps)/x.share - float64(beside)) / float64(fuse.Rating))
		if times < s.from*(1-sameTimes) {
			return o, 0, false
		}
	}
	o = Overload{Start: x.start, Area: x.area, Beside: beside, Fuse: fuse.FuseRef, Times: times, Amps: amps, Latest: s.latest, Verified: fuse.Verified && s.verified && x.verified}
	if s.latest == Never {
		o.Limit, o.Stands = x.over, g.sustained(wire)
		o.Met = float64(amps) <= float64(o.Stands)*(1+1e-9)
		used = square(amps, o.Stands)
		o.Used = unit.Ratio(used)
		return o, used, true
	}
	o.Limit = x.short
	used = g.brings(wire, &o, false)
	return o, used, true
}

// letThrough is the most that can flow through a fuse to a wire; not ok where no short shows it.
func (g *weigher) letThrough(wire int, f FuseRef) (unit.Current, bool) {
	for _, x := range g.through[wire] {
		if x.fuse == f {
			return x.amps, true
		}
	}
	return 0, false
}

// lasts adds to a wire's worst overload what a reader wants to know besides.
func (g *weigher) lasts(wire int, o *Overload) {
	if o.Latest == Never {
		o.Reaches = g.warm.After(wire, o.Amps, atRest)
	}
	if d, ok := g.warm.Lasts(wire, o.Amps, o.Limit); ok {
		o.Lasts = d
	}
}

// square is how much of its room a steady current takes: heat goes with its square.
func square(amps, stands unit.Current) float64 {
	if !(stands > 0) {
		return 1e12
	}
	r := float64(amps) / float64(stands)
	return math.Min(r*r, 1e12)
}
