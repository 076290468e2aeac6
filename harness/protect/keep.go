package protect

// keeper is told of one short after another and keeps those worth reading: of each place the worst of its weakest and of its strongest ones, and for a
// wire that none of those heats most, the one that does.
type keeper struct {
	*weigher
	seen   []bool // wires that carry the current of some short
	trials []trial
	uses   []int // of each of them; what is of no more use is let go
	best   map[sideKey]int
	hurt   []int     // by wire: the trial that heats it most; -1
	by     []float64 // and the share of its room that takes
	downs  map[FuseRef][]*pairing
	downOf map[FuseRef][]*pairing
}

type sideKey struct {
	place
	strong bool
}

func newKeeper(g *weigher) *keeper {
	n := len(g.nt.Wires)
	k := &keeper{weigher: g, seen: make([]bool, n), best: map[sideKey]int{}, hurt: make([]int, n), by: make([]float64, n), downs: map[FuseRef][]*pairing{}, downOf: map[FuseRef][]*pairing{}}
	for i := range k.hurt {
		k.hurt[i] = -1
	}
	for i := range g.res.Fuses {
		down := &g.res.Fuses[i]
		for _, a := range down.Ahead {
			if up := g.fuses[a]; up != nil {
				p := &pairing{up: up, down: down, best: Pair{Up: a, Down: down.FuseRef}, worst: -1}
				k.downs[a] = append(k.downs[a], p)
				k.downOf[down.FuseRef] = append(k.downOf[down.FuseRef], p)
			}
		}
	}
	return k
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
		if h.used > k.by[h.wire]*(1+sameTimes) && !h.fine {
			*h = k.bear(h.wire, h.steps, true)
		}
		if h.used > k.by[h.wire]*(1+sameTimes) {
			if j := k.hurt[h.wire]; j == at {
				uses--
			} else if j >= 0 {
				k.letGo(j)
			}
			k.hurt[h.wire], k.by[h.wire] = at, h.used
			uses++
		}
	}
	if uses > 0 {
		t.pairs = nil
		k.trials, k.uses = append(k.trials, t), append(k.uses, uses)
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
	by := make([]float64, len(k.wires))
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
		if !h.fine && h.used > by[h.wire]*(1+1e-9) {
			*h = k.bear(h.wire, h.steps, true)
		}
		if h.used > by[h.wire]*(1+1e-9) {
			by[h.wire] = h.used
			tell(h)
		}
	}
}

// keep puts the shorts into the result. Then each wire is given the worst of those.
func (k *keeper) keep() {
	by := make([]float64, len(k.wires))
	worst := make([]ShortHeat, len(k.wires))
	for i, ok := range k.worth() {
		if !ok {
			continue
		}
		t := &k.trials[i]
		k.heaviest(t, by, func(h *wireHeat) {
			worst[h.wire] = h.ShortHeat
			worst[h.wire].Short = len(k.res.Shorts)
		})
		k.settle(t)
		t.Worst.Short = len(k.res.Shorts)
		if t.Hot >= 0 && t.Worst.Latest == Never {
			t.Worst.Reaches = k.warm.After(t.Hot, t.Worst.Amps, atRest)
		}
		if o := t.On; o != nil && o.Hot >= 0 {
			o.Worst.Short = len(k.res.Shorts)
			if o.Worst.Latest == Never {
				o.Worst.Reaches = k.warm.After(o.Hot, o.Worst.Amps, atRest)
			}
		}
		k.res.Shorts = append(k.res.Shorts, t.Short)
	}
	for i := range k.res.Wires {
		w := &k.res.Wires[i]
		if w.Wire < 0 || w.Wire >= len(worst) || by[w.Wire] <= 0 {
			continue
		}
		h := worst[w.Wire]
		if h.Latest == Never {
			h.Reaches = k.warm.After(w.Wire, h.Amps, atRest)
		}
		w.Short = &h
	}
}

// pairs puts the pairs into the result.
func (k *keeper) pairs() {
	for i := range k.res.Fuses {
		for _, p := range k.downs[k.res.Fuses[i].FuseRef] {
			k.res.Pairs = append(k.res.Pairs, p.best)
		}
	}
}
