package shell

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// earthNeeds is the studs on the metal of the body: pins with a stud that name a panel; those of a device that is nothing but metal also where the
// device names it, or where they have a place of their own, belong to no section, and lead to the minus of a supply and to no plus. A stud
// that a plus reaches, or one of a device that does more and is on no side, is no earth: it gets no bare pad.
func (m *maker) earthNeeds() []need {
	var out []need
	var sideOf func(device, pin string) int
	for _, d := range m.job.Devices {
		metal := onlyMetal(d)
		for i := range d.Pins {
			p := &d.Pins[i]
			panel := p.Panel
			if panel == "" && metal {
				panel = d.Panel
			}
			if d.Pattern || p.Stud == "" || p.Inner || panel == "" && (!metal || d.Section != "" || !p.Known) {
				continue
			}
			if sideOf == nil {
				sideOf = m.supplySide()
			}
			side := sideOf(d.Name, p.Name)
			if panel == "" && side != onMinus {
				continue
			}
			at, known := p.At, p.Known
			if !known {
				at, known = d.At, d.Known
			}
			x := need{Hole: Hole{Mark: d.Name + "-" + p.Name, What: "earth stud " + d.Name + "." + p.Name, Kind: "earth stud", Panel: panel, At: at, Known: known, Status: d.Status(),
				Revision: d.Frozen, Note: "stud " + p.Stud, Span: p.Span}, pin: p, kind: "device", name: d.Name}
			if side&onPlus != 0 || side == 0 && !metal {
				x.What, x.Kind = "stud "+d.Name+"."+p.Name, "stud"
				x.Note += ", not on the minus side"
			}
			out = append(out, x)
		}
	}
	return out
}

// onlyMetal tells whether a device is nothing but metal with studs.
func onlyMetal(d *design.Device) bool {
	return len(d.Housings)+len(d.Supplies)+len(d.Draws)+len(d.Coils)+len(d.States)+len(d.Fuses)+len(d.Diodes)+len(d.Reads) == 0 && len(d.Pins) > 0 &&
		!slices.ContainsFunc(d.Pins, func(p design.Pin) bool { return p.Stud == "" })
}

// Sides of a supply that metal leads to.
const (
	onMinus = 1
	onPlus  = 2
)

// supplySide follows metal from the minus and the plus of every supply: over wires, splices, breaks, joints, fuses and the contacts of
// switches. The answer is the sum of the sides that reach a pin.
func (m *maker) supplySide() func(device, pin string) int {
	parent := map[string]string{}
	var root func(string) string
	root = func(k string) string {
		for parent[k] != "" {
			if up := parent[parent[k]]; up != "" {
				parent[k] = up
			}
			k = parent[k]
		}
		return k
	}
	join := func(a, b string) {
		if a, b = root(a), root(b); a != b {
			parent[max(a, b)] = min(a, b)
		}
	}
	pin := func(device, name string) string { return "pin " + device + "." + name }
	for i := range m.net.Wires {
		w := &m.net.Wires[i]
		var ends []string
		for _, t := range w.Ends {
			switch t.Kind {
			case net.InCavity, net.OnStud:
				ends = append(ends, pin(t.Device, t.Pin))
			case net.InHalf, net.OnPost:
				ends = append(ends, "break "+t.Break+"."+t.Cavity)
			case net.InSplice:
				ends = append(ends, "splice "+t.Splice)
			}
		}
		if len(ends) == 2 && w.Kind == net.Plain {
			join(ends[0], ends[1])
		}
	}
	var plus, less []string
	for _, d := range m.job.Devices {
		all := func(pins []string) {
			for i := 1; i < len(pins); i++ {
				join(pin(d.Name, pins[0]), pin(d.Name, pins[i]))
			}
		}
		for _, j := range d.Joins {
			all(j.Pins)
		}
		for _, s := range d.States {
			all(s.Pins)
		}
		for _, f := range d.Fuses {
			join(pin(d.Name, f.From), pin(d.Name, f.To))
		}
		for _, s := range d.Supplies {
			plus, less = append(plus, pin(s.From.Device, s.From.Pin)), append(less, pin(s.To.Device, s.To.Pin))
		}
	}
	sides := map[string]int{}
	for _, k := range less {
		sides[root(k)] |= onMinus
	}
	for _, k := range plus {
		sides[root(k)] |= onPlus
	}
	return func(device, name string) int { return sides[root(pin(device, name))] }
}
