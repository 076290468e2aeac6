package protect

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

const (
	// leastShort is the least current that counts as a short: where less flows the place is not live in the case.
	leastShort unit.Current = 1e-3
	// coldest copper a short is counted with for its energy, unless the air of the case is colder.
	cool unit.Temperature = 20
)

// place is what is shorted.
type place struct {
	device string
	index  int
	coil   bool
	wire   int
	supply bool
	metal  string
}

// trial is one short with what it does to the wires on its way.
type trial struct {
	Short
	heats []wireHeat
	used  float64 // greatest share of its room that a wire on the way uses
	at    int     // of heats: that wire; -1
	pairs []fuseAmps
}

// wireHeat is what a short does to one wire; used is the share of its room that takes.
type wireHeat struct {
	ShortHeat
	wire int
	used float64
	fine bool // else it may take less
	// steps is what it is worked out from: the currents in the wire one after the other, only the last of which may flow for good.
	steps []Step
}

func (t *trial) place() place { return place{t.Device, t.Index, t.Coil, t.Wire, t.Supply, t.Metal} }

// partOf is the part of the net in which a fuse lies.
func (g *weigher) partOf(f *FuseResult) int32 {
	return g.apart.part(thing{solve.Fuse, f.Device, f.Index})
}

// ready makes every case ready made ready for shorts, at its weakest (hot copper, for the clearing) and at its strongest (cold copper, for the energy). No load counts as
// drawing, since the volts it takes would weaken the short, and it is safer not to lean on it.
func (g *weigher) ready(laid []*solve.Laid) {
	hot := g.hot()
	g.nets = make([]*solve.Faults, 2*len(g.job.Cases))
	if laid = slices.Clone(laid); laid == nil {
		laid = solve.LayAll(g.job, g.nt, g.sizes)
	}
	solve.Each(len(g.job.Cases), func(n int) {
		c := g.job.Cases[n]
		f := solve.Figures{Job: g.job, Net: g.nt, Sizes: g.sizes, Temps: hot, Case: c}
		g.nets[2*n] = laid[n].Faults(f, solve.Weakest)
		f.Temps = g.cold(c)
		g.nets[2*n+1] = laid[n].Faults(f, solve.Strongest)
		laid[n] = nil
	})
	of := make([]int32, len(g.res.Fuses))
	for i := range of {
		of[i] = g.partOf(&g.res.Fuses[i])
	}
	g.fusesIn = joinedBy(of, g.apart.n)
	g.mains, g.metal = g.mainFuses(), g.studs()
	g.allSites()
}

// shorts tries a dead short at the far end of everything in a part of the net, in every case and on both sides. Kept are the worst of each side for each
// place, and those that overheat a wire most.
func (g *weigher) shorts(part int32) *keeper {
	l := *g
	l.blown = map[blown]*solve.Faults{}
	k := newKeeper(&l, part)
	nets := make([]*solve.Faults, len(g.nets))
	for n, f := range g.nets {
		nets[n] = f.Without(nil) // what is worked out for this part is of no use to another, and others are at work
	}
	for n, f := range nets {
		k.now = order{part: part, turn: atLoads, net: int32(n)}
		l.atLoads(f, g.sites[n], part, n%2 == 1, k.tell)
	}
	wires := l.unseen(part, k.seen)
	for n, f := range nets {
		k.now = order{part: part, turn: deadEnds, net: int32(n)}
		l.deadEnds(f, g.sites[n], part, wires, n%2 == 1, k.tell)
	}
	for n, f := range nets {
		k.now = order{part: part, turn: chafes, net: int32(n)}
		l.chafes(f, g.sites[n], part, n%2 == 1, k.tell)
	}
	k.keep()
	return k
}

// atLoads tries a short at every load of a part.
func (g *weigher) atLoads(f *solve.Faults, at *sites, part int32, strong bool, tell func(nth int, t trial, counts bool)) {
	for nth, k := range at.loads.at(part) {
		i := int(at.loads.elements[k])
		e := &f.Net.Elements[i]
		s := Short{Case: f.Case, At: e.Name, Device: e.Device, Index: e.Index, Coil: e.Kind == solve.Coil, Supply: e.Kind == solve.Supply, Wire: -1, Strong: strong, Span: e.Span}
		t, ok := g.try(f, site{load: i, from: e.From, to: e.To}, s)
		tell(nth, t, ok)
	}
}

// hot is every conductor at the rating of its insulation, cold as cold as the case may be.
func (g *weigher) hot() []unit.Temperature {
	out := make([]unit.Temperature, len(g.nt.Wires))
	for i := range out {
		out[i] = cool
		if i < len(g.sizes) && g.sizes[i].Known {
			out[i] = max(g.sizes[i].Heat, cool)
		}
	}
	return out
}

func (g *weigher) cold(c *design.Case) []unit.Temperature {
	least := cool
	for _, z := range g.job.Zones {
		t, _ := heat.Ambient(g.job, design.Scope{Zone: z.Name, Case: c.Name})
		least = min(least, t)
	}
	out := make([]unit.Temperature, len(g.nt.Wires))
	for i := range out {
		out[i] = least
	}
	return out
}

// try works out what clears a short and what the wires on its way go through until then. It is not ok behind a supply whose own limit is all
// that flows and which every wire bears: a control unit's 5 volts.
func (g *weigher) try(f *solve.Faults, at site, s Short) (t trial, ok bool) {
	fault, leaves, returns := at.strike(f)
	defer f.Done(&fault)
	t.Short = s
	t.Amps, t.Hot = fault.Amps, -1
	if !(fault.Amps > leastShort) {
		return t, false
	}
	nw := f.Net
	fl := newFlow(nw, fault.Elements(), fault.Current, at.load, leaves, returns, float64(fault.Amps))
	for k, i := range fl.live {
		e := &nw.Elements[i]
		if e.Kind != solve.Fuse {
			continue
		}
		c := Clearing{Fuse: FuseRef{e.Device, e.Index}, Amps: unit.Current(fl.amps[k])}
		if r := g.fuses[c.Fuse]; r != nil {
			c = Clears(c.Fuse, r.Gate, r.Rating, c.Amps)
		}
		if c.Latest != Never {
			fl.opens[k] = float64(c.Latest)
		}
		t.Fuses = append(t.Fuses, c)
		t.pairs = append(t.pairs, fuseAmps{c.Fuse, c.Amps, c.Latest, fl.ahead(nw, k)})
	}
	slices.SortStableFunc(t.Fuses, func(a, b Clearing) int { return sooner(a.Latest, b.Latest) })
	t.Clears = timeOf(fl.clears())
	t.Limited = g.source(nw, &fault, fl, &t.Short)
	if s.Strong {
		g.greatest(nw, &fault, fl)
	}
	wires := 0
	for _, i := range fl.live {
		if nw.Elements[i].Kind == solve.Wire {
			wires++
		}
	}
	t.Wires, t.heats = make([]int, 0, wires), make([]wireHeat, 0, wires)
	for k, i := range fl.live {
		e := &nw.Elements[i]
		if e.Kind != solve.Wire || e.Wire < 0 || e.Wire >= len(g.wires) {
			continue
		}
		t.Wires = append(t.Wires, e.Wire)
		if !g.wires[e.Wire].known {
			continue
		}
		t.heats = append(t.heats, g.bear(e.Wire, []Step{{unit.Current(fl.amps[k]), timeOf(fl.bears(k))}}, false))
	}
	slices.Sort(t.Wires)
	t.sum()
	if t.Clears == Never || !t.Met {
		g.goOn(&t, f, at, fl)
	}
	return t, !(t.Limited && t.Met && t.Clears == Never && t.On == nil)
}

// sum works out from what a short does to each wire what it does at worst.
func (t *trial) sum() {
	t.used, t.at, t.Hot, t.Worst, t.Met = 0, -1, -1, ShortHeat{}, true
	for i := range t.heats {
		h := &t.heats[i]
		t.Met = t.Met && h.Met
		if unit.Worse(h.used, t.used) {
			t.used, t.at, t.Hot, t.Worst = h.used, i, h.wire, h.ShortHeat
		}
	}
}

// source names the supply that drives most of a short, and what the loop amounts to. limited tells that every supply which drives it stands
// at its limit.
func (g *weigher) source(nw *solve.Network, fault *solve.Strike, fl *flow, s *Short) (limited bool) {
	most := 0.0
	limited = true
	for k, i := range fl.live {
		e := &nw.Elements[i]
		if e.Kind != solve.Supply {
			continue
		}
		a := fl.amps[k]
		if unit.Worse(a, most) {
			most, s.Source = a, e.Device
			s.Loop = unit.Resistance(g.setPoint(nw, fault, i) / float64(s.Amps))
		}
		limit, ok := g.limit(e)
		limited = limited && ok && a >= limit*(1-1e-6)
	}
	return limited && most > 0
}

// setPoint is the open volts of a supply as the short loads it.
func (g *weigher) setPoint(nw *solve.Network, fault *solve.Strike, supply int) float64 {
	e := &nw.Elements[supply]
	return float64(fault.Volts(e.From)-fault.Volts(e.To)) + math.Abs(float64(fault.Current(supply)))*float64(nw.Resistance(supply))
}

// limit is the stated limit of a supply.
func (g *weigher) limit(e *solve.Element) (amps float64, ok bool) {
	if d := g.devices[e.Device]; d != nil && e.Index >= 0 && e.Index < len(d.Supplies) {
		m := d.Supplies[e.Index].Most
		return float64(max(m.Nominal, m.High)), m.Given
	}
	return 0, false
}

// limits is what some supplies can give together; infinite if one of them has no limit.
func (g *weigher) limits(nw *solve.Network, supplies []int) float64 {
	sum := 0.0
	for _, i := range supplies {
		amps, ok := g.limit(&nw.Elements[i])
		if !ok {
			return math.Inf(1)
		}
		sum += amps
	}
	return sum
}

// greatest notes what can flow at most, for the overloads: through a fuse to a wire no more than the supplies before the fuse give; in a wire no
// more than in a short right at its end nearer to the source. The current of the far short is known and the volts that are left there; what lies
// before the wire lets pass so much more as those volts are of all.
func (g *weigher) greatest(nw *solve.Network, fault *solve.Strike, fl *flow) {
	supply, inside := -1, 0.0
	var supplies []int
	var through []fuseAmps
	for k, i := range fl.live {
		switch e := &nw.Elements[i]; e.Kind {
		case solve.Supply:
			supplies = append(supplies, i)
			if supply < 0 || fl.amps[k] > inside {
				supply, inside = i, fl.amps[k]
			}
		case solve.Fuse:
			most := unit.Current(min(g.limits(nw, fl.sources(nw, k)), beyond))
			through = append(through, fuseAmps{fuse: FuseRef{e.Device, e.Index}, amps: most})
		}
	}
	if supply < 0 {
		return
	}
	open := g.setPoint(nw, fault, supply)
	inside *= float64(nw.Resistance(supply))
	minus := float64(fault.Volts(nw.Elements[supply].To))
	most := g.limits(nw, supplies)
	for k, i := range fl.live {
		e := &nw.Elements[i]
		if e.Kind != solve.Wire || e.Wire < 0 || e.Wire >= len(g.most) {
			continue
		}
		lost := open - (float64(fault.Volts(fl.from[k])) - minus) // before the wire
		if g.onReturn(e.Wire) {
			lost = inside + float64(fault.Volts(fl.to[k])) - minus
		}
		amps := beyond
		if lost > 0 {
			amps = min(amps, fl.amps[k]*max(open/lost, 1))
		}
		amps = min(amps, max(most, fl.amps[k]))
		g.most[e.Wire] = max(g.most[e.Wire], unit.Current(amps))
		for _, f := range through {
			g.lets(e.Wire, f)
		}
	}
}

// lets notes that so much can flow through a fuse to a wire.
func (g *weigher) lets(wire int, f fuseAmps) {
	for k := range g.through[wire] {
		if x := &g.through[wire][k]; x.fuse == f.fuse {
			x.amps = max(x.amps, f.amps)
			return
		}
	}
	g.through[wire] = append(g.through[wire], through{f.fuse, f.amps})
}

// beyond is more current than any that flows, in amperes.
const beyond = 1e9

func (g *weigher) onReturn(wire int) bool {
	return wire < len(g.res.Wires) && g.res.Wires[wire].Wire == wire && g.res.Wires[wire].Return
}

func timeOf(t float64) unit.Time {
	if math.IsInf(t, 1) {
		return Never
	}
	return unit.Time(t)
}

// sooner orders times, Never last.
func sooner(a, b unit.Time) int {
	switch {
	case a == b || a != Never && b != Never && unit.Compare(a, b) == 0:
		return 0
	case b == Never || a != Never && a < b:
		return -1
	}
	return 1
}
