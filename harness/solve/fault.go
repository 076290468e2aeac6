package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Side is which end of every spread a short is counted with.
type Side uint8

// Sides. A far-end short clears worst when it is weakest, and lets most energy through when it is strongest.
const (
	Weakest   Side = iota // low set-points, high resistances, aged joints; supplies with a limit left out where another lives
	Strongest             // high set-points, low resistances, new joints
)

// ShortResistance is what a dead short itself counts for; from memory: a bolted short is taken as nothing, a joint of the solver is
// never less.
const ShortResistance unit.Resistance = leastResistance

// Faults is the net of a case with every load open, ready for dead shorts: "counts no load that it is safer to leave out".
type Faults struct {
	Case string
	Net  *Network
	grid *grid
	from []float64
}

// Fault is the operating point with one dead short in place.
type Fault struct {
	Amps  unit.Current // through the short
	Point Point        // amps by element of the net, in the sense of Point.Amps
}

// NewFaults prepares a case; relays and switches stand as they do in its result. temps is the temperature of each wire's conductor.
func NewFaults(job *design.Job, nt *net.Net, sizes size.Sizes, temps []unit.Temperature, c *design.Case, side Side) *Faults {
	v := newValues(job, nt, sizes, temps, c)
	s := v.settle()
	br := append([]branch(nil), s.b.br...)
	for i, e := range s.b.Elements {
		if e.Kind == Load || e.Kind == Coil {
			br[i] = resistor(e.From, e.To, mostResistance)
		}
	}
	f := &Faults{Case: c.Name, Net: s.b.Network, grid: newGrid(len(s.b.Nodes), br)}
	f.from = f.grid.newton(nil).hi
	return f
}

// AtLoad shorts a load or coil, by its element: plus straight to minus.
func (f *Faults) AtLoad(element int) Fault {
	old := f.grid.br[element]
	f.grid.br[element] = resistor(old.from, old.to, float64(ShortResistance))
	p := f.grid.newton(f.from).delivers(f.Net)
	f.grid.br[element] = old
	return Fault{Amps: unit.Current(abs(p.amps[element])), Point: p.point()}
}
