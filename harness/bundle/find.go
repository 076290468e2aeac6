package bundle

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/pack"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// finder holds the inputs with what is looked up often.
type finder struct {
	job   *design.Job
	net   *net.Net
	geo   *space.Geometry
	sizes size.Sizes
	wire  map[string]*design.Wire
	cable map[string]*design.Cable
	run   map[string]*design.Run
}

// Find works out the make-up of every edge. It works on incomplete inputs: where the outside of a wire is not known the band is 0 and
// Unknown is set.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes) *Bundles {
	f := &finder{job: job, net: nt, geo: nt.Space, sizes: sizes, wire: map[string]*design.Wire{}, cable: map[string]*design.Cable{}, run: map[string]*design.Run{}}
	if f.geo == nil {
		f.geo = &space.Geometry{}
	}
	for _, w := range job.Parts.Wires {
		if f.wire[w.Name] == nil {
			f.wire[w.Name] = w
		}
	}
	for _, c := range job.Cables {
		f.cable[c.Name] = c
	}
	for _, r := range job.Runs {
		f.run[r.Name] = r
	}
	b := &Bundles{Edges: make([]MakeUp, len(f.geo.Edges)), on: make([][]int, len(f.geo.Edges))}
	for i := range nt.Wires {
		for _, s := range nt.Wires[i].Path {
			if on := b.on[s.Edge]; len(on) == 0 || on[len(on)-1] != i {
				b.on[s.Edge] = append(on, i)
			}
		}
	}
	cache := map[string]unit.Length{}
	for e := range b.Edges {
		b.Edges[e] = f.makeUp(b.on[e], &f.geo.Edges[e], cache)
	}
	return b
}

func (f *finder) makeUp(wires []int, e *space.Edge, cache map[string]unit.Length) MakeUp {
	m := MakeUp{}
	at := f.scope(e)
	if r := f.run[e.Run]; r != nil && r.Sleeve != "" {
		m.Sleeve, m.Wall = r.Sleeve, f.length("sleeve-wall", at)
	}
	seen := map[string]bool{}
	for _, i := range wires {
		w := &f.net.Wires[i]
		if w.Kind != net.Screen {
			m.Wires++
		}
		p := Piece{Wire: i}
		if i < len(f.sizes) {
			p.Outside = f.sizes[i].Outside
		}
		if c := f.cable[w.Cable]; c != nil && c.Wire != "" {
			if seen[w.Cable] {
				continue
			}
			seen[w.Cable] = true
			p.Cable = w.Cable
			if part := f.wire[c.Wire]; part != nil {
				p.Bend = part.Bend
				if part.Outside > 0 {
					p.Outside = part.Outside
				}
			}
		} else if w.Kind == net.Screen {
			continue
		} else if part := f.wire[w.Family]; part != nil {
			p.Bend = part.Bend
		}
		if !(p.Outside > 0) || !unit.Finite(p.Outside) {
			m.Unknown = true
			continue
		}
		if w.Sleeve != "" {
			s := at
			s.Circuit, s.Class = w.Circuit, w.Class
			p.Outside += 2 * f.length("sleeve-wall", s)
		}
		m.Pieces = append(m.Pieces, p)
	}
	slices.SortStableFunc(m.Pieces, func(a, b Piece) int { return cmp.Compare(b.Outside, a.Outside) })
	if !m.Unknown {
		m.Least, m.Most = band(m.Pieces, cache)
	}
	return m
}

// band is the closest packing and the trade's figure, a cable maker's rule for unequal wires, but at least the two largest side by
// side; a single wire has its own diameter.
func band(pieces []Piece, cache map[string]unit.Length) (least, most unit.Length) {
	switch len(pieces) {
	case 0:
		return 0, 0
	case 1:
		return pieces[0].Outside, pieces[0].Outside
	}
	var ds []unit.Length
	key, sum := "", 0.0
	for _, p := range pieces {
		ds = append(ds, p.Outside)
		sum += float64(p.Outside * p.Outside)
		key += unit.Number(float64(p.Outside), 6) + " "
	}
	least, ok := cache[key]
	if !ok {
		_, least = pack.Circles(ds)
		cache[key] = least
	}
	return least, max(unit.Length(1.2*math.Sqrt(sum)), ds[0]+ds[1], least)
}

// length is a setting of that dimension; not set, negative or not finite is 0.
func (f *finder) length(name string, at design.Scope) unit.Length {
	x := unit.Length(f.job.Settings.Get(name, at).Value.Quantity.Value)
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

func (f *finder) scope(e *space.Edge) design.Scope {
	s := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}
	if r := f.run[e.Run]; r != nil {
		s.Panel = r.Panel
	}
	return s
}

// On lists the wires in an edge, in the order of the net.
func (b *Bundles) On(edge int) []int {
	if edge < 0 || edge >= len(b.on) {
		return nil
	}
	return b.on[edge]
}

// Laden cuts edges that follow one another into the parts in which wires lie.
func (b *Bundles) Laden(edges []int) [][]int {
	var out [][]int
	open := false
	for _, e := range edges {
		if len(b.On(e)) == 0 {
			open = false
			continue
		}
		if !open {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], e)
		open = true
	}
	return out
}
