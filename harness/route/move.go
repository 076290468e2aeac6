package route

import (
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// hold is what holds one end of a moving stretch.
type hold struct {
	what   string
	at     design.Point3
	known  bool        // at
	on     int         // clip of the stretch; -1: it is none of them
	after  unit.Length // station on the stretch: of the clip, else of the end
	beyond unit.Length // how far past the end of the stretch it holds
}

// moves compares every stretch of which one end moves with what the movement takes. The service loop is not counted: it is there to make the
// end anew.
func (f *finder) moves() []Move {
	var out []Move
	for _, way := range f.ways {
		first := &f.geo.Edges[way[0]]
		if !(first.Moves > 0) || !unit.Finite(first.Moves) {
			continue
		}
		for _, part := range f.bundles.Laden(way) {
			if m, ok := f.move(part); ok {
				out = append(out, m)
			}
		}
	}
	return out
}

func (f *finder) move(part []int) (m Move, ok bool) {
	e, last := &f.geo.Edges[part[0]], &f.geo.Edges[part[len(part)-1]]
	var length, slack unit.Length
	for _, k := range part {
		x := &f.geo.Edges[k]
		if x.Unknown || !unit.Finite(x.Length) || !unit.Finite(x.Slack) {
			return m, false
		}
		length, slack = length+x.Length, slack+max(0, x.Slack)
	}
	at := f.scope(e)
	begin, end := e.Station, last.Station+last.Length
	clips := f.clips[stretchKey{e.Run, e.Stretch}]
	// A clip within clip-end of an end, and nearer to it than to the other, holds that end.
	reach := min(f.length("clip-end", at), length/2)
	a, b := hold{on: -1, after: begin}, hold{on: -1, after: end}
	for i, c := range clips {
		if c.After < begin || c.After > end {
			continue
		}
		if a.on < 0 && c.After-begin <= reach {
			a = f.clipHold(i, c)
		} else if end-c.After <= reach {
			b = f.clipHold(i, c)
		}
	}
	if a.on < 0 {
		a = f.beyond(part[0], e.From, begin)
	}
	if b.on < 0 {
		b = f.beyond(part[len(part)-1], last.To, end)
	}
	if !a.known || !b.known {
		return m, false
	}
	r := f.rulings.Get("moves-spare", at)
	m = Move{Run: e.Run, Stretch: e.Stretch, From: a.what, To: b.what, Moves: e.Moves, Spare: f.length("moves-spare", at), Straight: solid.Between(a.at, b.at), Span: e.Span,
		Source: "moves-spare: " + r.Source()}
	m.Free = b.after - a.after + a.beyond + b.beyond
	if length > 0 {
		m.Free += slack * ((b.after - a.after) / length)
	}
	m.Needed = m.Straight + m.Moves + m.Spare
	for i, c := range clips {
		if i != a.on && i != b.on && c.After > a.after && c.After < b.after {
			m.Tied = append(m.Tied, c.Mark)
		}
	}
	return m, unit.Finite(m.Free) && unit.Finite(m.Needed)
}

// indexClips keeps the clips of each stretch whose places are known, as they stand in the plan: by station.
func (f *finder) indexClips() {
	f.clips = map[stretchKey][]fix.Clip{}
	for i := range f.held.Runs {
		p := &f.held.Runs[i]
		for _, c := range p.Clips {
			if k := (stretchKey{p.Run, p.Stretch}); c.Known && unit.Finite(c.After) {
				f.clips[k] = append(f.clips[k], c)
			}
		}
	}
}

func (f *finder) clipHold(i int, c fix.Clip) hold {
	return hold{what: "clip " + c.Mark, at: c.At, known: c.Known, on: i, after: c.After}
}

// beyond finds what holds an end of a stretch that has no clip there: a connector or a stud at the end itself, else the nearest clip or
// connector that the wires come to on their way on.
func (f *finder) beyond(edge, node int, station unit.Length) hold {
	best := hold{on: -1, after: station}
	found := false
	take := func(h hold) {
		if !found || h.beyond < best.beyond {
			best, found = h, true
		}
	}
	type step struct {
		edge, node int // came along edge to node
		gone       unit.Length
	}
	seen := map[int]bool{edge: true}
	todo := []step{{edge, node, 0}}
	for len(todo) > 0 {
		s := todo[0]
		todo = todo[1:]
		at, known := f.node(s.node)
		if f.ends[s.node] {
			take(hold{what: f.geo.Text(s.node), at: at, known: known, on: -1, after: station, beyond: s.gone})
			continue
		}
		for _, t := range f.turnsAt[s.node] {
			es := f.bundles.Turns()[t].Edges
			next := es[0]
			if next == s.edge {
				next = es[1]
			} else if es[1] != s.edge {
				continue
			}
			if seen[next] {
				continue
			}
			seen[next] = true
			e := &f.geo.Edges[next]
			if e.Unknown || !unit.Finite(e.Length) {
				return hold{on: -1, after: station}
			}
			if c, gone, ok := f.firstClip(next, s.node); ok {
				take(hold{what: "clip " + c.Mark, at: c.At, known: c.Known, on: -1, after: station, beyond: s.gone + gone})
				continue
			}
			todo = append(todo, step{next, e.Other(s.node), s.gone + e.Length})
		}
	}
	return best
}

// firstClip is the clip of an edge nearest to one of its nodes.
func (f *finder) firstClip(edge, node int) (best fix.Clip, gone unit.Length, ok bool) {
	e := &f.geo.Edges[edge]
	for _, c := range f.clips[stretchKey{e.Run, e.Stretch}] {
		into := c.After - e.Station
		if into < 0 || into > e.Length {
			continue
		}
		if node != e.From {
			into = e.Length - into
		}
		if !ok || into < gone {
			best, gone, ok = c, into, true
		}
	}
	return best, gone, ok
}
