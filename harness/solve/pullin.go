package solve

import (
	"maps"
	"runtime"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// PullIn is the least volts that the coil of a relay, by its index in Relays, gets at its corner before it has moved: its contact as it is at
// rest, its starting current if it states one, everything else as it stands in the case. It is nil for a coil that does not stand on, that the
// case sets, or that would not pull in at the case's own point once everything else stands as it does: such a one moved earlier, or holds itself.
// Without any spread it is the case's own point. Its elements are those of a net of what hangs together with the relay alone.
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
	v := c.again.beside(r.Device)
	pos := positions{state: maps.Clone(c.again.pos.state), live: c.again.pos.live}
	d := v.byName[r.Device]
	delete(pos.state, group{d.Name, d.Moves(&d.Coils[r.Coil]).Group})
	return pullIn(v, pos, r)
}

// pullIn finds that of a relay in a net with the given position.
func pullIn(v *values, pos positions, r *RelayResult) *Corner {
	b := v.build(pos)
	g := newGrid(newLayout(len(b.Nodes), b.br))
	p := g.solve(b.br, nil)
	a := newAgain(v, &settled{b: b, g: g, p: p})
	defer runtime.KeepAlive(g)
	l := newLadder(b.Network, p, newJoints(b.Network))
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

// beside is the case with what hangs together with a device, however that stands, and no more: its wires and devices come in the order they have in the whole.
func (a *again) beside(device string) *values {
	whole := a.values()
	if whole.meets == nil {
		whole.meet(a.nw, a.p.layout)
	}
	v := *whole
	v.meets, v.laid, v.devices, v.nt, v.sizes, v.temps = nil, nil, nil, nil, nil, nil
	in := map[*design.Device]bool{v.byName[device]: true}
	var wires []int
	for _, i := range whole.meets[device] {
		for _, e := range a.p.islands[i].elements {
			x := &a.nw.Elements[e]
			if x.Kind == Wire {
				wires = append(wires, x.Wire)
			}
			if d := v.byName[x.Device]; d != nil {
				in[d] = true
			}
		}
	}
	for _, d := range whole.devices {
		if in[d] {
			v.devices = append(v.devices, d)
		}
	}
	if whole.nt == nil {
		return &v
	}
	slices.Sort(wires)
	nt := *whole.nt
	nt.Wires, nt.Crossings = make([]net.Wire, 0, len(wires)), nil
	at := make(map[int]int, len(wires))
	for k, w := range wires {
		at[w] = k
		nt.Wires = append(nt.Wires, whole.nt.Wires[w])
		if w < len(whole.sizes) {
			v.sizes = append(v.sizes, whole.sizes[w])
		}
		if w < len(whole.temps) {
			v.temps = append(v.temps, whole.temps[w])
		}
	}
	for _, c := range whole.nt.Crossings {
		one, ok := at[c.Wires[0]]
		two, too := at[c.Wires[1]]
		if ok && too {
			c.Wires = [2]int{one, two}
			nt.Crossings = append(nt.Crossings, c)
		}
	}
	v.nt = &nt
	return &v
}

// meet finds the islands that each device meets: with elements of its own, or a pin that an element of another is joined to.
func (v *values) meet(nw *Network, l *layout) {
	v.meets = map[string][]int32{}
	add := func(device string, i int32) {
		if at := v.meets[device]; device != "" && !slices.Contains(at, i) {
			v.meets[device] = append(at, i)
		}
	}
	for e := range nw.Elements {
		x := &nw.Elements[e]
		add(x.Device, l.ofE[e])
		d := v.byName[x.Device]
		if d == nil {
			continue
		}
		switch x.Kind {
		case Load, Coil:
			draw := drawOf(d, x)
			add(draw.From.Device, l.ofE[e])
			add(draw.To.Device, l.ofE[e])
		case Supply:
			add(d.Supplies[x.Index].From.Device, l.ofE[e])
			add(d.Supplies[x.Index].To.Device, l.ofE[e])
		}
	}
}
