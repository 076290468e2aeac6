package heat

import (
	"slices"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// start is a device that starts.
type start struct {
	device   string
	d        unit.Time
	standing solve.Standing
}

// lifts is for each wire the starts that make it carry more than the case leaves it at least, ascending, and what it carries then.
type lifts struct {
	from []int32 // by wire: where its own begin; nil where nothing starts
	all  []lifted
}

type lifted struct {
	start int32
	amps  unit.Current
}

// liftedAt is that of the wire at k of a list, or of the net.
type liftedAt struct {
	k int32
	lifted
}

func (l *lifts) of(wire int) []lifted {
	if l.from == nil {
		return nil
	}
	return l.all[l.from[wire]:l.from[wire+1]]
}

// at is those of some wires by start, on the desk until it is asked for the next.
func (l *lifts) at(wires []int, d *desk) []liftedAt {
	d.byWire, d.order, d.lifts = d.byWire[:0], d.order[:0], d.lifts[:0]
	for k, i := range wires {
		for _, x := range l.of(i) {
			d.order = append(d.order, uint64(x.start)<<32|uint64(len(d.byWire)))
			d.byWire = append(d.byWire, liftedAt{int32(k), x})
		}
	}
	slices.Sort(d.order)
	for _, n := range d.order {
		d.lifts = append(d.lifts, d.byWire[uint32(n)])
	}
	return d.lifts
}

// starts reads the starts of a case. A start lifts only what it may move: what works on and off elsewhere is counted as it is without it. Only wires
// are looked at that are, or that a start moves which is, another than in was.
func (k *Kept) starts(c *solve.CaseResult, cur, was *current) {
	var of []*solve.StartResult
	for n := range c.Starts {
		st := &c.Starts[n]
		if d := k.set.startTime(st.Device); d > 0 && st.Net != nil {
			of, cur.starts = append(of, st), append(cur.starts, start{device: st.Device, d: d, standing: st.Standing()})
		}
	}
	if len(of) == 0 {
		return
	}
	element := k.elements(of[0].Net)
	cur.least = make([]unit.Current, len(element))
	for i := range cur.least {
		cur.least[i] = cur.full[i]
		for n := range cur.steps {
			cur.least[i] = min(cur.least[i], cur.steps[n].Amps[i])
		}
	}
	var moves [][]int
	moves, cur.solved = k.moves(c, of, element)
	other, some := k.others(was, cur, moves)
	if some && !slices.Contains(other, true) {
		cur.lifts = was.lifts
		return
	}
	d := desks.Get().(*desk)
	defer desks.Put(d)
	fresh := d.fresh[:0]
	defer func() { d.fresh = fresh }()
	for n, moved := range moves {
		own := element
		if of[n].Net != of[0].Net {
			own = k.elements(of[n].Net)
		}
		for _, i := range moved {
			if own[i] < 0 || some && !other[i] {
				continue
			}
			if a := k.atLeast(of[n].Amps(own[i]), i); unit.Worse(a, cur.least[i]) {
				fresh = append(fresh, liftedAt{int32(i), lifted{int32(n), a}})
			}
		}
	}
	// They are laid out by wire; fresh is by start.
	from := make([]int32, len(element)+1)
	for i := range fresh {
		from[fresh[i].k+1]++
	}
	for i := range element {
		if some && !other[i] {
			from[i+1] = int32(len(was.lifts.of(i)))
		}
		from[i+1] += from[i]
	}
	all, next := make([]lifted, from[len(element)]), slices.Clone(from)
	for i := range fresh {
		x := &fresh[i]
		all[next[x.k]] = x.lifted
		next[x.k]++
	}
	if some {
		for i := range element {
			if !other[i] {
				copy(all[from[i]:], was.lifts.of(i))
			}
		}
	}
	cur.lifts = lifts{from, all}
}

// others marks the wires whose lifts may be others than they were; some tells whether only those. What a start carries where it moves nothing is what
// the case carries there. As long as one start stands as it did, the net is the same, and each moves the wires that it moved.
func (k *Kept) others(was, now *current, moves [][]int) (other []bool, some bool) {
	if was == nil || !was.solved || !now.solved || !alike(was.starts, now.starts) {
		return nil, false
	}
	for n := range now.starts {
		a, b := &was.starts[n], &now.starts[n]
		some = some || b.standing.Known && a.standing == b.standing
	}
	if !some {
		return nil, false
	}
	other = make([]bool, len(k.nt.Wires))
	for i := range now.least {
		other[i] = was.full[i] != now.full[i] || was.least[i] != now.least[i]
	}
	for n, moved := range moves {
		if b := now.starts[n].standing; !b.Known || b != was.starts[n].standing {
			for _, i := range moved {
				other[i] = true
			}
		}
	}
	return other, true
}

// alike tells whether the same devices start for as long.
func alike(was, now []start) bool {
	return slices.EqualFunc(was, now, func(a, b start) bool { return a.device == b.device && a.d == b.d })
}

// moves lists for each start the wires whose current it may move, ascending: those joined to it by whatever lies in the case; all of them where only its
// currents are known, and then known is false.
func (k *Kept) moves(c *solve.CaseResult, of []*solve.StartResult, element []int) (out [][]int, known bool) {
	out = make([][]int, len(of))
	at := map[string]int{}
	solved := make([]bool, len(of))
	for n, st := range of {
		at[st.Device] = n
	}
	if c.Net != nil {
		for e := range c.Net.Elements {
			el := &c.Net.Elements[e]
			if el.Kind != solve.Load && el.Kind != solve.Coil {
				continue
			}
			if n, ok := at[el.Device]; ok && of[n].Net == c.Net && !solved[n] {
				solved[n] = of[n].MovesNode(el.From)
			}
		}
	}
	if slices.Contains(solved, true) {
		index := make([]int, len(c.Starts)) // of the case's own list
		n := 0
		for i := range index {
			index[i] = -1
			if n < len(of) && of[n] == &c.Starts[i] {
				index[i] = n
				n++
			}
		}
		var pieces [][]int // wires that the same starts move: they share the list of those
		piece := map[*int]int{}
		var by [][]int
		for i, list := range c.StartsAtWires() {
			if i >= len(element) || element[i] < 0 || len(list) == 0 {
				continue
			}
			k, ok := piece[&list[0]]
			if !ok {
				k = len(pieces)
				piece[&list[0]], pieces, by = k, append(pieces, nil), append(by, list)
			}
			pieces[k] = append(pieces[k], i)
		}
		for k, list := range by {
			for _, s := range list {
				switch n := index[s]; {
				case n < 0 || !solved[n]:
				case out[n] == nil:
					out[n] = slices.Clip(pieces[k])
				default:
					out[n] = append(out[n], pieces[k]...)
				}
			}
		}
		for n := range out {
			if !slices.IsSorted(out[n]) { // of more than one piece: its own
				slices.Sort(out[n])
			}
		}
	}
	for n := range of {
		if !solved[n] {
			for i := range element {
				out[n] = append(out[n], i)
			}
		}
	}
	return out, !slices.Contains(solved, false)
}

// elements is the element of each wire in a net, -1 of one that it does not have.
func (k *Kept) elements(nw *solve.Network) []int {
	out := make([]int, len(k.nt.Wires))
	for i := range out {
		out[i] = -1
	}
	for e := range nw.Elements {
		if el := &nw.Elements[e]; el.Kind == solve.Wire && el.Wire >= 0 && el.Wire < len(out) {
			out[el.Wire] = e
		}
	}
	return out
}
