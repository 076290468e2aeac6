package layup

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/pack"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// key tells a piece from others along a trunk.
type key struct {
	cable string
	wire  int
}

func keyOf(p *Piece) key { return key{p.Cable, p.Wires[0]} }

// pieces lists what lies in an edge, thickest first. A pair twisted on the bench is one piece, as thick as the circle around it.
func (f *finder) pieces(edge int) []Piece {
	var out []Piece
	var single []int // the wires of pieces of one
	if n := len(f.bundles.Edges[edge].Pieces); n > 0 {
		out, single = make([]Piece, 0, n), make([]int, 0, n)
	}
	on := f.bundles.On(edge)
	with := func(cable string) (wires []int) {
		for _, i := range on {
			if f.net.Wires[i].Cable == cable {
				wires = append(wires, i)
			}
		}
		return wires
	}
	done := map[string]bool{}
	for _, b := range f.bundles.Edges[edge].Pieces {
		w := &f.net.Wires[b.Wire]
		single = append(single, b.Wire)
		p := Piece{Wires: single[len(single)-1 : len(single) : len(single)], Name: w.Name, Label: w.Label, Spare: w.Kind == net.Spare, Diameter: b.Outside, Screened: b.Screened, Lead: b.Lead}
		if p.Label == "" {
			p.Label = p.Name
		}
		if b.Cable == "" {
			p.Colour = f.colour(b.Wire)
		}
		switch c := f.cable[w.Cable]; {
		case b.Cable != "":
			p.Cable, p.Name, p.Label, p.Wires = b.Cable, b.Cable, b.Cable, with(b.Cable)
			p.Spare = p.spare(f.net)
		case c != nil && c.Twist > 0 && w.Kind != net.Screen:
			wires := with(w.Cable)
			if len(wires) < 2 {
				break
			}
			if done[w.Cable] {
				continue
			}
			done[w.Cable] = true
			var ds []unit.Length
			for _, o := range f.bundles.Edges[edge].Pieces {
				if o.Cable == "" && f.net.Wires[o.Wire].Cable == w.Cable {
					ds = append(ds, o.Outside)
				}
			}
			if len(ds) != len(wires) {
				break // a core of unknown outside
			}
			_, p.Diameter = pack.Circles(ds)
			p.Cable, p.Name, p.Label, p.Wires, p.Twist = w.Cable, w.Cable, w.Cable, wires, c.Twist
			p.Colour = ""
			for k, o := range wires {
				if k > 0 {
					p.Colour += ", "
				}
				p.Colour += f.colour(o)
			}
			p.Spare = p.spare(f.net)
		}
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(b.Diameter, a.Diameter), design.Natural(a.Label, b.Label), cmp.Compare(a.Wires[0], b.Wires[0]))
	})
	return out
}

// colour is the letters of a wire's colour, or the colour where it has none.
func (f *finder) colour(wire int) string {
	said, code, _ := size.Colour(f.job, &f.net.Wires[wire])
	return cmp.Or(code, said)
}

// spare tells whether all of a cable's wires are spare.
func (p *Piece) spare(nt *net.Net) bool {
	return !slices.ContainsFunc(p.Wires, func(w int) bool { return nt.Wires[w].Kind != net.Spare })
}

// span is where along a trunk a piece lies.
type span struct {
	first, last int // of the trunk's edges
	long        unit.Length
}

func (f *finder) spans(edges []int) map[key]span {
	out := map[key]span{}
	for k, e := range edges {
		for i := range f.plan.lays[e].Pieces {
			id := keyOf(&f.plan.lays[e].Pieces[i])
			s, ok := out[id]
			if !ok {
				s.first = k
			}
			s.last = k
			s.long += f.geo.Edges[e].Length
			out[id] = s
		}
	}
	for _, e := range edges {
		for i := range f.plan.lays[e].Pieces {
			p := &f.plan.lays[e].Pieces[i]
			s := out[keyOf(p)]
			p.Enters, p.Leaves = f.plan.lays[edges[s.first]].From, f.plan.lays[edges[s.last]].To
		}
	}
	return out
}

// order is how pieces are laid, the core's first: pairs and cables, and wires that are heavy beside the others, then the rest, spares at last. Of
// each of these what lies in the trunk longest comes first, so that what leaves it first, or joins it last, lies outermost; of equals the
// thickest. It says for each piece why.
func (f *finder) order(l *Lay, edges []int, spans map[key]span, rules *rules) []int {
	mid := middle(l.Pieces)
	rank := make([]int, len(l.Pieces))
	out := make([]int, len(l.Pieces))
	for i := range l.Pieces {
		p, s := &l.Pieces[i], spans[keyOf(&l.Pieces[i])]
		out[i] = i
		switch {
		case p.Spare:
			rank[i], p.Why = 2, "spare"
		case p.Twist > 0:
			p.Why = "pair"
		case p.Screened:
			p.Why = "screened"
		case p.Cable != "":
			p.Why = "cable"
		case float64(p.Diameter) >= rules.heavy*float64(mid):
			p.Why = "heavy"
		case s.first == 0 && s.last == len(edges)-1:
			rank[i], p.Why = 1, "goes all the way"
		case s.last < len(edges)-1:
			rank[i], p.Why = 1, f.said("leaves at ", p.Leaves)
		default:
			rank[i], p.Why = 1, f.said("joins at ", p.Enters)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		p, q := &l.Pieces[a], &l.Pieces[b]
		return cmp.Or(cmp.Compare(rank[a], rank[b]), cmp.Compare(spans[keyOf(q)].long, spans[keyOf(p)].long), cmp.Compare(q.Diameter, p.Diameter),
			design.Natural(p.Label, q.Label), cmp.Compare(a, b))
	})
	return out
}

// said is two words put together, once for all pieces of which they are said.
func (f *finder) said(what, place string) string {
	k := [2]string{what, place}
	s, ok := f.words[k]
	if !ok {
		s = what + place
		f.words[k] = s
	}
	return s
}

// middle is the middle thickness of the plain wires, or of all where there is none.
func middle(pieces []Piece) unit.Length {
	var ds []unit.Length
	for i := range pieces {
		if pieces[i].Cable == "" {
			ds = append(ds, pieces[i].Diameter)
		}
	}
	if len(ds) == 0 {
		ds = diameters(pieces)
	}
	slices.Sort(ds)
	return ds[(len(ds)-1)/2]
}

// stacker of an edge: round a layer lies side by side what leaves at one place.
func (f *finder) stacker(l *Lay, edges []int, spans map[key]span, rules *rules) *stacker {
	s := &stacker{r: radii(l.Pieces), turn: make([]int, len(l.Pieces)), rules: rules, cores: f.cores, rings: f.rings, limit: float64(l.Trade) / 2 * (1 + rules.over)}
	at := make([]int, len(l.Pieces))
	for i := range at {
		at[i] = i
	}
	slices.SortStableFunc(at, func(a, b int) int {
		p, q := &l.Pieces[a], &l.Pieces[b]
		x, y := spans[keyOf(p)], spans[keyOf(q)]
		return cmp.Or(cmp.Compare(x.last, y.last), cmp.Compare(x.first, y.first), design.Natural(p.Label, q.Label), cmp.Compare(a, b))
	})
	for n, i := range at {
		s.turn[i] = n
	}
	return s
}
