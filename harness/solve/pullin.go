package solve

import "maps"

// PullIn is the least volts that the coil of a relay, by its index in Relays, gets at its corner before it has moved: its contact as it is at
// rest, its starting current if it states one, everything else as it stands in the case. It is nil for a coil that does not stand on, that the
// case sets, or that would not pull in at the case's own point once everything else stands as it does: such a one moved earlier, or holds itself.
// Without any spread it is the case's own point.
func (c *CaseResult) PullIn(relay int) *Corner {
	if c.again == nil || relay < 0 || relay >= len(c.Relays) {
		return nil
	}
	r := &c.Relays[relay]
	if !r.On || r.Stated || r.Hunts {
		return nil
	}
	c.again.lock()
	defer c.again.unlock()
	v := c.again.values()
	pos := positions{state: maps.Clone(c.again.pos.state), live: c.again.pos.live}
	for _, f := range v.followers() {
		if f.coil == r.Coil && f.d.Name == r.Device {
			delete(pos.state, f.group)
		}
	}
	b := v.build(pos)
	g := newGrid(newLayout(len(b.Nodes), b.br))
	p := g.solve(b.br, nil)
	a := newAgain(v, &settled{b: b, g: g, p: p})
	a.solved = map[end]*patch{}
	l := newLadder(b.Network, p)
	for i := range b.Elements {
		if e := &b.Elements[i]; e.Kind != Coil || e.Device != r.Device || e.Index != r.Coil {
			continue
		}
		x := v.load1(l, i)
		x.Volts = max(x.Volts, -x.Volts)
		if !x.Fed || x.Volts < r.PullIn {
			return nil
		}
		if p.drop(x.element) < 0 {
			x.Volts = -x.Volts
		}
		if k := a.seek(&x, LeastVolts); k != nil {
			return k
		}
		x.Volts = max(x.Volts, -x.Volts)
		return &Corner{Quantity: LeastVolts, Load: x, Got: x.Volts}
	}
	return nil
}
