package mate

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

type finder struct {
	job     *design.Job
	nt      *net.Net
	web     *web
	housing map[string]*design.Housing
	device  map[string]*design.Device
	anchors map[string]string // section and node key: what is fixed there
	common  map[string]string // node key: what is fixed there in every section
	clips   map[stretch][]*clip
	looks   map[cavityKey]seen
	mate    map[string]int        // by cut and side: the half
	wired   map[housingKey]string // by housing: the section of its first wire
	out     *Result
}

type housingKey struct {
	device  string
	housing int
}

type stretch struct {
	run string
	nth int
}

type clip = fix.Clip

// Find looks at every two halves of different connectors that fit each other, a pin half and a socket half of one housing or of two that mate, and
// at every housing that nothing keeps from being turned over. A half that is fixed comes to nobody; a free one comes as far as what holds its tail
// lets it. What is at the other end of a free half's own connector is open then, and so is what it is plugged into.
func Find(job *design.Job, nt *net.Net, held *fix.Plan) *Result {
	f := &finder{job: job, nt: nt, housing: design.Index(job.Parts.Housings, func(h *design.Housing) string { return h.Name }), device: map[string]*design.Device{},
		anchors: map[string]string{}, common: map[string]string{}, clips: map[stretch][]*clip{}, looks: map[cavityKey]seen{}, out: &Result{}}
	for _, d := range job.Devices {
		if !d.Pattern && f.device[d.Name] == nil {
			f.device[d.Name] = d
		}
	}
	if nt == nil || nt.Space == nil {
		return f.out
	}
	f.fixtures(held)
	f.web = newWeb(job, nt, f.device)
	f.halves()
	f.pairs()
	f.turned()
	f.keys()
	return f.out
}

func between(a, b design.Point3) unit.Length { return space.Between(a, b) }

// fixtures lists what holds a tail: clips, and at the nodes of each section devices, fixed halves and bushes.
func (f *finder) fixtures(held *fix.Plan) {
	if held != nil {
		for i := range held.Runs {
			r := &held.Runs[i]
			for j := range r.Clips {
				if c := &r.Clips[j]; c.Known {
					k := stretch{r.Run, r.Stretch}
					f.clips[k] = append(f.clips[k], c)
				}
			}
		}
	}
	put := func(section, node, what string) {
		if k := section + "\x00" + node; f.anchors[k] == "" {
			f.anchors[k] = what
		}
	}
	for _, b := range f.job.Breaks {
		for h := range b.Halves {
			if x := &b.Halves[h]; x.Mount == "fixed" || x.Contacts == "" {
				put(x.Section, nodeKey(b.Name, b.Spot), "break "+b.Name)
			}
		}
	}
	all := func(node, what string) {
		if f.common[node] == "" {
			f.common[node] = what
		}
	}
	for _, d := range f.job.Devices {
		if d.Pattern {
			continue
		}
		all(nodeKey(d.Name, d.Spot), "device "+d.Name)
		for i := range d.Housings {
			if x := &d.Housings[i]; x.Node != "" || x.Known {
				all(nodeKey(d.Name, x.Spot), "device "+d.Name)
			}
		}
		for i := range d.Pins {
			if p := &d.Pins[i]; p.Node != "" || p.Known {
				all(nodeKey(d.Name+"."+p.Name, p.Spot), "device "+d.Name)
			}
		}
	}
	for _, p := range f.job.Points {
		if p.Bush > 0 {
			all(nodeKey(p.Name, p.Spot), "bush "+p.Name)
		}
	}
}

// anchor is what is fixed at a node in a section; empty: nothing.
func (f *finder) anchor(section, node string) string {
	if what := f.anchors[section+"\x00"+node]; what != "" {
		return what
	}
	return f.common[node]
}

// fits tells whether two halves go into each other, keys aside.
func (f *finder) fits(a, b *Half) bool {
	if a.Contacts == b.Contacts || a.Break != "" && a.Break == b.Break || a.Device != "" && a.Device == b.Device && a.Housing == b.Housing {
		return false
	}
	mates := func(x, y string) bool {
		h := f.housing[x]
		return h != nil && slices.Contains(h.Mates, y)
	}
	return a.Part == b.Part || mates(a.Part, b.Part) || mates(b.Part, a.Part)
}

func (h *Half) cut() string {
	if h.Break != "" {
		return breakCut(h.Break)
	}
	return deviceCut(h.Device, h.Housing)
}

func (h *Half) side() string {
	switch {
	case h.Break != "":
		return strconv.Itoa(h.Half)
	case h.Free:
		return "wire"
	}
	return "pin"
}

// look is what is in a cavity of a half, seen into the half, with its own connector and another unplugged. Seldom does the other lie on any way
// from there: then what was found without it holds.
func (f *finder) look(h *Half, cavity string, other *Half) seen {
	key := cavityKey{h.cut(), h.side(), cavity}
	at, ok := f.web.wires[key]
	if !ok {
		at = -1
	}
	s, ok := f.looks[key]
	own, others := f.web.cut(key.cut), f.web.cut(other.cut())
	if !ok {
		s = f.web.look(at, own)
		s.Net = f.netOf(at, h, cavity)
		f.looks[key] = s
	}
	if slices.Contains(s.passed, others) {
		s = f.web.look(at, own, others)
		s.Net = f.netOf(at, h, cavity)
	}
	return s
}

// netOf names what is in a cavity.
func (f *finder) netOf(at int32, h *Half, cavity string) string {
	switch {
	case at < 0:
		return ""
	case int(at) < len(f.nt.Wires):
		return f.nt.Wires[at].Circuit
	}
	return h.Device + "." + cavity
}

// mostNear is how many others of those that fit and reach a free half are looked at, the nearest first: against a thousand lamps in one place.
const mostNear = 40

func (f *finder) pairs() {
	hs := f.out.Halves
	type near struct {
		half int
		gap  unit.Length
		why  func() string
	}
	shelves := shelves(hs)
	fitting := f.fitting(shelves)
	var among []int
	for i := range hs {
		a := &hs[i]
		if !a.Free {
			continue
		}
		among = among[:0]
		for _, part := range fitting[a.Part] {
			among = shelves[part].reachable(among, i, a)
		}
		slices.Sort(among)
		var list []near
		for _, k := range among {
			if b := &hs[k]; i != k && (!b.Free || k > i) && f.fits(a, b) {
				if gap, why, ok := f.reaches(a, b); ok {
					list = append(list, near{k, gap, why})
				}
			}
		}
		slices.SortStableFunc(list, func(x, y near) int { return cmp.Compare(x.gap, y.gap) })
		if n := len(list) - mostNear; n > 0 {
			f.out.Skipped += n
			list = list[:mostNear]
		}
		for _, x := range list {
			b := &hs[x.half]
			p := Pair{First: i, Second: x.half, Breaks: a.Break != "" && b.Break != "", SameKey: a.Key == b.Key, Gap: x.gap, Reach: x.why(), Worst: Harmless}
			p.Meetings, p.Alike = f.meetings(a, b, nil)
			if len(p.Meetings) > 0 {
				p.Worst = p.Meetings[0].Harm
			}
			f.out.Pairs = append(f.out.Pairs, p)
		}
	}
	f.out.Pairs = design.Exact(f.out.Pairs)
	slices.SortStableFunc(f.out.Pairs, func(x, y Pair) int {
		key := func(p Pair) int {
			if p.SameKey {
				return 0
			}
			return 1
		}
		return cmp.Or(cmp.Compare(key(x), key(y)), cmp.Compare(x.Worst, y.Worst), cmp.Compare(x.Gap, y.Gap))
	})
}

// meetings is what meets where a half is plugged into another, cavity by cavity; turned says which cavity comes where, nil: the same. Alike
// tells that each cavity finds what it would find in its own other half, for another device.
func (f *finder) meetings(a, b *Half, turned map[string]string) (out []Meeting, alike bool) {
	part := f.housing[a.Part]
	if part == nil {
		return nil, false
	}
	alike = turned == nil && a.Break == "" && b.Break == ""
	for i := range part.Cavities {
		c := part.Cavities[i].Name
		other := c
		if turned != nil {
			other = turned[c]
		}
		x, y := f.look(a, c, b), f.look(b, other, a)
		if o, ok := f.own(a); ok && alike {
			own := f.look(&o, c, b)
			alike = own.harm == y.harm && kindOf(own.load) == kindOf(y.load)
		}
		h := meet(x, y)
		if h == Harmless {
			continue
		}
		m := Meeting{Cavity: c, Other: other, First: x.Side, Second: y.Side, Harm: h}
		at := c
		if other != c {
			at += " in " + other
		}
		m.Text = fmt.Sprintf("%s: %s meets %s: %s", at, side(&x.Side), side(&y.Side), h)
		out = append(out, m)
	}
	slices.SortStableFunc(out, func(p, q Meeting) int { return cmp.Compare(p.Harm, q.Harm) })
	return design.Exact(out), alike
}

// kindOf is which side of a load is meant, whosever it is.
func kindOf(load string) string {
	for i := len(load) - 1; i >= 0; i-- {
		if load[i] == ',' {
			return load[i:]
		}
	}
	return load
}

func side(s *Side) string {
	if s.Net == "" {
		return s.Text
	}
	return s.Net + " (" + s.Text + ")"
}

// own is what a half is plugged into as it should be.
func (f *finder) own(a *Half) (Half, bool) {
	if f.mate == nil {
		f.mate = map[string]int{}
		for i := range f.out.Halves {
			h := &f.out.Halves[i]
			f.mate[h.cut()+h.side()] = i
		}
	}
	for _, side := range map[string][]string{"0": {"1"}, "1": {"0"}, "wire": {"pin"}, "pin": {"wire"}}[a.side()] {
		if i, ok := f.mate[a.cut()+side]; ok {
			return f.out.Halves[i], true
		}
	}
	return Half{}, false
}
