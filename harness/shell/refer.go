package shell

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// The circles that a tape draws about two references cross well where they do so between these angles.
const (
	crossLeast = 40 * math.Pi / 180
	crossMost  = 140 * math.Pi / 180
)

// enough bounds the references of one panel that are tried in pairs: the nearest.
const enough = 40

// mark is something on the bare body that a tape can be held to.
type mark struct {
	text string
	at   design.Point3
	flat solid.Flat
	rank int // 0: there before anything is drilled; 1: a place measured on a sheet that is not flat
}

// refer gives each hole two references, as a tape would measure from them, of what is on the body before anything of this list is drilled:
// corners of its panel, points stated on it, holes frozen at an earlier revision; never another hole of the list. Of the pairs whose circles cross between 40 and 140 degrees the one with
// the least way in all; else the pair that crosses best.
func (m *maker) refer(holes []need) {
	var marks []mark
	for i := range holes {
		h := &holes[i]
		if i == 0 || holes[i-1].Panel != h.Panel {
			marks = m.marks(h.Panel, holes)
		}
		p := m.panel(h.Panel)
		if !h.Known || p == nil || len(p.Outline) == 0 {
			continue
		}
		h.Refs = choose(h, marks)
		if len(h.Refs) == 2 && p.Curved <= 0 {
			h.Which = which(p, h)
		}
	}
}

func (h *need) refName() string {
	if h.Drill > 0 {
		return "hole " + h.Mark
	}
	return "stud " + h.Mark
}

// marks is what a tape can be held to on a panel before anything is drilled.
func (m *maker) marks(panel string, holes []need) (out []mark) {
	p := m.panel(panel)
	if p == nil || len(p.Outline) == 0 {
		return nil
	}
	add := func(text string, at design.Point3, rank int) {
		if place(at) {
			f, _ := p.Plane.Flat(at)
			out = append(out, mark{text, at, f, rank})
		}
	}
	for _, c := range m.corners(panel) {
		add(c.text, c.at, c.rank)
	}
	for _, x := range m.job.Points {
		if x.Panel == panel && x.Known && !(x.Bush > 0) {
			add("point "+x.Name, x.At, 0)
		}
	}
	for i := range holes {
		if h := &holes[i]; h.Panel == panel && h.Known && m.before(h) {
			add(h.refName(), h.At, 0)
		}
	}
	return out
}

// before tells whether a hole is on the body before this list is drilled: it was frozen at an earlier revision than the job's, or by when the body
// was painted.
func (m *maker) before(h *need) bool {
	return !h.New && (m.job.Painted != "" || h.Revision != "" && design.Earlier(h.Revision, m.job.Revision))
}

// choose picks the two references of a hole.
func choose(h *need, marks []mark) []Ref {
	var near []mark
	for rank := range 2 {
		near = append(near, nearest(h, marks, rank)...)
		if a, b, ok := pair(h, near, true); ok {
			return []Ref{ref(h, a), ref(h, b)}
		}
	}
	if a, b, ok := pair(h, near, false); ok {
		return []Ref{ref(h, a), ref(h, b)}
	}
	if len(near) > 0 {
		return []Ref{ref(h, near[0])}
	}
	return nil
}

// nearest is the marks of a rank that are nearest to a hole, as many as are tried, the nearest first; of equals by name.
func nearest(h *need, marks []mark, rank int) (out []mark) {
	var far []unit.Length
	for _, x := range marks {
		d := solid.Between(x.at, h.At)
		if x.rank != rank || d <= touching || len(out) == enough && d > far[enough-1] {
			continue
		}
		n, same := slices.BinarySearch(far, d)
		for ; same && n < len(far) && far[n] == d && earlier(out[n].text, x.text); n++ {
		}
		out, far = slices.Insert(out, n, x), slices.Insert(far, n, d)
		if len(out) > enough {
			out, far = out[:enough], far[:enough]
		}
	}
	return out
}

func earlier(a, b string) bool { return cmp.Or(design.Natural(a, b), cmp.Compare(a, b)) <= 0 }

func ref(h *need, x mark) Ref { return Ref{x.text, x.at, solid.Between(x.at, h.At)} }

// pair finds the best pair of references: that with the least way of those that cross well, or the one that crosses best.
func pair(h *need, marks []mark, well bool) (a, b mark, ok bool) {
	best := math.Inf(1)
	for i, x := range marks {
		for _, y := range marks[i+1:] {
			t := angleAt(h.Flat, x.flat, y.flat)
			cost := float64(solid.Between(x.at, h.At) + solid.Between(y.at, h.At))
			if !well {
				cost = -math.Sin(t)
			}
			if well && (t < crossLeast || t > crossMost) || !well && math.Sin(t) < 0.05 || !(cost < best-1e-9) {
				continue
			}
			a, b, ok, best = x, y, true, cost
		}
	}
	if ok && solid.Between(b.at, h.At) < solid.Between(a.at, h.At) {
		a, b = b, a
	}
	return a, b, ok
}

// angleAt is the angle at a place between two others, from 0 to half a turn.
func angleAt(p, a, b solid.Flat) float64 {
	au, av, bu, bv := float64(a.U-p.U), float64(a.V-p.V), float64(b.U-p.U), float64(b.V-p.V)
	return math.Atan2(math.Abs(au*bv-av*bu), au*bu+av*bv)
}

// which tells the hole's place from the other one where the circles about its two references cross, if that lies on the panel too.
func which(p *Panel, h *need) string {
	a, _ := p.Plane.Flat(h.Refs[0].At)
	b, _ := p.Plane.Flat(h.Refs[1].At)
	du, dv := float64(b.U-a.U), float64(b.V-a.V)
	square := du*du + dv*dv
	if !(square > 0) {
		return ""
	}
	// The other place is the mirror of this one in the line through the references.
	t := (float64(h.Flat.U-a.U)*du + float64(h.Flat.V-a.V)*dv) / square
	foot := solid.Flat{U: a.U + unit.Length(t*du), V: a.V + unit.Length(t*dv)}
	other := solid.Flat{U: 2*foot.U - h.Flat.U, V: 2*foot.V - h.Flat.V}
	if apart(other, h.Flat) <= touching || !p.Outline.Holds(other) {
		return ""
	}
	return "the one with the " + axisName(solid.Minus(h.At, p.Plane.Space(other)))
}
