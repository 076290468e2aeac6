package layup

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/bundle"
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
	in := f.bundles.Edges[edge].Pieces
	if len(in) == 0 {
		return nil
	}
	out := make([]Piece, 0, len(in))
	var done []string // pairs
	for _, b := range in {
		w := &f.net.Wires[b.Wire]
		c := f.cable[w.Cable]
		var t *Thing
		switch {
		case b.Cable != "":
			t = f.thing(Thing{Wires: f.with(edge, b.Cable), Cable: b.Cable, Name: b.Cable, Label: b.Cable, Diameter: b.Outside, Screened: b.Screened, Lead: b.Lead})
		case c != nil && c.Twist > 0 && w.Kind != net.Screen:
			if slices.Contains(done, w.Cable) {
				continue
			}
			if t = f.pair(edge, c); t != nil {
				done = append(done, w.Cable)
			}
		}
		if t == nil {
			t = f.single(b)
		}
		out = append(out, Piece{Thing: t, Passage: f.passage(Passage{})})
	}
	slices.SortStableFunc(out, func(a, b Piece) int {
		return cmp.Or(cmp.Compare(b.Diameter, a.Diameter), design.Natural(a.Label, b.Label), cmp.Compare(a.Wires[0], b.Wires[0]))
	})
	return out
}

// with lists the wires of a cable in an edge.
func (f *finder) with(edge int, cable string) (wires []int) {
	for _, i := range f.bundles.On(edge) {
		if f.net.Wires[i].Cable == cable {
			wires = append(wires, i)
		}
	}
	return wires
}

// single is a wire by itself.
func (f *finder) single(b *bundle.Piece) *Thing {
	k := key{"", b.Wire}
	for _, t := range f.things[k] {
		if t.Diameter == b.Outside && t.Screened == b.Screened && t.Lead == b.Lead {
			return t
		}
	}
	w := &f.net.Wires[b.Wire]
	t := &Thing{Wires: []int{b.Wire}, Name: w.Name, Label: cmp.Or(w.Label, w.Name), Colour: f.colour(b.Wire), Spare: w.Kind == net.Spare, Diameter: b.Outside, Screened: b.Screened, Lead: b.Lead}
	f.things[k] = append(f.things[k], t)
	return t
}

// pair is the cores of a cable twisted on the bench that lie in an edge as one thing; nil where there is only one, or one of unknown outside.
func (f *finder) pair(edge int, c *design.Cable) *Thing {
	wires := f.with(edge, c.Name)
	if len(wires) < 2 {
		return nil
	}
	var ds []unit.Length
	for _, o := range f.bundles.Edges[edge].Pieces {
		if o.Cable == "" && f.net.Wires[o.Wire].Cable == c.Name {
			ds = append(ds, o.Outside)
		}
	}
	if len(ds) != len(wires) {
		return nil
	}
	t := Thing{Wires: wires, Cable: c.Name, Name: c.Name, Label: c.Name, Twist: c.Twist}
	_, t.Diameter = pack.Circles(ds)
	colours := make([]string, len(wires))
	for k, o := range wires {
		colours[k] = f.colour(o)
	}
	t.Colour = strings.Join(colours, ", ")
	return f.thing(t)
}

// thing is a cable or a pair, the one that is there already where there is one like it.
func (f *finder) thing(t Thing) *Thing {
	t.Spare = !slices.ContainsFunc(t.Wires, func(w int) bool { return f.net.Wires[w].Kind != net.Spare })
	k := key{t.Cable, t.Wires[0]}
	for _, o := range f.things[k] {
		if o.Diameter == t.Diameter && o.Screened == t.Screened && o.Lead == t.Lead && o.Twist == t.Twist && o.Colour == t.Colour && slices.Equal(o.Wires, t.Wires) {
			return o
		}
	}
	t.Wires = slices.Clone(t.Wires)
	f.things[k] = append(f.things[k], &t)
	return &t
}

// passes notes how a piece goes through its trunk.
func (f *finder) passes(p *Piece, enters, leaves, why string) {
	if *p.Passage == (Passage{enters, leaves, why}) {
		return
	}
	p.Passage = f.passage(Passage{enters, leaves, why})
}

// passage is one for all that are the same.
func (f *finder) passage(k Passage) *Passage {
	of := f.passing[k]
	if of == nil {
		of = &k
		f.passing[k] = of
	}
	return of
}

// colour is the letters of a wire's colour, or the colour where it has none.
func (f *finder) colour(wire int) string {
	said, code, _ := size.Colour(f.job, &f.net.Wires[wire])
	return cmp.Or(code, said)
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
			f.passes(p, f.plan.lays[edges[s.first]].From, f.plan.lays[edges[s.last]].To, p.Why)
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
		why := ""
		switch {
		case p.Spare:
			rank[i], why = 2, "spare"
		case p.Twist > 0:
			why = "pair"
		case p.Screened:
			why = "screened"
		case p.Cable != "":
			why = "cable"
		case float64(p.Diameter) >= rules.heavy*float64(mid):
			why = "heavy"
		case s.first == 0 && s.last == len(edges)-1:
			rank[i], why = 1, "goes all the way"
		case s.last < len(edges)-1:
			rank[i], why = 1, f.said("leaves at ", p.Leaves)
		default:
			rank[i], why = 1, f.said("joins at ", p.Enters)
		}
		f.passes(p, p.Enters, p.Leaves, why)
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
