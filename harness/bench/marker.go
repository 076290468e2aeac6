package bench

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Marker is equal marks of one wire, or of one core: one at an end, or those along it.
type Marker struct {
	*Marked        // one for all marks of it
	Place   string // "A, cavity 4", "splice s-inj", "along the wire", "at its middle"
	At      string // where on the cut wire, in words: "60 mm from the end", "every 320 mm between the ends"
	Count   int
}

// Marked is what marks go over.
type Marked struct {
	Cut     int    // of the section's cuts
	Wire    int    // of the net
	Name    string // of the wire
	Text    string // what is printed: the label; empty: the wire has none
	Family  string
	Size    unit.Size
	Code    string      // colour letters of the wire
	Colour  string      // as written
	Outside unit.Length // of what it goes over; 0 not known
	Cable   string
}

// AlongWire is the place of the marks between the two ends of a wire.
const AlongWire = "along the wire"

// markers lists the marks of a section in the order of its cut list: of each wire its first end, those along it, its other end. A wire shorter than mark-none
// has none, one up to mark-once a single one at its middle. A core of a bought cable is marked at its ends, the cable along its jacket.
func (m *maker) markers(s *SectionPlan) []Marker {
	var out []Marker
	for i := range s.Cuts {
		c := &s.Cuts[i]
		w := &m.net.Wires[c.Wire]
		at := scope(w)
		whole := Marked{Cut: i, Wire: c.Wire, Name: c.Name, Text: c.Label, Family: c.Family, Size: c.Size, Code: c.Code, Colour: c.Colour, Outside: m.conductor(c.Wire).Outside, Cable: c.Cable}
		none, once, end := m.length("mark-none", at), m.length("mark-once", at), m.length("mark-end", at)
		switch {
		case c.Length > 0 && c.Length < none:
		case c.Length > 0 && c.Length <= once && len(c.Cores) == 0:
			out = append(out, Marker{&whole, "at its middle", m.same(millimetres(c.Length/2) + " mm from either end"), 1})
		case len(c.Cores) == 0:
			from := m.same(millimetres(end) + " mm from the end")
			out = append(out, Marker{&whole, c.Ends[0].Text, from, 1})
			out = m.alongMarks(out, &whole, c.Length, end, at)
			out = append(out, Marker{&whole, c.Ends[1].Text, from, 1})
		default:
			whole.Text, whole.Colour, whole.Code, whole.Outside = c.Cable, "", "", m.jacket(c.Family)
			out = m.alongMarks(out, &whole, c.Length, end, at)
			for _, k := range c.Cores {
				if k.Screen {
					continue
				}
				core := &Marked{Cut: i, Wire: k.Wire, Name: k.Name, Text: k.Label, Family: c.Family, Size: k.Size, Code: k.Code, Colour: k.Colour, Outside: m.conductor(k.Wire).Outside, Cable: c.Cable}
				for e := range k.Ends {
					out = append(out, Marker{core, k.Ends[e].Text, m.same(millimetres(end) + " mm from the end"), 1})
				}
			}
		}
	}
	return slices.Clone(out) // without the room it grew into
}

// alongMarks adds the marks between those at the ends: as few as leave no two further apart than mark-along, evenly.
func (m *maker) alongMarks(out []Marker, one *Marked, long, end unit.Length, at design.Scope) []Marker {
	apart, between := m.length("mark-along", at), long-2*end
	if apart < 10 || between <= apart {
		return out
	}
	n := int(min(1e6, math.Ceil(float64(between/apart)-1e-9)))
	if n < 2 {
		return out
	}
	return append(out, Marker{one, AlongWire, m.same("every " + millimetres(unit.Length(math.Floor(float64(between)/float64(n)))) + " mm between the ends"), n - 1})
}

// jacket is the outside of a bought cable; 0 not known.
func (m *maker) jacket(family string) unit.Length {
	if p := m.wire[family]; p != nil {
		return positive(p.Outside)
	}
	return 0
}
