package shellbook

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// strip is a stretch laid straight, folded into rows where it does not fit in one.
type strip struct {
	name  string // beside the first row; empty: none
	stops []stop
}

// stop is a place on the strip: a node, a bend, a clip, or all of these.
type stop struct {
	at     unit.Length
	above  string // node
	turn   string // bend
	below  string // clip
	held   bool   // by hand or frozen
	leaves bool   // a breakout
	ends   bool   // wires end here
	over   string // diameter of the bundle from here on; empty where the stretch has one only
}

// sameStop is how near two stations are that stand as one on the strip.
const sameStop unit.Length = 0.5

// nearBend is how far the middle of an arc may lie from the node it turns at by its coordinates, and still stand with it.
const nearBend unit.Length = 5

// newStrip gathers nodes, bends, clips and changes of diameter by station; nil when there are fewer than two stops to draw.
func newStrip(r *fix.RunPlan) *strip {
	var stops []stop
	put := func(at unit.Length) *stop { stops = append(stops, stop{at: at}); return &stops[len(stops)-1] }
	for i := range r.Nodes {
		if n := &r.Nodes[i]; unit.Finite(n.After) && n.After >= 0 {
			p := put(n.After)
			p.above, p.leaves, p.ends = nodeName(n), n.Breakout, n.Ends
		}
	}
	for _, b := range r.Bends {
		if unit.Finite(b.After) && b.After >= 0 {
			if i := slices.IndexFunc(stops, func(p stop) bool { return p.turn == "" && abs(p.at-b.After) < nearBend }); i >= 0 {
				stops[i].turn = bendText(b)
				continue
			}
			put(b.After).turn = bendText(b)
		}
	}
	for i := range r.Clips {
		if c := &r.Clips[i]; onRun(c) {
			p := put(c.After)
			p.below, p.held = c.Mark, c.Status != design.Computed
		}
	}
	s := &strip{stops: merged(stops)}
	if len(s.stops) < 2 || !(s.stops[len(s.stops)-1].at > s.stops[0].at) {
		return nil
	}
	s.band(r.Diameters)
	return s
}

func abs(l unit.Length) unit.Length { return max(l, -l) }

// merged puts stops of one station together, as far as what they say does not collide.
func merged(stops []stop) []stop {
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Compare(a.at, b.at) })
	var out []stop
	for _, p := range stops {
		if n := len(out); n > 0 && p.at-out[n-1].at < sameStop {
			if q := &out[n-1]; (q.above == "" || p.above == "") && (q.turn == "" || p.turn == "") && (q.below == "" || p.below == "") {
				q.above, q.turn, q.below = q.above+p.above, q.turn+p.turn, q.below+p.below
				q.held, q.leaves, q.ends = q.held || p.held, q.leaves || p.leaves, q.ends || p.ends
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// band marks from which stop on which diameter holds, where the stretch has more than one.
func (s *strip) band(pieces []fix.Diameter) {
	if len(pieces) < 2 {
		return
	}
	for _, d := range pieces {
		if !unit.Finite(d.From) || d.From < s.stops[0].at-sameStop || d.From > s.stops[len(s.stops)-1].at+sameStop {
			continue
		}
		if !slices.ContainsFunc(s.stops, func(p stop) bool { return abs(p.at-d.From) < sameStop }) {
			at, _ := slices.BinarySearchFunc(s.stops, d.From, func(p stop, t unit.Length) int { return cmp.Compare(p.at, t) })
			s.stops = slices.Insert(s.stops, at, stop{at: d.From})
		}
	}
	for i := range s.stops {
		for _, d := range pieces {
			if s.stops[i].at > d.From-sameStop && s.stops[i].at < d.To-sameStop {
				s.stops[i].over = bandText(d.Least.Length(), d.Most)
			}
		}
	}
}

// bandText is the diameter of a bundle.
func bandText(least, most unit.Length) string {
	if !(most > 0) {
		return "Ø ?"
	}
	return "Ø " + span(least, most)
}

// bendText is a bend with its turn and the radius of its middle line.
func bendText(b fix.BendAt) string {
	if !(b.Radius > 0) {
		return degrees(b.Turn)
	}
	return degrees(b.Turn) + " R " + coordinate(b.Radius, 0)
}

// label is the width that the names of a stop take.
func (p stop) label() page.MM {
	w := max(nodeType.Width(p.above), markType.Width(p.below), nodeType.Width(coordinate(p.at, 0)))
	return max(min(w, mostLabel), turnType.Width(p.turn))
}

// need is the least distance on paper between two neighbours: their names and the figures between them have room.
func need(a, b stop) page.MM {
	return max(leastGap, (a.label()+b.label())/2+betweenGaps, chainType.Width(coordinate(b.at-a.at, 0))+betweenGaps, turnType.Width(a.over)+betweenGaps)
}

// fill is the last stop of the row that begins with stop i; at least the next one.
func (s *strip) fill(i int, width page.MM) int {
	used := s.stops[i].label() / 2
	j := i
	for j+1 < len(s.stops) {
		used += need(s.stops[j], s.stops[j+1])
		if j > i && used+s.stops[j+1].label()/2 > width-2*edge {
			break
		}
		j++
	}
	return j
}

// spread places the stops of a row: what room is left over goes to the gaps by their true lengths.
func spread(row []stop, width page.MM) []page.MM {
	first, last := row[0].label()/2, row[len(row)-1].label()/2
	sum := page.MM(0)
	for i := range row[1:] {
		sum += need(row[i], row[i+1])
	}
	rest := max(0, width-2*edge-first-last-sum)
	total := row[len(row)-1].at - row[0].at
	xs := []page.MM{edge + first}
	for i := range row[1:] {
		x := xs[i] + need(row[i], row[i+1])
		if total > 0 {
			x += page.MM(float64(rest) * (float64(row[i+1].at-row[i].at) / float64(total)))
		}
		xs = append(xs, x)
	}
	return xs
}
