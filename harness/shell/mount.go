package shell

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// mounts lists what sits in the holes of panels: connectors, stud posts and bushes, by panel as one walks, and name. Its place is that of
// its hole, so a stated hole rules here too.
func (m *maker) mounts(s *Shell, holes []need) {
	for i := range holes {
		h := &holes[i]
		if !h.main || h.Panel == "" {
			continue
		}
		x := Mount{Name: h.name, Kind: h.Kind, Hole: h.Mark, Panel: h.Panel, At: h.At, Flat: h.Flat, Known: h.Known, CutOut: [2]unit.Length{h.Drill, h.High}, Turn: h.Turn, Span: h.Span}
		if h.point != nil {
			x.Bore = h.point.Bush
		}
		if h.brk != nil {
			m.seat(&x, h.brk)
			x.Span = h.brk.Span
			for j := range holes {
				if g := &holes[j]; g.brk == h.brk && !g.main {
					x.Screws = append(x.Screws, Screw{g.Mark, g.Flat, g.At, g.Drill})
				}
			}
		}
		s.Mounts = append(s.Mounts, x)
	}
	slices.SortStableFunc(s.Mounts, func(a, b Mount) int {
		return cmp.Or(cmp.Compare(m.walkOf(a.Panel), m.walkOf(b.Panel)), design.Natural(a.Panel, b.Panel), design.Natural(a.Name, b.Name), cmp.Compare(a.Kind, b.Kind))
	})
}

// seat gives the mount of a break its housing, its sides and its bond.
func (m *maker) seat(x *Mount, b *design.Break) {
	half, stays := m.seated(b)
	x.Housing, x.Key = b.Halves[half].Housing, b.Key
	if h := m.housing[x.Housing]; h != nil {
		x.Flange, x.Nut, x.Room = positive(h.Flange[0], h.Flange[1]), max(0, clean(h.Nut)), max(0, clean(h.Room))
		x.Bond = h.Metal && m.screened(b.Name)
	}
	x.Side, x.SideWhy = m.flangeSide(b)
	if stays && x.Kind == "connector" {
		x.Mating = m.zoneOf(b, 1-half)
	}
	x.Face = m.flangeFace(b)
	if stays && x.Kind == "connector" {
		if x.Mate = m.faceOf(b, 1-half); x.Mate == 0 {
			x.Mate = -m.faceOf(b, half)
		}
	}
}

// positive is a width and a height, or a diameter and 0; what is not above 0 is not known.
func positive(wide, high unit.Length) [2]unit.Length {
	if !(clean(wide) > 0) {
		return [2]unit.Length{}
	}
	return [2]unit.Length{wide, max(0, clean(high))}
}

// screened tells whether the screen of a cable passes a break.
func (m *maker) screened(name string) bool {
	return slices.ContainsFunc(m.net.Wires, func(w net.Wire) bool {
		return w.Kind == net.Screen && slices.ContainsFunc(w.Ends[:], func(t net.Termination) bool {
			return t.Kind == net.InHalf && t.Break == name
		})
	})
}
