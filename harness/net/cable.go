package net

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

// bindCables marks the wires of each cable with their cores, and adds screens and the cores nobody uses.
func (b *builder) bindCables() {
	of := map[string][]*draft{} // as long as there are no spare cores and screens
	for _, d := range b.drafts {
		of[d.Circuit] = append(of[d.Circuit], d)
	}
	for _, c := range b.cables {
		bought := b.families[c.Wire]
		if bought != nil && len(bought.Cores) > 0 && len(c.Holds) > len(bought.Cores) {
			b.problem(Problem{Kind: CoresShort, Other: c.Name, Span: c.Span,
				Detail: fmt.Sprintf("%s has %d cores and is to hold %d circuits.", bought.Name, len(bought.Cores), len(c.Holds))})
		}
		cores := make([][]*draft, len(c.Holds))
		for i, name := range c.Holds {
			all := of[name]
			cores[i] = b.between(c, all)
			if len(cores[i]) == 0 && len(all) > 0 {
				b.problem(Problem{Kind: CableApart, Circuit: name, Other: c.Name, Span: c.Span,
					Detail: fmt.Sprintf("No wires of %s lead from %s to %s.", name, c.From, c.To)})
			}
			for _, d := range cores[i] {
				if d.Cable != "" {
					continue
				}
				d.Cable, d.Core = c.Name, i
				if c.Wire != "" {
					d.Family = c.Wire
				}
				if bought != nil && i < len(bought.Cores) {
					d.Colour, d.Stated = bought.Cores[i].Colour, bought.Cores[i].Size
				}
			}
		}
		b.apartCable(c, cores)
		chains := chainsOf(cores)
		if bought != nil {
			for i := len(c.Holds); i < len(bought.Cores); i++ {
				b.spare(c, bought.Cores[i], i, chains)
			}
		}
		if len(c.Screen) > 0 || bought != nil && bought.Screen != nil {
			b.screen(c, chains)
		}
	}
}

// between picks the wires on the way from the cable's one end to its other; all of them if it is the whole circuit.
func (b *builder) between(c *design.Cable, all []*draft) []*draft {
	if c.From == nil || c.To == nil {
		return all
	}
	vertex := func(t Termination) string { return t.Device + "\x00" + t.Splice + "\x00" + t.Break }
	type hop struct {
		at string
		by *draft
	}
	came := map[string]hop{}
	var todo []string
	for _, d := range all {
		for _, t := range d.Ends {
			if v := vertex(t); b.isAt(t, *c.From) {
				if _, ok := came[v]; !ok {
					came[v] = hop{}
					todo = append(todo, v)
				}
			}
		}
	}
	for len(todo) > 0 {
		v := todo[0]
		todo = todo[1:]
		for _, d := range all {
			for i, t := range d.Ends {
				far := d.Ends[1-i]
				if vertex(t) != v {
					continue
				}
				if _, ok := came[vertex(far)]; ok {
					continue
				}
				came[vertex(far)] = hop{v, d}
				if b.isAt(far, *c.To) {
					return onWay(all, func(yield func(*draft)) {
						for at := vertex(far); came[at].by != nil; at = came[at].at {
							yield(came[at].by)
						}
					})
				}
				todo = append(todo, vertex(far))
			}
		}
	}
	return nil
}

// onWay picks the wires of the given pieces, all their parallel strands, in their old order.
func onWay(all []*draft, pieces func(func(*draft))) []*draft {
	var out []*draft
	pieces(func(p *draft) {
		for _, d := range all {
			if d.Link == p.Link && d.Piece == p.Piece {
				out = append(out, d)
			}
		}
	})
	slices.SortStableFunc(out, func(x, y *draft) int { return slices.Index(all, x) - slices.Index(all, y) })
	return out
}

// isAt tells whether a wire ends at a place that a cable's end names: the same device, splice or break, or the same node.
func (b *builder) isAt(t Termination, e design.End) bool {
	switch {
	case !b.known(e):
		return false
	case e.Kind == design.AtPin && t.Device == e.Name, e.Kind == design.AtSplice && t.Splice == e.Name, e.Kind == design.AtBreak && t.Break == e.Name:
		return true
	}
	return t.Node >= 0 && t.Node == b.nodeOf(e) && t.Break == ""
}

// apartCable compares the ways of the cores: each must lie in the edges of the first.
func (b *builder) apartCable(c *design.Cable, cores [][]*draft) {
	lead := -1
	var edges []int
	for i, ds := range cores {
		if len(ds) == 0 {
			continue
		}
		mine := edgesOf(ds)
		if lead < 0 {
			lead, edges = i, mine
			continue
		}
		if slices.Equal(edges, mine) {
			continue
		}
		detail := ""
		for _, x := range []struct {
			a, b       []int
			who, other string
		}{{edges, mine, c.Holds[lead], c.Holds[i]}, {mine, edges, c.Holds[i], c.Holds[lead]}} {
			var runs []string
			for _, e := range x.a {
				if !slices.Contains(x.b, e) && !slices.Contains(runs, b.geo.Edges[e].Run) {
					runs = append(runs, b.geo.Edges[e].Run)
				}
			}
			if len(runs) > 0 {
				detail += fmt.Sprintf("%s goes by %s, %s does not. ", x.who, join(runs), x.other)
			}
		}
		p := Problem{Kind: CableApart, Circuit: c.Holds[i], Other: c.Name, Span: c.Span, Detail: strings.TrimSpace(detail)}
		p.Related = []diag.Related{{Span: cores[lead][0].Span, Text: c.Holds[lead] + " is led here"}, {Span: cores[i][0].Span, Text: c.Holds[i] + " is led here"}}
		b.problem(p)
	}
}

func edgesOf(ds []*draft) []int {
	var out []int
	for _, d := range ds {
		for _, s := range d.Path {
			out = append(out, s.Edge)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// chainsOf lists, for each link of the first core that has wires, its pieces in order.
func chainsOf(cores [][]*draft) [][]*draft {
	var lead []*draft
	for _, ds := range cores {
		if len(ds) > 0 {
			lead = ds
			break
		}
	}
	var out [][]*draft
	for _, d := range lead {
		if d.Strand > 0 {
			continue
		}
		if n := len(out); n > 0 {
			last := out[n-1][len(out[n-1])-1]
			if last.Link == d.Link && last.Piece+1 == d.Piece {
				out[n-1] = append(out[n-1], d)
				continue
			}
		}
		out = append(out, []*draft{d})
	}
	slices.SortStableFunc(out, func(x, y []*draft) int { return cmp.Compare(x[0].sort, y[0].sort) })
	return out
}

// along is a further wire beside a piece of a cable.
func along(c *design.Cable, d *draft, kind WireKind) *draft {
	n := &draft{sort: d.sort}
	n.Wire = Wire{Circuit: c.Name, From: d.From, To: d.To, Link: -1, Piece: d.Piece, Kind: kind, Section: d.Section, Class: d.Class, Family: c.Wire,
		Cable: c.Name, Core: -1, Path: slices.Clone(d.Path), Loose: d.Loose, LooseLength: d.LooseLength, Zone: d.Zone, Length: d.Length,
		Unmeasured: d.Unmeasured, Sleeve: d.Sleeve, Span: c.Span}
	for i, near := range []string{d.From, d.To} {
		n.Ends[i] = Termination{Kind: CutBack, Near: near, Housing: -1, Node: d.Ends[i].Node}
	}
	return n
}

// spare adds a core nobody uses: it lies in every piece, cut back at both ends.
func (b *builder) spare(c *design.Cable, core design.WireCore, i int, chains [][]*draft) {
	for _, ch := range chains {
		for _, d := range ch {
			s := along(c, d, Spare)
			s.Core, s.Colour, s.Stated = i, core.Colour, core.Size
			b.drafts = append(b.drafts, s)
		}
	}
}

// earth is a pin that earths a screen at one end of a chain.
type earth struct {
	pin  design.PinRef
	lead []Step // from the chain's end to the pin
}

// screen adds the screen of a cable, chain by chain. It goes through breaks in a cavity of its own; an end without a pin that earths it is
// cut back. Where nothing earths a chain its screen is cut back at both ends of each piece.
func (b *builder) screen(c *design.Cable, chains [][]*draft) {
	earths := make([][2]*earth, len(chains))
	pins := slices.Clone(c.Screen)
	slices.SortStableFunc(pins, func(x, y design.PinRef) int { return design.Natural(x.String(), y.String()) })
	for _, p := range pins {
		b.earth(c, p, chains, earths)
	}
	for i, ch := range chains {
		var before *draft
		for j, d := range ch {
			s := along(c, d, Screen)
			if e := earths[i][0]; e != nil && j == 0 {
				b.tie(s, 0, e)
			}
			if e := earths[i][1]; e != nil && j == len(ch)-1 {
				b.tie(s, 1, e)
			}
			if j > 0 && (earths[i][0] != nil || earths[i][1] != nil) {
				x := b.breaks[d.Ends[0].Break]
				s.Ends[0], before.Ends[1] = d.Ends[0], ch[j-1].Ends[1]
				cr := &crossing{of: x, cavity: -1}
				cr.drafts[d.Ends[0].Half], cr.drafts[1-d.Ends[0].Half] = s, before
				b.crossings = append(b.crossings, cr)
			}
			b.drafts = append(b.drafts, s)
			before = s
		}
	}
}

// tie ends a screen at its earthing pin.
func (b *builder) tie(s *draft, end int, e *earth) {
	pin := design.End{Kind: design.AtPin, Name: e.pin.Device, Pin: e.pin.Pin, Span: e.pin.Span}
	s.Ends[end] = b.termination(pin, -1, s.Section)
	s.Ends[end].Node = b.nodeOf(pin)
	if end == 0 {
		s.From = e.pin.String()
		s.Path = append(reversed(e.lead), s.Path...)
	} else {
		s.To = e.pin.String()
		s.Path = append(s.Path, e.lead...)
	}
	if !s.Loose {
		l, known := b.g.length(s.Path)
		s.Length, s.Unmeasured = l, !known
	}
}

func reversed(steps []Step) []Step {
	out := make([]Step, 0, len(steps))
	for i := len(steps) - 1; i >= 0; i-- {
		out = append(out, Step{Edge: steps[i].Edge, Reverse: !steps[i].Reverse})
	}
	return out
}

// earth finds the end of a chain that a pin earths: one at the same device, else at the same node, else the nearest along the runs of its
// section.
func (b *builder) earth(c *design.Cable, p design.PinRef, chains [][]*draft, earths [][2]*earth) {
	pin := design.End{Kind: design.AtPin, Name: p.Device, Pin: p.Pin, Span: p.Span}
	if !b.known(pin) {
		return
	}
	node := b.nodeOf(pin)
	found, own, least := false, false, int64(0)
	chain, end := 0, 0
	var lead []Step
	for i, ch := range chains {
		for e, d := range [2]*draft{ch[0], ch[len(ch)-1]} {
			t := d.Ends[e]
			here := t.Device == p.Device
			steps, cost, ok := b.toPin(d, t.Node, node)
			if d.Loose {
				steps, cost, ok = nil, 0, here || ok && len(steps) == 0
			}
			if earths[i][e] != nil || !ok {
				continue
			}
			if !found || here && !own || here == own && cost < least {
				found, own, least, chain, end, lead = true, here, cost, i, e, steps
			}
		}
	}
	if !found {
		b.problem(Problem{Kind: NoWay, Circuit: c.Name, From: p.String(), To: c.Name, Span: c.Span,
			Detail: fmt.Sprintf("The screen of cable %s has no end that could be earthed at %s within one section.", c.Name, p)})
		return
	}
	earths[chain][end] = &earth{p, lead}
}

// toPin is the way from the end of a chain to an earthing pin, within the section of its piece.
func (b *builder) toPin(d *draft, from, to int) (steps []Step, cost int64, ok bool) {
	if from < 0 || to < 0 {
		return nil, 0, false
	}
	if from == to {
		return nil, 0, true
	}
	s, okS := b.g.index[state{from, b.g.section(d.Section)}]
	e, okE := b.g.index[state{to, b.g.section(d.Section)}]
	if !okS || !okE {
		return nil, 0, false
	}
	r, ok := b.g.find(&ask{starts: []int{s}, ends: []int{e}, sealed: true})
	if !ok {
		return nil, 0, false
	}
	for _, a := range r.arcs {
		steps = append(steps, Step{Edge: a.edge, Reverse: a.reverse})
	}
	return steps, r.cost, true
}

// join is "a, b and c".
func join(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

func related(span diag.Span, text string) []diag.Related {
	return []diag.Related{{Span: span, Text: text}}
}
