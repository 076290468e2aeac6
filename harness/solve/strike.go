package solve

import "loomsheet/harness/unit"

// Strike is the operating point with one dead short in place, asked element by element. It costs no more than the island in which the short lies, however
// large the net.
type Strike struct {
	Amps    unit.Current // through the short
	Forward bool         // it runs from the first place given to the second: of a load from its From to its To
	p       *point
	island  int32 // -1: nothing flows
}

// Current is that of an element, in the sense of Point.Amps.
func (s *Strike) Current(element int) unit.Current { return unit.Current(s.p.amps(element)) }

// Volts is that of a node, in the sense of Point.Volts.
func (s *Strike) Volts(node int) unit.Voltage { return unit.Voltage(s.p.volts(node)) }

// Done says that a strike is asked no more: the next one is worked out in its place.
func (f *Faults) Done(s *Strike) {
	if s.island < 0 {
		return
	}
	if r := &f.grid.room; r.has(s.p.patch(s.island)) {
		r.lent = false
	}
}

// Elements lists those that hang together with the short, in the order of the net; none where nothing flows. It is not to be changed.
func (s *Strike) Elements() []int32 {
	if s.island < 0 {
		return nil
	}
	return s.p.islands[s.island].elements
}

// Together tells whether current can run from one node to another and back at all: else a short between them brings nothing.
func (f *Faults) Together(a, b int) bool {
	n := len(f.Net.Nodes)
	return a >= 0 && b >= 0 && a < n && b < n && f.p.together(a, b)
}

// Strike is Between.
func (f *Faults) Strike(from, to int, through unit.Resistance) Strike {
	if from == to || !f.Together(from, to) {
		return Strike{p: f.p, island: -1}
	}
	i := f.p.of[from]
	s := f.grid.bridged(f.p, from, to, max(float64(through), float64(ShortResistance)))
	return Strike{Amps: unit.Current(abs(s.bridge)), Forward: s.bridge >= 0, p: f.p.but(owned{i, s}), island: i}
}

// StrikeLoad is AtLoad, but for the load itself, which carries nothing: it is open in the net of faults, and the short lies between its ends. A supply is
// taken out.
func (f *Faults) StrikeLoad(element int) Strike {
	if element < 0 || element >= len(f.p.ofE) {
		return Strike{p: f.p, island: -1}
	}
	if old := f.p.branch(element); old.law != open || f.Net.Elements[element].Kind == Supply {
		p := f.grid.again(f.p, []change{{element, resistor(old.from, old.to, float64(ShortResistance))}})
		a := p.amps(element) // a resistor by now, whatever it was
		return Strike{Amps: unit.Current(abs(a)), Forward: a >= 0, p: p, island: f.p.ofE[element]}
	}
	return f.Strike(f.Net.Elements[element].From, f.Net.Elements[element].To, 0)
}
