package board

import (
	"cmp"
	"slices"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// onLimb is a place of a limb: at the beginning or the end of one of its spans.
type onLimb struct {
	limb    int
	station float64
}

// tips says where each tip of an edge lies on this board.
func (w *writer) tips() map[tip]onLimb {
	out := map[tip]onLimb{}
	for n := range w.limb {
		station := 0.0
		for _, s := range w.all[n].spans {
			out[tipOf(s.edge, s.reverse)] = onLimb{n, station}
			station += s.length
			out[tipOf(s.edge, !s.reverse)] = onLimb{n, station}
		}
	}
	return out
}

// marks writes what is drawn on the board beside the pegs.
func (w *writer) marks() {
	tips := w.tips()
	put := func(kind, text string, o onLimb) {
		b, p := w.all[o.limb], w.at[o.limb]
		x, _ := p.line.place(p.drawn(o.station))
		w.board.Marks = append(w.board.Marks, Mark{At: at(x), Kind: kind, Text: text, Piece: w.limb[o.limb][0], Limb: w.limbName(o.limb), From: w.text(b.joint), Station: unit.Length(o.station)})
	}
	// What leaves a limb, and where it ends open.
	for n := range w.all {
		if _, ok := w.limb[n]; !ok {
			continue
		}
		b := w.all[n]
		if b.parent >= 0 {
			put("breakout", w.text(b.joint)+": "+w.limbName(n), onLimb{b.parent, b.hangs})
		}
		station := 0.0
		for k := -1; k < len(b.spans); k++ {
			t := tipOf(b.spans[0].edge, b.spans[0].reverse)
			if k >= 0 {
				station += b.spans[k].length
				t = tipOf(b.spans[k].edge, !b.spans[k].reverse)
			}
			if to, ok := w.graph.joins[t]; ok {
				put("joins", "joins "+w.text(to)+" here", onLimb{n, station})
			}
		}
	}
	for _, i := range w.joints[w.board.Section] {
		j := &w.net.Joints[i]
		if o, ok := w.spliceAt(j, tips); ok {
			put("splice", "splice "+j.Splice, o)
		}
	}
	for _, r := range w.runs[w.board.Section] {
		if r.Sleeve == "" {
			continue
		}
		for i := range r.Stretches {
			for _, part := range w.graph.bundles.Laden(w.graph.geo.Stretch(r.Name, i)) {
				from, okA := tips[tipOf(part[0], false)]
				to, okB := tips[tipOf(part[len(part)-1], true)]
				if okA && okB {
					put("sleeve starts", r.Sleeve+" of "+r.Name+" starts", from)
					put("sleeve ends", r.Sleeve+" of "+r.Name+" ends", to)
				}
			}
		}
	}
	for i, p := range w.board.Pieces {
		for _, l := range p.Limbs {
			for _, b := range l.Breaks {
				w.board.Marks = append(w.board.Marks, Mark{At: b.At, Kind: "break", Text: b.From + " to " + b.To + ": " + millimetres(float64(b.Whole)) + " in all, " + millimetres(float64(b.Left)) + " left out here", Piece: i, Limb: l.Name,
					From: l.From, Station: l.Spans[b.Span].Station + l.Spans[b.Span].Length/2})
			}
		}
	}
	order := map[string]int{}
	for _, p := range w.board.Pieces {
		for _, l := range p.Limbs {
			if _, ok := order[l.Name]; !ok {
				order[l.Name] = len(order)
			}
		}
	}
	slices.SortStableFunc(w.board.Marks, func(a, b Mark) int {
		return cmp.Or(cmp.Compare(a.Piece, b.Piece), cmp.Compare(order[a.Limb], order[b.Limb]), cmp.Compare(a.Station, b.Station), cmp.Compare(a.Kind, b.Kind), design.Natural(a.Text, b.Text))
	})
}

// spliceAt is where a splice lies: where its first wire that is laid here ends.
func (w *writer) spliceAt(j *net.Joint, tips map[tip]onLimb) (onLimb, bool) {
	for _, i := range j.Wires {
		wire := &w.net.Wires[i]
		for e := range wire.Ends {
			if end := &wire.Ends[e]; end.Kind != net.InSplice || end.Splice != j.Splice {
				continue
			}
			if t, ok := endTip(wire, e); ok {
				if o, ok := tips[t]; ok {
					return o, true
				}
			}
		}
	}
	return onLimb{}, false
}

// reaches holds every wire's cut length against its way over the board.
func (w *writer) reaches() (out []Reach) {
	cuts := map[int]cutOf{}
	for i := range w.sec.Cuts {
		c := &w.sec.Cuts[i]
		waste := c.Terms.Sum(func(k bench.TermKind) bool { return k == bench.WasteTerm })
		cuts[c.Wire] = cutOf{c.Length, waste, c.Ends[0].Strip + c.Ends[1].Strip, c.Ends[0].Text, c.Ends[1].Text}
		for _, k := range c.Cores {
			if !k.Screen {
				cuts[k.Wire] = cutOf{c.Length, waste, k.Ends[0].Strip + k.Ends[1].Strip, k.Ends[0].Text, k.Ends[1].Text}
			}
		}
	}
	tips := w.tips()
	out = make([]Reach, 0, len(w.wires[w.board.Section]))
	for _, i := range w.wires[w.board.Section] {
		wire := &w.net.Wires[i]
		c, ok := cuts[i]
		if !ok || !(c.length > 0) {
			continue
		}
		r := Reach{Wire: i, Name: wire.Name, Label: wire.Label, Section: wire.Section, Strip: c.strip, Cut: c.length, Waste: c.waste, From: c.from, To: c.to, Loose: wire.Loose, Span: wire.Span}
		if wire.Loose {
			a, okA := w.endPlace(&wire.Ends[0])
			b, okB := w.endPlace(&wire.Ends[1])
			if !okA || !okB {
				continue
			}
			r.Way = unit.Length(between(a, b))
		} else if !w.over(wire, &r, tips) {
			continue
		}
		for e := range wire.Ends {
			if k := wire.Ends[e].Kind; k != net.InSplice && k != net.CutBack {
				at := design.Scope{Circuit: wire.Circuit, Class: wire.Class, Section: wire.Section, Device: wire.Ends[e].Device, Break: wire.Ends[e].Break}
				if x := unit.Length(w.job.Settings.Get("board-reach", at).Value.Quantity.Value); unit.Finite(x) && x > 0 {
					r.Holders += x
				}
			}
		}
		r.Spare = r.Cut - r.Way - r.Holders - r.Strip - r.Waste
		out = append(out, r)
	}
	if len(out) == 0 {
		return nil
	}
	return slices.Clone(out)
}

type cutOf struct {
	length, waste, strip unit.Length
	from, to             string
}

// over adds up a wire's way; false where a part of it is not on this board.
func (w *writer) over(wire *net.Wire, r *Reach, tips map[tip]onLimb) bool {
	if len(wire.Path) == 0 {
		return false
	}
	for k, s := range wire.Path {
		if _, ok := tips[tipOf(s.Edge, false)]; !ok {
			return false
		}
		r.Way += unit.Length(w.graph.length(s.Edge))
		for _, t := range []tip{tipOf(s.Edge, s.Reverse), tipOf(s.Edge, !s.Reverse)} {
			to, open := w.graph.joins[t]
			if !open {
				continue
			}
			goes := t == tipOf(s.Edge, s.Reverse) && k > 0 || t == tipOf(s.Edge, !s.Reverse) && k < len(wire.Path)-1
			if text := w.text(to); goes && !slices.Contains(r.OverGap, text) {
				r.OverGap = append(r.OverGap, text)
			}
		}
	}
	return true
}

// endPlace is where the thing lies in which a loose lead ends, if it is on this board.
func (w *writer) endPlace(t *net.Termination) (pt, bool) {
	for n := range w.all {
		if w.at[n] == nil || !w.here(n) {
			continue
		}
		b := w.all[n]
		if b.holder >= 0 && w.graph.node[w.ends[b.holder].joint] == t.Node && t.Node >= 0 {
			return w.at[n].line.end(), true
		}
	}
	return pt{}, false
}

// here tells whether a limb lies on this board.
func (w *writer) here(n int) bool {
	for w.all[n].parent >= 0 && len(w.all[n].spans) == 0 {
		n = w.all[n].parent
	}
	_, ok := w.limb[n]
	return ok
}
