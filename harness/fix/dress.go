package fix

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// held is a clip with where it came from.
type held struct {
	Clip
	run     string
	stretch int
	chain   int    // -1: a stated one that lies on no chain
	fixing  string // name of the line that states it
	s       seated
	pair    int // index of the clip that shares its hole, -1
}

// dressAll makes the clips of all chains, and those stated ones that lie on none, by run, stretch and station.
func (m *maker) dressAll(ans [][]seated) []held {
	var out []held
	for i, list := range ans {
		c := m.chains[i]
		for _, s := range list {
			k := c.partAt(s.at)
			run, stretch, station := c.station(k, s.at)
			h := held{run: run, stretch: stretch, chain: i, s: s, pair: -1}
			h.After, h.Why = station, m.whyOf(c, s)
			var f *design.Fixing
			if s.given != nil {
				f = s.given.fixing
				// A stated one is listed on its own run, where two meet.
				if st, after, ok := m.geo.Along(f.Run, f.After); ok {
					h.run, h.stretch, h.After = f.Run, st, after
				}
			}
			var hole *design.Hole
			if s.seat != nil {
				hole = s.seat.hole
			}
			m.dress(&h, c.parts[k].edge, f, hole, true)
			if s.given == nil && s.bare && hole == nil {
				h.NewHole, h.Drill = false, 0
			}
			out = append(out, h)
		}
	}
	for _, f := range m.job.Fixings {
		if m.onChain[f] {
			continue
		}
		h := held{run: f.Run, chain: -1, pair: -1}
		h.Why, h.After = "fixed", f.After
		st, after, ok := m.geo.Along(f.Run, f.After)
		if ok {
			h.stretch, h.After = st, after
		}
		es := m.geo.Stretch(f.Run, h.stretch)
		if len(es) == 0 {
			continue
		}
		e := es[0]
		for _, x := range es {
			if ed := &m.geo.Edges[x]; ok && ed.Station-tiny <= after && after <= ed.Station+ed.Length+tiny {
				e = x
				break
			}
		}
		m.dress(&h, e, f, nil, ok)
		out = append(out, h)
	}
	slices.SortStableFunc(out, func(a, b held) int {
		return cmp.Or(design.Natural(a.run, b.run), cmp.Compare(a.stretch, b.stretch), cmp.Compare(a.After, b.After))
	})
	m.pairUp(out)
	m.mark(out)
	for i := range out {
		if p := out[i].pair; p >= 0 {
			out[i].With = out[p].Mark
		}
	}
	for i := range out {
		m.screw(out, i)
	}
	return out
}

// dress gives a clip its coordinates, part, size and fixing.
func (m *maker) dress(h *held, edge int, f *design.Fixing, hole *design.Hole, onRun bool) {
	e := &m.geo.Edges[edge]
	c := &h.Clip
	if f != nil {
		h.fixing = f.Name
		c.Why, c.Mark, c.Status, c.Hole = "fixed", f.Name, f.Status(), f.Hole
		if f.Hole != "" {
			hole = m.hole(f.Hole)
		}
	}
	if hole != nil {
		c.Hole = hole.Name
	}
	if onRun {
		c.At, c.Known = m.geo.Position(h.run, h.stretch, h.After)
		c.Known = c.Known && finite(c.At)
		c.Least, c.Bundle = m.bandAt(h.run, h.stretch, h.After)
	}
	x := m.choose(e, f, hole, c.Bundle, c.At)
	c.Part, c.ClipWhy, c.Fastener, c.Kind, c.KindWhy, c.Panel, c.Tube = x.clip, x.clipWhy, x.fastener, x.kind, x.kindWhy, x.panel, x.tube
	fastener := m.fastener[c.Fastener]
	if fastener != nil {
		c.Drill = fastener.Drill
	}
	if hole != nil && hole.Drill > 0 {
		c.Drill = hole.Drill
	}
	switch {
	case c.Kind == "tie" || c.Kind == "adhesive":
	case hole != nil:
		c.NewHole = m.job.Painted != "" && !m.there(hole.Frozen)
	case f != nil && f.Frozen != "":
	default:
		c.NewHole = true
	}
	c.HoleAt, c.HoleKnown = c.At, c.Known
	if c.Known {
		v, _ := m.geo.Direction(h.run, h.stretch, h.After)
		l := m.earAt(x, e, c.At, v, c.Bundle)
		c.HoleAt, c.Ear, c.EarSide = l.hole, l.off, l.side
	}
	if hole != nil && hole.Known && finite(hole.At) {
		c.HoleAt, c.HoleKnown = hole.At, true
	}
	c.ClipSize = clipSize(m.clip[c.Part], c.Bundle)
	s := m.edgeScope(e)
	s.Panel = c.Panel
	c.Play = m.length("clip-play", s)
	c.Tight = c.Kind == "tie" || m.clip[c.Part] != nil && m.clip[c.Part].As == "tie"
}

// bandAt is the band of the bundle at a station; where two pieces meet the thicker one.
func (m *maker) bandAt(run string, stretch int, after unit.Length) (least bundle.Least, most unit.Length) {
	for _, e := range m.geo.Stretch(run, stretch) {
		ed := &m.geo.Edges[e]
		if ed.Station-tiny <= after && after <= ed.Station+ed.Length+tiny {
			if l, w := m.bundles.Edges[e].Over(); w > most {
				least, most = l, w
			}
		}
	}
	return least, most
}

// whyOf is what a computed clip is for.
func (m *maker) whyOf(c *chain, s seated) string {
	for _, why := range []string{"bend", "end", "breakout"} {
		if slices.ContainsFunc(c.wants, func(w want) bool { return w.why == why && w.lo-tiny <= s.at && s.at <= w.hi+tiny }) {
			return why
		}
	}
	return "span"
}

// pairUp finds, for every clip that shares its hole, the one on the other chain: the nearest that shares with this chain; and two clips in one
// stated hole are a pair too.
func (m *maker) pairUp(all []held) {
	inHole, onChain := map[string][]int{}, map[int][]int{} // in order; a clip that takes another's hole is of a pair, and no longer looked for
	for i := range all {
		if h := all[i].Hole; h != "" {
			inHole[h] = append(inHole[h], i)
		}
		if all[i].chain >= 0 {
			onChain[all[i].chain] = append(onChain[all[i].chain], i)
		}
	}
	for i := range all {
		if all[i].pair >= 0 {
			continue
		}
		best := -1
		for _, j := range inHole[all[i].Hole] {
			if j != i && all[j].pair < 0 {
				best = j
				break
			}
		}
		if best < 0 && all[i].chain >= 0 && all[i].Known {
			for _, j := range onChain[all[i].s.with] {
				if j != i && all[j].pair < 0 && all[j].s.with == all[i].chain && all[j].Known && (best < 0 || space.Between(all[i].At, all[j].At) < space.Between(all[i].At, all[best].At)) {
					best = j
				}
			}
		}
		if best < 0 {
			continue
		}
		a, b := &all[i], &all[best]
		a.pair, b.pair = best, i
		switch {
		case a.Hole != "" && b.Hole != "":
		case a.Hole != "" || b.Hole != "":
			if b.Hole != "" {
				a, b = b, a
			}
			b.Hole, b.HoleAt, b.HoleKnown = a.Hole, a.HoleAt, a.HoleKnown
			b.Fastener, b.Kind, b.KindWhy, b.Drill, b.NewHole = a.Fastener, a.Kind, a.KindWhy, a.Drill, a.NewHole
		default:
			mid := halfWay(a.At, b.At)
			a.HoleAt, b.HoleAt = mid, mid
			for _, c := range []*held{a, b} {
				c.Ear, c.EarSide = space.Between(c.At, mid), "between the two bundles"
			}
			// One hole holds one fixing: that of the first, unless only the second's is stated.
			if b.Status > a.Status {
				a, b = b, a
			}
			b.Fastener, b.Kind, b.KindWhy, b.Drill, b.NewHole = a.Fastener, a.Kind, a.KindWhy, a.Drill, a.NewHole
		}
	}
}

// fixingOf is the line that states a clip; nil: none.
func (m *maker) fixingOf(h *held) *design.Fixing {
	if h.Why != "fixed" {
		return nil
	}
	return m.stated[[2]string{h.run, h.fixing}]
}

// screw works out the length of a clip's screw.
func (m *maker) screw(all []held, i int) {
	c := &all[i].Clip
	s := design.Scope{Run: all[i].run, Panel: c.Panel}
	if r := m.run[all[i].run]; r != nil {
		s.Zone, s.Section = r.Zone, r.Section
	}
	j := joint{fastener: m.fastener[c.Fastener], panel: c.Panel, washer: m.length("clip-washer", s), past: m.length("clip-past", s)}
	if p := m.panel[c.Panel]; p != nil && unit.Finite(p.Thickness) {
		j.sheet = p.Thickness
	}
	add := func(part string) {
		x := stack{part: part}
		if p := m.clip[part]; p != nil && unit.Finite(p.Thick) {
			x.thick = p.Thick
		}
		j.clips = append(j.clips, x)
	}
	if p := all[i].pair; p >= 0 && p < i {
		add(all[p].Part)
	}
	add(c.Part)
	if p := all[i].pair; p > i {
		add(all[p].Part)
	}
	c.Screw, c.ScrewSum = j.sum()
	c.NoScrew = strings.Contains(c.ScrewSum, tooLong)
	if f := m.fixingOf(&all[i]); f != nil && f.Screw > 0 && j.fastener != nil {
		plain := *j.fastener
		plain.Screws, j.fastener = nil, &plain
		need, text := j.sum()
		c.Screw, c.ScrewSum, c.NoScrew = f.Screw, "stated; "+text, false
		if need > f.Screw+tiny {
			c.ScrewSum, c.NoScrew = text+": more than the stated "+number(f.Screw), true
		}
	}
}
