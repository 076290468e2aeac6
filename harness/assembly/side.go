package assembly

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/unit"
)

// item is something on one side of a place that a sleeve coming from there must pass, or come before.
type item struct {
	act int
	d   unit.Length // what the sleeve must open to while it passes it, with all else that lies beside it
	say string
}

// side is one way from a place to the ends of the wires there.
type side struct {
	name  string // "from A"; empty: there is one side only
	base  unit.Length
	items []item
	// joints on the way: a sleeve comes before they are made, or passes them and what is beyond.
	joints []item
	beyond []item
}

// view is what lies on a side of a bunch of wires.
type view struct {
	name   string
	wires  []int
	ends   []at
	pieces []int // of sleeved run, on the way
	lays   []int // acts that lay up other wires with them on the way
	but    int   // a plug whose boot does not count; -1
	fitted bool  // sleeves over runs are fitted by then, not open
}

// side lists what is on a side of a bunch. Of several contacts one is passed at a time, since they lie one behind the other.
func (s *sheet) side(v view) side { return s.sideFrom(v, map[int]bool{}) }

func (s *sheet) sideFrom(v view, seen map[int]bool) side {
	cs := s.m.circles(v.wires)
	out := side{name: v.name, base: most(cs, nil, 0)}
	add := func(act int, gone []int, d unit.Length, say string) {
		if act >= 0 {
			out.items = append(out.items, item{act, most(cs, gone, d), say})
		}
	}
	plugs, joints := map[int][]int{}, map[int][]int{}
	var plugOrder, jointOrder []int
	for _, a := range v.ends {
		if k, ok := s.plugOf[a]; ok {
			if plugs[k] == nil {
				plugOrder = append(plugOrder, k)
			}
			plugs[k] = append(plugs[k], a.wire)
		}
		if j, ok := s.jointAt(a); ok {
			if joints[j] == nil {
				jointOrder = append(jointOrder, j)
			}
			joints[j] = append(joints[j], a.wire)
		}
		if n := s.of(a, slideEnd); n >= 0 {
			add(n, []int{a.wire}, unknown, "the sleeve over "+s.m.endText(a))
		}
		if len(cs) == 1 {
			add(s.of(a, mark), []int{a.wire}, s.markOutside(a), "the mark at "+s.m.endText(a))
			add(s.of(a, slideSeal), []int{a.wire}, unknown, "the seal at "+s.m.endText(a))
		}
		if n := s.of(a, crimp); n >= 0 {
			add(n, []int{a.wire}, s.m.endOutside(a), across(s.acts[n].whatShort()+" at "+s.m.endText(a), s.m.endOutside(a)))
		}
	}
	for _, k := range plugOrder {
		p := &s.plugs[k]
		title := s.places[p.place].Title
		add(p.comes, plugs[k], body(p.housing), across(title, body(p.housing))+", and comes on its wires")
		add(p.insert, plugs[k], body(p.housing), across(title, body(p.housing)))
		if k != v.but {
			add(p.slide, plugs[k], p.loose, "boot "+p.boot+" of "+title)
		}
	}
	for _, k := range v.pieces {
		q := &s.pieces[k]
		d := q.loose
		if v.fitted {
			d = q.most + 2*q.sizes[0].wall
		}
		add(q.slide, q.wires, d, "the sleeve over "+q.name)
	}
	for _, n := range v.lays {
		out.items = append(out.items, item{n, unknown, "other wires that are laid up with these in " + s.places[s.acts[n].place].Title})
	}
	for _, j := range jointOrder {
		x := &s.joints[j]
		out.joints = append(out.joints, item{x.crimp, most(cs, joints[j], x.outside), across("splice "+x.Splice, x.outside)})
		if seen[j] {
			continue
		}
		seen[j] = true
		var on view
		on.but = v.but
		for _, a := range x.ends {
			if !slices.Contains(v.wires, a.wire) {
				on.wires, on.ends = append(on.wires, a.wire), append(on.ends, at{a.wire, 1 - a.end})
			}
		}
		if len(on.wires) == 0 {
			continue
		}
		far := s.sideFrom(on, seen)
		out.beyond = append(out.beyond, item{x.crimp, far.base, "the wires beyond splice " + x.Splice})
		out.beyond = append(append(append(out.beyond, far.items...), far.joints...), far.beyond...)
	}
	return out
}

func across(what string, d unit.Length) string {
	if d == unknown {
		return what + ", how large is not known"
	}
	return what + ", " + d.String() + " across"
}

// choose makes a choice of a slide that can come from several sides in several sizes.
func (s *sheet) choose(thing, act int, sizes []fit, sides []side) {
	c, x := choice{act: act}, slide{thing: thing, act: act}
	blocking := func(items []item, opens unit.Length) (acts []int) {
		for _, i := range items {
			if i.d > opens*(1+1e-9) && i.act != act && !slices.Contains(acts, i.act) {
				acts = append(acts, i.act)
			}
		}
		return acts
	}
	// early counts what would have to wait although it is usually done before.
	early := func(way []int) (n int) {
		for _, a := range way {
			if s.acts[a].kind < s.acts[act].kind {
				n++
			}
		}
		return n
	}
	for _, f := range sizes {
		type option struct {
			way  []int
			side int
		}
		var options []option
		for k, d := range sides {
			if d.base > f.expanded*(1+1e-9) && d.base != unknown {
				continue
			}
			near := blocking(d.items, f.expanded)
			all := slices.Clone(near)
			for _, j := range d.joints {
				all = append(all, j.act)
			}
			options = append(options, option{all, k})
			if len(d.joints) > 0 && len(blocking(d.joints, f.expanded)) == 0 {
				options = append(options, option{append(near, blocking(d.beyond, f.expanded)...), k})
			}
		}
		slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(early(a.way), early(b.way)) })
		for _, o := range options {
			c.ways, x.ways = append(c.ways, o.way), append(x.ways, way{f.size, o.side})
		}
	}
	widest := slices.MaxFunc(sizes, func(a, b fit) int { return cmp.Compare(a.expanded, b.expanded) }).expanded
	for _, d := range sides {
		x.said = append(x.said, s.stand(d, widest))
	}
	x.sides = sides
	s.choices, s.slides = append(s.choices, c), append(s.slides, x)
}

// stand says what of a side a sleeve of the widest size does not pass.
func (s *sheet) stand(d side, opens unit.Length) string {
	from := cmp.Or(d.name, "from its end") + ": "
	if d.base > opens*(1+1e-9) && d.base != unknown {
		return from + fmt.Sprintf("the wires there are up to %s thick, and it opens to %s", d.base, opens)
	}
	var all []string
	for _, i := range slices.Concat(d.items, d.joints, d.beyond) {
		if i.d > opens*(1+1e-9) {
			all = once(all, i.say)
		}
	}
	if len(all) == 0 {
		return from + "nothing stands in its way there"
	}
	if len(all) > 3 {
		all = append(all[:3], fmt.Sprintf("%d more", len(all)-3))
	}
	return from + "it opens to " + opens.String() + ", and must pass " + list(all)
}
