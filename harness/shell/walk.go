package shell

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// order puts the holes in the order they are made: by panel as one walks, on a panel by drill, smallest first (what needs no hole comes
// after, then what has no drill yet), and of one drill along a short walk from the hole before: nearest next, then pieces of the walk
// turned round or put elsewhere as long as that shortens it. Holes without a place end their panel; those on no panel come last, by mark.
func (m *maker) order(in []need) []need {
	slices.SortStableFunc(in, func(a, b need) int {
		return cmp.Or(cmp.Compare(m.walkOf(a.Panel), m.walkOf(b.Panel)), design.Natural(a.Panel, b.Panel), cmp.Compare(b2i(!a.Known), b2i(!b.Known)),
			cmp.Compare(drillRank(&a), drillRank(&b)), cmp.Compare(cents(a.Drill), cents(b.Drill)), cmp.Compare(cents(a.High), cents(b.High)), design.Natural(a.Mark, b.Mark))
	})
	var last *design.Point3
	for i := 0; i < len(in); {
		j := i + 1
		for j < len(in) && in[j].Panel == in[i].Panel && in[j].Known == in[i].Known && drillRank(&in[j]) == drillRank(&in[i]) &&
			cents(in[j].Drill) == cents(in[i].Drill) && cents(in[j].High) == cents(in[i].High) {
			j++
		}
		if i == 0 || in[i].Panel != in[i-1].Panel {
			last = m.begin(in[i].Panel)
		}
		if in[i].Panel != "" && in[i].Known {
			if last == nil {
				last = &in[i].At
			}
			shorten(*last, in[i:j])
			last = &in[j-1].At
		}
		i = j
	}
	return in
}

// begin is where the walk on a panel starts: its first corner.
func (m *maker) begin(panel string) *design.Point3 {
	if p := m.panel(panel); p != nil && len(p.Outline) > 0 {
		at := p.Plane.Space(p.Outline[0])
		return &at
	}
	return nil
}

func (m *maker) walkOf(panel string) int {
	if p := m.panel(panel); p != nil {
		return p.Walk
	}
	return math.MaxInt - b2i(panel != "")
}

// drillRank is 0 for a hole, 1 for what needs none, 2 where it is not known.
func drillRank(h *need) int {
	switch {
	case h.Drill > 0:
		return 0
	case h.Fastener != "":
		return 1
	}
	return 2
}

// cents is a length in hundredths, so that sums of one drill and one coat are one drill.
func cents(l unit.Length) int64 {
	if !unit.Finite(l) || math.Abs(float64(l)) > 1e12 {
		return math.MaxInt64
	}
	return int64(math.Round(float64(l) * 100))
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
