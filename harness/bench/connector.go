package bench

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/face"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// What a cavity without a wire says.
const (
	PlugIt    = "blank: plug it"
	LeftEmpty = "left empty on purpose"
	NoWire    = "no wire"
)

// connectors lists the halves of breaks, the device housings and the studs of a section: halves first, each kind by name.
func (m *maker) connectors(section string) []Connector {
	in := m.in(section)
	if len(in.halves)+len(in.housings) == 0 {
		return nil
	}
	out := make([]Connector, 0, len(in.halves)+len(in.housings))
	for _, x := range in.halves {
		out = append(out, m.half(x.brk, x.half))
	}
	for _, x := range in.housings {
		if x.index < 0 {
			out = append(out, m.studs(x.device, section))
		} else {
			out = append(out, m.deviceHousing(x.device, x.index, section))
		}
	}
	return out
}

func (m *maker) half(b *design.Break, h int) Connector {
	half := &b.Halves[h]
	c := Connector{Title: m.halfTitle(b.Name, h), Break: b.Name, Half: h, Housing: half.Housing, Contacts: half.Contacts, Key: b.Key,
		Mount: half.Mount, Panel: b.Panel, Span: b.Span}
	if !half.Span.IsZero() {
		c.Span = half.Span
	}
	part := m.housing[half.Housing]
	post := half.Contacts == ""
	listed := map[string]bool{}
	row := func(cavity string) {
		listed[cavity] = true
		before := len(c.Rows)
		for _, a := range m.onHalf[halfCavity{b.Name, h, cavity}] {
			c.Rows = append(c.Rows, m.pinRow(cavity, "", a))
		}
		if len(c.Rows) == before {
			blank := NoWire
			if m.plugged(half.Housing, m.wet(b)) && !post {
				blank = PlugIt
			}
			r := PinRow{Cavity: cavity, Blank: blank}
			if blank == PlugIt {
				r.Plug = m.plug(half.Housing, cavity)
			}
			c.Rows = append(c.Rows, r)
			c.Free++
		}
	}
	if part != nil {
		c.Wire, c.Mating = m.faces(part, half.Contacts == "pins")
		c.Rows = slices.Grow(c.Rows, len(part.Cavities))
		for _, cav := range part.Cavities {
			row(cav.Name)
		}
		c.Cavities = len(part.Cavities)
	}
	// What is not in the housing, or found no cavity, must not get lost.
	for _, k := range m.otherCavities(b.Name, h, listed) {
		row(k)
	}
	if post || c.Cavities == 0 {
		c.Cavities, c.Free = 0, 0
	} else {
		c.SpareShare = unit.Ratio(float64(c.Free) / float64(c.Cavities))
	}
	return c
}

// faces is both sides of a housing, which connectors of one part share.
func (m *maker) faces(part *design.Housing, pins bool) (wire, mating face.Face) {
	k := faceKey{part, pins}
	f, ok := m.face[k]
	if !ok {
		f = [2]face.Face{face.Of(part, pins, face.WireSide), face.Of(part, pins, face.MatingSide)}
		m.face[k] = f
	}
	return f[0], f[1]
}

type faceKey struct {
	part *design.Housing
	pins bool
}

func (m *maker) otherCavities(brk string, half int, listed map[string]bool) []string {
	var out []string
	for _, c := range m.cavities[halfKey{brk, half}] {
		if !listed[c] {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, design.Natural)
	return out
}

func (m *maker) deviceHousing(d *design.Device, h int, section string) Connector {
	dh := &d.Housings[h]
	c := Connector{Title: housingTitle(d, h), Device: d.Name, Housing: dh.Part, Contacts: "as the device has it", Key: dh.Key, Panel: d.Panel, Span: d.Span}
	if !dh.Span.IsZero() {
		c.Span = dh.Span
	}
	plug := m.plugged(dh.Part, false)
	var pins []*design.Pin
	for i := range d.Pins {
		if d.Pins[i].Housing == h {
			pins = append(pins, &d.Pins[i])
		}
	}
	if part := m.housing[dh.Part]; part != nil {
		c.Wire, c.Mating = m.faces(part, false)
		order := map[string]int{}
		for i, cav := range part.Cavities {
			order[cav.Name] = i + 1
		}
		slices.SortStableFunc(pins, func(a, b *design.Pin) int { return cmp.Compare(order[a.Cavity], order[b.Cavity]) })
	}
	c.Rows = slices.Grow(c.Rows, len(pins))
	for _, p := range pins {
		c.Rows = append(c.Rows, m.devicePin(d, p, h, section, plug)...)
	}
	return c
}

// devicePin is the rows of a pin; lugs on one stud in the order of the stack.
func (m *maker) devicePin(d *design.Device, p *design.Pin, h int, section string, plug bool) []PinRow {
	cavity, pin := p.Name, ""
	if h >= 0 {
		cavity = p.Cavity
		pin = m.ownPinName(&net.Termination{Device: d.Name, Pin: p.Name, Cavity: p.Cavity, Housing: h})
	}
	all := slices.Clone(m.onPin[[2]string{d.Name, p.Name}])
	slices.SortStableFunc(all, func(a, b at) int { return cmp.Compare(m.order(a), m.order(b)) })
	var rows []PinRow
	elsewhere := ""
	for _, a := range all {
		if w := &m.net.Wires[a.wire]; w.Section == section {
			rows = append(rows, m.pinRow(cavity, pin, a))
		} else {
			elsewhere = w.Section
		}
	}
	if len(rows) > 0 {
		return rows
	}
	row := PinRow{Cavity: cavity, Pin: pin}
	switch {
	case len(all) > 0:
		row.Blank = "wired in section " + elsewhere
	case p.Unused && plug:
		row.Blank, row.Status = LeftEmpty+"; plug it", design.Stated
	case p.Unused:
		row.Blank, row.Status = LeftEmpty, design.Stated
	case plug:
		row.Blank = PlugIt
	default:
		row.Blank = NoWire
	}
	if plug && len(all) == 0 {
		row.Plug = m.plug(d.Housings[h].Part, p.Cavity)
	}
	return []PinRow{row}
}

// order in the stack of a stud; what is not stated lies on top.
func (m *maker) order(a at) int {
	if o := m.net.Wires[a.wire].Ends[a.end].Order; o > 0 {
		return o
	}
	return 1 << 30
}

// studs is the studs of a device. Those of another section, and those without a wire that sit elsewhere, are left to others.
func (m *maker) studs(d *design.Device, section string) Connector {
	c := Connector{Title: d.Name + ", studs", Device: d.Name, Contacts: "lugs", Panel: d.Panel, Span: d.Span}
	for i := range d.Pins {
		p := &d.Pins[i]
		if p.Housing >= 0 || p.Inner {
			continue
		}
		rows := m.devicePin(d, p, -1, section, false)
		if strings.HasPrefix(rows[0].Blank, "wired in") || rows[0].Blank != "" && (p.Known || p.Stud == "") {
			continue
		}
		c.Rows = append(c.Rows, rows...)
	}
	return c
}

func (m *maker) pinRow(cavity, pin string, a at) PinRow {
	w := &m.net.Wires[a.wire]
	r := PinRow{Cavity: cavity, Pin: pin, Wires: m.alone(a.wire), Label: w.Label, Name: w.Name, Size: m.conductor(a.wire).Size, Cable: w.Cable,
		GoesTo: m.endText(&w.Ends[1-a.end]), Contact: m.contactText(a.wire, a.end) + torqueText(&w.Ends[a.end]), Seal: m.sealText(a.wire, a.end), Status: w.Ends[a.end].Status}
	r.Colour, r.Code, r.ColourStatus = Colour(m.job, w)
	return r
}

// plug is the blanking plug for an empty cavity: the first that plugs what the cavity takes; empty if none is known.
func (m *maker) plug(housing, cavity string) string {
	h := m.housing[housing]
	if h == nil {
		return ""
	}
	for _, c := range h.Cavities {
		if c.Name != cavity {
			continue
		}
		for _, s := range m.job.Parts.Seals {
			if slices.ContainsFunc(s.Plugs, func(k string) bool { return slices.Contains(c.Takes, k) }) {
				return s.Name
			}
		}
	}
	return ""
}

// unsealed begins the names of housings that cannot be sealed.
var unsealed = []string{"plain", "box", "relay", "fuse"}

// plugged tells whether an empty cavity of a housing wants a plug: a sealed housing does, by its name, and so does any connector
// in the wet that can be sealed.
func (m *maker) plugged(part string, wet bool) bool {
	return Sealed(part) || wet && !slices.ContainsFunc(unsealed, func(p string) bool { return strings.HasPrefix(part, p) })
}

// wet tells whether a break sits where water comes: on a panel with a wet side, or at a run in a wet zone.
func (m *maker) wet(b *design.Break) bool {
	is := func(zone string) bool {
		z := m.zone[zone]
		return z != nil && slices.ContainsFunc(z.With, func(w string) bool { return w == "wet" || w == "splash" || w == "salt" || w == "oil" })
	}
	for _, p := range m.job.Panels {
		if p.Name == b.Panel && slices.ContainsFunc(p.Zones, is) {
			return true
		}
	}
	n := m.geo.Find(or(b.Node, b.Name))
	return n >= 0 && slices.ContainsFunc(m.atNode[n], func(e int) bool { return is(m.geo.Edges[e].Zone) })
}

// torqueText is the torque of a stud's nut, where it is stated.
func torqueText(t *net.Termination) string {
	if t.Torque <= 0 {
		return ""
	}
	return ", " + t.Torque.String()
}
