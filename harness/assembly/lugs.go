package assembly

import (
	"cmp"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

// stacks lists every stud of a device and every side of a stud post with its lugs.
func (m *maker) stacks(body *shell.Shell) []Stack {
	var out []Stack
	by := map[string]int{}
	for i := range m.net.Wires {
		for e := range 2 {
			t := &m.net.Wires[i].Ends[e]
			if t.Kind != net.OnStud && t.Kind != net.OnPost {
				continue
			}
			key := endKey(t) + "\n" + t.Pin + t.Cavity
			k, ok := by[key]
			if !ok {
				k = len(out)
				by[key] = k
				out = append(out, m.stack(t, body))
			}
			s := &out[k]
			s.Sections = once(s.Sections, m.net.Wires[i].Section)
			s.Lugs = append(s.Lugs, m.lug(at{i, e}, s))
			if t.Torque > 0 {
				s.Torque, s.Source, s.Verified = t.Torque, "", true
			}
		}
	}
	for i := range out {
		s := &out[i]
		slices.SortFunc(s.Sections, design.Natural)
		m.pile(s)
		m.spread(s)
	}
	slices.SortStableFunc(out, func(a, b Stack) int {
		return cmp.Or(design.Natural(a.Device, b.Device), design.Natural(a.Break, b.Break), cmp.Compare(a.Half, b.Half), design.Natural(a.Pin, b.Pin))
	})
	return out
}

// stack is a stud without its lugs.
func (m *maker) stack(t *net.Termination, body *shell.Shell) Stack {
	s := Stack{Device: t.Device, Pin: t.Pin, Break: t.Break, Half: t.Half, Thread: m.thread(t), Nut: "plain washer, lock washer, nut"}
	if t.Kind == net.OnStud {
		s.Title = "stud " + t.Pin + " of " + t.Device
		if d := m.device[t.Device]; d != nil {
			s.Span = d.Span
			for i := range d.Pins {
				if d.Pins[i].Name == t.Pin && !d.Pins[i].Span.IsZero() {
					s.Span = d.Pins[i].Span
				}
			}
		}
		if body != nil {
			s.Bare = slices.ContainsFunc(body.Holes, func(h shell.Hole) bool { return h.Kind == "earth stud" && h.What == "earth stud "+t.Device+"."+t.Pin })
		}
	} else {
		s.Device, s.Title = "", "stud post "+t.Break
		if b := m.brk[t.Break]; b != nil {
			s.Span = b.Span
			if x := b.Halves[t.Half&1].Section; x != "" {
				s.Title += ", " + x + " side"
			}
		}
	}
	if r, ok := data.ThreadOf(s.Thread); ok {
		s.Torque, s.Source, s.Verified = r.Torque, data.TorqueDocument, r.Basis == data.Verified
	}
	at := design.Scope{Device: t.Device, Break: t.Break}
	if d := m.device[t.Device]; d != nil {
		at.Class = d.Class
	}
	if n := m.job.Settings.Get("studs-most", at).Value.Quantity.Value; n > 0 && n < 1000 {
		s.Most = int(n)
	}
	return s
}

func (m *maker) lug(a at, s *Stack) Lug {
	w := &m.net.Wires[a.wire]
	t := &w.Ends[a.end]
	l := Lug{Order: t.Order, Status: design.Computed, Wire: a.wire, Label: w.Label, Name: w.Name, Section: w.Section, Size: m.conductor(a.wire).Size, Part: m.contactPart(a), Hole: s.Thread,
		Stated: t.Angled, Angle: t.Angle, Span: w.Span}
	if t.Order > 0 {
		l.Status = max(t.Status, design.Stated)
	}
	l.Barrel, l.Palm, _ = data.LugSize(l.Size.Area(), s.Thread)
	if c := m.contact[l.Part]; c != nil && c.Outside > 0 {
		l.Palm = c.Outside
	}
	edge, to := m.leaves(a)
	l.Direction = m.wayText(edge, to)
	return l
}

// pile puts the lugs in their order: those with a stated one at their place, the others by the setting `stack` into the places that are left.
func (m *maker) pile(s *Stack) {
	at := design.Scope{Device: s.Device, Break: s.Break}
	smallest := m.job.Settings.Get("stack", at).Value.Name == "smallest-lowest"
	// below tells whether one lug belongs below another by its size.
	below := func(a, b *Lug) bool {
		if smallest {
			return a.Size.Area() < b.Size.Area()
		}
		return a.Size.Area() > b.Size.Area()
	}
	lugs := slices.Clone(s.Lugs)
	slices.SortStableFunc(lugs, func(a, b Lug) int {
		switch {
		case below(&a, &b):
			return -1
		case below(&b, &a):
			return 1
		}
		return design.Natural(a.Name, b.Name)
	})
	stated := slices.DeleteFunc(slices.Clone(lugs), func(l Lug) bool { return l.Order <= 0 })
	slices.SortStableFunc(stated, func(a, b Lug) int { return cmp.Compare(a.Order, b.Order) })
	rest := slices.DeleteFunc(lugs, func(l Lug) bool { return l.Order > 0 })
	s.Lugs = s.Lugs[:0]
	for len(stated)+len(rest) > 0 {
		next := len(s.Lugs) + 1
		if len(stated) > 0 && (stated[0].Order <= next || len(rest) == 0) {
			s.Lugs, stated = append(s.Lugs, stated[0]), stated[1:]
			continue
		}
		s.Lugs, rest = append(s.Lugs, rest[0]), rest[1:]
	}
	for i := range s.Lugs {
		for k := i + 1; k < len(s.Lugs); k++ {
			a, b := &s.Lugs[i], &s.Lugs[k]
			switch {
			case a.Order > 0 && a.Order == b.Order:
				s.Wrong = append(s.Wrong, Wrong{"same", i, k})
			case below(b, a) && a.Order+b.Order > 0:
				s.Wrong = append(s.Wrong, Wrong{"size", i, k})
			}
		}
	}
	for i := range s.Lugs {
		s.Lugs[i].Order = i + 1
	}
}

// clear is how far apart two lugs are turned so that the barrel of neither lies on the other: the barrels begin no nearer to the stud
// than the edge of the palm.
func clear(a, b *Lug) unit.Angle {
	if a.Barrel <= 0 || b.Barrel <= 0 || a.Palm <= 0 || b.Palm <= 0 {
		return 0
	}
	return apart((a.Barrel+b.Barrel)/2, (a.Palm+b.Palm)/4)
}
