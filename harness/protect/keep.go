package protect

// keeper is told of one short of a part after another and keeps those worth reading: of each place the worst of its weakest and of its strongest ones, and for a
// wire that none of those heats most, the one that does.
type keeper struct {
	*weigher
	now    order
	seen   []bool // wires of the part, as all that is by wire: they carry the current of some short
	trials []trial
	orders []order // of the trials, and in the end of what is kept
	uses   []int   // of each of them; what is of no more use is let go
	best   map[sideKey]int
	hurt   []int     // by wire: the trial that heats it most; -1
	by     []float64 // and the share of its room that takes
	kept   []Short
}

type sideKey struct {
	place
	strong bool
}

// order is where a short stands among all that are tried: first what stands at a load in every net, then ends of wires, then chafes; in each net as they
// come there.
type order struct {
	part int32
	turn turn
	net  int32
	nth  int32 // load of the part in that net, wire of the part, or main fuse and stud of the whole
}

type turn uint8

const (
	atLoads turn = iota
	deadEnds
	chafes
)

func newKeeper(g *weigher, part int32) *keeper {
	n := len(g.apart.wires.at(part))
	k := &keeper{weigher: g, now: order{part: part}, seen: make([]bool, n), best: map[sideKey]int{}, hurt: make([]int, n), by: make([]float64, n)}
	for i := range k.hurt {
		k.hurt[i] = -1
	}
	return k
}

// tell tells of a short, and whether it counts.
func (k *keeper) tell(nth int, t trial, counts bool) {
	for _, w := range t.Wires {
		k.seen[k.apart.pos[w]] = true
	}
	if k.now.nth = int32(nth); counts {
		k.add(t)
	}
}

func (k *keeper) add(t trial) {
	for i := range t.pairs {
		for _, p := range k.downOf[t.pairs[i].fuse] {
			p.see(&t)
		}
	}
	at, uses := len(k.trials), 0
	key := sideKey{t.place(), t.Strong}
	if j, ok := k.best[key]; !ok || k.worse(&t, &k.trials[j]) {
		if ok {
			k.letGo(j)
		}
		k.best[key] = at
		uses++
	}
	for n := range t.heats {
		h := &t.heats[n]
		w := k.apart.pos[h.wire]
		if h.used > k.by[w]*(1+sameTimes) && !h.fine {
			*h = k.bear(h.wire, h.steps, true)
		}
		if h.used > k.by[w]*(1+sameTimes) {
			if j := k.hurt[w]; j == at {
				uses--
			} else if j >= 0 {
				k.letGo(j)
			}
			k.hurt[w], k.by[w] = at, h.used
			uses++
		}
	}
	if uses > 0 {
		t.pairs = nil
		k.trials, k.uses, k.orders = append(k.trials, t), append(k.uses, uses), append(k.orders, k.now)
	}
}

func (k *keeper) letGo(j int) {
	if k.uses[j]--; k.uses[j] == 0 {
		k.trials[j] = trial{}
	}
}

// worth marks the shorts that are kept. That which heats a wire most only where it does so more than the others.
func (k *keeper) worth() []bool {
	out := make([]bool, len(k.trials))
	for _, i := range k.best {
		out[i] = true
	}
	by := make([]float64, len(k.by))
	for i := range k.trials {
		if out[i] {
			k.heaviest(&k.trials[i], by, func(*wireHeat) {})
		}
	}
	for w, i := range k.hurt {
		if i >= 0 && (k.by[w] > 1+1e-9 || k.by[w] > by[w]*(1+sameTimes)) {
			out[i] = true
		}
	}
	return out
}

// heaviest tells of the wires that a short heats more than by says, and puts it there.
func (k *keeper) heaviest(t *trial, by []float64, tell func(h *wireHeat)) {
	for n := range t.heats {
		h := &t.heats[n]
		w := k.apart.pos[h.wire]
		if !h.fine && h.used > by[w]*(1+1e-9) {
			*h = k.bear(h.wire, h.steps, true)
		}
		if h.used > by[w]*(1+1e-9) {
			by[w] = h.used
			tell(h)
		}
	}
}

// keep keeps them, and gives each wire the worst of those.
func (k *keeper) keep() {
	by := make([]float64, len(k.by))
	worst := make([]ShortHeat, len(k.by))
	var orders []order
	for i, ok := range k.worth() {
		if !ok {
			continue
		}
		t := &k.trials[i]
		k.heaviest(t, by, func(h *wireHeat) {
			w := k.apart.pos[h.wire]
			worst[w] = h.ShortHeat
			worst[w].Short = len(k.kept)
		})
		k.settle(t)
		if t.Hot >= 0 && t.Worst.Latest == Never {
			t.Worst.Reaches = k.warm.After(t.Hot, t.Worst.Amps, atRest)
		}
		if o := t.On; o != nil && o.Hot >= 0 && o.Worst.Latest == Never {
			o.Worst.Reaches = k.warm.After(o.Hot, o.Worst.Amps, atRest)
		}
		k.kept, orders = append(k.kept, t.Short), append(orders, k.orders[i])
	}
	for n, i := range k.apart.wires.at(k.now.part) {
		if int(i) >= len(k.res.Wires) || !(by[n] > 0) {
			continue
		}
		h := worst[n]
		if h.Latest == Never {
			h.Reaches = k.warm.After(int(i), h.Amps, atRest)
		}
		k.res.Wires[i].Short = &h
	}
	k.trials, k.uses, k.best, k.orders = nil, nil, nil, orders
}
