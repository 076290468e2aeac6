package shell

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// need is a hole or a stud with what it is for.
type need struct {
	Hole
	stated *design.Hole   // the line that states it
	want   [2]unit.Length // width (or diameter) and height that the thing asks for, where a stated hole rules; 0 not known
	brk    *design.Break  // whose pattern it belongs to
	main   bool           // the cut-out of that pattern
	face   int            // side of the panel on which its flange sits
	point  *design.Point
	pin    *design.Pin // an earth stud
	clips  []clipAt
	kind   string // subject of a finding: break, point, run, hole, device
	name   string
}

// clipAt is a clip with its stretch.
type clipAt struct {
	fix.Clip
	run *fix.RunPlan
}

// seat is where a clip's hole is wanted, before it is put onto the panel.
func (c *clipAt) seat() (design.Point3, bool) {
	if c.HoleKnown && place(c.HoleAt) {
		return c.HoleAt, true
	}
	return c.At, c.Known && place(c.At)
}

// needs lists every hole and stud the bare body needs, each once: the holes and studs of clips (one for all clips that share it), the cut-outs
// of the breaks on panels with their screws, bushes, earth studs on the body, and the holes stated by hand. A stated hole that a clip
// names, or that lies within a millimetre of such a thing on its panel, is the hole of that thing and its figures rule. What a device is
// held by is its maker's affair and no part of the list, and so is what needs neither hole nor stud: ties, glued bases, clips on tubes.
func (m *maker) needs() []need {
	var out []need
	out = append(out, m.clipNeeds()...)
	for _, b := range m.job.Breaks {
		if b.Panel != "" {
			out = append(out, m.breakNeeds(b)...)
		}
	}
	for _, p := range m.job.Points {
		if clean(p.Bush) > 0 {
			out = append(out, need{Hole: Hole{Mark: p.Name, What: "bush " + p.Name, Kind: "bush", Panel: p.Panel, At: p.At, Known: p.Known, Status: p.Status(), Revision: p.Frozen, Span: p.Span,
				Note: "bore " + p.Bush.String() + "; the hole to suit the bush"}, point: p, main: true, kind: "point", name: p.Name})
		}
	}
	out = append(out, m.earthNeeds()...)
	slices.SortStableFunc(out, func(a, b need) int {
		return cmp.Or(cmp.Compare(kindRank(&a), kindRank(&b)), design.Natural(a.Mark, b.Mark), cmp.Compare(a.What, b.What))
	})
	used := map[string]bool{}
	for i := range out {
		if out[i].stated != nil {
			used[out[i].stated.Name] = true
		}
		m.snap(&out[i])
	}
	for _, own := range []bool{true, false} { // of several things at one place each takes the hole of its own name first
		for i := range out {
			h := &out[i]
			if h.stated != nil {
				continue
			}
			if h.stated = m.statedAt(h, used, own); h.stated != nil {
				used[h.stated.Name] = true
			}
		}
	}
	for i := range out {
		if out[i].stated != nil {
			m.takeOver(&out[i])
		}
	}
	for _, s := range m.job.Holes {
		if !used[s.Name] {
			used[s.Name] = true
			h := need{Hole: Hole{What: "hole", Kind: "stated", Span: s.Span}, stated: s, kind: "hole", name: s.Name}
			m.takeOver(&h)
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(a, b need) int {
		return cmp.Or(cmp.Compare(kindRank(&a), kindRank(&b)), design.Natural(a.Mark, b.Mark), cmp.Compare(a.What, b.What))
	})
	taken := map[string]bool{}
	for i := range out {
		h := &out[i]
		h.New = !m.there(h)
		if h.Kind == "clip" {
			h.Note = joined(m.lies(h), h.Note)
		}
		m.drill(h)
		for base, n := h.Mark, 2; taken[h.Mark]; n++ {
			h.Mark = base + "-" + strconv.Itoa(n)
		}
		taken[h.Mark] = true
	}
	return out
}

// kindRank decides who keeps its mark where two would have one: what a line names first.
func kindRank(h *need) int {
	if h.stated != nil {
		return 0
	}
	return 1 + slices.Index([]string{"connector", "stud post", "bush", "connector screw", "clip", "earth stud", "stud"}, h.Kind)
}

// bare tells whether a clip needs neither hole nor stud in the body.
func (m *maker) bare(c *fix.Clip) bool {
	kind := c.Kind
	if f := m.fastener[c.Fastener]; f != nil && kind == "" {
		kind = f.As
	}
	return c.Hole == "" && (c.Tube != "" || kind == "tie" || kind == "adhesive")
}

// clipNeeds is the holes and studs of all clips. Clips that name one hole, or share one, are one need.
func (m *maker) clipNeeds() []need {
	var all []clipAt
	for i := range m.held.Runs {
		r := &m.held.Runs[i]
		for _, c := range r.Clips {
			if !m.bare(&c) {
				all = append(all, clipAt{c, r})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b clipAt) int {
		return cmp.Or(design.Natural(a.Mark, b.Mark), design.Natural(a.run.Run, b.run.Run), cmp.Compare(a.run.Stretch, b.run.Stretch), cmp.Compare(a.After, b.After))
	})
	group := map[string]int{} // by mark and by hole, to out
	var out []need
	for _, c := range all {
		s := m.statement(c.Hole)
		n, ok := -1, false
		if s != nil {
			n, ok = group["hole "+s.Name]
		} else if c.With != "" {
			n, ok = group["clip "+c.With]
		}
		if !ok {
			n = len(out)
			out = append(out, need{Hole: Hole{Mark: c.Mark, Kind: "clip", Panel: c.Panel, Drill: c.Drill, Fastener: c.Fastener, FastenerKind: c.Kind, Status: c.Status}, kind: "run", name: c.run.Run})
			if r := m.run[c.run.Run]; r != nil {
				out[n].Span = r.Span
			}
		}
		h := &out[n]
		h.clips = append(h.clips, c)
		h.Panel, h.Fastener = or(h.Panel, c.Panel), or(h.Fastener, c.Fastener)
		h.FastenerKind = or(h.FastenerKind, c.Kind)
		h.Status = max(h.Status, c.Status)
		h.Revision = or(h.Revision, m.fixedSince(&c))
		if _, have := group["clip "+c.Mark]; !have {
			group["clip "+c.Mark] = n
		}
		if s != nil {
			group["hole "+s.Name] = n
			h.stated = s
		}
	}
	for i := range out {
		out[i].together()
		m.clipSide(&out[i])
	}
	return out
}

// fixedSince is the revision since which a clip stated by hand is frozen where it is.
func (m *maker) fixedSince(c *clipAt) string {
	if c.Status != design.Frozen {
		return ""
	}
	for _, f := range m.frozen[c.run.Run] {
		if f.Name == c.Mark || f.Hole != "" && f.Hole == c.Hole {
			return f.Frozen
		}
	}
	return ""
}

// together gives a need of several clips the middle of their places and one name for all.
func (h *need) together() {
	var marks []string
	n := 0.0
	for _, c := range h.clips {
		if !slices.Contains(marks, c.Mark) {
			marks = append(marks, c.Mark)
		}
		if at, ok := c.seat(); ok {
			n++
			h.At = solid.Moved(h.At, solid.Minus(at, h.At).Scale(unit.Ratio(1/n)))
		}
	}
	h.Known = n > 0
	h.What = "clip " + marks[0]
	if len(marks) > 1 {
		h.What = "clips " + strings.Join(marks, ", ")
	}
}

// clipSide is the side a clip's hole is drilled from: that of its run.
func (m *maker) clipSide(h *need) {
	p := m.panel(h.Panel)
	if p == nil {
		return
	}
	for _, c := range h.clips {
		if p.has(c.run.Zone) {
			h.From = c.run.Zone
			return
		}
	}
	for _, c := range h.clips {
		if len(p.Outline) > 0 && c.Known && place(c.At) {
			if _, off := p.Plane.Flat(c.At); off > touching && p.Sides[0].Known {
				h.From = p.Sides[0].Zone
			} else if off < -touching && p.Sides[1].Known {
				h.From = p.Sides[1].Zone
			}
			return
		}
	}
}

// snap puts a thing onto its panel. On a sheet that is not flat only the holes of clips and of a connector's screws are moved, onto the sheet as
// it was measured; a thing that was measured on it stays where it was measured.
func (m *maker) snap(h *need) {
	if h.Known = h.Known && place(h.At); !h.Known {
		h.At = design.Point3{}
	}
	p := m.panel(h.Panel)
	if !h.Known || p == nil || len(p.Outline) == 0 {
		return
	}
	h.Flat, _ = p.Plane.Flat(h.At)
	h.Off = m.offSheet(p, h.At)
	if p.Curved <= 0 || (h.Kind == "clip" || h.Kind == "connector screw") && h.stated == nil {
		h.At = m.onSheet(p, h.Flat)
	}
	if p.Curved > 0 {
		h.Note = joined(h.Note, "the sheet is not flat: the tape lies on it")
	}
	h.Middle = h.Kind == "clip" && h.stated == nil && !slices.ContainsFunc(h.clips, func(c clipAt) bool { return c.HoleKnown && place(c.HoleAt) })
	if h.Kind == "clip" && !h.Middle && h.stated == nil {
		h.Off = 0 // how far its bundle is off is another matter
	}
}

// there tells whether a hole is in the body: it is frozen, and where the body is painted it was so by then.
func (m *maker) there(h *need) bool {
	return h.Status == design.Frozen && !m.after(h.Revision)
}

// after tells whether what is frozen at a revision came when the body was painted already.
func (m *maker) after(revision string) bool {
	return m.job.Painted != "" && revision != "" && design.Earlier(m.job.Painted, revision)
}

// statedAt is the nearest hole stated by hand at the place of a thing, of its own name if so told.
func (m *maker) statedAt(h *need, used map[string]bool, own bool) (found *design.Hole) {
	if !h.Known {
		return nil
	}
	best := touching
	p := m.panel(h.Panel)
	for _, i := range m.near.at(h.At) {
		s := m.job.Holes[i]
		if used[s.Name] || own && s.Name != h.Mark || !s.Known || !place(s.At) || s.Panel != h.Panel && s.Panel != "" && h.Panel != "" || !(s.Drill > 0) && s.Fastener == "" {
			continue
		}
		at := s.At
		if p != nil && len(p.Outline) > 0 && p.Curved <= 0 {
			f, off := p.Plane.Flat(at)
			if abs(off) > float64(touching) {
				continue
			}
			at = p.Plane.Space(f)
		}
		if d := solid.Between(at, h.At); d <= best && (found == nil || d < best) {
			best, found = d, s
		}
	}
	return found
}

// takeOver lets a stated hole rule.
func (m *maker) takeOver(h *need) {
	s := h.stated
	h.Mark, h.Status, h.Revision = s.Name, s.Status(), s.Frozen
	h.Panel, h.Span = or(s.Panel, h.Panel), s.Span
	if s.Panel == "" && s.Known && m.astray(h.Panel, s.At) {
		h.Panel, h.From, h.Flat, h.Off = "", "", solid.Flat{}, 0
	}
	if s.Fastener != "" && s.Fastener != h.Fastener {
		h.Fastener, h.FastenerKind = s.Fastener, ""
		if !(s.Drill > 0) {
			h.Drill = 0 // that of the fastener that the line names
		}
	}
	if s.Known && place(s.At) {
		h.At, h.Known = s.At, true
		m.snap(h)
	}
	if s.Drill > 0 {
		if h.want = [2]unit.Length{h.Drill, h.High}; h.Kind == "clip" {
			h.want[0] = 0
			if f := m.fastener[h.Fastener]; f != nil {
				h.want[0] = f.Drill
			}
		}
		if h.Kind == "bush" {
			h.Note = without(h.Note, "bore")
			h.Note = joined("bore "+h.point.Bush.String(), h.Note)
		}
		h.Drill, h.High = s.Drill, s.High
		h.Note = without(h.Note, "cut-out of the housing")
	}
}

// astray tells whether a place is off a panel by more than panel-flat, so that it cannot be meant to be on it.
func (m *maker) astray(panel string, at design.Point3) bool {
	p := m.panel(panel)
	if p == nil || !p.Flat || !place(at) {
		return false
	}
	most, _ := m.length("panel-flat", design.Scope{Panel: panel})
	_, off := p.Plane.Flat(at)
	return abs(off) > float64(max(most, touching))
}

func joined(a, b string) string {
	if a == "" || b == "" || strings.Contains(a, b) {
		return or(a, b)
	}
	return a + "; " + b
}

// without leaves out the part of a note that begins with those words.
func without(note, words string) string {
	var keep []string
	for _, s := range strings.Split(note, "; ") {
		if s != "" && !strings.HasPrefix(s, words) {
			keep = append(keep, s)
		}
	}
	return strings.Join(keep, "; ")
}
