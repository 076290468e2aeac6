package free

import (
	"slices"
)

// within is what a section can have to do with, by its number in each list, in order: so that a section by itself costs what is in it and not the whole
// vehicle. What no known section has is in none.
type within struct {
	devices []int // of the job, that come away with it
	knots   []int // of the graph, that go with it
	breaks  []int // of the job, with a half of it
	lays    []int // of the graph: its wires in runs of others, and wires of others in its runs
	clips   []int // of the index: on its runs, and those that no panel is stated for near one of its devices
	mixed   []int // devices that state no section and are met by its wires
	bushes  []int // points of the job with a bush that its wires pass
}

// within is the union of one list over the sections of a part, in order.
func (p *part) within(list func(*within) []int) (out []int) {
	for _, s := range p.Sections {
		if x := p.f.index.within[s]; x != nil && s != "" {
			out = append(out, list(x)...)
		}
	}
	if len(p.Sections) > 1 {
		slices.Sort(out)
		out = slices.Compact(out)
	}
	return out
}

func (f *finder) indexSections(x *index) {
	x.within = map[string]*within{}
	of := func(section string) *within {
		w := x.within[section]
		if w == nil {
			w = &within{}
			x.within[section] = w
		}
		return w
	}
	// put adds a number that is no less than any in the list.
	put := func(list *[]int, i int) {
		if n := len(*list); n == 0 || (*list)[n-1] != i {
			*list = append(*list, i)
		}
	}
	for i, d := range f.job.Devices {
		if !d.Pattern && f.devices[d.Name] == d {
			put(&of(f.bodies.home[d.Name]).devices, i)
		}
	}
	for i := range f.g.knots {
		put(&of(f.g.knots[i].section).knots, i)
	}
	x.met = make([][]int, len(f.g.knots))
	for i := range f.g.links {
		l := &f.g.links[i]
		put(&x.met[l.a], i)
		put(&x.met[l.b], i)
	}
	for i, b := range f.job.Breaks {
		for _, h := range b.Halves {
			put(&of(h.Section).breaks, i)
		}
	}
	for i, y := range f.g.lays {
		put(&of(f.nt.Wires[y.wire].Section).lays, i)
		put(&of(y.to).lays, i)
	}
	for i, h := range x.clips {
		put(&of(h.run.Section).clips, i)
		if onText(h.clip) == "" {
			for _, d := range x.near[i] {
				put(&of(f.bodies.home[d]).clips, i)
			}
		}
	}
	for i, n := range f.bodies.mixed {
		for _, l := range x.onto[n] {
			put(&of(f.g.knots[f.g.links[l].a].section).mixed, i)
		}
	}
	for i, pt := range f.job.Points {
		if !(pt.Bush > 0) || f.nt.Space == nil {
			continue
		}
		for _, w := range x.passing[f.bushNode(pt)] {
			put(&of(f.nt.Wires[w].Section).bushes, i)
		}
	}
}

// carried is what is on a panel.
type carried struct {
	always   bool     // a break: it stays, whatever comes away
	sections []string // of runs clipped to it and of devices on it, each once; empty: of none
}

func (f *finder) indexPanels(x *index) {
	x.on = map[string]*carried{}
	of := func(panel string) *carried {
		c := x.on[panel]
		if c == nil {
			c = &carried{}
			x.on[panel] = c
		}
		return c
	}
	seen := map[[2]string]bool{}
	put := func(panel, section string) {
		if key := [2]string{panel, section}; panel != "" && !seen[key] {
			seen[key] = true
			c := of(panel)
			c.sections = append(c.sections, section)
		}
	}
	for _, h := range x.clips {
		put(h.clip.Panel, h.run.Section)
	}
	for _, b := range f.job.Breaks {
		of(b.Panel).always = true
	}
	for _, d := range f.job.Devices {
		if d.Pattern {
			continue
		}
		home := f.bodies.home[d.Name]
		put(d.Panel, home)
		for i := range d.Pins {
			put(d.Pins[i].Panel, home)
		}
	}
}
