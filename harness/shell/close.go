package shell

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// isCutOut tells whether a hole is ruled by the metal that is left about it: one for a connector, a stud post or a bush, to which the
// diameters of the rivet rule were never meant. An old one that nothing sits in any more is no less one: it is known by what it was frozen
// for, by its corners, or by being larger than any fastener's hole.
func (m *maker) isCutOut(h *need) bool {
	if h.Kind == "connector" || h.Kind == "stud post" || h.Kind == "bush" {
		return true
	}
	if !spare(h) {
		return false
	}
	if _, main := oldPattern(h); main || h.High > 0 {
		return true
	}
	var most unit.Length
	for _, f := range m.job.Parts.Fasteners {
		most = max(most, clean(f.Drill))
	}
	return most > 0 && h.Part > most
}

// spare tells whether a hole is there and nothing uses it any more.
func spare(h *need) bool { return h.Kind == "stated" && !h.New }

// oldPattern is what a spare hole was frozen for, by its note or by its name: the break, and whether it was its cut-out.
func oldPattern(h *need) (of string, main bool) {
	if !spare(h) || h.stated == nil {
		return "", false
	}
	for _, what := range []string{"for break ", "for stud post ", "for bush "} {
		if of, ok := strings.CutPrefix(h.stated.Note, what); ok {
			return of, true
		}
	}
	if _, of, ok := strings.Cut(h.stated.Note, " of break "); ok && strings.HasPrefix(h.stated.Note, "for screw ") {
		return of, false
	}
	of, _, _ = strings.Cut(h.stated.Name, "-screw-")
	if of == h.stated.Name {
		return "", false
	}
	return of, false
}

// rim is the outline of a hole by the figure of its part: what is added for paint, paint fills again. Of a bush whose hole is not known it is
// the bore, which is less.
func (m *maker) rim(h *need) shape {
	d := h.Part
	if !(d > 0) && h.point != nil {
		d = h.point.Bush
	}
	return rect(h.Flat, d, h.PartHigh, h.Turn, h.face)
}

// close finds holes of a panel that are too near one another: two drilled holes by hole-apart times the larger diameter, middle to middle;
// beside a cut-out, or a hole of a connector that is no longer there and bears nothing, by the metal between the rims. The holes of one connector are its maker's affair. Holes of panels that meet in one
// plane lie in different sheets and are not held against one another.
func (m *maker) close(s *Shell, holes []need) {
	byPanel := map[string][]int{}
	for i := range holes {
		h := &holes[i]
		if p := m.panel(h.Panel); h.Known && p != nil && len(p.Outline) > 0 && m.rim(h).across > 0 {
			byPanel[h.Panel] = append(byPanel[h.Panel], i)
		}
	}
	for k := range s.Panels {
		name := s.Panels[k].Name
		m.closeOn(s, holes, byPanel[name], design.Scope{Panel: name})
	}
}

func (m *maker) closeOn(s *Shell, holes []need, on []int, at design.Scope) {
	times, timesFrom := m.number("hole-apart", at)
	metal, metalFrom := m.length("cut-out-gap", at)
	// By place across, so that what is far off is not looked at.
	byU := slices.Clone(on)
	slices.SortStableFunc(byU, func(a, b int) int { return cmp.Compare(holes[a].Flat.U, holes[b].Flat.U) })
	var widest unit.Length
	for _, i := range on {
		widest = max(widest, m.rim(&holes[i]).across)
	}
	far := max(unit.Length(times)*widest, metal+2*widest)
	var found []Close
	var order [][2]int
	for n, i := range byU {
		for _, j := range byU[n+1:] {
			if holes[j].Flat.U-holes[i].Flat.U > far {
				break
			}
			a, b := &holes[min(i, j)], &holes[max(i, j)]
			if a.Of != "" && a.Of == b.Of {
				continue
			}
			oldA, _ := oldPattern(a)
			oldB, _ := oldPattern(b)
			if oldA != "" && oldA == oldB {
				continue // one old pattern, drilled as its maker wanted it
			}
			c := Close{A: a.Mark, B: b.Mark, Panel: a.Panel, Where: a.Span, Other: b.Span}
			ra, rb := m.rim(a), m.rim(b)
			if m.isCutOut(a) || m.isCutOut(b) || oldA != "" || oldB != "" {
				c.Metal, c.Distance, c.Needed, c.Source = true, gap(ra, rb), metal, "metal from rim to rim; "+metalFrom
			} else {
				c.Distance, c.Needed, c.Source = apart(a.Flat, b.Flat), unit.Length(times*float64(max(ra.across, rb.across))), unit.Number(times, 2)+" diameters, middle to middle; "+timesFrom
			}
			if c.Distance < c.Needed-1e-6 {
				found, order = append(found, c), append(order, [2]int{min(i, j), max(i, j)})
			}
		}
	}
	index := make([]int, len(found))
	for i := range index {
		index[i] = i
	}
	slices.SortStableFunc(index, func(a, b int) int {
		return cmp.Or(cmp.Compare(order[a][0], order[b][0]), cmp.Compare(order[a][1], order[b][1]))
	})
	for _, i := range index {
		s.Close = append(s.Close, found[i])
	}
}

// edges finds holes too near an edge of their panel, beside it, or in a keep-out. Sides that lie against another panel of the same plane are
// no edges. Of a sheet that is not flat the edge is not known: only its keep-outs are looked at.
func (m *maker) edges(s *Shell, holes []need) {
	for i := range holes {
		h := &holes[i]
		p := m.panel(h.Panel)
		if !h.Known || p == nil || len(p.Outline) == 0 {
			continue
		}
		at := design.Scope{Panel: h.Panel, Break: h.Of}
		r := m.rim(h)
		if !(r.across > 0) && h.FastenerKind != "stud" {
			continue
		}
		e := AtEdge{Mark: h.Mark, Panel: h.Panel, Where: h.Span, Other: p.Span}
		for _, k := range p.KeepOuts {
			if len(k) > 2 && r.within(k) <= 0 && m.depth(r, k) < -1e-6 {
				x := e
				x.What, x.Source = "keep-out", "nothing is drilled in a keep-out"
				x.Distance = m.depth(r, k)
				s.AtEdge = append(s.AtEdge, x)
				break
			}
		}
		if !p.Flat || !(r.across > 0) {
			continue
		}
		if m.isCutOut(h) {
			e.Needed, e.Source = m.length("cut-out-gap", at)
			e.Source, e.Metal = "metal from rim to edge; "+e.Source, true
		} else {
			times, from := m.number("hole-edge", at)
			e.Needed, e.Source = unit.Length(times*float64(r.across)), unit.Number(times, 2)+" diameters from the middle; "+from
		}
		if !p.Outline.Holds(h.Flat) {
			e.What, e.Distance = "outside", -toSides(p.Outline, h.Flat)
			s.AtEdge = append(s.AtEdge, e)
			continue
		}
		e.What, e.Distance = "edge", unit.Length(math.Inf(1))
		for _, side := range m.rims(p) {
			d := fromLine(h.Flat, side[0], side[1])
			if e.Metal {
				d = r.toLine(side[0], side[1])
			}
			e.Distance = min(e.Distance, d)
		}
		if e.Distance < e.Needed-1e-6 {
			s.AtEdge = append(s.AtEdge, e)
		}
	}
}

// depth is how far a hole reaches into an area, below 0.
func (m *maker) depth(r shape, o solid.Outline) unit.Length {
	d := toSides(o, r.mid)
	if !o.Holds(r.mid) {
		return min(0, d-r.across/2)
	}
	return -d - r.across/2
}
