package free

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
)

// holder is one clip with its run.
type holder struct {
	run  *fix.RunPlan
	clip *fix.Clip
}

// clips lists the clips to take off: those of what comes away on panels and tubes, and those of what stays that may sit on what comes away.
// A clip that shares its hole with one of the other side is a tie.
func (p *part) clips() {
	f := p.f
	x := f.index
	for _, i := range p.within(func(s *within) []int { return s.clips }) {
		h := x.clips[i]
		on := onText(h.clip)
		switch side := p.sideOf(h.run.Section); {
		case side == goes:
			for _, n := range x.sharing(h.clip) {
				o := x.clips[n]
				if p.sideOf(o.run.Section) == stays && shares(h.clip, o.clip) {
					p.sharedClip(h, o)
				}
			}
			if on != "" {
				p.takeOff(h, on, false)
			}
		case side == stays && on == "":
			if d := p.comesOff(x.near[i]); d != "" {
				p.takeOff(h, d, true)
			}
		}
	}
	slices.SortStableFunc(p.Clips, func(a, b Clips) int { return design.Natural(a.Run, b.Run) })
	for i := range p.Clips {
		c := &p.Clips[i]
		marks := strings.Join(c.Marks, ", ")
		c.Text = fmt.Sprintf("Run %s: take off %s, on %s.", c.Run, marks, c.On)
		switch {
		case c.Stays:
			c.Text = fmt.Sprintf("Run %s stays: take off %s if on %s, which comes away; no panel is stated.", c.Run, marks, c.On)
		case p.alone(c.On):
			c.Text = fmt.Sprintf("Run %s: take off %s, on %s, unless that comes away as well: nothing that stays is on it.", c.Run, marks, c.On)
		}
	}
}

func onText(c *fix.Clip) string {
	switch {
	case c.Panel != "":
		return "panel " + c.Panel
	case c.Tube != "":
		return "tube " + c.Tube
	}
	return ""
}

func shares(a, b *fix.Clip) bool {
	return a.Hole != "" && a.Hole == b.Hole || a.With != "" && a.With == b.Mark || b.With != "" && b.With == a.Mark
}

func (p *part) sharedClip(h, o holder) {
	t := Tie{Kind: ByClip, Name: h.clip.Mark, Group: "clip " + h.clip.Mark, Span: p.Span}
	t.At = "the hole of clip " + o.clip.Mark
	if h.clip.HoleKnown {
		t.Place = placeText(h.clip.Panel, design.Spot{At: h.clip.HoleAt, Known: true})
	}
	t.Text = fmt.Sprintf("Clip %s of run %s shares its screw with clip %s of run %s, which stays.", h.clip.Mark, h.run.Run, o.clip.Mark, o.run.Run)
	t.Mend = "Give each a hole of its own."
	p.Ties = append(p.Ties, t)
}

func (p *part) takeOff(h holder, on string, stays bool) {
	for i := range p.Clips {
		if c := &p.Clips[i]; c.Run == h.run.Run && c.On == on && c.Stays == stays {
			c.Marks = append(c.Marks, h.clip.Mark)
			return
		}
	}
	p.Clips = append(p.Clips, Clips{Run: h.run.Run, Marks: []string{h.clip.Mark}, On: on, Stays: stays})
}

// comesOff is the device that comes away, of those at the end of its stretch that a clip of no stated panel is nearer to; empty: none.
func (p *part) comesOff(near []string) string {
	for _, d := range near {
		if p.deviceSide(d) == goes {
			return "device " + d
		}
	}
	return ""
}

// nodeDevices is the devices at each node, by name.
func (f *finder) nodeDevices() map[int][]string {
	out := map[int][]string{}
	if f.nt.Space == nil {
		return out
	}
	for i := range f.nt.Wires {
		for k := range f.nt.Wires[i].Ends {
			if t := &f.nt.Wires[i].Ends[k]; t.Device != "" && t.Node >= 0 && !slices.Contains(out[t.Node], t.Device) {
				out[t.Node] = append(out[t.Node], t.Device)
			}
		}
	}
	for n := range out { // each sorted by itself
		slices.SortFunc(out[n], design.Natural)
	}
	return out
}

// alone tells whether a panel, as named in a list of clips, carries nothing that stays.
func (p *part) alone(on string) bool {
	f := p.f
	name, ok := strings.CutPrefix(on, "panel ")
	if !ok {
		return false
	}
	c := f.index.on[name]
	return c == nil || !c.always && !slices.ContainsFunc(c.sections, func(s string) bool { return p.sideOf(s) != goes })
}

// halves looks at the halves of breaks that come away though they are fixed to a panel: they are unscrewed, and come out on the side of their flange.
func (p *part) halves() {
	f := p.f
	for _, i := range p.within(func(s *within) []int { return s.breaks }) {
		b := f.job.Breaks[i]
		if b.Panel == "" || f.isPost(b) || !p.parts(b) {
			continue
		}
		h := 0
		if p.sideOf(b.Halves[1].Section) == goes {
			h = 1
		}
		if b.Halves[h].Mount != "fixed" {
			continue
		}
		size := ""
		if x := f.housings[b.Halves[h].Housing]; x != nil && x.Nut > 0 {
			size = fmt.Sprintf(", nut %s across", x.Nut)
		}
		for i := range p.Steps {
			if s := &p.Steps[i]; s.Undo.Kind == "break" && s.Undo.Name == b.Name {
				s.After = append(s.After, fmt.Sprintf("Unscrew the %s half from panel %s%s: it comes away.", b.Halves[h].Section, b.Panel, size))
			}
		}
		if b.Flange == "" || slices.Contains(f.zonesAt(b, b.Halves[h].Section), b.Flange) {
			continue
		}
		p.Ties = append(p.Ties, Tie{Kind: ByHalf, Name: b.Name, At: "break " + b.Name, Group: "break " + b.Name, Place: placeText(b.Panel, b.Spot), Span: p.Span,
			Text: fmt.Sprintf("The %s half of break %s is let into panel %s from zone %s, where its wires are not: it does not come out with them.", b.Halves[h].Section, b.Name, b.Panel, b.Flange),
			Mend: "Fix the other half to the panel, or put the flange on the side of its wires."})
	}
}

// zonesAt is the zones of the runs of a section at a break.
func (f *finder) zonesAt(b *design.Break, section string) (out []string) {
	g := f.nt.Space
	if g == nil {
		return nil
	}
	key := b.Node
	if key == "" {
		key = b.Name
	}
	n := g.Find(key)
	if n < 0 {
		return nil
	}
	for _, e := range g.Around(n) {
		if g.Edges[e].Section == section {
			out = append(out, g.Edges[e].Zone)
		}
	}
	return out
}

// assume says what was taken for granted.
func (p *part) assume() {
	f := p.f
	if s := p.still(); len(s) > 0 {
		stands, it := "stands", "it"
		if len(s) > 1 {
			stands, it = "stand", "each"
		}
		p.Assumed = append(p.Assumed, fmt.Sprintf("%s %s still while anything is undone: switch %s off, unplug or stop it first.", strings.Join(s, ", "), stands, it))
	}
	for _, i := range p.within(func(s *within) []int { return s.mixed }) {
		n := f.bodies.mixed[i]
		p.Assumed = append(p.Assumed, fmt.Sprintf("Device %s is met by runs of several sections and states none: it stays.", n))
	}
	n := 0
	for _, i := range p.within(func(s *within) []int { return s.clips }) {
		if h := f.index.clips[i]; p.sideOf(h.run.Section) == goes && onText(h.clip) == "" {
			n++
		}
	}
	switch {
	case n == 1:
		p.Assumed = append(p.Assumed, "1 clip of its runs states no panel and no tube: what it is on comes away too, or it is taken off.")
	case n > 1:
		p.Assumed = append(p.Assumed, fmt.Sprintf("%d clips of its runs state no panel and no tube: what they are on comes away too, or they are taken off.", n))
	}
}
