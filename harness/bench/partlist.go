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
var kindOrder = []string{"wire", "cable", "screen", "contact", "lug", "splice", "housing", "stud post", "seal", "plug", "fuse", "clip", "fastener", "blanking plug", "sleeve", "filler", "tie"}

// list gathers equal parts.
type list struct {
	rows []PartCount
	at   map[[2]string]int
}

func (l *list) add(p PartCount) {
	k := [2]string{p.Kind, p.Name}
	n, ok := l.at[k]
	if !ok {
		if l.at == nil {
			l.at = map[[2]string]int{}
		}
		l.at[k] = len(l.rows)
		l.rows = append(l.rows, p)
		return
	}
	r := &l.rows[n]
	r.Count += p.Count
	r.Samples += p.Samples
	r.Scrap += p.Scrap
	r.Length += p.Length
	r.Unknown += p.Unknown
}

// of adds one of a part that the library may hold.
func (l *list) of(kind, name string, part *design.Part, length unit.Length) {
	l.some(PartCount{Kind: kind, Name: name, Count: 1, Length: length}, part)
}

func (l *list) some(p PartCount, part *design.Part) {
	if p.Name == "" {
		return
	}
	if part != nil {
		p.Own, p.Source = part.Own, part.Source
	}
	l.add(p)
}

func (l *list) sorted() []PartCount {
	slices.SortStableFunc(l.rows, func(a, b PartCount) int {
		return cmp.Or(cmp.Compare(slices.Index(kindOrder, a.Kind), slices.Index(kindOrder, b.Kind)), design.Natural(a.Name, b.Name))
	})
	return l.rows
}

// parts is the purchase list: what is picked for every section, fuses, and what holds the harness to the body. Devices are not bought with the harness.
func (m *maker) parts(p *Plan, held *fix.Plan, body *shell.Shell) []PartCount {
	l := &list{}
	for i := range p.Sections {
		for _, r := range p.Sections[i].Picks {
			l.add(r)
		}
	}
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
	return l.sorted()
}

func partOf[T any](all []*T, name string, part func(*T) *design.Part) *design.Part {
	for _, x := range all {
		if p := part(x); p.Name == name {
			return p
		}
	}
	return nil
}

// picks is what is taken from the shelf for a section: wire and cable as cut and for samples, what is crimped on with its samples and scrap, housings
// with their seals, plugs for blank sealed cavities, sleeves, fillers, ties.
func (m *maker) picks(s *SectionPlan) []PartCount {
	l := &list{}
	wirePart := func(family string) *design.Part {
		if w := m.wire[family]; w != nil {
			return &w.Part
		}
		return nil
	}
	length := func(p PartCount) PartCount {
		if p.Length == 0 {
			p.Unknown = 1
		}
		return p
	}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		switch {
		case len(c.Cores) > 0:
			l.some(length(PartCount{Kind: "cable", Name: c.Family, Count: 1, Length: c.Length}), wirePart(c.Family))
		case m.net.Wires[c.Wire].Kind == net.Screen:
			l.some(length(PartCount{Kind: "screen", Name: "over " + c.Cable + ", made up on the bench", Count: 1, Length: c.Length}), nil)
		default:
			l.some(length(PartCount{Kind: "wire", Name: wireName(c.Family, c.Size, c.Colour), Count: 1, Length: c.Length}), wirePart(c.Family))
		}
		if sleeve := m.net.Wires[c.Wire].Sleeve; sleeve != "" && len(c.Cores) == 0 {
			l.of("sleeve", sleeveText(sleeve, m.conductor(c.Wire).Outside), m.sleevePart(sleeve), c.Length)
		}
	}
	for _, k := range s.Samples {
		p := PartCount{Kind: "wire", Name: wireName(k.Family, k.Size, k.Colour), Count: k.Count, Samples: k.Count, Length: unit.Length(float64(k.Count) * float64(k.Length))}
		if k.Size.IsZero() {
			p.Kind, p.Name = "cable", k.Family
		}
		l.some(p, wirePart(k.Family))
	}
	for i := range s.Crimps {
		c := &s.Crimps[i]
		if c.Contact == noContact {
			continue
		}
		p := PartCount{Kind: c.Kind, Name: c.Contact, Count: c.Count + c.Samples + c.Scrap, Samples: c.Samples, Scrap: c.Scrap}
		switch {
		case c.Kind == "barrel":
			p.Kind = "splice"
		case c.Kind == "lug" && len(c.Wires) > 0:
			p.Name += " for " + c.Wires[0].Size.String()
		}
		part := partOf(m.job.Parts.Contacts, c.Part, func(x *design.Contact) *design.Part { return &x.Part })
		if b := m.barrels[c.Part]; c.Kind == "barrel" && b != nil {
			part = &b.Part
		}
		l.some(p, part)
	}
	for _, i := range inOrder(s) {
		for e := range m.net.Wires[i].Ends {
			if t := &m.net.Wires[i].Ends[e]; (t.Kind == net.InCavity || t.Kind == net.InHalf) && !m.fitted(t) {
				seal := m.seal(i, e)
				l.of("seal", seal, partOf(m.job.Parts.Seals, seal, func(x *design.Seal) *design.Part { return &x.Part }), 0)
			}
		}
	}
	for _, sp := range s.Splices {
		switch {
		case sp.Sleeve == "":
		case sp.Made.SleeveSize > 0:
			l.of("sleeve", sp.Sleeve+" "+sp.Made.SleeveSize.String()+" over splices", m.sleevePart(sp.Sleeve), sp.Made.SleeveLength)
		default:
			l.of("sleeve", sp.Sleeve+" over a splice, size open", m.sleevePart(sp.Sleeve), 0)
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
	m.housings(l, s.Name)
	for _, c := range s.Sleeves {
		l.of("sleeve", sleeveText(c.Part, c.Over), m.sleevePart(c.Part), c.Length)
	}
	m.ties(l, s.Name)
	return l.sorted()
}

// wireName is a wire as it lies on the shelf.
func wireName(family string, size unit.Size, colour string) string {
	return family + " " + size.String() + " " + colour
}

// housings counts the halves of breaks that a section has, a stud post once with its first half, and the housings of devices, each with the first section
// that has a wire in it.
func (m *maker) housings(l *list, section string) {
	part := func(name string) *design.Part {
		if h := m.housing[name]; h != nil {
			return &h.Part
		}
		return nil
	}
	for _, x := range m.in(section).halves {
		switch h := &x.brk.Halves[x.half]; {
		case h.Housing == "" || h.Fitted:
		case h.Contacts == "":
			if x.half == 0 {
				l.of("stud post", h.Housing, part(h.Housing), 0)
			}
		default:
			name := h.Housing + " for " + h.Contacts
			if x.brk.Key != "" {
				name += ", key " + x.brk.Key
			}
			l.of("housing", name, part(h.Housing), 0)
		}
	}
	for _, x := range m.in(section).firsts {
		h := &x.device.Housings[x.index]
		if x.device.Fitted || h.Part == "" {
			continue
		}
		name := h.Part + " for a device"
		if h.Key != "" {
			name += ", key " + h.Key
		}
		l.of("housing", name, part(h.Part), 0)
	}
}

// ties counts the ties of bundles that have no sleeve, one every tie-span and one at the end of each stretch, and the cord of fillers by its diameter.
func (m *maker) ties(l *list, section string) {
	n := 0
	for _, i := range m.in(section).edges {
		e := &m.geo.Edges[i]
		if !known(e) || len(m.onEdge[i]) == 0 {
			continue
		}
		if lay := m.lay.Of(i); lay != nil {
			for _, y := range lay.Layers {
				for _, f := range y.Fillers {
					l.of("filler", "cord of "+f.Diameter.String(), nil, roundUp(unit.Length((1+float64(positive(y.TakeUp)))*float64(e.Length+e.Slack)), 1))
				}
			}
		}
		r := m.run[e.Run]
		if span := m.length("tie-span", m.edgeScope(&net.Wire{}, e)); len(m.onEdge[i]) > 1 && span >= 1 && (r == nil || r.Sleeve == "") {
			n += int(min(1e6, math.Ceil(float64(e.Length/span)))) + 1
		}
	}
	if n > 0 {
		l.add(PartCount{Kind: "tie", Name: "for bundles without a sleeve", Count: n})
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
