package net

import (
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// oneEnd finds circuits that lead from nowhere to nowhere else, and circuits whose links do not hang together.
func (b *builder) oneEnd(c *design.Circuit) {
	var parts [][]string
	first := map[string]*design.Link{}
	for i := range c.Links {
		l := &c.Links[i]
		f, t := l.From.String(), l.To.String()
		joined := []string{f, t}
		for _, v := range l.Via { // a post on its way joins it there
			if x := b.breaks[v.Name]; v.Kind == "break" && x != nil && b.isPost(x) {
				joined = append(joined, x.Name)
			}
		}
		var rest [][]string
		for _, p := range parts {
			if slices.ContainsFunc(joined, func(e string) bool { return slices.Contains(p, e) }) {
				joined = append(joined, p...)
			} else {
				rest = append(rest, p)
			}
		}
		slices.SortFunc(joined, design.Natural)
		joined = slices.Compact(joined)
		parts = append(rest, joined)
		for _, e := range joined {
			if first[e] == nil {
				first[e] = l
			}
		}
	}
	slices.SortFunc(parts, func(x, y []string) int { return design.Natural(x[0], y[0]) })
	switch {
	case len(parts) == 0:
		b.problem(Problem{Kind: OneEnd, Circuit: c.Name, Detail: "It has no wire.", Span: c.Span})
	case len(parts) == 1 && len(parts[0]) < 2 && c.Links[0].From.Kind != design.AtSplice:
		b.problem(Problem{Kind: OneEnd, Circuit: c.Name, Detail: "Its only end is " + parts[0][0] + ".", Span: c.Span})
	case len(parts) > 1:
		p := Problem{Kind: CircuitApart, Circuit: c.Name, Span: first[parts[1][0]].Span}
		for i, part := range parts {
			p.Detail += map[bool]string{true: "One part joins ", false: ". Another joins "}[i == 0] + some(part)
			p.Related = append(p.Related, diag.Related{Span: first[part[0]].Span, Text: "the part of " + part[0]})
		}
		p.Detail += "."
		b.problem(p)
	}
}

// deadEnds finds circuits that lead from one end to nothing but splices. Where another circuit meets them in a splice, that is said instead.
// It returns the splices about which nothing more needs to be said.
func (b *builder) deadEnds() (said []string) {
	users := map[string][]*design.Circuit{}
	for _, c := range b.circuits {
		for _, l := range c.Links {
			for _, e := range []design.End{l.From, l.To} {
				if e.Kind == design.AtSplice && !slices.Contains(users[e.Name], c) {
					users[e.Name] = append(users[e.Name], c)
				}
			}
		}
	}
	for _, c := range b.circuits {
		var ends, splices []string
		shared := false
		for _, l := range c.Links {
			for _, e := range []design.End{l.From, l.To} {
				if e.Kind == design.AtSplice {
					splices = append(splices, e.Name)
					shared = shared || len(users[e.Name]) > 1
				} else {
					ends = append(ends, e.String())
				}
			}
		}
		slices.Sort(ends)
		ends = slices.Compact(ends)
		if len(ends) > 1 || len(splices) == 0 || shared {
			continue
		}
		said = append(said, splices...)
		detail := "It has splices only, no end."
		if len(ends) == 1 {
			detail = "Its only end is " + ends[0] + "; a splice is no end."
		}
		b.problem(Problem{Kind: OneEnd, Circuit: c.Name, Detail: detail, Span: c.Span})
	}
	return said
}

// some lists names, at most six.
func some(names []string) string {
	if len(names) > 6 {
		return fmt.Sprintf("%s and %d more", join(names[:6]), len(names)-6)
	}
	return join(names)
}

// finish makes the net of the drafts, and looks at what meets where.
func (b *builder) finish() *Net {
	n := &Net{Space: b.geo, Wires: make([]Wire, 0, len(b.drafts))}
	for _, d := range b.drafts {
		if !d.Loose && len(d.Path) == 0 {
			d.Zone = b.stillZone(&d.Wire)
		}
		if d.Family == "" {
			d.Family = b.family(d)
		}
		n.Wires = append(n.Wires, d.Wire)
	}
	takeUps(b.job, b.geo, n.Wires)
	for i := range n.Wires {
		n.Wires[i].Copper = copper(b.job, b.geo, &n.Wires[i])
	}
	b.listCrossings(n)
	b.listUses(n)
	b.listJoints(n)
	b.leads(n)
	b.postShared(n)
	slices.SortStableFunc(b.problems, compareProblems)
	n.Problems = b.problems
	return n
}

func compareProblems(x, y Problem) int {
	for _, c := range []int{int(x.Kind) - int(y.Kind), design.Natural(x.Circuit, y.Circuit), design.Natural(x.From, y.From), design.Natural(x.To, y.To),
		design.Natural(x.Other, y.Other), design.Natural(x.Break, y.Break), design.Natural(x.Cavity, y.Cavity), design.Natural(x.Detail, y.Detail)} {
		if c != 0 {
			return c
		}
	}
	return 0
}

// order of a crossing in its break: by cavity, those without one last.
func order(c *crossing) int {
	if c.cavity < 0 {
		return math.MaxInt32
	}
	return c.cavity
}

func (b *builder) listCrossings(n *Net) {
	slices.SortStableFunc(b.crossings, func(x, y *crossing) int {
		if x.of != y.of {
			return design.Natural(x.of.Name, y.of.Name)
		}
		for _, c := range []int{order(x) - order(y), x.drafts[0].at - y.drafts[0].at, x.drafts[1].at - y.drafts[1].at} {
			if c != 0 {
				return c
			}
		}
		return 0
	})
	n.Crossings = slices.Grow(n.Crossings, len(b.crossings))
	for _, c := range b.crossings {
		out := Crossing{Break: c.of.Name, Status: c.status, Wires: [2]int{c.drafts[0].at, c.drafts[1].at}, Span: c.drafts[0].Span, Unfused: c.unfused(), Quiet: c.quiet()}
		if c.cavity >= 0 {
			out.Cavity = b.cavities(c.of)[c.cavity].name
		}
		if c.decision != nil {
			out.Decision = c.decision.Span
		}
		n.Crossings = append(n.Crossings, out)
	}
}

// listUses collects what is on each pin. Only a stud may hold several wires or circuits.
func (b *builder) listUses(n *Net) {
	at := map[string]int{}
	for i := range n.Wires {
		for _, t := range n.Wires[i].Ends {
			if t.Kind != InCavity && t.Kind != OnStud {
				continue
			}
			key := t.Device + "." + t.Pin
			k, ok := at[key]
			if !ok {
				k = len(n.Uses)
				at[key] = k
				n.Uses = append(n.Uses, Use{Device: t.Device, Pin: t.Pin})
			}
			n.Uses[k].Wires = append(n.Uses[k].Wires, i)
		}
	}
	n.Uses = slices.Clone(n.Uses) // without the room it grew into
	slices.SortFunc(n.Uses, func(x, y Use) int {
		if x.Device != y.Device {
			return design.Natural(x.Device, y.Device)
		}
		return design.Natural(x.Pin, y.Pin)
	})
	for _, u := range n.Uses {
		p := pinOf(b.devices[u.Device], u.Pin)
		if p == nil || p.Stud != "" || len(u.Wires) < 2 {
			continue
		}
		place := u.Device + "." + u.Pin
		if b.joined(n, u.Wires, place) {
			continue
		}
		w := &n.Wires[u.Wires[0]]
		pr := Problem{Kind: SeveralInCavity, Circuit: w.Circuit, From: w.From, To: w.To, Other: place, Span: n.Wires[u.Wires[1]].Span,
			Detail: fmt.Sprintf("%d wires end there: %s.", len(u.Wires), some(namesOf(n, u.Wires)))}
		pr.Related = related(p.Span, "the pin is declared here")
		b.problem(pr)
	}
}

func namesOf(n *Net, wires []int) []string {
	var out []string
	for _, w := range wires {
		out = append(out, n.Wires[w].Name)
	}
	return out
}

// circuitOf tells circuits apart where wires meet; a screen is none of its cores.
func circuitOf(w *Wire) string {
	if w.Kind == Plain {
		return w.Circuit
	}
	return "the screen of " + w.Circuit
}

// joined records which circuits meet where only one may, each with the first.
func (b *builder) joined(n *Net, wires []int, place string) bool {
	lead := &n.Wires[wires[0]]
	seen := []string{circuitOf(lead)}
	for _, i := range wires[1:] {
		w := &n.Wires[i]
		if slices.Contains(seen, circuitOf(w)) {
			continue
		}
		seen = append(seen, circuitOf(w))
		b.problem(Problem{Kind: CircuitsJoined, Circuit: circuitOf(w), From: w.From, To: w.To, Other: seen[0], Span: w.Span,
			Detail:  fmt.Sprintf("They meet at %s, which is no stud.", place),
			Related: related(lead.Span, seen[0]+" is led there")})
	}
	return len(seen) > 1
}

// jointOf is where a splice is.
func (b *builder) jointOf(s *splice) Joint {
	j := Joint{Splice: s.Name, Section: s.Section, Node: -1, Status: s.Status()}
	if s.chosen || s.Chosen {
		j.Status = design.Computed
	}
	if s.state >= 0 {
		j.Node, j.Section = b.g.nodeOf(s.state), b.g.sectionOf(s.state)
	} else if s.node >= 0 {
		j.Node = s.node
	}
	return j
}

func (b *builder) listJoints(n *Net) {
	said := b.deadEnds()
	in := map[string][]int{} // wires by the splice they end in
	for i := range n.Wires {
		for _, t := range n.Wires[i].Ends {
			if t.Kind == InSplice {
				in[t.Splice] = append(in[t.Splice], i)
			}
		}
	}
	for _, s := range b.spliceList {
		j := b.jointOf(s)
		j.Wires = in[s.Name]
		j.Run, j.To, j.After = s.Along, s.To, s.After
		if j.Node >= 0 && j.Run == "" {
			j.Run, j.After = b.onRun(j.Node, j.Section)
		}
		n.Joints = append(n.Joints, j)
		if len(j.Wires) > 1 {
			b.joined(n, j.Wires, "splice "+s.Name)
			continue
		}
		if b.named(s.Name) > len(j.Wires) && b.named(s.Name) > 1 || slices.Contains(said, s.Name) {
			continue // its links had no way, or its circuit has one end, which is said already
		}
		p := Problem{Kind: SpliceAlone, Other: s.Name, Span: s.Span, Detail: "No wire ends in it."}
		if len(j.Wires) == 1 {
			w := &n.Wires[j.Wires[0]]
			p.Circuit, p.From, p.To = w.Circuit, w.From, w.To
			p.Detail = fmt.Sprintf("Only %s ends in it.", w.Name)
		}
		b.problem(p)
	}
}

// named counts the link ends that name a splice.
func (b *builder) named(splice string) int {
	n := 0
	for _, w := range b.waysAt[splice] {
		for _, e := range []design.End{w.link.From, w.link.To} {
			if e.Kind == design.AtSplice && e.Name == splice {
				n++
			}
		}
	}
	return n
}

// onRun is where along a run of a section a node lies: the first run that has it and on which it can be told from the beginning.
func (b *builder) onRun(node int, section string) (run string, after unit.Length) {
	for _, i := range b.geo.Around(node) {
		e := &b.geo.Edges[i]
		if e.Section != section || e.Stretch > 0 {
			continue
		}
		if s, ok := b.geo.StationOf(e.Run, e.Stretch, node); ok {
			return e.Run, s
		}
	}
	return "", 0
}

// postShared finds stud posts that hold more than one circuit.
func (b *builder) postShared(n *Net) {
	at := map[string][]int{} // wires by the break at which they end
	for i := range n.Wires {
		w := &n.Wires[i]
		for e, t := range w.Ends {
			if e == 0 || t.Break != w.Ends[0].Break {
				at[t.Break] = append(at[t.Break], i)
			}
		}
	}
	for _, x := range b.breakList {
		if !b.isPost(x) {
			continue
		}
		var lead *Wire
		var seen []string
		for _, i := range at[x.Name] {
			w := &n.Wires[i]
			if lead == nil {
				lead = w
				seen = []string{circuitOf(w)}
			}
			if slices.Contains(seen, circuitOf(w)) {
				continue
			}
			seen = append(seen, circuitOf(w))
			b.problem(Problem{Kind: PostShared, Circuit: circuitOf(w), From: w.From, To: w.To, Other: seen[0], Break: x.Name, Span: w.Span,
				Detail: "A stud post holds one circuit.", Related: related(lead.Span, seen[0]+" is led there")})
		}
	}
}
