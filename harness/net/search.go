package net

import (
	"slices"
	"strconv"

	"loomsheet/harness/design"
)

// mark is how a state was reached in a layer: the count of vias passed so far.
type mark struct {
	cost      int64
	crossings int32
	seen      bool
	done      bool
	from      int32 // position, -1 at a start
	by        arc
}

// desk is what one search needs. It is kept for the next: only what was touched is wiped.
type desk struct {
	marks   []mark
	touched []int
	todo    queue
	wanted  []bool // by state
}

type entry struct {
	cost      int64
	crossings int32
	pos       int32
}

func (a entry) before(b entry) bool {
	if a.cost != b.cost {
		return a.cost < b.cost
	}
	if a.crossings != b.crossings {
		return a.crossings < b.crossings
	}
	return a.pos < b.pos
}

// queue is a heap; entries that nothing parts are the same, so its inner order never shows.
type queue []entry

func (q *queue) push(x entry) {
	l := append(*q, x)
	i := len(l) - 1
	for i > 0 {
		up := (i - 1) / 2
		if !x.before(l[up]) {
			break
		}
		l[i] = l[up]
		i = up
	}
	l[i] = x
	*q = l
}

func (q *queue) pop() entry {
	l := *q
	top, x := l[0], l[len(l)-1]
	l = l[:len(l)-1]
	for i := 0; len(l) > 0; {
		k := 2*i + 1
		if k+1 < len(l) && l[k+1].before(l[k]) {
			k++
		}
		if k >= len(l) || !l[k].before(x) {
			l[i] = x
			break
		}
		l[i] = l[k]
		i = k
	}
	*q = l
	return top
}

// search is Dijkstra's over states times vias passed. Passing a via as soon as it is met is never worse than leaving it for later,
// so one layer follows from the other. It stops at the first end reached with every via passed, or, where states are wanted, when all of these are
// done that can be, or goes through all. The marks stand until the next search; those of the layers follow one another.
func (g *graph) search(q *ask, wanted []int32) (marks []mark, end int) {
	n, last := len(g.states), len(q.vias)
	d := &g.desk
	for _, p := range d.touched {
		d.marks[p] = mark{}
	}
	d.touched, d.todo = d.touched[:0], d.todo[:0]
	if len(d.marks) < n*(last+1) {
		d.marks = make([]mark, n*(last+1))
	}
	marks = d.marks[:n*(last+1)]
	reach := func(pos int, c int64, crossings int32, from int, by arc) {
		m := &marks[pos]
		if m.done || m.seen && (m.cost < c || m.cost == c && m.crossings <= crossings) {
			return
		}
		if !m.seen {
			d.touched = append(d.touched, pos)
		}
		*m = mark{cost: c, crossings: crossings, seen: true, from: int32(from), by: by}
		d.todo.push(entry{c, crossings, int32(pos)})
	}
	for _, s := range q.starts {
		reach(g.pass(q, 0, s)*n+s, 0, 0, -1, arc{edge: -1, door: -1})
	}
	left := -1 // wanted states still to be done; below nothing: all there are
	if wanted != nil {
		left = g.wanted(q, wanted)
		defer func() {
			for _, s := range wanted {
				d.wanted[s] = false
			}
		}()
	}
	for len(d.todo) > 0 && left != 0 {
		x := d.todo.pop()
		m := &marks[x.pos]
		if m.done {
			continue
		}
		m.done = true
		layer, s := int(x.pos)/n, int(x.pos)%n
		if layer == last {
			if slices.Contains(q.ends, s) {
				return marks, int(x.pos)
			}
			if left > 0 && d.wanted[s] {
				left--
			}
		}
		for _, a := range g.arcs[s] {
			next, crossings := layer, m.crossings
			if a.door >= 0 {
				if !g.open(&g.doors[a.door], q) {
					continue
				}
				crossings++
				if next < last && q.vias[next].Kind == "break" && q.vias[next].Name == g.doors[a.door].of.Name {
					next++
				}
			} else if next < last && q.vias[next].Kind == "run" && q.vias[next].Name == g.geo.Edges[a.edge].Run {
				next++
			}
			next = g.pass(q, next, a.to)
			reach(next*n+a.to, m.cost+a.cost, crossings, int(x.pos), a)
		}
		if q.free {
			for _, o := range g.at(g.nodeOf(s)) {
				reach(layer*n+o, m.cost, m.crossings+1, int(x.pos), arc{to: o, edge: -1, door: -1})
			}
		}
	}
	return marks, -1
}

// wanted marks states and counts those among them to which there may be a way: they hang together with a start by open doors.
func (g *graph) wanted(q *ask, list []int32) (left int) {
	d := &g.desk
	if d.wanted == nil {
		d.wanted = make([]bool, len(g.states))
	}
	part := g.partsFor(q)
	met := map[int32]bool{}
	for _, s := range q.starts {
		met[part[s]] = true
	}
	for _, s := range list {
		if met[part[s]] && !d.wanted[s] {
			d.wanted[s] = true
			left++
		}
	}
	return left
}

// mostParts bounds the classes of which it is kept which states hang together.
const mostParts = 64

// partsFor numbers what hangs together by the doors that are open to a link, or by more: every door where it names some.
func (g *graph) partsFor(q *ask) []int32 {
	key, by := "class "+q.class, &ask{class: q.class}
	switch {
	case q.sealed:
		key, by = "sealed", &ask{sealed: true}
	case q.free || len(q.posts) > 0 || len(q.vias) > 0 || len(g.parts) >= mostParts && g.parts[key] == nil:
		key, by = "all", nil
	}
	if p := g.parts[key]; p != nil {
		return p
	}
	p := make([]int32, len(g.states))
	for i := range p {
		p[i] = -1
	}
	var todo []int
	for i := range p {
		if p[i] >= 0 {
			continue
		}
		p[i] = int32(i)
		for todo = append(todo[:0], i); len(todo) > 0; {
			s := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, a := range g.arcs[s] {
				if p[a.to] >= 0 || a.door >= 0 && by != nil && !g.open(&g.doors[a.door], by) {
					continue
				}
				p[a.to] = int32(i)
				todo = append(todo, a.to)
			}
		}
	}
	g.parts[key] = p
	return p
}

// pass counts the vias passed by being at a state.
func (g *graph) pass(q *ask, layer, s int) int {
	for layer < len(q.vias) {
		v := q.vias[layer]
		if v.Kind == "run" || v.Kind == "break" || g.geo.Find(v.Node) != g.nodeOf(s) {
			break
		}
		layer++
	}
	return layer
}

// find is the shortest way, of equals the one with the fewest crossings, of equals the first by natural order of names.
func (g *graph) find(q *ask) (route, bool) {
	marks, end := g.search(q, nil)
	if end < 0 {
		return route{}, false
	}
	r := route{cost: marks[end].cost}
	pos := int32(end)
	for marks[pos].from >= 0 {
		r.arcs = append(r.arcs, marks[pos].by)
		pos = marks[pos].from
	}
	slices.Reverse(r.arcs)
	r.start = int(pos) % len(g.states)
	return r, true
}

// findOnce is find, which looks once for links that ask the same.
func (b *builder) findOnce(q *ask) (route, bool) {
	k := q.key()
	if r, ok := b.found[k]; ok {
		return r, r.start >= 0
	}
	r, ok := b.g.find(q)
	if !ok {
		b.found[k] = route{start: -1}
		return route{}, false
	}
	b.found[k] = r
	return r, true
}

// key is all on which the answer to an ask depends; a via counts by what it is, not by where it stands in the text.
func (q *ask) key() string {
	var k []byte
	put := func(s string) { k = append(strconv.AppendInt(k, int64(len(s)), 10), ':'); k = append(k, s...) }
	for _, list := range [2][]int{q.starts, q.ends} {
		for _, s := range list {
			k = append(strconv.AppendInt(k, int64(s), 10), ' ')
		}
		k = append(k, ';')
	}
	put(q.class)
	for _, p := range q.posts {
		put(p)
	}
	k = append(k, ';')
	for _, v := range q.vias {
		put(v.Kind)
		put(v.Name)
		put(v.Node)
	}
	for _, b := range [2]bool{q.sealed, q.free} {
		k = strconv.AppendBool(k, b)
	}
	return string(k)
}

// splitWays lists the ways that end in each splice, and those of each circuit, both in their order.
func (b *builder) splitWays() {
	b.waysAt, b.waysOf = map[string][]*way{}, map[string][]*way{}
	for _, w := range b.ways {
		b.waysOf[w.circuit.Name] = append(b.waysOf[w.circuit.Name], w)
		f, t := w.link.From, w.link.To
		if f.Kind == design.AtSplice {
			b.waysAt[f.Name] = append(b.waysAt[f.Name], w)
		}
		if t.Kind == design.AtSplice && !(f.Kind == t.Kind && f.Name == t.Name) {
			b.waysAt[t.Name] = append(b.waysAt[t.Name], w)
		}
	}
}
