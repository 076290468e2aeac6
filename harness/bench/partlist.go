package bench

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

// kindOrder is the order of the parts list.
var kindOrder = []string{"wire", "cable", "screen", "contact", "lug", "splice", "housing", "stud post", "seal", "plug", "fuse", "clip", "fastener", "blanking plug", "sleeve"}

// list gathers equal parts.
type list struct{ rows []PartCount }

func (l *list) add(p PartCount) {
	for i := range l.rows {
		if r := &l.rows[i]; r.Kind == p.Kind && r.Name == p.Name {
			r.Count += p.Count
			r.Length += p.Length
			return
		}
	}
	l.rows = append(l.rows, p)
}

// of adds one of a part that the library may hold.
func (l *list) of(kind, name string, part *design.Part, length unit.Length) {
	if name == "" {
		return
	}
	p := PartCount{Kind: kind, Name: name, Count: 1, Length: length}
	if part != nil {
		p.Own, p.Source = part.Own, part.Source
	}
	l.add(p)
}

// parts is the purchase list: wire and cable as cut, what is crimped on, housings with their contacts, plugs for blank sealed
// cavities, fuses, clips with their fasteners, sleeves over runs by length and over splices by count. Devices are not bought with the harness.
func (m *maker) parts(p *Plan, held *fix.Plan, body *shell.Shell) []PartCount {
	l := &list{}
	for i := range p.Sections {
		m.sectionParts(l, &p.Sections[i])
	}
	m.housings(l)
	for _, d := range m.job.Devices {
		if d.Pattern {
			continue
		}
		for _, f := range d.Fuses {
			l.of("fuse", f.Part, partOf(m.job.Parts.Fuses, f.Part, func(x *design.Fuse) *design.Part { return &x.Part }), 0)
		}
	}
	for i := range held.Runs {
		m.runParts(l, &held.Runs[i])
	}
	for _, g := range body.Plugs {
		l.of("blanking plug", "for a hole of "+g.Drill.String(), nil, 0)
	}
	slices.SortStableFunc(l.rows, func(a, b PartCount) int {
		return cmp.Or(cmp.Compare(slices.Index(kindOrder, a.Kind), slices.Index(kindOrder, b.Kind)), design.Natural(a.Name, b.Name))
	})
	return l.rows
}

func partOf[T any](all []*T, name string, part func(*T) *design.Part) *design.Part {
	for _, x := range all {
		if p := part(x); p.Name == name {
			return p
		}
	}
	return nil
}

func (m *maker) sectionParts(l *list, s *SectionPlan) {
	for i := range s.Cuts {
		c := &s.Cuts[i]
		part := partOf(m.job.Parts.Wires, c.Family, func(x *design.Wire) *design.Part { return &x.Part })
		switch {
		case len(c.Cores) > 0:
			l.of("cable", c.Family, part, c.Length)
			for _, core := range c.Cores {
				m.endParts(l, core.Wire)
			}
			continue
		case m.net.Wires[c.Wire].Kind == net.Screen:
			l.of("screen", "over "+c.Cable+", made up on the bench", nil, c.Length)
		default:
			l.of("wire", c.Family+" "+c.Size.String()+" "+c.Colour, part, c.Length)
		}
		if sleeve := m.net.Wires[c.Wire].Sleeve; sleeve != "" {
			l.of("sleeve", sleeveText(sleeve, m.conductor(c.Wire).Outside), m.sleevePart(sleeve), c.Length)
		}
		m.endParts(l, c.Wire)
	}
	for _, sp := range s.Splices {
		l.of("splice", "barrel for "+sp.Area.String()+" in all", nil, 0)
		if sp.Sleeve != "" {
			l.of("sleeve", sp.Sleeve+" over a splice", m.sleevePart(sp.Sleeve), 0)
		}
	}
	for _, c := range s.Connectors {
		for _, r := range c.Rows {
			switch {
			case r.Plug != "":
				l.of("plug", r.Plug, partOf(m.job.Parts.Seals, r.Plug, func(x *design.Seal) *design.Part { return &x.Part }), 0)
			case r.Blank == PlugIt || r.Blank == LeftEmpty+"; plug it":
				l.of("plug", "for an empty cavity of "+c.Housing, nil, 0)
			}
		}
	}
}

// endParts counts contacts, lugs and seals of a wire.
func (m *maker) endParts(l *list, wire int) {
	for e := range m.net.Wires[wire].Ends {
		t := &m.net.Wires[wire].Ends[e]
		name := m.contactPart(wire, e)
		part := partOf(m.job.Parts.Contacts, name, func(x *design.Contact) *design.Part { return &x.Part })
		switch t.Kind {
		case net.InCavity, net.InHalf:
			l.of("contact", m.contactText(wire, e), part, 0)
			seal := m.seal(wire, e)
			l.of("seal", seal, partOf(m.job.Parts.Seals, seal, func(x *design.Seal) *design.Part { return &x.Part }), 0)
		case net.OnStud, net.OnPost:
			l.of("lug", m.contactText(wire, e)+" for "+m.conductor(wire).Size.String(), part, 0)
		}
	}
}

// housings counts both halves of each break, a stud post once, and the housings of devices that have a wire.
func (m *maker) housings(l *list) {
	part := func(name string) *design.Part {
		return partOf(m.job.Parts.Housings, name, func(x *design.Housing) *design.Part { return &x.Part })
	}
	for _, b := range m.job.Breaks {
		for i, h := range b.Halves {
			switch {
			case h.Housing == "":
			case h.Contacts == "":
				if i == 0 {
					l.of("stud post", h.Housing, part(h.Housing), 0)
				}
			default:
				name := h.Housing + " for " + h.Contacts
				if b.Key != "" {
					name += ", key " + b.Key
				}
				l.of("housing", name, part(h.Housing), 0)
			}
		}
	}
	for _, d := range m.job.Devices {
		for i, h := range d.Housings {
			wired := slices.ContainsFunc(d.Pins, func(p design.Pin) bool {
				return p.Housing == i && len(m.onPin[[2]string{d.Name, p.Name}]) > 0
			})
			if !d.Pattern && wired && h.Part != "" {
				name := h.Part + " for a device"
				if h.Key != "" {
					name += ", key " + h.Key
				}
				l.of("housing", name, part(h.Part), 0)
			}
		}
	}
}

func (m *maker) runParts(l *list, r *fix.RunPlan) {
	for _, c := range r.Clips {
		name := c.Part
		if c.ClipSize > 0 {
			name += " " + c.ClipSize.String()
		} else {
			name += ", size open"
		}
		l.of("clip", name, partOf(m.job.Parts.Clips, c.Part, func(x *design.Clip) *design.Part { return &x.Part }), 0)
		l.of("fastener", c.Fastener, partOf(m.job.Parts.Fasteners, c.Fastener, func(x *design.Fastener) *design.Part { return &x.Part }), 0)
	}
	for _, c := range r.Sleeves {
		l.of("sleeve", sleeveText(c.Part, c.Over), m.sleevePart(c.Part), c.Length)
	}
}

func (m *maker) sleevePart(name string) *design.Part {
	return partOf(m.job.Parts.Sleeves, name, func(x *design.Sleeve) *design.Part { return &x.Part })
}

// sleeveText names a sleeve by the outside it goes over, in whole millimetres upwards: whether a size means the open, the closed or
// the shrunk sleeve is the maker's habit.
func sleeveText(name string, outside unit.Length) string {
	if outside <= 0 {
		return name
	}
	return name + " over " + unit.Number(math.Ceil(float64(outside)-1e-9), 0) + " mm"
}
