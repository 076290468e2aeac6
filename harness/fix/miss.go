package fix

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// offGrid is how far off its place of the grid a clip may stand: half a millimetre where it is stated.
func (h *held) offGrid() unit.Length {
	if h.s.given != nil {
		return 0.5 + tiny
	}
	return tiny
}

// misses looks at every chain with its clips once more, in true lengths.
func (m *maker) misses(all []held) (out []Miss) {
	at := make([][]held, len(m.chains))
	for _, h := range all {
		if h.chain >= 0 {
			at[h.chain] = append(at[h.chain], h)
		}
	}
	for i, c := range m.chains {
		slices.SortStableFunc(at[i], func(a, b held) int { return cmp.Compare(a.s.at, b.s.at) })
		if c.grid < 0 {
			if l := m.least(c.spans); c.length > mostGrid && l.most > 0 {
				x := m.missAt(c, 0, c.length)
				x.What, x.Gap, x.Limit, x.Source, x.Why = "span", c.length, l.most, l.source, "a piece this long without a node is not settled"
				out = append(out, x)
			}
			continue
		}
		out = append(out, m.gaps(c, at[i])...)
		for _, w := range c.wants {
			if x, ok := m.missed(c, w, at[i]); ok {
				out = append(out, x)
			}
		}
		for _, h := range at[i] {
			if x, off := m.offTube(c, h); off {
				out = append(out, x)
			}
			if x, off := m.offPanel(c, h); off {
				out = append(out, x)
			}
			if h.s.given == nil {
				continue
			}
			why := c.barred(h.s.at)
			if why == "" && h.NewHole && h.Hole == "" {
				why = whyShut(c.shut, h.s.place)
			}
			if why != "" && !c.moves {
				x := m.missAt(c, h.s.at, h.s.at)
				x.What, x.Clip, x.Why, x.Span = "shut", h.Mark, why, h.s.given.fixing.Span
				out = append(out, x)
			}
		}
	}
	for _, h := range all {
		if h.chain < 0 && !h.Known {
			for _, f := range m.job.Fixings {
				if at := finiteOr(h.After, 0); f.Name == h.Mark && f.Run == h.run {
					out = append(out, Miss{Run: h.run, Stretch: h.stretch, What: "shut", Clip: h.Mark, From: at, To: at, Why: "the run is not that long", Span: f.Span})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Miss) int {
		return cmp.Or(design.Natural(a.Run, b.Run), cmp.Compare(a.Stretch, b.Stretch), cmp.Compare(a.From, b.From), cmp.Compare(a.What, b.What), cmp.Compare(a.To, b.To))
	})
	return out
}

// offTube tells whether a clip that is tied to a tube is out of reach of it.
func (m *maker) offTube(c *chain, h held) (Miss, bool) {
	if h.Tube == "" || !h.Known {
		return Miss{}, false
	}
	for _, t := range m.job.Tubes {
		if t.Name != h.Tube {
			continue
		}
		var line []design.Point3
		for _, s := range t.Nodes {
			if s.Known && finite(s.At) {
				line = append(line, s.At)
			}
		}
		away := unit.Length(math.Inf(1))
		for i := 1; i < len(line); i++ {
			away = min(away, solid.Way{{From: line[i-1], To: line[i], Length: solid.Between(line[i-1], line[i])}}.ToSegment(h.At, h.At).Distance)
		}
		k := c.partAt(h.s.at)
		at := m.scopeOf(c, k)
		reach, gap := m.length("clip-reach", at), away-max(0, t.Outside)/2-h.Bundle/2
		if !unit.Finite(gap) || gap <= reach+tiny {
			return Miss{}, false
		}
		x := m.missAt(c, h.s.at, h.s.at)
		x.What, x.Place, x.Clip, x.Gap, x.Limit, x.Source = "tube", t.Name, h.Mark, gap, reach, m.job.Settings.Get("clip-reach", at).Source()
		return x, true
	}
	return Miss{}, false
}

// offPanel tells whether the bundle in a clip stands further off the clip's panel than the clip reaches. A sheet given by points stands as far off its
// mean plane as they do.
func (m *maker) offPanel(c *chain, h held) (Miss, bool) {
	s := m.sheet[h.Panel]
	if h.Tube != "" || !h.Known || s == nil {
		return Miss{}, false
	}
	_, away := s.plane.Flat(h.At)
	gap := unit.Length(math.Abs(float64(away))) - h.Bundle/2
	if len(s.panel.Corners) == 0 {
		most := unit.Length(0)
		for _, p := range s.panel.Points {
			_, d := s.plane.Flat(p)
			most = max(most, d, -d)
		}
		gap -= most
	}
	at := m.scopeOf(c, c.partAt(h.s.at))
	at.Panel = h.Panel
	reach := m.length("clip-reach", at)
	if !unit.Finite(gap) || gap <= reach+tiny {
		return Miss{}, false
	}
	x := m.missAt(c, h.s.at, h.s.at)
	x.What, x.Place, x.Clip, x.Gap, x.Limit, x.Source = "panel", h.Panel, h.Mark, gap, reach, m.job.Settings.Get("clip-reach", at).Source()
	return x, true
}

func finiteOr(x, other unit.Length) unit.Length {
	if unit.Finite(x) {
		return x
	}
	return other
}

// missAt is a miss on the stretch in which the middle of a part of a chain lies.
func (m *maker) missAt(c *chain, lo, hi unit.Length) Miss {
	k := c.partAt((lo + hi) / 2)
	run, stretch, a := c.station(k, lo)
	_, _, b := c.station(k, hi)
	x := Miss{Run: run, Stretch: stretch, From: min(a, b), To: max(a, b)}
	if l, ok := m.geo.StretchLength(run, stretch); ok {
		x.From, x.To = max(0, min(x.From, l)), max(0, min(x.To, l))
	}
	x.Span = m.geo.Edges[c.parts[k].edge].Span
	return x
}

// gaps finds neighbouring clips that are too far apart.
func (m *maker) gaps(c *chain, clips []held) (out []Miss) {
	// Pieces between knots may each be too short for a clip, and all of them together hang free.
	if l := m.least(c.spans); len(clips) == 0 && len(c.wants) == 0 && l.most > 0 && c.length > l.most+1+tiny {
		x := m.missAt(c, 0, c.length)
		x.What, x.Gap, x.Limit, x.Source, x.Why = "span", c.length, l.most, l.source, m.obstacles(c, tiny, c.length-tiny)
		return []Miss{x}
	}
	for i := 1; i < len(clips); i++ {
		lo, hi := clips[i-1].s.at, clips[i].s.at
		worst := limit{}
		for k, p := range c.parts {
			if end := p.at + m.geo.Edges[p.edge].Length; p.at < hi-tiny && end > lo+tiny {
				worst = m.least([]limit{worst, m.spanFor(c, k)})
			}
		}
		if worst.most <= 0 || hi-lo <= worst.most+clips[i-1].offGrid()+clips[i].offGrid() {
			continue
		}
		x := m.missAt(c, lo, hi)
		x.What, x.Gap, x.Limit, x.Source = "span", hi-lo, worst.most, worst.source
		x.Why = m.obstacles(c, lo+tiny, hi-tiny)
		out = append(out, x)
	}
	return out
}

// missed tells whether a place that wants a clip has none near enough.
func (m *maker) missed(c *chain, w want, clips []held) (x Miss, ok bool) {
	nearest := unit.Length(-1)
	for _, h := range clips {
		if off := h.offGrid(); w.lo-off <= h.s.at && h.s.at <= w.hi+off {
			return x, false
		}
		if w.lo >= w.at-tiny && h.s.at < w.at || w.hi <= w.at+tiny && h.s.at > w.at {
			continue // on the other side of what is to be held
		}
		if d := unit.Length(math.Abs(float64(h.s.at - w.at))); nearest < 0 || d < nearest {
			nearest = d
		}
	}
	x = m.missAt(c, max(0, w.lo), min(c.length, w.hi))
	x.What, x.Place, x.Limit, x.Source = w.why, w.place, w.limit, w.source
	x.Gap = max(0, nearest)
	x.Why = m.obstacles(c, w.lo, w.hi)
	return x, true
}

// obstacles is what forbids a clip in a part of a chain, each named once, in order along it.
func (m *maker) obstacles(c *chain, lo, hi unit.Length) string {
	from, to, ok := c.within(lo, hi)
	if !ok {
		return ""
	}
	var why []string
	for p := from; p <= to; p++ {
		w := c.barred(c.real(p))
		if w == "" {
			w = whyShut(c.shut, p)
		}
		if w != "" && !slices.Contains(why, w) {
			why = append(why, w)
		}
	}
	return strings.Join(why, ", ")
}

func whyShut(list []stretchOf, p int) string {
	for _, s := range list {
		if s.from <= p && p <= s.to {
			return s.why
		}
	}
	return ""
}
