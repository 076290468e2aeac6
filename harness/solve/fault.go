package solve

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Side is which end of every spread a short is counted with.
type Side uint8

// Sides. A far-end short clears worst when it is weakest, and lets most energy through when it is strongest.
const (
	Weakest   Side = iota // low set-points, high resistances, aged joints; supplies with a limit left out where one without drives the same ways
	Strongest             // high set-points, low resistances, new joints
)

// ShortResistance is what a dead short itself counts for; from memory: a bolted short is taken as nothing, a joint of the solver is
// never less.
const ShortResistance unit.Resistance = leastResistance

// Faults is the net of a case with every load open, ready for dead shorts: "counts no load that it is safer to leave out". One of them
// is for one user at a time.
type Faults struct {
	Case   string
	Net    *Network
	layout *layout
	br     []branch           // of the net
	own    map[int32][]branch // laws by island, those that were asked for
	cores  map[int32]*core    // the same
	recent [4]*core           // those that keep their scratch, the one asked last first
	grid   *grid              // of the whole, once a point is asked for
	p      *point             // nothing shorted
}

// Alike tells whether two nets are one case laid in one position, which differ in figures alone. That their elements are the same ones does not tell: whether a
// supply lives is none of these.
func (f *Faults) Alike(x *Faults) bool { return f.layout == x.layout }

// Shell is what is left of a net of which no more is asked than to what it is alike.
func (f *Faults) Shell() *Faults { return &Faults{Case: f.Case, Net: &Network{}, layout: f.layout} }

// laws are those of an island.
func (f *Faults) laws(island int32) []branch {
	br, ok := f.own[island]
	if !ok {
		br = f.layout.laws(island, f.br)
		f.own[island] = br
	}
	return br
}

func (f *Faults) core(island int32) *core {
	c := f.cores[island]
	if c == nil {
		c = newCore(len(f.layout.islands[island].nodes), f.laws(island))
		f.cores[island] = c
	}
	if k := slices.Index(f.recent[:], c); k != 0 {
		if k < 0 {
			if k = len(f.recent) - 1; f.recent[k] != nil {
				f.recent[k].release()
			}
		}
		copy(f.recent[1:k+1], f.recent[:k])
		f.recent[0] = c
	}
	return c
}

// point is the whole with nothing shorted.
func (f *Faults) point() *point {
	if f.p == nil {
		f.grid = newGrid(f.layout)
		f.p = &point{layout: f.layout, all: make([]*patch, len(f.layout.islands))}
		for i := range f.p.all {
			f.p.all[i] = f.grid.fresh(int32(i), f.laws(int32(i)))
		}
	}
	return f.p
}

// Fault is the operating point with one dead short in place.
type Fault struct {
	Amps  unit.Current // through the short
	Point Point        // amps by element of the net, in the sense of Point.Amps
}

// NewFaults prepares a case: relays, switches and supplies that follow are taken as they stand with its loads, then the loads and coils are
// opened. temps is the temperature of each wire's conductor.
func NewFaults(job *design.Job, nt *net.Net, sizes size.Sizes, temps []unit.Temperature, c *design.Case, side Side) *Faults {
	if c == nil {
		c = &design.Case{}
	}
	if job == nil {
		job = &design.Job{}
	}
	s := newValues(job, nt, sizes, temps, c).settle()
	return newFaults(c.Name, s, side)
}

// Faults is NewFaults of the figures: those of one case share what does not differ.
func (l *Laid) Faults(f Figures, side Side) *Faults {
	if f.Job == nil || f.Case == nil {
		return NewFaults(f.Job, f.Net, f.Sizes, f.Temps, f.Case, side)
	}
	return newFaults(f.Case.Name, l.with(f).settle(), side)
}

// Faults prepares the solved case for dead shorts, as NewFaults.
func (c *CaseResult) Faults(side Side) *Faults {
	if c.again == nil {
		return &Faults{Case: c.Case, Net: &Network{}, layout: newLayout(0, nil), own: map[int32][]branch{}, cores: map[int32]*core{}}
	}
	c.again.lock()
	defer c.again.unlock()
	return newFaults(c.Case, c.again.settled(), side)
}

func newFaults(name string, s *settled, side Side) *Faults {
	br := slices.Clone(s.b.br)
	for i := range s.b.knobs {
		k := &s.b.knobs[i]
		high := side == Weakest
		if k.turns == setPoint {
			high = !high
		}
		end := atLow
		if high {
			end = atHigh
		}
		k.turn(&br[k.element], end)
	}
	for i, e := range s.b.Elements {
		if e.Kind == Load || e.Kind == Coil {
			br[i].law = open
		}
	}
	if side == Weakest {
		leaveOut(len(s.b.Nodes), br)
	}
	return &Faults{Case: name, Net: s.b.Network, layout: s.g.layout, br: br, own: map[int32][]branch{}, cores: map[int32]*core{}}
}

// leaveOut opens the supplies with a limit that lie on a closed way with one without: what is shorted there the other drives as well, and weaker by itself. One
// that hangs on the rest by an earth lead alone drives nothing of it.
func leaveOut(nodes int, br []branch) {
	var limited, free []int
	for i := range br {
		if br[i].law != source {
			continue
		}
		if math.IsInf(br[i].most, 1) {
			free = append(free, i)
		} else {
			limited = append(limited, i)
		}
	}
	if limited == nil || free == nil {
		return
	}
	of := meshes(nodes, br)
	driven := map[int32]bool{}
	for _, i := range free {
		driven[of[i]] = of[i] >= 0
	}
	for _, i := range limited {
		if driven[of[i]] {
			br[i].law = open
		}
	}
}

// AtLoad shorts a load or coil, by its element: plus straight to minus. Of an element that the net does not have nothing flows.
func (f *Faults) AtLoad(element int) Fault {
	p := f.point()
	if element < 0 || element >= len(p.ofE) {
		return Fault{Point: p.point()}
	}
	old := p.branch(element)
	i := p.ofE[element]
	p = f.grid.again(p, []change{{element, resistor(old.from, old.to, float64(ShortResistance))}})
	out := Fault{Amps: unit.Current(abs(p.patch(i).amps[p.atE[element]])), Point: p.point()}
	if f.Net.Elements[element].Kind == Supply { // a dead supply's current counts as what it delivers, as that of any supply
		out.Point.Amps[element] = 0 - out.Point.Amps[element]
	}
	return out
}

// Between shorts two nodes through an extra resistance, where no load stands; with none it is a dead short.
func (f *Faults) Between(from, to int, through unit.Resistance) Fault {
	p := f.point()
	n := len(f.Net.Nodes)
	if from < 0 || to < 0 || from >= n || to >= n || from == to || !p.together(from, to) { // nothing brings back what would flow
		return Fault{Point: p.point()}
	}
	s := f.grid.bridged(p, from, to, max(float64(through), float64(ShortResistance)))
	return Fault{Amps: unit.Current(abs(s.bridge)), Point: p.but(owned{p.of[from], s}).point()}
}
