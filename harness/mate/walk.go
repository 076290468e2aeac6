package mate

import (
	"fmt"
	"slices"
)

// visit is where a walk has come, and how.
type visit struct {
	at   int32
	fuse int32 // the first that it passed; 0: none
	from int32 // the visit before; -1: the walk began here
	cut  int32 // the connector that it passed on the way from there; 0: none
	next int32 // of the visits to one place the one before; -1: none
}

// room is what walks write to, one after another.
type room struct {
	order []visit
	last  []int32 // by place: the last visit to it; it counts where order has it
	cuts  []int32 // by connector: the look that passed it last
	looks int32
}

// met tells whether a walk was at a place with a fuse behind it, and the last visit to that place.
func (r *room) met(at, fuse int32) (last int32, met bool) {
	last = r.last[at]
	if int(last) >= len(r.order) || r.order[last].at != at {
		return -1, false
	}
	for i := last; i >= 0; i = r.order[i].next {
		if r.order[i].fuse == fuse {
			return last, true
		}
	}
	return last, false
}

func (r *room) put(v visit) {
	r.last[v.at] = int32(len(r.order))
	r.order = append(r.order, v)
}

// walk goes from a place over what ok allows, nearest first, with some connectors unplugged, until it comes to an end. What it gives holds until the next.
func (w *web) walk(from int32, cuts []int32, ok func(b *bond) bool, end func(at int32) bool) []visit {
	r := &w.room
	r.order = r.order[:0]
	if n := len(w.at) - len(r.last); n > 0 {
		r.last = append(r.last, make([]int32, n)...)
	}
	r.put(visit{at: from, from: -1, next: -1})
	if end(from) {
		return r.order
	}
	for n := 0; n < len(r.order); n++ {
		t := r.order[n]
		for i := range w.at[t.at] {
			b := &w.at[t.at][i]
			if b.cut != 0 && slices.Contains(cuts, b.cut) || !ok(b) {
				continue
			}
			v := visit{at: b.to, fuse: t.fuse, from: int32(n), cut: b.cut}
			if v.fuse == 0 {
				v.fuse = b.fuse
			}
			last, met := r.met(v.at, v.fuse)
			if met {
				continue
			}
			v.next = last
			if r.put(v); end(v.at) {
				return r.order
			}
		}
	}
	return r.order
}

// keep adds the connectors on the way to a visit to those that were passed.
func (w *web) keep(passed []int32, order []visit, i int) []int32 {
	r := &w.room
	if n := len(w.cuts) + 1 - len(r.cuts); n > 0 {
		r.cuts = append(r.cuts, make([]int32, n)...)
	}
	for i := int32(i); i >= 0; i = order[i].from {
		if c := order[i].cut; c != 0 && r.cuts[c] != r.looks {
			r.cuts[c] = r.looks
			passed = append(passed, c)
		}
	}
	return passed
}

// look says what is met from a place, -1 being none, when some connectors are unplugged. A feed reaches the plus of a supply over metal, switches in some state,
// diodes and fuses; an earth the minus of one over metal alone. Of what decides it the ways are kept, as far as they pass connectors: while
// those stay plugged another may be pulled, and nothing changes.
func (w *web) look(from int32, cuts ...int32) seen {
	x := seen{}
	x.Text = "nothing"
	if from < 0 {
		x.Role = nothing.String()
		return x
	}
	w.room.looks++
	// From a wire towards the source a diode is passed backwards.
	order := w.walk(from, cuts, func(b *bond) bool { return b.as != oneWay || b.behind }, func(int32) bool { return false })
	var best *source
	var fuses []string
	for i := range order {
		p := &order[i]
		s := w.plus[p.at]
		if s == nil {
			continue
		}
		x.passed = w.keep(x.passed, order, i)
		if best == nil || !s.own && best.own || s.own == best.own && (s.volts > best.volts || s.volts == best.volts && s.device < best.device) {
			best = s
		}
		if !s.own {
			x.unfuse = x.unfuse || p.fuse == 0
			if p.fuse != 0 && !slices.Contains(fuses, w.fuses[p.fuse]) {
				fuses = append(fuses, w.fuses[p.fuse])
			}
		}
	}
	slices.Sort(fuses)
	if best != nil && !best.own {
		x.harm, x.Volts, x.source = feed, best.volts, best.device
		x.Text = fmt.Sprintf("%s of %s", best.volts, best.device)
		if x.unfuse {
			x.Text += ", no fuse"
		} else if len(fuses) > 0 {
			x.fuses = fuses[0]
			x.Text += " behind " + fuses[0]
			if len(fuses) > 1 {
				x.Text += fmt.Sprintf(" and %d more", len(fuses)-1)
			}
		}
		x.Role = x.harm.String()
		return x
	}
	// The nearest minus decides: nothing further is asked for.
	order = w.walk(from, cuts, func(b *bond) bool { return b.as == metal }, func(at int32) bool { return w.minus[at] })
	find := func(ok func(at int32) bool) bool {
		i := slices.IndexFunc(order, func(p visit) bool { return ok(p.at) })
		if i >= 0 {
			x.passed = w.keep(x.passed, order, i)
		}
		return i >= 0
	}
	switch {
	case find(func(at int32) bool { return w.minus[at] }):
		x.harm, x.Text = earth, "earth"
	case best != nil:
		x.harm, x.Volts, x.source, x.Text = quiet, best.volts, best.device, fmt.Sprintf("%s of %s's own", best.volts, best.device)
	case find(func(at int32) bool { return w.quiet[at] || w.signal[at] }):
		x.harm, x.Text = quiet, "signal"
	case find(func(at int32) bool {
		if x.load == "" {
			x.load = w.loads[at]
		}
		return x.load != ""
	}):
		x.harm, x.Text = load, "load "+x.load
	}
	x.Role = x.harm.String()
	return x
}
