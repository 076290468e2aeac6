package net

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// builder holds what is being worked out for one job. Its lists are sorted copies; the job itself is never changed.
type builder struct {
	job   *design.Job
	geo   *space.Geometry
	hints Hints
	g     *graph

	devices  map[string]*design.Device
	breaks   map[string]*design.Break
	splices  map[string]*splice
	housings map[string]*design.Housing
	contacts map[string]*design.Contact
	families map[string]*design.Wire
	panels   map[string]bool

	breakList  []*design.Break
	spliceList []*splice
	circuits   []*design.Circuit
	cables     []*design.Cable

	ways      []*way
	waysAt    map[string][]*way // by splice
	waysOf    map[string][]*way // by circuit
	found     map[string]route  // by what was asked; start -1: there is none
	drafts    []*draft
	crossings []*crossing
	problems  []Problem
}

// splice is a splice with the state it sits in.
type splice struct {
	*design.Splice
	placed bool // by a person
	node   int  // -1 unknown
	state  int  // -1 not settled, or no run of its section reaches it
	chosen bool // by the program
}

// draft is a wire before it has its place in the list.
type draft struct {
	Wire
	base    string // name without its ordinal
	circuit *design.Circuit
	link    *design.Link
	sort    string // settles the order of wires of one name
	at      int    // index in the net, at the end
	unfused bool   // it hangs on a supply with no fuse between
	quiet   bool   // a signal, a screen, or metal that leads to a minus
}

// crossing is a passage through a break before cavities are given.
type crossing struct {
	of       *design.Break
	drafts   [2]*draft // by half
	cavity   int       // index into the break's cavities, -1 none
	status   design.Status
	decision *design.CavityDecision
}

// way is a link with its route.
type way struct {
	circuit *design.Circuit
	number  int // of the link in its circuit
	link    *design.Link
	route   route
	found   bool
	lead    *way // of a cable: the core whose way it takes
	vias    []design.Via
	class   string
}

func newBuilder(job *design.Job, geo *space.Geometry, hints Hints) *builder {
	b := &builder{job: job, geo: geo, hints: hints, found: map[string]route{},
		devices: map[string]*design.Device{}, breaks: map[string]*design.Break{}, splices: map[string]*splice{},
		housings: map[string]*design.Housing{}, contacts: map[string]*design.Contact{}, families: map[string]*design.Wire{}}
	for _, d := range job.Devices {
		if !d.Pattern {
			first(b.devices, d.Name, d)
		}
	}
	for _, x := range sorted(job.Breaks, func(x *design.Break) string { return x.Name }) {
		if _, twice := b.breaks[x.Name]; !twice {
			b.breaks[x.Name] = x
			b.breakList = append(b.breakList, x)
		}
	}
	for _, x := range job.Parts.Housings {
		first(b.housings, x.Name, x)
	}
	for _, x := range job.Parts.Contacts {
		first(b.contacts, x.Name, x)
	}
	for _, x := range job.Parts.Wires {
		first(b.families, x.Name, x)
	}
	b.circuits = sorted(job.Circuits, func(c *design.Circuit) string { return c.Name })
	b.cables = sorted(job.Cables, func(c *design.Cable) string { return c.Name })
	b.g = newGraph(geo, b.breakList, b.isPost)
	for _, x := range sorted(job.Splices, func(x *design.Splice) string { return x.Name }) {
		if _, twice := b.splices[x.Name]; twice {
			continue
		}
		s := &splice{Splice: x, node: geo.Find(placeKey(x.Name, x.Spot)), state: -1}
		s.placed = s.node >= 0 || x.Known
		b.splices[x.Name] = s
		b.spliceList = append(b.spliceList, s)
	}
	return b
}

func first[T any](m map[string]T, name string, x T) {
	if _, ok := m[name]; !ok {
		m[name] = x
	}
}

// sorted is a copy of a list by natural order of names.
func sorted[T any](list []T, name func(T) string) []T {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b T) int { return design.Natural(name(a), name(b)) })
	return out
}

// isPost tells whether a break is a stud post: its housing has one cavity, with a stud.
func (b *builder) isPost(x *design.Break) bool {
	for _, h := range x.Halves {
		if p := b.housings[h.Housing]; p != nil {
			return len(p.Cavities) == 1 && p.Cavities[0].Stud != ""
		}
	}
	return false
}

// pin finds a pin of a device; nil if there is none.
func pinOf(d *design.Device, name string) *design.Pin {
	if d == nil {
		return nil
	}
	for i := range d.Pins {
		if d.Pins[i].Name == name {
			return &d.Pins[i]
		}
	}
	return nil
}

// spotOf is where an end of a link is: a pin's own place, else its housing's, else the device's.
func (b *builder) spotOf(e design.End) (key string, s design.Spot) {
	switch e.Kind {
	case design.AtSplice:
		if x := b.splices[e.Name]; x != nil {
			return placeKey(x.Name, x.Spot), x.Spot
		}
	case design.AtBreak:
		if x := b.breaks[e.Name]; x != nil {
			return placeKey(x.Name, x.Spot), x.Spot
		}
	default:
		d := b.devices[e.Name]
		if d == nil {
			break
		}
		if p := pinOf(d, e.Pin); p != nil {
			if own(p.Spot) {
				return placeKey(d.Name+"."+p.Name, p.Spot), p.Spot
			}
			if p.Housing >= 0 && p.Housing < len(d.Housings) && own(d.Housings[p.Housing].Spot) {
				h := d.Housings[p.Housing]
				return placeKey(d.Name, h.Spot), h.Spot
			}
		}
		return placeKey(d.Name, d.Spot), d.Spot
	}
	return "", design.Spot{}
}

func own(s design.Spot) bool { return s.Known || s.Node != "" }

// known tells whether the thing an end names exists; if not, a message about that was given when the text was read.
func (b *builder) known(e design.End) bool {
	switch e.Kind {
	case design.AtSplice:
		return b.splices[e.Name] != nil
	case design.AtBreak:
		return b.breaks[e.Name] != nil
	}
	return b.devices[e.Name] != nil
}

// nodeOf is the node of an end, -1 if no run has it.
func (b *builder) nodeOf(e design.End) int {
	if e.Kind == design.AtSplice {
		return b.splices[e.Name].node
	}
	key, _ := b.spotOf(e)
	if key == "" {
		return -1
	}
	return b.geo.Find(key)
}

// statesOf lists the states in which a link may meet an end. A splice that is not settled yet has those of its node and section.
func (b *builder) statesOf(e design.End) []int {
	switch e.Kind {
	case design.AtSplice:
		s := b.splices[e.Name]
		if s.state >= 0 {
			return []int{s.state}
		}
		return b.seats(s)
	case design.AtBreak:
		if i, ok := b.g.doorOf[b.breaks[e.Name]]; ok {
			d := b.g.doors[i].states
			return d[:]
		}
		return nil
	}
	if n := b.nodeOf(e); n >= 0 {
		return b.g.at(n)
	}
	return nil
}

// cavities lists the cavities that both halves of a break have, by index into the housing of half 0 (half 1 if that is not known);
// nil when neither housing is known.
func (b *builder) cavities(x *design.Break) []cavity {
	h0, h1 := b.housings[x.Halves[0].Housing], b.housings[x.Halves[1].Housing]
	if h0 == nil {
		h0 = h1
	}
	if h1 == nil {
		h1 = h0
	}
	if h0 == nil {
		return nil
	}
	var out []cavity
	for i := range h0.Cavities {
		for j := range h1.Cavities {
			if h0.Cavities[i].Name == h1.Cavities[j].Name {
				out = append(out, cavity{name: h0.Cavities[i].Name, halves: [2]*design.HousingCavity{&h0.Cavities[i], &h1.Cavities[j]}})
				break
			}
		}
	}
	return out
}

// cavity is one cavity of a break on both its halves.
type cavity struct {
	name   string
	halves [2]*design.HousingCavity
}

// capacity is the largest conductor a cavity takes, by area; ok is false if that is not known or without limit (a stud, a cavity or
// contact of which nothing is said).
func (b *builder) capacity(c cavity) (most unit.Area, ok bool) {
	for _, h := range c.halves {
		here := unit.Area(0)
		for _, t := range h.Takes {
			k := b.contacts[t]
			if k == nil || k.WireMost.IsZero() {
				return 0, false
			}
			here = max(here, k.WireMost.Area())
		}
		if h.Stud != "" || len(h.Takes) == 0 {
			continue
		}
		if !ok || here < most {
			most, ok = here, true
		}
	}
	return most, ok
}

// takes tells whether some contact of a half of a cavity accepts a size. Loosely, a size below the least of a contact will do, for
// a wire whose size may still grow.
func (b *builder) takes(h *design.HousingCavity, n Need, loosely bool) bool {
	if n == (Need{}) || h.Stud != "" || len(h.Takes) == 0 {
		return true
	}
	a := n.Size.Area()
	for _, t := range h.Takes {
		k := b.contacts[t]
		if k == nil {
			return true
		}
		fits := n.Size.IsZero() || k.WireMost.IsZero() || a <= k.WireMost.Area() && (loosely || k.WireLeast.Area() <= a)
		if fits && (loosely || !k.Rating.Given || n.Amps <= k.Rating.Nominal) {
			return true
		}
	}
	return false
}
