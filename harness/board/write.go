package board

import (
	"math"
	"slices"
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// writer says in words and figures what was laid on one board.
type writer struct {
	*layer
	*shop
	sec   *bench.SectionPlan
	trees [][]int
	board *Board
	limb  map[int][2]int // piece and limb on this board, by limb of the layer
	pegAt map[int]int    // number of the peg at a joint
}

func (w *writer) write(b *Board, s *sheet) {
	w.board, w.limb, w.pegAt = b, map[int][2]int{}, map[int]int{}
	for _, t := range s.trees {
		p := Piece{}
		wires := map[int]bool{}
		for _, n := range w.trees[t] {
			if w.at[n] == nil || len(w.all[n].spans) == 0 {
				continue
			}
			w.limb[n] = [2]int{len(b.Pieces), len(p.Limbs)}
			p.Limbs = append(p.Limbs, w.limbOut(n))
			for _, sp := range w.all[n].spans {
				for _, i := range w.graph.bundles.On(sp.edge) {
					wires[i] = wires[i] || w.net.Wires[i].Kind != net.Screen
				}
			}
		}
		if len(p.Limbs) == 0 {
			continue
		}
		p.Name, p.Wires = p.Limbs[0].Name, len(wires)
		for _, conductor := range wires {
			if !conductor {
				p.Wires--
			}
		}
		b.Pieces = append(b.Pieces, p)
		for _, n := range w.trees[t] {
			if _, ok := w.limb[n]; ok {
				w.pegs(n)
			}
		}
		for _, n := range w.trees[t] {
			if w.at[n] != nil {
				w.endOut(n)
			}
		}
	}
	w.marks()
	b.Reaches = w.reaches()
	// Without the room that they grew into; what many marks say is held once.
	b.Pieces, b.Pegs, b.Marks, b.Ends = design.Exact(b.Pieces), design.Exact(b.Pegs), design.Exact(b.Marks), design.Exact(b.Ends)
	same := design.Once{}
	for i := range b.Pieces {
		b.Pieces[i].Limbs = design.Exact(b.Pieces[i].Limbs)
		for k := range b.Pieces[i].Limbs {
			same.Texts(&b.Pieces[i].Limbs[k].Name)
		}
	}
	for i := range b.Marks {
		same.Texts(&b.Marks[i].Text, &b.Marks[i].Limb)
	}
	for i := range b.Pegs {
		same.Texts(&b.Pegs[i].Text, &b.Pegs[i].Limb)
	}
}

func at(p pt) At { return At{unit.Length(p.x), unit.Length(p.y)} }

func places(ps []pt) (out []At) {
	if len(ps) > 0 {
		out = make([]At, 0, len(ps))
	}
	for _, p := range ps {
		out = append(out, at(p))
	}
	return out
}

func degrees(steps int) unit.Angle { return unit.Angle(turned(steps) * step) }

// limbOut is a limb as it lies.
func (w *writer) limbOut(n int) Limb {
	b, p := w.all[n], w.at[n]
	o := Limb{Name: w.limbName(n), From: w.text(b.joint), To: w.text(b.spans[len(b.spans)-1].joint), Parent: -1, Heading: degrees(p.heading()),
		Length: unit.Length(b.length), Drawn: unit.Length(p.line.long()), Line: places(p.line.pts)}
	if b.parent >= 0 {
		o.Parent = w.limb[b.parent][1]
		up := w.at[b.parent]
		_, along := up.line.place(up.drawn(b.hangs))
		o.Leaves = unit.Angle(apart(p.heading(), along) * step)
	}
	for _, x := range p.line.bends {
		o.Bends = append(o.Bends, Bend{Station: unit.Length((x.from + x.to) / 2), Turn: unit.Angle(x.turn * step), Radius: unit.Length(x.radius), Middle: at(x.middle)})
	}
	station := 0.0
	from := b.joint
	o.Spans = make([]Span, 0, len(b.spans))
	for k, sp := range b.spans {
		e := &w.graph.geo.Edges[sp.edge]
		m := &w.graph.bundles.Edges[sp.edge]
		a, z := p.drawn(station), p.drawn(station+sp.length)
		s := Span{From: w.text(from), To: w.text(sp.joint), Run: e.Run, Edge: sp.edge, Length: unit.Length(sp.length), Drawn: unit.Length(z - a), Station: unit.Length(station),
			Outside: unit.Length(2 * sp.half), Wires: m.Wires, Sleeve: m.Sleeve, Line: places(p.line.cut(a, z))}
		end := tipOf(sp.edge, !sp.reverse)
		if to, ok := w.graph.joins[end]; ok {
			s.Joins = w.text(to)
		}
		if to, ok := w.graph.joins[end^1]; ok { // a limb that begins where a ring is open
			s.Joins = w.text(to)
		}
		for _, g := range p.gaps {
			if g.span == k {
				o.Breaks = append(o.Breaks, Break{At: at(w.signAt(p, a, z)), Span: k, Left: unit.Length(g.left), From: s.From, To: s.To, Whole: s.Length})
			}
		}
		o.Spans = append(o.Spans, s)
		station, from = station+sp.length, sp.joint
	}
	return o
}

// signAt is where the sign of a break stands between two drawn stations: in the middle of the longest straight.
func (w *writer) signAt(p *laid, from, to float64) pt {
	best, at := -1.0, (from+to)/2
	for i, h := range p.line.heads {
		a, z := math.Max(from, p.line.at[i]), math.Min(to, p.line.at[i+1])
		if h >= 0 && z-a > best {
			best, at = z-a, (a+z)/2
		}
	}
	x, _ := p.line.place(at)
	return x
}

// plain tells whether a joint is a mere waypoint of one bundle: no peg is set for it.
func (w *writer) plain(joint int) bool {
	if len(w.graph.at[joint]) != 2 || len(w.endsAt[joint]) > 0 || w.spliced[joint] {
		return false
	}
	text := w.text(joint)
	return text == "waypoint" || len(text) > 0 && text[0] == '('
}

// pegs sets the pegs of a limb, from its beginning on.
func (w *writer) pegs(n int) {
	b, p := w.all[n], w.at[n]
	type stop struct {
		s     float64
		at    pt
		kind  string
		text  string
		joint int
	}
	var stops []stop
	station := 0.0
	joint := b.joint
	for k := -1; k < len(b.spans); k++ {
		if k >= 0 {
			station += b.spans[k].length
			joint = b.spans[k].joint
		}
		if k < 0 && b.parent >= 0 {
			// Its parent has the peg; it counts for the distances.
			stops = append(stops, stop{s: 0, joint: -1})
			continue
		}
		if w.plain(joint) {
			continue
		}
		d := p.drawn(station)
		x, _ := p.line.place(d)
		kind, text := w.nodePeg(joint)
		stops = append(stops, stop{d, x, kind, text, joint})
	}
	for _, x := range p.line.bends {
		for i, s := range []float64{x.from, (x.from + x.to) / 2, x.to} {
			c, _ := p.line.place(s)
			d := between(c, x.middle)
			half := w.half(b, p, s)
			// On the inner side, where the bundle leans on it.
			k := half / math.Max(d, 1e-9)
			in := pt{c.x + float64(k*(x.middle.x-c.x)), c.y + float64(k*(x.middle.y-c.y))}
			which := [3]string{"beginning", "middle", "end"}[i]
			stops = append(stops, stop{s, in, "bend", which + " of a bend, inner side, radius " + millimetres(x.radius), -2})
		}
	}
	slices.SortStableFunc(stops, func(a, b stop) int {
		switch {
		case a.s < b.s-1e-9:
			return -1
		case a.s > b.s+1e-9:
			return 1
		}
		return 0
	})
	name := w.limbName(n)
	set := func(x pt, kind, text string) int {
		r := &w.rules
		peg := Peg{Number: len(w.board.Pegs) + 1, At: at(x), Left: unit.Length(math.Hypot(x.x, x.y)), Right: unit.Length(math.Hypot(r.w-x.x, x.y)), Kind: kind, Text: text, Limb: name, Piece: w.limb[n][0]}
		w.board.Pegs = append(w.board.Pegs, peg)
		return peg.Number
	}
	for i, s := range stops {
		if i > 0 {
			if gap := s.s - stops[i-1].s; gap > w.rules.peg+1e-6 {
				parts := int(math.Ceil(gap/w.rules.peg - 1e-9))
				for k := 1; k < parts; k++ {
					x, _ := p.line.place(stops[i-1].s + gap*float64(k)/float64(parts))
					set(x, "along", "along "+name)
				}
			}
		}
		if s.joint == -1 || s.kind == "bend" && i > 0 && stops[i-1].kind == "bend" && s.s-stops[i-1].s < leastPegs {
			continue
		}
		number := set(s.at, s.kind, s.text)
		if s.joint >= 0 {
			w.pegAt[s.joint] = number
		}
	}
}

// leastPegs is how near along a bundle two pegs of bends may be.
const leastPegs = 15

// half of the bundle at a drawn station.
func (w *writer) half(b *limb, p *laid, s float64) float64 {
	station := 0.0
	for _, sp := range b.spans {
		station += sp.length
		if s <= p.drawn(station)+1e-9 {
			return sp.half
		}
	}
	return 0
}

// nodePeg says what a joint's peg is for.
func (w *writer) nodePeg(joint int) (kind, text string) {
	name := w.text(joint)
	ways := len(w.graph.at[joint])
	for t, to := range w.graph.joins {
		if w.graph.joint[t] == joint {
			return "end", "open end of a ring, joins " + w.text(to)
		}
	}
	if ends := w.endsAt[joint]; len(ends) > 0 && ways == 1 {
		return "end", "end of the bundle: " + w.ends[ends[0]].title
	}
	switch {
	case ways == 1:
		return "end", "end of the bundle: " + name
	case ways > 2:
		name += ", " + strconv.Itoa(ways) + " ways"
	}
	return "node", name + w.again(joint)
}

// again says that a place is on the boards more than once: bundles that share no wire there are laid apart.
func (w *writer) again(joint int) string {
	for k, node := range w.graph.node {
		if k != joint && node == w.graph.node[joint] && len(w.graph.at[k]) > 1 {
			return "; other bundles of this place are laid apart, and meet these only in the vehicle"
		}
	}
	return ""
}

// endOut adds what a limb ends in, or of a limb without a bundle what it stands for.
func (w *writer) endOut(n int) {
	b, p := w.all[n], w.at[n]
	if b.holder < 0 {
		return
	}
	x := &w.ends[b.holder]
	e := End{Title: x.title, Connector: x.connector, At: at(p.line.end()), Node: at(p.line.end()), Facing: degrees(p.line.head + round/2), Wires: x.wires, Beside: len(b.spans) == 0, Peg: w.pegAt[x.joint]}
	e.Crowded = x.held
	for _, h := range p.pieces {
		if h.holder {
			e.Crowded = false
			e.At = at(h.a.along(p.line.head+round/2, w.rules.holderHalf))
		}
	}
	if x.connector >= 0 {
		c := &w.sec.Connectors[x.connector]
		e.Housing, e.Pins = c.Housing, c.Contacts == "pins"
	}
	if e.Beside {
		e.Peg, e.Node = w.pegAt[b.joint], at(p.line.pts[0])
	}
	w.board.Ends = append(w.board.Ends, e)
}

func millimetres(l float64) string { return unit.Number(l, 0) + " mm" }
