package rule

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
)

// roomElsewhere says of a wire that its cavity in a break does not take which other cavities would, what fills them, and what would help.
func (m *Model) roomElsewhere(wire, end int) string {
	t := &m.Net.Wires[wire].Ends[end]
	if t.Kind != net.InHalf {
		return ""
	}
	k := slices.IndexFunc(m.Net.Crossings, func(x net.Crossing) bool {
		return x.Break == t.Break && x.Cavity == t.Cavity && (x.Wires[0] == wire || x.Wires[1] == wire)
	})
	of := m.breakNamed(t.Break)
	if k < 0 || of == nil {
		return ""
	}
	x := &m.Net.Crossings[k]
	fit, free := m.cavitiesFor(wire, x, of)
	house := of.Halves[t.Half&1].Housing
	s := ""
	switch {
	case len(fit) == 0:
		return fmt.Sprintf(" No cavity of %s takes it on both halves: take another housing, or another size.%s", house, m.otherBreaks(wire, x, of))
	case len(free) > 0 && t.Status != design.Computed:
		return fmt.Sprintf(" The cavity is %s; free, and of a contact that takes it: %s.", t.Status, list(free, 4))
	case len(free) > 0:
		s = fmt.Sprintf(" Free, and of a contact that takes it: %s. The program took a larger contact for the current, or a size tried before, and the wire cannot grow to suit that%s: state a cavity by hand and see whether its contact carries the current, take a housing with a contact in between, or share the current over two ways.",
			list(free, 4), m.farEnd(wire, end))
	default:
		full := fmt.Sprintf("All %d cavities of break %s that take it are", len(fit), of.Name)
		if len(fit) == 1 {
			full = fmt.Sprintf("The only cavity of break %s that takes it, %s, is", of.Name, fit[0])
		}
		s = fmt.Sprintf(" %s taken by other wires or kept spare by hand: take a larger housing than %s, or lead a wire through another break.", full, house)
	}
	return s + m.otherBreaks(wire, x, of)
}

// farEnd says what the other end of a wire takes, if that is in a device, where nothing is the program's to choose.
func (m *Model) farEnd(wire, end int) string {
	t := &m.Net.Wires[wire].Ends[1-end]
	if t.Kind != net.InCavity {
		return ""
	}
	if what := takes(m.Job, t); what != "" {
		return " (its other end takes " + what + ")"
	}
	return ""
}

func (m *Model) spareByHand(of *design.Break, cavity string) bool {
	return slices.ContainsFunc(m.Job.Cavities, func(d *design.CavityDecision) bool {
		return d.Break == of.Name && d.Cavity == cavity && d.Spare != ""
	})
}

// cavitiesFor lists the cavities of a break that take a wire of a crossing, and those of them that hold nothing and are not kept spare
// by hand.
func (m *Model) cavitiesFor(wire int, x *net.Crossing, of *design.Break) (fit, free []string) {
	h := findHousing(m.Job, of.Halves[0].Housing)
	if h == nil {
		return nil, nil
	}
	taken := map[string]bool{}
	for i := range m.Net.Crossings {
		if c := &m.Net.Crossings[i]; c.Break == of.Name {
			taken[c.Cavity] = true
		}
	}
	for i := range h.Cavities {
		if name := h.Cavities[i].Name; m.takes(wire, x, of, name) {
			fit = append(fit, name)
			if !taken[name] && !m.spareByHand(of, name) {
				free = append(free, name)
			}
		}
	}
	return fit, free
}

// takes tells whether the wire of a crossing can be crimped for a cavity of a break, and so can its other wire if a size is stated for that: one
// that the program chose follows the cavity.
func (m *Model) takes(wire int, x *net.Crossing, of *design.Break, cavity string) bool {
	for _, i := range x.Wires {
		if i >= 0 && i < len(m.Net.Wires) && i != wire && m.Net.Wires[i].Stated.IsZero() {
			continue
		}
		if i < 0 || i >= len(m.Net.Wires) || !m.Sizes[i].Known {
			return false
		}
		w := m.Net.Wires[i]
		for k := range w.Ends {
			if t := &w.Ends[k]; t.Kind == net.InHalf && t.Break == x.Break {
				if of.Name != x.Break {
					t.Contact = ""
					t.Half = halfOf(of, w.Section)
				}
				t.Break, t.Cavity = of.Name, cavity
				if _, fits := size.Contacts(m.Job, &w, &m.Sizes[i]); !fits[k] {
					return false
				}
			}
		}
	}
	return true
}

// otherBreaks says which other breaks between the same two sections have a cavity left for a crossing.
func (m *Model) otherBreaks(wire int, x *net.Crossing, of *design.Break) string {
	for _, b := range m.Job.Breaks {
		if b == of || halfOf(b, of.Halves[0].Section) < 0 || halfOf(b, of.Halves[1].Section) < 0 || b.Halves[0].Contacts == "" {
			continue
		}
		if _, free := m.cavitiesFor(wire, x, b); len(free) > 0 {
			if b.Class != "" && b.Class != m.Net.Wires[x.Wires[0]].Class {
				return fmt.Sprintf(" Break %s has room for it and is kept for class %s.", b.Name, b.Class)
			}
			return fmt.Sprintf(" Break %s has room for it.", b.Name)
		}
	}
	return ""
}

// halfOf is the half of a break in a section, -1 if it has none.
func halfOf(b *design.Break, section string) int {
	for k := range b.Halves {
		if b.Halves[k].Section == section {
			return k
		}
	}
	return -1
}

func (m *Model) breakNamed(name string) *design.Break {
	for _, b := range m.Job.Breaks {
		if b.Name == name {
			return b
		}
	}
	return nil
}
