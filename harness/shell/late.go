package shell

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// painted lists the frozen holes that nothing uses any more, and, once the body is painted, all that would need a hole or a stud which is
// not frozen, with the nearest hole that could serve instead.
func (m *maker) painted(s *Shell, holes []need) {
	var spare []*need
	for i := range holes {
		if h := &holes[i]; h.Kind == "stated" && !h.New {
			spare = append(spare, h)
			if h.Drill > 0 {
				s.Plugs = append(s.Plugs, Plug{Mark: h.Mark, Panel: h.Panel, At: h.At, Known: h.Known, Drill: h.Drill, Span: h.Span})
			}
		}
	}
	if m.job.Painted == "" {
		return
	}
	for i := range holes {
		h := &holes[i]
		if !h.New || !m.works(h) {
			continue
		}
		x := Late{Mark: h.Mark, What: h.What, Panel: h.Panel, At: h.At, Kind: h.kind, Name: h.name, Where: h.Span}
		var best *need
		for _, o := range spare {
			if d := solid.Between(o.At, h.At); h.Known && o.Known && (o.Panel == h.Panel || o.Panel == "" || h.Panel == "") && m.serves(o, h) && unit.Finite(d) && (best == nil || d < x.Away) {
				best, x.Away = o, d
			}
		}
		if best != nil {
			x.Nearest = best.Mark
		}
		m.cost(&x, h, best)
		s.Late = append(s.Late, x)
	}
}

// works tells whether making this means drilling or welding. An existing bolt, a base that is glued and a fastener of no known sort that
// needs no hole do not.
func (m *maker) works(h *need) bool {
	if h.Drill > 0 || h.FastenerKind == "stud" || h.FastenerKind == "rivet-nut" {
		return true
	}
	return h.Fastener == ""
}

// serves tells whether a hole that is there can take what is wanted: for a clip it holds the same fastener or one with the same thread, or
// its size suits the clip's; for anything else its size is the one asked for.
func (m *maker) serves(o, h *need) bool {
	if h.Kind != "clip" {
		return h.High == 0 && h.Part > 0 && cents(o.Part) == cents(h.Part) || h.Fastener != "" && h.Fastener == o.Fastener
	}
	want, have := m.fastener[h.Fastener], m.fastener[o.Fastener]
	if o.Fastener != "" {
		return o.Fastener == h.Fastener || h.Fastener == "" || want != nil && have != nil && want.Thread != "" && want.Thread == have.Thread
	}
	if want == nil || want.Drill <= 0 {
		return h.Fastener == "" && o.Part > 0
	}
	low := want.Drill
	if want.Least > 0 {
		low = want.Least
	}
	return o.Part >= low-0.005 && o.Part <= want.Drill+0.005
}

// cost is the largest gap beside a clip with another hole used instead, or with the clip left out where there is none.
func (m *maker) cost(x *Late, h *need, o *need) {
	for _, c := range h.clips {
		if !(clean(c.run.Length) > 0) {
			continue
		}
		at, have := unit.Length(0), false
		if o != nil {
			var far unit.Length
			at, far, have = m.station(c.run, o.At)
			reach, _ := m.length("clip-reach", design.Scope{Panel: h.Panel, Run: c.run.Run, Zone: c.run.Zone, Section: c.run.Section})
			if have && far > reach+1e-6 {
				x.Why = "further than clip-reach, " + reach.String() + ": " + far.String() + " from run " + c.run.Run
			}
		}
		low, high := unit.Length(0), c.run.Length
		for _, d := range c.run.Clips {
			if d.Mark == c.Mark {
				continue
			}
			if d.After <= c.After {
				low = max(low, d.After)
			} else {
				high = min(high, d.After)
			}
		}
		gap := high - low
		if have && low < at && at < high {
			gap = max(at-low, high-at)
		}
		if gap > x.Span {
			x.Span, x.Limit = gap, max(0, clean(c.run.SpanLimit))
		}
	}
}

// station is where along a stretch a place lies nearest to it, and how far from it.
func (m *maker) station(r *fix.RunPlan, p design.Point3) (at, far unit.Length, ok bool) {
	best := unit.Length(math.Inf(1))
	for _, i := range m.geo.Stretch(r.Run, r.Stretch) {
		e := &m.geo.Edges[i]
		w := m.geo.EdgeWay(i)
		if s, d := w.Near(p); !e.Unknown && d < best {
			best, at = d, e.Station
			if l := w.Length(); l > 0 {
				at += unit.Length(float64(e.Length) * float64(s/l))
			}
		}
	}
	return at, best, unit.Finite(best)
}

// open names what has no fixing or no place yet, and so would have to be drilled or settled after paint. What is frozen is there.
func (m *maker) open(s *Shell, holes []need) {
	at := map[string]int{}
	add := func(why, mark string) {
		n, ok := at[why]
		if !ok {
			n = len(s.Open)
			at[why] = n
			s.Open = append(s.Open, Open{Why: why})
		}
		s.Open[n].Marks = append(s.Open[n].Marks, mark)
	}
	for i := range holes {
		h := &holes[i]
		if !h.New || h.Kind == "clip" && !(h.Drill > 0) && slices.Contains([]string{"bolt", "tie", "adhesive"}, h.FastenerKind) {
			continue // to a bolt that is there, or with a tie or glue, a clip needs neither hole nor panel
		}
		why := ""
		for _, x := range []struct {
			is   bool
			text string
		}{{!h.Known, "no coordinates"}, {h.Panel == "", "no panel"}, {!(h.Drill > 0) && h.Fastener == "", "no drill and no fixing"}} {
			if x.is && why != "" {
				why += ", "
			}
			if x.is {
				why += x.text
			}
		}
		if why != "" {
			add(why, h.Mark)
		}
	}
	for i := range m.held.Runs {
		r := &m.held.Runs[i]
		if r.Wires > 0 && !(r.Length > 0) {
			add("its length is not known, so its clips have no place", stretchName(r))
		}
	}
	for i := range s.Open {
		s.Open[i].Marks = slices.Clip(s.Open[i].Marks)
	}
}

func stretchName(r *fix.RunPlan) string {
	name := "run " + r.Run
	if r.Stretch > 0 {
		name += ", stretch " + unit.Number(float64(r.Stretch+1), 0)
	}
	return name
}
