package fix

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
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
	slices.SortStableFunc(out, func(a, b Miss) int {
		return cmp.Or(design.Natural(a.Run, b.Run), cmp.Compare(a.Stretch, b.Stretch), cmp.Compare(a.From, b.From), cmp.Compare(a.What, b.What), cmp.Compare(a.To, b.To))
	})
	return out
}

// missAt is a miss on the stretch in which the middle of a part of a chain lies.
func (m *maker) missAt(c *chain, lo, hi unit.Length) Miss {
	k := c.partAt((lo + hi) / 2)
	run, stretch, a := m.station(c, k, lo)
	_, _, b := m.station(c, k, hi)
	x := Miss{Run: run, Stretch: stretch, From: min(a, b), To: max(a, b)}
	if l, ok := m.geo.StretchLength(run, stretch); ok {
		x.From, x.To = max(0, min(x.From, l)), max(0, min(x.To, l))
	}
	x.Span = m.geo.Edges[c.parts[k].edge].Span
	return x
}

// gaps finds neighbouring clips that are too far apart.
func (m *maker) gaps(c *chain, clips []held) (out []Miss) {
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
