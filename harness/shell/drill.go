package shell

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// drill works out as what a hole is drilled: what its part, or the line that states it, asks for, and what paint takes away where paint
// gets in (cut-outs, bushes, clearance holes), both ways of a rectangle. Rivet nuts are set on bare metal and get nothing. A stated
// figure is that of the part too, so that a hole comes out alike before and after its place is frozen.
func (m *maker) drill(h *need) {
	f := m.fastener[h.Fastener]
	if f != nil {
		h.FastenerKind = or(f.As, h.FastenerKind)
		if !(h.Drill > 0) {
			h.Drill = f.Drill
		}
	}
	if !(clean(h.Drill) > 0) {
		h.Drill, h.High = 0, 0
		return
	}
	if !(clean(h.High) > 0) {
		h.High = 0
	}
	h.Part, h.PartHigh = h.Drill, h.High
	size := sizeText(h.Drill, h.High)
	if m.unlike(h) {
		h.Note = joined(h.Note, "the part asks for "+sizeText(h.want[0], h.want[1])+" mm")
	}
	if s := m.noCoat(h, f); s != "" {
		h.DrillSum = size + ", " + s
		return
	}
	coat, _ := m.length("paint-coat", design.Scope{Panel: h.Panel, Break: h.Of})
	if coat == 0 {
		h.DrillSum = size + ", nothing for paint"
		return
	}
	h.Drill += coat
	h.DrillSum = size + " and " + unit.Number(float64(coat), 2) + " for paint"
	if h.High > 0 {
		h.High += coat
		h.DrillSum += " each way"
	}
}

func sizeText(wide, high unit.Length) string {
	if high > 0 {
		return unit.Number(float64(wide), 2) + " x " + unit.Number(float64(high), 2)
	}
	return unit.Number(float64(wide), 2)
}

// unlike tells whether a stated hole is not what the thing in it asks for.
func (m *maker) unlike(h *need) bool {
	if !(h.want[0] > 0) || h.Kind == "bush" || cents(h.want[0]) == cents(h.Part) && cents(h.want[1]) == cents(h.PartHigh) {
		return false
	}
	f := m.fastener[h.Fastener]
	return h.Kind != "clip" || f == nil || !(f.Least > 0) || h.Part < f.Least || h.Part > f.Drill
}

// noCoat says why nothing is added for paint; empty where it is.
func (m *maker) noCoat(h *need, f *design.Fastener) string {
	if h.Fastener == "" {
		return ""
	}
	switch h.FastenerKind {
	case "screw", "bolt":
		return ""
	case "rivet-nut":
		if f != nil && f.Least > 0 && f.Least < f.Drill && cents(h.Drill) == cents(f.Drill) {
			return "at least " + unit.Number(float64(f.Least), 2) + ": set on bare metal, nothing for paint"
		}
		return "set on bare metal, nothing for paint"
	case "":
		return "nothing for paint: what sort of fastener " + h.Fastener + " is, is not stated"
	}
	return "nothing for paint"
}
