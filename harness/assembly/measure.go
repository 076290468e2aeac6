package assembly

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/bundle"
	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// unknown is the diameter of what is not known: nothing passes it, so everything goes on before it.
var unknown = unit.Length(math.Inf(1))

// circle is what a wire is in a bunch: itself, or the bought cable of which it is a core.
type circle struct {
	wires []int
	d     unit.Length
}

// circles is the wires of a bunch, cores of a bought cable as one. Screens made on the bench lie within what they screen.
func (m *maker) circles(wires []int) []circle {
	var out []circle
	cable := map[string]int{}
	for _, i := range wires {
		w := &m.net.Wires[i]
		part := m.bought(w)
		if w.Kind == net.Screen && part == nil {
			continue
		}
		if part != nil {
			if k, ok := cable[w.Cable]; ok {
				out[k].wires = append(out[k].wires, i)
				continue
			}
			cable[w.Cable] = len(out)
			out = append(out, circle{[]int{i}, known(part.Outside)})
			continue
		}
		d := known(m.conductor(i).Outside)
		if w.Sleeve != "" {
			d += 2 * m.setting("sleeve-wall", scope(w))
		}
		out = append(out, circle{[]int{i}, d})
	}
	return out
}

func known(d unit.Length) unit.Length {
	if !(d > 0) || !unit.Finite(d) {
		return unknown
	}
	return d
}

// bought is the part of a wire that is a core, or the screen, of a bought cable.
func (m *maker) bought(w *net.Wire) *design.Wire {
	c := m.cable[w.Cable]
	if w.Cable == "" || c == nil || c.Wire == "" {
		return nil
	}
	if p := m.wire[c.Wire]; p != nil && (len(p.Cores) > 0 || p.Screen != nil) {
		return p
	}
	return nil
}

// most is how thick a bunch is by the trade's figure, where some of its wires are gone into one thing of another diameter.
func most(cs []circle, gone []int, thing unit.Length) unit.Length {
	var ds []unit.Length
	for _, c := range cs {
		if !slices.ContainsFunc(c.wires, func(w int) bool { return slices.Contains(gone, w) }) {
			ds = append(ds, c.d)
		}
	}
	if thing > 0 {
		ds = append(ds, thing)
	}
	if slices.Contains(ds, unknown) {
		return unknown
	}
	if len(ds) == 1 {
		return ds[0]
	}
	one, two, sum := unit.Length(0), unit.Length(0), 0.0
	for _, d := range ds {
		sum += float64(d * d)
		if d > one {
			one, two = d, one
		} else {
			two = max(two, d)
		}
	}
	return max(unit.Length(1.2*math.Sqrt(sum)), one+two)
}

// band is the least and the most that wires are together; both 0 where that is not known.
func (m *maker) band(wires []int) (least, most unit.Length) {
	var ds []unit.Length
	for _, c := range m.circles(wires) {
		if c.d == unknown {
			return 0, 0
		}
		ds = append(ds, c.d)
	}
	return bundle.Around(ds)
}

// endOutside is the widest of what is crimped on an end: its contact, its lug, its barrel.
func (m *maker) endOutside(a at) unit.Length {
	w := &m.net.Wires[a.wire]
	t := &w.Ends[a.end]
	d := known(m.conductor(a.wire).Outside)
	if c := m.contact[m.contactPart(a)]; c != nil && c.Outside > 0 {
		return max(d, c.Outside)
	}
	switch t.Kind {
	case net.OnStud, net.OnPost:
		if _, palm, ok := data.LugSize(m.conductor(a.wire).Size.Area(), m.thread(t)); ok {
			return max(d, palm)
		}
	case net.CutBack:
		return d
	}
	return unknown
}

// contactPart is the contact or lug of an end, where one is named.
func (m *maker) contactPart(a at) string {
	t := &m.net.Wires[a.wire].Ends[a.end]
	if t.Contact != "" {
		return t.Contact
	}
	if t.Kind == net.InCavity || t.Kind == net.InHalf {
		return m.conductor(a.wire).Contacts[a.end]
	}
	return ""
}

// thread of the stud an end is on.
func (m *maker) thread(t *net.Termination) string {
	if t.Thread != "" {
		return t.Thread
	}
	if b := m.brk[t.Break]; b != nil && t.Kind == net.OnPost {
		if h := m.housing[b.Halves[t.Half&1].Housing]; h != nil {
			for _, c := range h.Cavities {
				if c.Stud != "" && (t.Cavity == "" || c.Name == t.Cavity) {
					return c.Stud
				}
			}
		}
	}
	return ""
}

// housingOf is the housing an end is in, and the boot over it.
func (m *maker) housingOf(t *net.Termination) (h *design.Housing, boot string, fitted bool) {
	switch t.Kind {
	case net.InCavity:
		if d := m.device[t.Device]; d != nil && t.Housing >= 0 && t.Housing < len(d.Housings) {
			h, boot, fitted = m.housing[d.Housings[t.Housing].Part], d.Housings[t.Housing].Boot, d.Fitted
		}
	case net.InHalf:
		if b := m.brk[t.Break]; b != nil {
			x := &b.Halves[t.Half&1]
			h, boot, fitted = m.housing[x.Housing], x.Boot, x.Fitted
		}
	}
	if h != nil {
		boot = cmp.Or(boot, h.Boot)
	}
	return h, boot, fitted
}

// body is the widest of a connector: of its flange, nut, cut-out and back the largest. That is on the wide side for a half that is not fixed.
func body(h *design.Housing) unit.Length {
	if h == nil {
		return unknown
	}
	flange := h.Flange[0]
	if h.Flange[1] > 0 {
		flange = unit.Length(math.Hypot(float64(h.Flange[0]), float64(h.Flange[1])))
	}
	cut := h.CutOut
	if h.CutHigh > 0 {
		cut = unit.Length(math.Hypot(float64(h.CutOut), float64(h.CutHigh)))
	}
	return known(max(flange, h.Nut, cut, h.Back))
}
