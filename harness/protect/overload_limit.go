package protect

import (
	"math"
	"strings"
	"sync/atomic"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Warming answers how single wires warm past their steady state, several that ask at a time, as heat.Thermal does.
type Warming interface {
	Steady(wire int) unit.Temperature
	Sustained(wire int, limit unit.Temperature) unit.Current
	After(wire int, amps unit.Current, d unit.Time) unit.Temperature
	Lasts(wire int, amps unit.Current, limit unit.Temperature) (d unit.Time, ok bool)
	Course(wire int, amps unit.Current, d unit.Time) []heat.Leg
}

// weigher holds each wire against the fuses before it.
type weigher struct {
	job     *design.Job
	nt      *net.Net
	sizes   size.Sizes
	warm    Warming
	res     *Result
	wires   []standing
	rests   []atomic.Uint64 // by wire: what it stands for good, once it was asked for: the figure's bits turned over
	fuses   map[FuseRef]*FuseResult
	most    []unit.Current // by wire: the greatest current that can flow in it; 0 not known
	through [][]through    // by wire: the most that can flow to it through each fuse
	blown   map[blown]*solve.Faults
	devices map[string]*design.Device
	apart   *apart
	nets    []*solve.Faults        // every case at its weakest and at its strongest
	fusesIn joined                 // by part, indices of the result's
	sites   []*sites               // by net
	mains   []int                  // of the fuses, those next to a source
	metal   []string               // the studs of the body
	downs   map[FuseRef][]*pairing // by the upper one
	downOf  map[FuseRef][]*pairing // by the lower one
}

// through is the most that can flow through a fuse.
type through struct {
	fuse FuseRef
	amps unit.Current
}

// standing is what one wire stands.
type standing struct {
	known    bool
	share    float64          // of the current of its link that it takes among its parallel wires
	start    unit.Temperature // as the cases have it
	over     unit.Temperature // limit where the fuse need not open
	short    unit.Temperature // limit until it opens
	area     unit.Area
	k        data.Adiabatic // from start to short
	stands   data.Energy    // k2 S2
	verified bool
}

// newWeigher knows what each wire stands, and nothing yet of what may flow.
func newWeigher(job *design.Job, nt *net.Net, sizes size.Sizes, warm Warming) *weigher {
	return newWeigherLike(job, nt, sizes, warm, nil, nil)
}

// newWeigherLike takes over what wires that stand as they did in a look before stood then.
func newWeigherLike(job *design.Job, nt *net.Net, sizes size.Sizes, warm Warming, last *Look, same func(wire int) bool) *weigher {
	g := &weigher{job: job, nt: nt, sizes: sizes, warm: warm, wires: make([]standing, len(nt.Wires)), rests: make([]atomic.Uint64, len(nt.Wires)), fuses: map[FuseRef]*FuseResult{},
		most: make([]unit.Current, len(nt.Wires)), through: make([][]through, len(nt.Wires)), blown: map[blown]*solve.Faults{}, devices: devicesOf(job)}
	share := shares(nt, sizes)
	inParts(len(nt.Wires), func(i int) {
		if last != nil && same(i) {
			g.wires[i] = last.by.wires[i]
		} else {
			g.wires[i] = g.standing(i)
		}
		g.wires[i].share = share[i]
	})
	return g
}

// of weighs by the fuses of a result, and into it.
func (g *weigher) of(r *Result) {
	g.res = r
	for i := range r.Fuses {
		g.fuses[r.Fuses[i].FuseRef] = &r.Fuses[i]
	}
	g.downs, g.downOf = map[FuseRef][]*pairing{}, map[FuseRef][]*pairing{}
	for i := range r.Fuses {
		down := &r.Fuses[i]
		for _, a := range down.Ahead {
			if up := g.fuses[a]; up != nil {
				p := &pairing{up: up, down: down, best: Pair{Up: a, Down: down.FuseRef}, worst: -1}
				g.downs[a] = append(g.downs[a], p)
				g.downOf[down.FuseRef] = append(g.downOf[down.FuseRef], p)
			}
		}
	}
}

// sustained is the current at the limit over that a known wire stands for good. It takes the whole curve of a wire's warming, so only those that bear
// something for good, or have a fuse, are asked.
func (g *weigher) sustained(wire int) unit.Current {
	r := &g.rests[wire]
	if b := r.Load(); b != 0 {
		return unit.Current(math.Float64frombits(^b))
	}
	a := g.warm.Sustained(wire, g.wires[wire].over)
	r.Store(^math.Float64bits(float64(a)))
	return a
}

func (g *weigher) standing(i int) (s standing) {
	if i >= len(g.sizes) || !g.sizes[i].Known {
		return s
	}
	c, w := &g.sizes[i], &g.nt.Wires[i]
	at := design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Zone: w.Zone}
	over, short := g.job.Settings.Get("overload-rise", at), g.job.Settings.Get("short-rise", at)
	s.known, s.start = true, g.warm.Steady(i)
	s.over = c.Heat + unit.Temperature(over.Value.Quantity.Value)
	s.short = c.Heat + unit.Temperature(short.Value.Quantity.Value)
	s.area = metal(c)
	s.k = data.Copper.Adiabatic(s.start, s.short)
	s.stands = data.Energy(math.Pow(float64(s.k)*float64(s.area), 2))
	s.verified = c.Verified && firm(over) && firm(short)
	return s
}

// metal is the area that counts in a short. The nominal one holds the heat; what makes it is the resistance, and where the greatest one of the size
// tells of less copper the geometric mean of the two stands in k2 S2 for both.
func metal(c *size.Conductor) unit.Area {
	a := float64(c.Size.Area())
	if by := float64(data.Copper.Resistivity) / float64(c.Resistance); c.Resistance > 0 && by < a {
		a = math.Sqrt(a * by)
	}
	return unit.Area(a)
}

// firm tells whether a setting was set, or its default is not from memory.
func firm(r design.Ruling) bool {
	return r.Set || r.Def == nil || !strings.Contains(r.Def.Source, "from memory")
}

// shares is the part of its link's current that each wire takes: parallel wires share it by their conductance.
func shares(nt *net.Net, sizes size.Sizes) []float64 {
	type link struct {
		circuit     string
		link, piece int
	}
	conductance := func(i int) float64 {
		w := &nt.Wires[i]
		r := 0.0
		if i < len(sizes) {
			r = float64(sizes[i].Resistance.Over(max(w.Copper, w.Length)))
		}
		return 1 / math.Max(r, 1e-6)
	}
	sum := map[link]float64{}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		sum[link{w.Circuit, w.Link, w.Piece}] += conductance(i)
	}
	out := make([]float64, len(nt.Wires))
	for i := range nt.Wires {
		w := &nt.Wires[i]
		out[i] = 1
		if w.Link >= 0 && w.Kind == net.Plain {
			out[i] = conductance(i) / sum[link{w.Circuit, w.Link, w.Piece}]
		}
	}
	return out
}

// adiabaticEnd is how hot a conductor gets when energy e stays in it: the factor k of IEC 60364-5-54 solved for the final temperature.
func (s *standing) adiabaticEnd(e data.Energy) unit.Temperature {
	const far = 1e4 // C: past anything that is still copper
	full := float64(data.Copper.Adiabatic(0, far))
	zero := float64(data.Copper.ZeroAt)
	if !(s.area > 0) || !(full > 0) {
		return far
	}
	per := full * full / math.Log((far-zero)/(0-zero)) // k2 for each unit of the logarithm
	x := float64(e) / (float64(s.area) * float64(s.area)) / per
	return unit.Temperature(math.Min(zero+(float64(s.start)-zero)*math.Exp(math.Min(x, 50)), far))
}
