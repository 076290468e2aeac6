package shell

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// decide lists every hole, stud and cut-out that has a place on a panel and a drill or a fastener, as a statement would say it, by name. What a
// frozen line says already keeps that line's words and revision.
func (m *maker) decide(s *Shell, holes []need) {
	for i := range holes {
		h := &holes[i]
		there := h.stated != nil && h.stated.Frozen != ""
		if !there && (!h.Known || h.Panel == "" || !(h.Drill > 0) && h.Fastener == "") {
			continue
		}
		d := Decision{Name: h.Mark, At: tenth(h.At), Panel: h.Panel, Drill: h.Part, High: h.PartHigh, Fastener: h.Fastener, Revision: m.job.Revision}
		d.Late = m.job.Painted != "" && h.New && m.works(h)
		if !h.New && h.Revision != "" {
			d.Revision = h.Revision
		}
		if h.What != "hole" {
			d.Note = "for " + h.What
		}
		if l := h.stated; l != nil {
			d.Stated = true
			if l.Frozen != "" {
				d.Panel, d.Drill, d.High, d.Fastener, d.Revision, d.Old, d.Stated = l.Panel, max(0, clean(l.Drill)), max(0, clean(l.High)), l.Fastener, l.Frozen, true, false
				if place(l.At) {
					d.At = l.At
				}
			}
		}
		s.Decisions = append(s.Decisions, d)
	}
	slices.SortStableFunc(s.Decisions, func(a, b Decision) int { return cmp.Or(design.Natural(a.Name, b.Name), cmp.Compare(a.Name, b.Name)) })
}

// tenth rounds a place to a tenth of a millimetre, finer than any tape.
func tenth(p design.Point3) design.Point3 {
	r := func(x unit.Length) unit.Length { return unit.Length(math.Round(float64(x)*10) / 10) }
	return design.Point3{X: r(p.X), Y: r(p.Y), Z: r(p.Z)}
}
