package bench

import "loomsheet/harness/design"

// ofSection is what lies in one section, each list in the order of the job or the net.
type ofSection struct {
	wires    []int
	joints   []int
	edges    []int
	halves   []halfAt
	housings []housingAt // wired in this section, studs for -1 after the housings of their device
	firsts   []housingAt // wired here and in no section that comes before by name
}

// halfAt is a half of a break.
type halfAt struct {
	brk  *design.Break
	half int
}

// housingAt is a housing of a device, by its index; -1 is its studs.
type housingAt struct {
	device *design.Device
	index  int
}

// same is a text that was said before, if it was: many rows of a plan say the same, and it is held once.
func (m *maker) same(text string) string { return m.texts.Text(text) }

// in is what lies in a section.
func (m *maker) in(section string) *ofSection {
	x := m.within[section]
	if x == nil {
		x = &ofSection{}
		m.within[section] = x
	}
	return x
}

// sort parts what the job and the net hold by sections.
func (m *maker) sort() {
	m.within = map[string]*ofSection{}
	for i := range m.net.Wires {
		s := m.in(m.net.Wires[i].Section)
		s.wires = append(s.wires, i)
	}
	for i := range m.net.Joints {
		s := m.in(m.net.Joints[i].Section)
		s.joints = append(s.joints, i)
	}
	for i := range m.geo.Edges {
		s := m.in(m.geo.Edges[i].Section)
		s.edges = append(s.edges, i)
	}
	for _, b := range m.job.Breaks {
		for h := range b.Halves {
			s := m.in(b.Halves[h].Section)
			s.halves = append(s.halves, halfAt{b, h})
		}
	}
	for _, d := range m.job.Devices {
		if d.Pattern {
			continue
		}
		seats := make([][]string, len(d.Housings)+1)
		for i := range d.Pins {
			h := d.Pins[i].Housing
			switch {
			case h == -1:
				h = len(d.Housings)
			case h < 0 || h >= len(d.Housings):
				continue
			}
			seats[h] = m.sectionsAt(seats[h], d.Name, d.Pins[i].Name)
		}
		for h, sections := range seats {
			at := housingAt{d, h}
			if h == len(d.Housings) {
				at.index = -1
			}
			first := ""
			for i, name := range sections {
				s := m.in(name)
				s.housings = append(s.housings, at)
				if i == 0 || design.Natural(name, first) < 0 {
					first = name
				}
			}
			if len(sections) > 0 && at.index >= 0 {
				s := m.in(first)
				s.firsts = append(s.firsts, at)
			}
		}
	}
}

// sectionsAt adds the sections of the wires at a pin that are not in a list yet.
func (m *maker) sectionsAt(list []string, device, pin string) []string {
next:
	for _, a := range m.onPin[[2]string{device, pin}] {
		name := m.net.Wires[a.wire].Section
		for _, have := range list {
			if have == name {
				continue next
			}
		}
		list = append(list, name)
	}
	return list
}
