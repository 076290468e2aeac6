package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Probe solves one net with one set of supplies in many positions of its switches. It is for one user at a time.
type Probe struct{ v *values }

// NewProbe prepares a net; the case says which supplies live and what rests, its states are passed over. Wires are at 20 C.
func NewProbe(job *design.Job, nt *net.Net, sizes size.Sizes, c *design.Case) *Probe {
	if c == nil {
		c = &design.Case{}
	}
	if job == nil {
		job = &design.Job{}
	}
	v := newValues(job, nt, sizes, nil, c)
	v.bleeds = true
	return &Probe{v}
}

// bleedOhms is what every supply of a probe feeds besides. Where nothing draws at all the volts of a net could be anything from the set-point
// up, since no supply takes current in; it draws some milliamperes.
const bleedOhms = 1e3

func (b *builder) bleed() {
	for i := range b.br {
		if e := b.Elements[i]; e.Kind == Supply && b.br[i].law == source && e.From != e.To {
			b.put(piece{Item: Item{Kind: Join, Name: "bleed of " + e.Name, Wire: -1, Index: -1}, From: e.From, To: e.To}, resistor(0, 0, bleedOhms))
		}
	}
}

// Probed is the operating point in one position. Relays that the states do not name follow their coils.
type Probed struct {
	Net    *Network
	Point  Point
	Relays []RelayResult
	s      *settled
	faults *Faults
}

// At solves with the states given, everything else off.
func (p *Probe) At(states []design.CaseState) *Probed {
	c := *p.v.c
	c.States = states
	v := *p.v
	v.c, v.stated = &c, map[group]bool{}
	for _, s := range states {
		v.stated[group{s.Device, s.Group}] = true
	}
	s := v.settle()
	p.v.laid = v.laid
	return &Probed{Net: s.b.Network, Point: s.p.point(), Relays: s.relays, s: s}
}

// Against is the volts of a node against the minus of a supply, and that minus as a node; -1 and no volts if nothing joins the two, or the
// supply is not connected.
func (x *Probed) Against(node int, device string, index int) (unit.Voltage, int) {
	if node < 0 || node >= len(x.Net.Nodes) {
		return 0, -1
	}
	p := x.s.p
	for i, e := range x.Net.Elements {
		if e.Kind == Supply && e.Device == device && e.Index == index {
			if x.s.b.br[i].law != source || !p.together(e.To, node) {
				return 0, -1
			}
			return unit.Voltage(p.volts(node) - p.volts(e.To)), e.To
		}
	}
	return 0, -1
}

// Short is what flows from one node to another over a dead short between them, loads, relays and supplies as they stand.
func (x *Probed) Short(from, to int) unit.Current {
	p := x.s.p
	if from < 0 || to < 0 || from >= len(x.Net.Nodes) || to >= len(x.Net.Nodes) || from == to || !p.together(from, to) {
		return 0
	}
	return unit.Current(abs(x.s.g.bridged(p, from, to, float64(ShortResistance)).bridge))
}

// Bare is the most that flows there with every load open: resistances and supplies at the ends of their spreads that drive most.
func (x *Probed) Bare(from, to int) unit.Current {
	if x.faults == nil {
		x.faults = newFaults("", x.s, Strongest)
	}
	return x.faults.Strike(from, to, 0).Amps
}
