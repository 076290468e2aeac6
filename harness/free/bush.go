package free

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// ending is one end beyond a bush.
type ending struct {
	wire int
	text string
	size unit.Length // across what must pass; 0: no more than the wire, or not known
	plug bool        // its contact can be drawn from its housing
	free string      // what is unpinned
}

// bushes looks at the bundles of what comes away that are threaded through a bush: the ends of one side must pass its bore. A plug does not
// where it is larger; by a section alone it can be unpinned, and a step says so, but a removal is to come apart at what it lists.
func (p *part) bushes() {
	f := p.f
	if f.nt.Space == nil {
		return
	}
	for _, i := range p.within(func(s *within) []int { return s.bushes }) {
		pt := f.job.Points[i]
		n := f.bushNode(pt)
		sides := p.through(n)
		if len(sides[0])+len(sides[1]) == 0 {
			continue
		}
		var stuck [2]*ending
		unpin := [2][]string{}
		for s := range sides {
			for i := range sides[s] {
				e := &sides[s][i]
				if e.size <= pt.Bush {
					continue
				}
				if e.plug && p.Alone {
					if !slices.Contains(unpin[s], e.free) {
						unpin[s] = append(unpin[s], e.free)
					}
					continue
				}
				if stuck[s] == nil || e.size > stuck[s].size {
					stuck[s] = e
				}
			}
		}
		switch {
		case stuck[0] != nil && stuck[1] != nil:
			w := &f.nt.Wires[stuck[0].wire]
			p.Ties = append(p.Ties, Tie{Kind: ByBush, Name: pt.Name, Label: w.Label, Cable: w.Cable, Ends: [2]string{w.From, w.To}, At: "bush " + pt.Name, Group: "bush " + pt.Name,
				Place: placeText(pt.Panel, pt.Spot), Span: p.Span,
				Text: fmt.Sprintf("%s goes through bush %s, bore %s: neither %s, %s, nor %s, %s, passes it.", f.wireText(stuck[0].wire), pt.Name, pt.Bush,
					stuck[0].text, stuck[0].size, stuck[1].text, stuck[1].size),
				Mend: "Put a break at the panel, or a larger bush."})
		default:
			// By the side on which less is unpinned, fewer and smaller ends are drawn through.
			s := 0
			if stuck[0] != nil || stuck[1] == nil && cmp.Or(cmp.Compare(len(unpin[1]), len(unpin[0])), cmp.Compare(len(sides[1]), len(sides[0])), cmp.Compare(largest(sides[1]), largest(sides[0]))) < 0 {
				s = 1
			}
			text := fmt.Sprintf("Draw the ends of %s through bush %s", wireNames(f, sides[s]), pt.Name)
			for _, e := range sides[s] {
				if say := fmt.Sprintf("How large %s is, is not known: see that it passes bush %s.", e.text, pt.Name); e.text != "" && e.size == 0 && !slices.Contains(p.Assumed, say) {
					p.Assumed = append(p.Assumed, say)
				}
			}
			if len(unpin[s]) > 0 {
				text += "; unpin " + strings.Join(unpin[s], ", ") + " first, which does not pass its bore"
			}
			p.Assumed = append(p.Assumed, text+".")
		}
	}
}

func largest(list []ending) (most unit.Length) {
	for _, e := range list {
		most = max(most, e.size)
	}
	return most
}

func wireNames(f *finder, list []ending) string {
	var out []string
	for _, e := range list {
		if n := f.nt.Wires[e.wire].Name; !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	if len(out) > 4 {
		return fmt.Sprintf("%d wires", len(out))
	}
	return strings.Join(out, ", ")
}

// bushNode is where a bush sits; -1: no run has it.
func (f *finder) bushNode(pt *design.Point) int { return f.nt.Space.Find(cmp.Or(pt.Node, pt.Name)) }

// through is the ends on either side of a bush of the wires that come away through it, over splices to all that hangs on them.
func (p *part) through(node int) (out [2][]ending) {
	f := p.f
	g := f.nt.Space
	first := -1
	type start struct{ wire, end int }
	var todo [2][]start
	passing := map[int]bool{}
	for _, i := range f.index.passing[node] {
		w := &f.nt.Wires[i]
		if p.sideOf(w.Section) != goes {
			continue
		}
		for k := 1; k < len(w.Path); k++ {
			a, b := &g.Edges[w.Path[k-1].Edge], &g.Edges[w.Path[k].Edge]
			at := a.To
			if w.Path[k-1].Reverse {
				at = a.From
			}
			if at != node {
				continue
			}
			if first < 0 {
				first = w.Path[k-1].Edge
			}
			f0 := &g.Edges[first]
			// The side of the first wire's edge is side 0; the zone tells others, where the zones of the sides differ.
			side := 0
			if w.Path[k-1].Edge != first && (w.Path[k].Edge == first || a.Zone != f0.Zone || a.Zone == b.Zone) {
				side = 1
			}
			passing[i] = true
			todo[side] = append(todo[side], start{i, 0})
			todo[1-side] = append(todo[1-side], start{i, 1})
		}
	}
	for s := range todo {
		seen := map[start]bool{}
		for len(todo[s]) > 0 {
			x := todo[s][0]
			todo[s] = todo[s][1:]
			if seen[x] {
				continue
			}
			seen[x] = true
			t := &f.nt.Wires[x.wire].Ends[x.end]
			if t.Kind != net.InSplice {
				out[s] = append(out[s], f.ending(x.wire, t))
				continue
			}
			for _, e := range f.index.splices[t.Splice] {
				if !passing[e.wire] {
					todo[s] = append(todo[s], start{e.wire, 1 - e.end})
				}
			}
		}
	}
	return out
}

// ending says how large an end is.
func (f *finder) ending(wire int, t *net.Termination) ending {
	e := ending{wire: wire}
	lug := func(thread string) unit.Length {
		if wire >= len(f.sizes) {
			return 0
		}
		if _, palm, ok := data.LugSize(f.sizes[wire].Size.Area(), thread); ok {
			return palm
		}
		t, _ := data.ThreadOf(thread)
		return t.Palm
	}
	switch t.Kind {
	case net.OnStud:
		e.text, e.size = "the lug on "+t.Device+"."+t.Pin, lug(t.Thread)
	case net.OnPost:
		e.text, e.size = "the lug on "+t.Break, lug(f.thread(f.breaks[t.Break]))
	case net.InCavity:
		e.plug, e.free = true, "the plug of "+t.Device
		e.text = e.free
		if d := f.devices[t.Device]; d != nil && t.Housing >= 0 && t.Housing < len(d.Housings) {
			e.size = plugSize(f.housings[d.Housings[t.Housing].Part])
		}
	case net.InHalf:
		e.plug, e.free = true, "the half of "+t.Break
		e.text = e.free
		if b := f.breaks[t.Break]; b != nil {
			e.size = plugSize(f.housings[b.Halves[t.Half&1].Housing])
		}
	}
	return e
}

// plugSize is how large a plug is across: its cut-out, which its mate fills, else the span of its cavities.
func plugSize(h *design.Housing) unit.Length {
	if h == nil {
		return 0
	}
	if d := max(h.CutOut, h.CutHigh); d > 0 {
		return d
	}
	var lo, hi [2]unit.Length
	for i, c := range h.Cavities {
		if !c.Placed {
			return 0
		}
		for k := range 2 {
			if i == 0 {
				lo[k], hi[k] = c.At[k], c.At[k]
			}
			lo[k], hi[k] = min(lo[k], c.At[k]), max(hi[k], c.At[k])
		}
	}
	return max(hi[0]-lo[0], hi[1]-lo[1])
}
