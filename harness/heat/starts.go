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

// lift is a start as a place sees it: the wires there that then carry more than the case leaves them at least, ascending, and what they carry.
type lift struct {
	start int
	wires []lifted
}

type lifted struct {
	wire int
	amps unit.Current
}

// over spreads it over some wires, ascending.
func (x *lift) over(wires []int, out []unit.Current) []unit.Current {
	out = out[:0]
	n := 0
	for _, i := range wires {
		for n < len(x.wires) && x.wires[n].wire < i {
			n++
		}
		a := unit.Current(0)
		if n < len(x.wires) && x.wires[n].wire == i {
			a = x.wires[n].amps
		}
		out = append(out, a)
	}
	return out
}

// starts reads the starts of a case. A start lifts only what it may move: what works on and off elsewhere is counted as it is without it. Only places
// are looked at where a wire or a start that moves it is another than in was.
func (k *Kept) starts(c *solve.CaseResult, cur, was *current) {
	cur.at = make([][]lift, len(k.places))
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
	if some {
		for pi := range cur.at {
			if !other[pi] {
				cur.at[pi] = was.at[pi]
			}
		}
	}
	for n, moved := range moves {
		own := element
		if of[n].Net != of[0].Net {
			own = k.elements(of[n].Net)
		}
		for _, i := range moved {
			if own[i] < 0 || some && !slices.ContainsFunc(k.on[i], func(pi int) bool { return other[pi] }) {
				continue
			}
			if a := k.atLeast(of[n].Amps(own[i]), i); unit.Worse(a, cur.least[i]) {
				for _, pi := range k.on[i] {
					if !some || other[pi] {
						x := cur.lift(pi, n)
						x.wires = append(x.wires, lifted{i, a})
					}
				}
			}
		}
	}
}

// others marks the places where a lift may be another than it was: some tells whether only those. What a start carries where it moves nothing is what
// the case carries there. As long as one start stands as it did, the net is the same, and each moves the wires that it moved.
func (k *Kept) others(was, now *current, moves [][]int) (other []bool, some bool) {
	if was == nil || !was.solved || !now.solved || len(was.starts) != len(now.starts) {
		return nil, false
	}
	for n := range now.starts {
		a, b := &was.starts[n], &now.starts[n]
		if a.device != b.device || a.d != b.d {
			return nil, false
		}
		some = some || b.standing.Known && a.standing == b.standing
	}
	if !some {
		return nil, false
	}
	other = make([]bool, len(k.places))
	mark := func(wire int) {
		for _, pi := range k.on[wire] {
			other[pi] = true
		}
	}
	for i := range now.least {
		if was.full[i] != now.full[i] || was.least[i] != now.least[i] {
			mark(i)
		}
	}
	for n, moved := range moves {
		if b := now.starts[n].standing; !b.Known || b != was.starts[n].standing {
			for _, i := range moved {
				mark(i)
			}
		}
	}
	return other, true
}

// lift is the last start of a place, made if it is not yet there.
func (c *current) lift(pi, n int) *lift {
	l := c.at[pi]
	if len(l) == 0 || l[len(l)-1].start != n {
		l = append(l, lift{start: n})
		c.at[pi] = l
	}
	return &l[len(l)-1]
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
