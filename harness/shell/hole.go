package shell

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// sameHole is how near a stated hole must be to a thing on the same panel to be the hole of that thing.
const sameHole unit.Length = 1

// holes lists every hole and stud the bare shell needs: cut-outs of the breaks on panels, bushes, clips, and the holes stated by
// hand. A stated hole at the place of one of those, or named by a fixed clip, is that hole and its figures rule. What a device is held
// by is its maker's affair and no part of the list.
func (m *maker) holes(runs []fix.RunPlan) []Hole {
	var out []Hole
	used := map[string]bool{}
	add := func(h Hole) {
		if s := m.statedAt(h, used); s != nil {
			h = takeOver(h, s)
			used[s.Name] = true
		}
		if f := m.fastener[h.Fastener]; f != nil && h.Drill == 0 {
			h.Drill = f.Drill
		}
		out = append(out, h)
	}
	for _, b := range m.job.Breaks {
		if b.Panel != "" {
			add(m.breakHole(b))
		}
	}
	for _, p := range m.job.Points {
		if p.Bush > 0 {
			add(Hole{Mark: p.Name, What: "bush " + p.Name, Panel: p.Panel, At: p.At, Known: p.Known, Status: p.Status(),
				Note: "bore " + p.Bush.String() + "; the hole to suit the bush"})
		}
	}
	for i := range runs {
		for _, c := range runs[i].Clips {
			h := Hole{Mark: c.Mark, What: "clip " + c.Mark, Panel: c.Panel, At: c.At, Known: c.Known, Drill: c.Drill, Fastener: c.Fastener, Status: c.Status}
			if s := m.hole(c.Hole); s != nil {
				if used[s.Name] {
					continue
				}
				used[s.Name] = true
				h = takeOver(h, s)
			}
			out = append(out, h)
		}
	}
	for _, s := range m.job.Holes {
		if !used[s.Name] {
			h := Hole{Panel: s.Panel, Drill: s.Drill, Fastener: s.Fastener}
			h = takeOver(h, s)
			h.What = "hole"
			if f := m.fastener[h.Fastener]; f != nil && h.Drill == 0 {
				h.Drill = f.Drill
			}
			out = append(out, h)
		}
	}
	return walk(out)
}

func (m *maker) breakHole(b *design.Break) Hole {
	h := Hole{Mark: b.Name, What: "break " + b.Name, Panel: b.Panel, At: b.At, Known: b.Known, Status: b.Status()}
	if b.Halves[0].Contacts == "" && b.Halves[1].Contacts == "" {
		h.What = "stud post " + b.Name
	}
	fixed := slices.ContainsFunc(b.Halves[:], func(x design.Half) bool { return x.Mount == "fixed" })
	for _, half := range b.Halves {
		if fixed && half.Mount != "fixed" {
			continue
		}
		if p := m.housing[half.Housing]; p != nil {
			h.Drill = max(h.Drill, p.CutOut)
		}
	}
	if h.Drill == 0 {
		h.Note = "cut-out of the housing not known"
	}
	return h
}

// statedAt is a hole stated by hand at the same place of the same panel.
func (m *maker) statedAt(h Hole, used map[string]bool) *design.Hole {
	if !h.Known {
		return nil
	}
	for _, s := range m.job.Holes {
		if !used[s.Name] && s.Known && (s.Panel == h.Panel || s.Panel == "") && s.Drill > 0 && space.Between(s.At, h.At) <= sameHole {
			return s
		}
	}
	return nil
}

// takeOver lets a stated hole rule.
func takeOver(h Hole, s *design.Hole) Hole {
	h.Mark, h.Status, h.Panel, h.Fastener = s.Name, s.Status(), or(s.Panel, h.Panel), or(s.Fastener, h.Fastener)
	if s.Known {
		h.At, h.Known = s.At, true
	}
	if s.Drill > 0 {
		if h.Drill > 0 && h.Drill != s.Drill {
			h.Note = "the part asks for " + h.Drill.String()
		} else {
			h.Note = ""
		}
		h.Drill = s.Drill
	}
	return h
}

// walk orders holes by panel, those of no panel last in the order they came; on a panel each is followed by the nearest one left,
// from the least x, y, z on. Those without a place end the panel.
func walk(in []Hole) []Hole {
	slices.SortStableFunc(in, func(a, b Hole) int {
		return cmp.Or(cmp.Compare(b2i(a.Panel == ""), b2i(b.Panel == "")), design.Natural(a.Panel, b.Panel))
	})
	for i := 0; i < len(in); {
		j := i
		for j < len(in) && in[j].Panel == in[i].Panel {
			j++
		}
		if in[i].Panel != "" {
			chain(in[i:j])
		}
		i = j
	}
	return in
}

func chain(h []Hole) {
	slices.SortStableFunc(h, func(a, b Hole) int {
		return cmp.Or(cmp.Compare(b2i(!a.Known), b2i(!b.Known)), cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y), cmp.Compare(a.At.Z, b.At.Z), design.Natural(a.Mark, b.Mark))
	})
	for i := 1; i < len(h) && h[i].Known; i++ {
		best := i
		for j := i; j < len(h) && h[j].Known; j++ {
			if space.Between(h[i-1].At, h[j].At) < space.Between(h[i-1].At, h[best].At) {
				best = j
			}
		}
		x := h[best]
		copy(h[i+1:best+1], h[i:best])
		h[i] = x
	}
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
