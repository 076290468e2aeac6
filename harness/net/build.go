package net

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Build routes every link of a job along its runs, cuts it at the breaks it crosses, gives cavities, names and marks. What cannot be
// connected becomes a Problem and stands in nobody else's way. Hints may be nil; the job is not changed.
func Build(job *design.Job, geo *space.Geometry, hints Hints) *Net {
	b := newBuilder(job, geo, hints)
	b.route()
	b.name()
	b.giveCavities()
	b.pinDecisions()
	b.label()
	return b.finish()
}

// Routed is the wires of a job as they lie, with their ends, and the splices with where they are: what Build says of these, in no order, but
// for cavities, names and what a lay takes up.
func Routed(job *design.Job, geo *space.Geometry) *Net {
	b := newBuilder(job, geo, nil)
	b.route()
	n := &Net{Space: geo, Wires: make([]Wire, 0, len(b.drafts))}
	for _, d := range b.drafts {
		n.Wires = append(n.Wires, d.Wire)
	}
	for _, s := range b.spliceList {
		n.Joints = append(n.Joints, b.jointOf(s))
	}
	return n
}

// route lays every link and cuts it into wires.
func (b *builder) route() {
	b.collect()
	b.settleSplices()
	for _, w := range b.ways {
		b.routeWay(w)
	}
	for _, w := range b.ways {
		b.cut(w)
	}
	b.bindCables()
}

func (b *builder) problem(p Problem) { b.problems = append(b.problems, p) }

// collect lists the links to be routed and says which core of a cable takes whose way.
func (b *builder) collect() {
	for _, c := range b.circuits {
		b.oneEnd(c)
		for i := range c.Links {
			l := &c.Links[i]
			if !b.known(l.From) || !b.known(l.To) {
				continue
			}
			w := &way{circuit: c, number: i, link: l, vias: l.Via, class: l.Class}
			if w.class == "" {
				w.class = c.Class
			}
			b.ways = append(b.ways, w)
		}
	}
	b.splitWays()
	for _, cable := range b.cables {
		if cable.From == nil && cable.To == nil {
			b.lead(cable)
		}
	}
}

// lead makes the links of a cable's further circuits take the way of the first circuit's link between the same places. A link with
// a `via` of its own keeps it, and the cable is then found to be apart.
func (b *builder) lead(cable *design.Cable) {
	if len(cable.Holds) == 0 {
		return
	}
	for k, name := range cable.Holds {
		if slices.Contains(cable.Holds[:k], name) {
			continue
		}
		for _, w := range b.waysOf[name] {
			if k > 0 && w.lead == nil && len(w.link.Via) == 0 {
				w.lead = b.leadOf(w, cable.Holds[0])
			}
		}
	}
}

// leadOf is the first link of a circuit between the places of another link; nil if it has none.
func (b *builder) leadOf(w *way, circuit string) *way {
	for _, l := range b.waysOf[circuit] {
		if l.lead != nil || l.link.Loose != w.link.Loose {
			continue
		}
		if b.samePlace(l.link.From, w.link.From) && b.samePlace(l.link.To, w.link.To) ||
			b.samePlace(l.link.From, w.link.To) && b.samePlace(l.link.To, w.link.From) {
			return l
		}
	}
	return nil
}

// samePlace tells whether two ends are of one device, or lie at one node.
func (b *builder) samePlace(x, y design.End) bool {
	if x.Kind == design.AtPin && y.Kind == design.AtPin && x.Name == y.Name {
		return true
	}
	n := b.nodeOf(x)
	return n >= 0 && n == b.nodeOf(y) || x.Kind == y.Kind && x.Kind != design.AtPin && x.Name == y.Name
}

// routeWay finds the way of one link.
func (b *builder) routeWay(w *way) {
	if w.link.Loose || w.found {
		return
	}
	for _, e := range []design.End{w.link.From, w.link.To} {
		if e.Kind == design.AtBreak {
			x := b.breaks[e.Name]
			if !b.isPost(x) {
				if len(b.cavities(x)) > 0 {
					b.linkProblem(NotAPost, w, fmt.Sprintf("%s is not a stud post: wires pass it by its cavities, none ends there.", x.Name)).Break = x.Name
				}
				return
			}
		}
	}
	q := b.ask(w)
	if l := w.lead; l != nil && !l.link.Loose {
		b.routeWay(l)
		if l.found {
			r := l.route
			if b.samePlace(l.link.From, w.link.To) && !b.samePlace(l.link.From, w.link.From) {
				r = b.g.reverse(r)
			}
			end := r.start
			if len(r.arcs) > 0 {
				end = r.arcs[len(r.arcs)-1].to
			}
			if slices.Contains(q.starts, r.start) && slices.Contains(q.ends, end) {
				w.route, w.found = r, true
				return
			}
		}
		q.vias = l.vias
		q.class = l.class
	}
	if r, ok := b.findOnce(q); ok {
		w.route, w.found = r, true
		return
	}
	if b.jumper(w) {
		return
	}
	b.noWay(w, q)
}

func (b *builder) ask(w *way) *ask {
	q := b.askFrom(w)
	q.starts, q.ends = b.statesOf(w.link.From), b.statesOf(w.link.To)
	return q
}

// askFrom is what a link has to do on its way, wherever it begins and ends.
func (b *builder) askFrom(w *way) *ask {
	q := &ask{vias: w.vias, class: w.class}
	for _, e := range []design.End{w.link.From, w.link.To} {
		if e.Kind == design.AtBreak {
			q.posts = append(q.posts, e.Name)
		}
	}
	return q
}

// jumper tells whether a link joins two pins of one place that no run reaches.
func (b *builder) jumper(w *way) bool {
	f, t := w.link.From, w.link.To
	if f.Kind != design.AtPin || t.Kind != design.AtPin || len(w.vias) > 0 {
		return false
	}
	k, _ := b.spotOf(f)
	o, _ := b.spotOf(t)
	return k != "" && k == o && b.geo.Find(k) < 0
}

// cut turns a link into wires: a piece in each section it passes, times its parallel strands.
func (b *builder) cut(w *way) {
	switch {
	case w.link.Loose:
		b.loose(w, w.link.LooseSection, w.link.LooseLength.Nominal)
		return
	case !w.found:
		if b.jumper(w) {
			b.loose(w, b.devices[w.link.From.Name].Section, 0)
		}
		return
	}
	type part struct {
		section string
		first   int // state
		last    int
		steps   []Step
		door    int // by which it leaves; -1 for the last
		half    int // of that door, on this side
	}
	parts := []part{{section: b.g.sectionOf(w.route.start), first: w.route.start, last: w.route.start, door: -1}}
	for _, a := range w.route.arcs {
		p := &parts[len(parts)-1]
		if a.edge >= 0 {
			p.steps = append(p.steps, Step{Edge: a.edge, Reverse: a.reverse})
			p.last = a.to
			continue
		}
		p.door = a.door
		if b.g.doors[a.door].states[1] == p.last {
			p.half = 1
		}
		parts = append(parts, part{section: b.g.sectionOf(a.to), first: a.to, last: a.to, door: -1})
	}
	for i := range parts {
		parts[i].steps = slices.Clone(parts[i].steps) // without the room it grew into
	}
	for strand := range max(1, min(w.link.Parallel, mostParallel)) {
		var before *draft
		for i, p := range parts {
			d := b.draft(w, p.section)
			d.Piece, d.Strand, d.Path = i, strand, p.steps
			length, known := b.g.length(p.steps)
			d.Length, d.Unmeasured = length, !known
			if i == 0 {
				d.From = w.link.From.String()
				d.Ends[0] = b.termination(w.link.From, p.first, p.section)
			} else {
				last := parts[i-1]
				x := b.g.doors[last.door].of
				d.From = x.Name
				d.Ends[0] = b.atBreak(x, 1-last.half, p.first)
				c := &crossing{of: x, cavity: -1}
				c.drafts[last.half], c.drafts[1-last.half] = before, d
				b.crossings = append(b.crossings, c)
			}
			if p.door < 0 {
				d.To = w.link.To.String()
				d.Ends[1] = b.termination(w.link.To, p.last, p.section)
			} else {
				x := b.g.doors[p.door].of
				d.To = x.Name
				d.Ends[1] = b.atBreak(x, p.half, p.last)
			}
			before = d
			b.drafts = append(b.drafts, d)
		}
	}
}

// mostParallel bounds the strands of one link against a slip of the pen.
const mostParallel = 1000

// draft is a wire of a link with all that the link says.
func (b *builder) draft(w *way, section string) *draft {
	l := w.link
	d := &draft{circuit: w.circuit, link: l}
	d.Wire = Wire{Circuit: w.circuit.Name, Link: w.number, Section: section, Class: w.class, Family: l.Wire, Stated: l.Size, Floor: l.Floor, Colour: l.Colour,
		Core: -1, Carries: l.Carries.Nominal, Sleeve: l.Sleeve, Span: l.Span}
	if d.Span.IsZero() {
		d.Span = w.circuit.Span
	}
	if l.LooseZone != "" {
		d.Zone = l.LooseZone
	}
	var via []string
	for _, v := range l.Via {
		via = append(via, v.Kind+" "+v.Name)
	}
	d.sort = strings.Join([]string{l.From.String(), l.To.String(), strings.Join(via, ","), l.Size.String(), l.Colour, l.LooseLength.Nominal.String()}, "\x00")
	return d
}

// loose makes the one wire of a lead that follows no run.
func (b *builder) loose(w *way, section string, length unit.Length) {
	if section == "" {
		section = b.onlySection(w)
	}
	d := b.draft(w, section)
	if section == "" && len(b.job.Sections) > 0 {
		b.linkProblem(SectionUnknown, w, "It follows no run, so nothing tells with which section it comes away: write its section.")
	}
	if !unit.Finite(length) || length < 0 {
		length = 0
	}
	d.Loose, d.LooseLength, d.Length = true, length, length
	d.From, d.To = w.link.From.String(), w.link.To.String()
	for i, e := range []design.End{w.link.From, w.link.To} {
		state := -1
		for _, s := range b.statesOf(e) {
			if state < 0 || b.g.sectionOf(s) == section {
				state = s
			}
		}
		d.Ends[i] = b.termination(e, state, section)
		d.Zone = cmp.Or(d.Zone, b.zoneAt(b.nodeOf(e), section))
	}
	if d.Zone == "" {
		for _, e := range []design.End{w.link.From, w.link.To} {
			if dev := b.devices[e.Name]; e.Kind == design.AtPin && dev != nil {
				d.Zone = cmp.Or(d.Zone, dev.Zone)
			}
		}
	}
	for strand := range max(1, min(w.link.Parallel, mostParallel)) {
		c := *d
		c.Strand = strand
		b.drafts = append(b.drafts, &c)
	}
}

// onlySection is the section that both ends of a loose lead leave no doubt about, else that of the first end of which one is known, else
// the job's only one.
func (b *builder) onlySection(w *way) string {
	var known []string
	for _, e := range []design.End{w.link.From, w.link.To} {
		var here []string
		for _, s := range b.statesOf(e) {
			here = append(here, b.g.sectionOf(s))
		}
		if len(here) == 0 && e.Kind == design.AtPin {
			if s := b.devices[e.Name].Section; s != "" {
				here = append(here, s)
			}
		}
		if len(here) == 1 {
			known = append(known, here[0])
		}
	}
	if len(known) > 0 && known[0] == known[len(known)-1] {
		return known[0]
	}
	if len(b.job.Sections) == 1 {
		return b.job.Sections[0].Name
	}
	return ""
}

// zoneAt is the zone of the first run that reaches a node, of those of the section if there is one.
func (b *builder) zoneAt(node int, section string) string {
	zone := ""
	if node < 0 {
		return zone
	}
	for _, e := range b.geo.Around(node) {
		if b.geo.Edges[e].Section == section {
			return b.geo.Edges[e].Zone
		}
		zone = cmp.Or(zone, b.geo.Edges[e].Zone)
	}
	return zone
}

// termination is an end of a link as an end of a wire. State is where the wire ends, -1 for a loose lead off the runs.
func (b *builder) termination(e design.End, state int, section string) Termination {
	t := Termination{Node: -1, Housing: -1, Status: design.Stated}
	if state >= 0 {
		t.Node = b.g.nodeOf(state)
	}
	switch e.Kind {
	case design.AtSplice:
		t.Kind, t.Splice = InSplice, e.Name
	case design.AtBreak:
		x := b.breaks[e.Name]
		half := 0
		if x.Halves[1].Section == section {
			half = 1
		}
		t = b.atBreak(x, half, state)
		t.Status = design.Stated
		if cs := b.cavities(x); len(cs) > 0 {
			t.Cavity = cs[0].name
		}
	default:
		t.Kind, t.Device, t.Pin = InCavity, e.Name, e.Pin
		if p := pinOf(b.devices[e.Name], e.Pin); p != nil {
			t.Housing, t.Cavity = p.Housing, p.Cavity
			if p.Stud != "" {
				t.Kind, t.Thread, t.Torque = OnStud, p.Stud, p.Torque
			}
		}
	}
	return t
}

// atBreak is a wire's end in a half of a break; its cavity is given later.
func (b *builder) atBreak(x *design.Break, half, state int) Termination {
	t := Termination{Kind: InHalf, Break: x.Name, Half: half, Housing: -1, Node: -1}
	if b.isPost(x) {
		t.Kind = OnPost
	}
	if state >= 0 {
		t.Node = b.g.nodeOf(state)
	}
	return t
}

// family is the wire part that the settings rule for a wire that names none. Over a way through several runs and zones the narrowest
// line rules; of equals the family whose insulation stands the most heat, since the hottest zone decides.
func (b *builder) family(d *draft) string {
	at := design.Scope{Circuit: d.Circuit, Class: d.Class, Section: d.Section, Zone: d.Zone}
	if len(d.Path) == 0 {
		return b.job.Settings.Get("wire", at).Value.Name
	}
	var best design.Ruling
	for k, s := range d.Path {
		e := &b.geo.Edges[s.Edge]
		at.Run, at.Zone = e.Run, e.Zone
		if r := b.job.Settings.Get("wire", at); k == 0 || r.Rank < best.Rank || r.Rank == best.Rank && b.stands(r.Value.Name) > b.stands(best.Value.Name) {
			best = r
		}
	}
	return best.Value.Name
}

// stands is the heat that a wire family's insulation stands.
func (b *builder) stands(family string) unit.Temperature {
	for _, w := range b.job.Parts.Wires {
		if w.Name == family {
			return w.Heat
		}
	}
	return 0
}

// stillZone is the zone of a wire that has no way: that of a device at one of its ends, else of a run that meets it.
func (b *builder) stillZone(w *Wire) string {
	zone := ""
	for e := range w.Ends {
		if d := b.devices[w.Ends[e].Device]; d != nil {
			zone = cmp.Or(zone, d.Zone)
		}
	}
	for e := range w.Ends {
		zone = cmp.Or(zone, b.zoneAt(w.Ends[e].Node, w.Section))
	}
	return zone
}
