package heat

import (
	"slices"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// start is a device that starts.
type start struct {
	device string
	d      unit.Time
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

// starts reads the starts of a case. A start lifts only what it may move: what works on and off elsewhere is counted as it is without it.
func (k *Kept) starts(c *solve.CaseResult, cur *current) {
	cur.at = make([][]lift, len(k.places))
	var of []*solve.StartResult
	for n := range c.Starts {
		st := &c.Starts[n]
		if d := k.set.startTime(st.Device); d > 0 && st.Net != nil {
			of, cur.starts = append(of, st), append(cur.starts, start{device: st.Device, d: d})
		}
	}
	if len(of) == 0 {
		return
	}
	element := k.elements(of[0].Net)
	least := make([]unit.Current, len(element))
	for i := range least {
		least[i] = cur.full[i]
		for n := range cur.steps {
			least[i] = min(least[i], cur.steps[n].Amps[i])
		}
	}
	for n, moved := range k.moves(c, of, element) {
		own := element
		if of[n].Net != of[0].Net {
			own = k.elements(of[n].Net)
		}
		for _, i := range moved {
			if own[i] < 0 {
				continue
			}
			if a := k.atLeast(of[n].Amps(own[i]), i); unit.Worse(a, least[i]) {
				for _, pi := range k.on[i] {
					x := cur.lift(pi, n)
					x.wires = append(x.wires, lifted{i, a})
				}
			}
		}
	}
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
// currents are known.
func (k *Kept) moves(c *solve.CaseResult, of []*solve.StartResult, element []int) [][]int {
	out := make([][]int, len(of))
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
		for i, list := range c.StartsAtWires() {
			if i >= len(element) || element[i] < 0 {
				continue
			}
			for _, s := range list {
				if n := index[s]; n >= 0 && solved[n] {
					out[n] = append(out[n], i)
				}
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
	return out
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
