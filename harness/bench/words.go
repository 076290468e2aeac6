package bench

import (
	"math"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// endText is an end of a wire in words, whole enough to find it on the sheets of its section: "A, cavity 4". Of a break the section has
// one half, so that the half is named only where both are the section's.
func (m *maker) endText(t *net.Termination) string { return m.same(m.endWords(t)) }

func (m *maker) endWords(t *net.Termination) string {
	switch t.Kind {
	case net.InCavity:
		s := m.placeText(t) + ", cavity " + t.Cavity
		if p := m.ownPinName(t); p != "" {
			s += " (" + p + ")"
		}
		return s
	case net.OnStud:
		return "stud " + t.Pin + " of " + t.Device
	case net.InHalf:
		if t.Cavity == "" {
			return m.placeText(t) + ", no cavity left"
		}
		return m.placeText(t) + ", cavity " + t.Cavity
	}
	return m.placeText(t)
}

// placeText is the thing an end is at, without the cavity: what a cable as a whole goes to.
func (m *maker) placeText(t *net.Termination) string {
	switch t.Kind {
	case net.InCavity:
		if d := m.device[t.Device]; d != nil && t.Housing >= 0 && t.Housing < len(d.Housings) {
			return housingText(d, t.Housing)
		}
		return t.Device
	case net.OnStud:
		return t.Device
	case net.InHalf:
		return m.halfText(t.Break, t.Half)
	case net.OnPost:
		return "stud post " + m.halfText(t.Break, t.Half)
	case net.InSplice:
		return "splice " + t.Splice
	}
	if t.Near == "" {
		return "cut back"
	}
	return "cut back beside " + t.Near
}

// shortText names an end inside a longer sentence.
func shortText(t *net.Termination) string {
	switch t.Kind {
	case net.InCavity, net.OnStud:
		return t.Device + "." + t.Pin
	case net.InHalf, net.OnPost:
		return t.Break
	case net.InSplice:
		return t.Splice
	}
	return "the cut-back end"
}

// thing is the name of what an end is at.
func thing(t *net.Termination) string {
	switch t.Kind {
	case net.InCavity, net.OnStud:
		return t.Device
	case net.InHalf, net.OnPost:
		return t.Break
	case net.InSplice:
		return t.Splice
	}
	return "cut back"
}

// ownPinName is the pin's name where the cavity does not already say it.
func (m *maker) ownPinName(t *net.Termination) string {
	if t.Pin == t.Cavity {
		return ""
	}
	if d := m.device[t.Device]; d != nil && t.Housing >= 0 && t.Housing < len(d.Housings) && t.Pin == d.Housings[t.Housing].As+"."+t.Cavity {
		return ""
	}
	return t.Pin
}

func housingTitle(d *design.Device, h int) string {
	if len(d.Housings) < 2 {
		return d.Name
	}
	return d.Name + ", housing " + or(d.Housings[h].As, d.Housings[h].Part)
}

// housingText is the same inside a longer text.
func housingText(d *design.Device, h int) string {
	if len(d.Housings) < 2 {
		return d.Name
	}
	return d.Name + " " + or(d.Housings[h].As, d.Housings[h].Part)
}

func (m *maker) halfTitle(brk string, half int) string {
	b := m.brk[brk]
	if b == nil || half < 0 || half > 1 || b.Halves[half].Section == "" {
		return brk
	}
	if b.Halves[0].Section == b.Halves[1].Section {
		return brk + ", half with " + b.Halves[half].Contacts
	}
	return brk + ", " + b.Halves[half].Section + " half"
}

// halfText is a half inside a longer text on a sheet of its section.
func (m *maker) halfText(brk string, half int) string {
	if b := m.brk[brk]; b != nil && b.Halves[0].Section == b.Halves[1].Section {
		return m.halfTitle(brk, half)
	}
	return brk
}

// cutEnd says what an end of a wire ends in.
func (m *maker) cutEnd(wire, end int) CutEnd {
	t := &m.net.Wires[wire].Ends[end]
	out := CutEnd{Text: m.endText(t), Contact: m.contactText(wire, end), Seal: m.sealText(wire, end)}
	if c := m.contact[m.contactPart(wire, end)]; c != nil {
		out.Strip, out.Tool = c.Strip, c.Tool
	}
	if b := m.barrels[m.made[t.Splice].Barrel]; t.Kind == net.InSplice && b != nil {
		out.Strip, out.Tool = b.Strip, b.Tool
	}
	return out
}

// contactPart is the contact or lug part of an end: the stated one, else the one chosen with the size; empty if there is none.
func (m *maker) contactPart(wire, end int) string {
	t := &m.net.Wires[wire].Ends[end]
	if t.Contact != "" {
		return t.Contact
	}
	if t.Kind != net.InCavity && t.Kind != net.InHalf {
		return ""
	}
	if c := m.conductor(wire).Contacts[end]; c != "" || m.net.Wires[wire].Kind != net.Screen {
		return c
	}
	// A screen has no size to choose a contact by: it takes the cavity's only one.
	if h := m.housing[m.housingOf(t)]; h != nil {
		for _, c := range h.Cavities {
			if c.Name == t.Cavity && len(c.Takes) == 1 {
				return c.Takes[0]
			}
		}
	}
	return ""
}

// contactText names the contact as it is picked from the box: "size-20 socket", "M8 lug", "barrel", "cut back".
func (m *maker) contactText(wire, end int) string {
	t := &m.net.Wires[wire].Ends[end]
	part := m.contactPart(wire, end)
	switch t.Kind {
	case net.InHalf:
		if part == "" {
			return ""
		}
		if b := m.brk[t.Break]; b != nil {
			switch b.Halves[t.Half].Contacts {
			case "pins":
				return part + " pin"
			case "sockets":
				return part + " socket"
			}
		}
		return part
	case net.OnStud, net.OnPost:
		if part != "" {
			return part
		}
		lug := "lug"
		if th := m.thread(t); th != "" {
			lug = th + " lug"
		}
		if t.Angled {
			lug += " " + t.Angle.String()
		}
		return lug
	case net.InSplice:
		if b := m.barrels[m.made[t.Splice].Barrel]; b != nil {
			return b.Name
		}
		return "barrel"
	case net.CutBack:
		return "cut back"
	}
	return part
}

// Sealed tells whether a housing has seals round single wires: its name says so.
func Sealed(housing string) bool { return strings.Contains(housing, "sealed") }

// seal is what is slid on for a cavity: the stated one, else for a housing with single-wire seals (by its name, sealed) the seal in the
// middle of whose range the insulation lies best. Empty: none, none fits, or the outside is not known.
func (m *maker) seal(wire, end int) string {
	t := &m.net.Wires[wire].Ends[end]
	if t.Seal != "" || t.Kind != net.InCavity && t.Kind != net.InHalf {
		return t.Seal
	}
	d := m.conductor(wire).Outside
	if !Sealed(m.housingOf(t)) || d <= 0 {
		return ""
	}
	best, off := "", 0.0
	for _, s := range m.job.Parts.Seals {
		if len(s.Plugs) > 0 || s.InsulLeast > d || d > s.InsulMost {
			continue
		}
		if o := math.Abs(float64(s.InsulLeast+s.InsulMost)/2 - float64(d)); best == "" || o < off {
			best, off = s.Name, o
		}
	}
	return best
}

// NoSeal stands where a cavity wants a seal and none is known to fit.
const NoSeal = "no seal yet"

// sealText is the seal as it is picked from the box, or that one is still to be chosen.
func (m *maker) sealText(wire, end int) string {
	t := &m.net.Wires[wire].Ends[end]
	if s := m.seal(wire, end); s != "" || t.Kind != net.InCavity && t.Kind != net.InHalf || !Sealed(m.housingOf(t)) {
		return s
	}
	return NoSeal
}

// housingOf is the housing part an end is in.
func (m *maker) housingOf(t *net.Termination) string {
	if b := m.brk[t.Break]; t.Kind == net.InHalf && b != nil {
		return b.Halves[t.Half].Housing
	}
	if d := m.device[t.Device]; t.Kind == net.InCavity && d != nil && t.Housing >= 0 && t.Housing < len(d.Housings) {
		return d.Housings[t.Housing].Part
	}
	return ""
}

// thread of the stud an end sits on; empty if not known.
func (m *maker) thread(t *net.Termination) string {
	if t.Kind == net.OnStud {
		if d := m.device[t.Device]; d != nil {
			for i := range d.Pins {
				if d.Pins[i].Name == t.Pin {
					return d.Pins[i].Stud
				}
			}
		}
		return ""
	}
	if b := m.brk[t.Break]; b != nil {
		if h := m.housing[b.Halves[t.Half].Housing]; h != nil {
			for _, c := range h.Cavities {
				if c.Stud != "" && (c.Name == t.Cavity || t.Cavity == "") {
					return c.Stud
				}
			}
		}
	}
	return ""
}

// millimetres prints a length as it is read off a tape.
func millimetres(l unit.Length) string { return unit.Number(float64(l), 0) }
