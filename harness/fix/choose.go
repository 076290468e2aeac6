package fix

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// choice is what holds a clip at one place.
type choice struct {
	clip     string
	clipWhy  string
	fastener string
	kind     string
	kindWhy  string
	panel    string
	tube     string
	plain    bool // by the plain rule, that of a sheet
}

// choose finds clip and fixing of a place: what is stated there, then what the hole holds already, then the run's own, then a set line,
// then the rule. The panel is the run's, or the one that goes on from it in the same plane. A set line for the whole job stands for the rule's rivet nut and its clip; to change what holds a tube or a bonded
// panel it must name what it is for.
func (m *maker) choose(e *space.Edge, f *design.Fixing, h *design.Hole, most unit.Length, at design.Point3) choice {
	r := m.run[e.Run]
	if r == nil {
		r = &design.Run{}
	}
	if f == nil {
		f = &design.Fixing{}
	}
	if h == nil {
		h = &design.Hole{}
	}
	c := choice{panel: or(or(h.Panel, f.Panel), r.Panel)}
	if c.panel == "" || c.panel == r.Panel {
		c.tube = r.Tube
	}
	if h.Panel == "" && f.Panel == "" {
		c.panel = m.under(e, at)
	}
	s := m.edgeScope(e)
	s.Panel = c.panel

	part, partWhy := m.statedClip(r, f, s)
	m.chooseFastener(&c, r, f, h, s, m.clip[part])
	if c.clip, c.clipWhy = part, partWhy; part == "" {
		m.ruleClip(&c, s, most)
		// A clip that is held in its own way.
		if own := m.clip[c.clip]; own != nil && own.Fastener != "" && c.plain {
			c.fastener, c.kindWhy = own.Fastener, "clip "+own.Name
		}
	}
	if x := m.fastener[c.fastener]; x != nil {
		c.kind = x.As
	}
	return c
}

// statedClip is the clip part that somebody asked for by name; empty: none.
func (m *maker) statedClip(r *design.Run, f *design.Fixing, s design.Scope) (part, why string) {
	switch ruling := m.job.Settings.Get("clip", s); {
	case f.Clip != "":
		return f.Clip, "stated"
	case r.Clip != "":
		return r.Clip, "run " + r.Name
	case narrow(ruling):
		return ruling.Value.Name, "set clip, " + ruling.Scope
	}
	return "", ""
}

// narrow tells whether a set line ruled that names what it is for.
func narrow(r design.Ruling) bool { return r.Set && r.Scope != "job" }

func (m *maker) chooseFastener(c *choice, r *design.Run, f *design.Fixing, h *design.Hole, s design.Scope, stated *design.Clip) {
	ruling := m.job.Settings.Get("fastener", s)
	p := m.panel[c.panel]
	back := m.seenBack(p, s.Zone)
	switch {
	case f.Fastener != "":
		c.fastener, c.kindWhy = f.Fastener, "stated"
	case h.Fastener != "":
		c.fastener, c.kindWhy = h.Fastener, "hole "+h.Name
	case c.tube != "" && r.Fastener == "" && !narrow(ruling):
		c.fastener, c.kindWhy, c.kind = m.pick("fastener-tube", s, "tie", ""), "round tube "+c.tube, "tie"
	case r.Fastener != "":
		c.fastener, c.kindWhy = r.Fastener, "run "+r.Name
	case narrow(ruling):
		c.fastener, c.kindWhy = ruling.Value.Name, "set fastener, "+ruling.Scope
	case p != nil && p.Skin == "bonded":
		c.fastener, c.kindWhy, c.kind = m.pick("fastener-bonded", s, "adhesive", ""), "panel "+p.Name+" is bonded", "adhesive"
	case stated != nil && stated.Fastener != "":
		c.fastener, c.kindWhy = stated.Fastener, "clip "+stated.Name
	case ruling.Set:
		c.fastener, c.kindWhy = ruling.Value.Name, "set fastener, "+ruling.Scope
	default:
		c.fastener, c.kindWhy, c.plain = ruling.Value.Name, "no panel stated", true
		if p != nil {
			c.kindWhy = "panel " + p.Name + " is a sheet"
		}
		if back == "" {
			break
		}
		thread := ""
		if x := m.fastener[c.fastener]; x != nil {
			thread = x.Thread
		}
		if stud := m.pick("fastener-seen", s, "stud", thread); stud != "" {
			c.fastener, c.kindWhy, c.plain = stud, "the back of panel "+p.Name+" is seen from zone "+back, false
		}
	}
}

// pick is the part that a setting names. Its default gives way to a part of that kind and thread where the thread asked for is another one,
// or where the job has no part of the default's name.
func (m *maker) pick(setting string, s design.Scope, as, thread string) string {
	ruling := m.job.Settings.Get(setting, s)
	name := ruling.Value.Name
	x := m.fastener[name]
	if ruling.Set || x != nil && (thread == "" || x.Thread == thread) {
		return name
	}
	best := ""
	for _, y := range m.job.Parts.Fasteners {
		if y.As == as && (thread == "" || y.Thread == thread) && (best == "" || design.Natural(y.Name, best) < 0) {
			best = y.Name
		}
	}
	if best == "" && x != nil {
		return name
	}
	return best
}

// seenBack is the zone from which the back of a panel is seen, looked at from a zone on one of its sides; empty: none.
func (m *maker) seenBack(p *design.Panel, zone string) string {
	if p == nil {
		return ""
	}
	left := slices.Clone(p.Zones)
	if i := slices.Index(left, zone); i >= 0 {
		left = slices.Delete(left, i, i+1)
	}
	for _, z := range p.Seen {
		if slices.Contains(left, z) {
			return z
		}
	}
	return ""
}

// ruleClip is the clip that nobody asked for by name: a tie round a tube or on a glued base, else what the job has set. Where the zone is hotter than
// it stands, the next one that stands it.
func (m *maker) ruleClip(c *choice, s design.Scope, most unit.Length) {
	setting := "clip"
	if x := m.fastener[c.fastener]; c.kind == "tie" || c.kind == "adhesive" || x != nil && (x.As == "tie" || x.As == "adhesive") {
		setting = "clip-tie"
	}
	ruling := m.job.Settings.Get(setting, s)
	c.clip, c.clipWhy = ruling.Value.Name, "set "+setting+", "+ruling.Scope
	if !ruling.Set {
		c.clipWhy = "default"
	}
	part, air := m.clip[c.clip], m.air[s.Zone]
	if part == nil || !part.Heat.Given || !air.known || part.Heat.Nominal >= air.most {
		return
	}
	var best *design.Clip
	for _, x := range m.job.Parts.Clips {
		if clipKind(x) != clipKind(part) || !x.Heat.Given || x.Heat.Nominal < air.most || clipSize(x, most) == 0 && most > 0 {
			continue
		}
		if best == nil || x.Heat.Nominal < best.Heat.Nominal || x.Heat.Nominal == best.Heat.Nominal && design.Natural(x.Name, best.Name) < 0 {
			best = x
		}
	}
	why := strings.Join([]string{part.Name, "stands", part.Heat.Nominal.String() + ",", "zone", s.Zone, "has", air.most.String()}, " ")
	if best == nil {
		c.clipWhy = why + "; no clip of the parts stands it"
		return
	}
	c.clip, c.clipWhy = best.Name, why
}

func clipKind(c *design.Clip) string { return or(c.As, "p-clip") }

// clipSize is the smallest size that holds a bundle; 0: none does.
func clipSize(c *design.Clip, most unit.Length) (size unit.Length) {
	if c == nil || most <= 0 {
		return 0
	}
	for _, h := range c.Holds {
		if h >= most && (size == 0 || h < size) {
			size = h
		}
	}
	return size
}

// warmth is the hottest air of a zone.
type warmth struct {
	most  unit.Temperature
	known bool
}

// airs is the hottest air of every zone: its own, or that of the hottest case.
func airs(job *design.Job) map[string]warmth {
	out := map[string]warmth{}
	for _, z := range job.Zones {
		w := warmth{}
		add := func(t unit.Temperature) {
			if unit.Finite(t) && (!w.known || t > w.most) {
				w = warmth{t, true}
			}
		}
		if z.HasAir {
			add(z.Air)
		}
		for _, c := range job.Cases {
			own := false
			for _, x := range c.ZoneAir {
				if x.Zone == z.Name {
					add(x.Air)
					own = true
				}
			}
			if !own && !z.HasAir && c.HasAir {
				add(c.Air)
			}
		}
		out[z.Name] = w
	}
	return out
}
