package clip

// coarse is the best of a line in misses, holes and clips, evenness left out. Regular ways differ in evenness only, so that each step
// needs the least of a row that moves on, and all takes time in proportion to the length alone.
type coarse struct {
	own []cost // by spot: its clip
	pre []cost // by spot: from the beginning up to it, with its clip
	suf []cost // by spot: from it to the end, without its clip
	all cost
}

// flat is a cost without evenness.
func (c cost) flat() cost { return cost{c.a, c.b &^ (oneClip - 1)} }

// outline finds the best, where holes is what each spot costs.
func (ln *line) outline(holes []int64) *coarse {
	n, r := len(ln.spots), ln.reach
	o := &coarse{own: make([]cost, n), pre: make([]cost, n), suf: make([]cost, n), all: r.empty}
	for i, h := range holes {
		o.own[i] = cost{h, oneClip}
	}
	o.backward(r)
	o.forward(r)
	for i := range o.own {
		if c := r.begin[i].flat().plus(o.own[i]).plus(o.suf[i]); c.less(o.all) {
			o.all = c
		}
	}
	return o
}

func (o *coarse) backward(r *reach) {
	n := int32(len(o.own))
	// Of the row, those that are less than all before them; the least is at the head.
	queue := make([]int32, n)
	value := make([]cost, n)
	head, tail, low := 0, 0, n
	for i := n - 1; i >= 0; i-- {
		for low > max(r.first[i], i+1) {
			low--
			for tail > head && !value[queue[tail-1]].less(value[low]) {
				tail--
			}
			queue[tail] = low
			tail++
		}
		for tail > head && queue[head] > r.last[i] {
			head++
		}
		best := r.stop[i].flat()
		if tail > head && value[queue[head]].less(best) {
			best = value[queue[head]]
		}
		for _, w := range r.odd[i] {
			if c := w.cost.flat().plus(value[w.to]); c.less(best) {
				best = c
			}
		}
		o.suf[i] = best
		value[i] = best.plus(o.own[i])
	}
}

func (o *coarse) forward(r *reach) {
	n := int32(len(o.own))
	queue := make([]int32, n)
	head, tail, next := 0, 0, int32(0)
	for k := range o.pre {
		o.pre[k] = r.begin[k].flat()
	}
	for k := range n {
		for next < k && r.first[next] <= k {
			for tail > head && !o.pre[queue[tail-1]].less(o.pre[next]) {
				tail--
			}
			queue[tail] = next
			tail++
			next++
		}
		for tail > head && r.last[queue[head]] < k {
			head++
		}
		if tail > head && o.pre[queue[head]].less(o.pre[k]) {
			o.pre[k] = o.pre[queue[head]]
		}
		o.pre[k] = o.pre[k].plus(o.own[k])
		for _, w := range r.odd[k] {
			if c := w.cost.flat().plus(o.pre[k]); c.less(o.pre[w.to]) {
				o.pre[w.to] = c
			}
		}
	}
}

// tail is the best of a line. Evenness is settled for the spots on some way that is best without it; the rest of the others is
// counted without it, and so at no more than it is.
type tail struct {
	cost []cost // by spot: from there to the end, without its clip
	next []int  // by spot: the spot after it, -1 none; for those on a best way
	all  cost   // of the whole line
	head int    // the first spot, -1 none
	work int    // ways looked at
}

// settle finds the best clips of a line by itself, where holes is what each spot costs. Of equals the first places are taken.
func (ln *line) settle(holes []int64) *tail {
	o, r, n := ln.outline(holes), ln.reach, len(ln.spots)
	t := &tail{cost: o.suf, next: make([]int, n), head: -1, all: o.all, work: n}
	var live []int32 // spots on a best way, in order
	after := make([]int, n)
	for i := range n {
		if o.pre[i].plus(o.suf[i]) == o.all {
			live = append(live, int32(i))
		}
	}
	for i, x := n-1, len(live); i >= 0; i-- {
		for x > 0 && int(live[x-1]) >= i {
			x--
		}
		after[i] = x
	}
	value := make([]cost, len(live)) // with evenness, and the clip itself
	rank := func(spot int32) int {
		x := after[spot]
		if x < len(live) && live[x] == spot {
			return x
		}
		return -1
	}
	for x := len(live) - 1; x >= 0; x-- {
		i := live[x]
		p, flat := ln.spots[i].at, o.suf[i]
		best, next := r.stop[i], -1
		if best.flat() != flat {
			best = never
		}
		if r.first[i] <= r.last[i] {
			for y := max(after[r.first[i]], x+1); y < len(live) && live[y] <= r.last[i]; y++ {
				c := value[y]
				c.b += square(ln.spots[live[y]].at - p)
				t.work++
				if c.less(best) {
					best, next = c, int(live[y])
				}
			}
		}
		for _, w := range r.odd[i] {
			if y := rank(w.to); y >= 0 {
				if c := w.cost.plus(value[y]); c.less(best) {
					best, next = c, int(w.to)
				} else if c == best && int(w.to) < next {
					next = int(w.to)
				}
			}
		}
		t.cost[i], t.next[i] = best, next
		value[x] = best.plus(o.own[i])
	}
	t.all = never
	if r.empty == o.all {
		t.all = r.empty
	}
	for x, i := range live {
		if c := r.begin[i].plus(value[x]); c.less(t.all) {
			t.all, t.head = c, int(i)
		}
	}
	return t
}

// chain lists the spots of the best answer.
func (t *tail) chain() (out []int) {
	for i := t.head; i >= 0; i = t.next[i] {
		out = append(out, i)
	}
	return out
}

// alone is what a clip costs at each spot where nothing faces it.
func (ln *line) alone() []int64 {
	out := make([]int64, len(ln.spots))
	for i := range out {
		out[i] = ln.spots[i].holes()
	}
	return out
}

// chainCost is what a chain of spots costs by itself; each must lead to the next by a way.
func (ln *line) chainCost(chain []int) cost {
	r := ln.reach
	if len(chain) == 0 {
		return r.empty
	}
	c := r.begin[chain[0]].plus(r.stop[chain[len(chain)-1]])
	for x, i := range chain {
		c = c.plus(cost{ln.spots[i].holes(), oneClip})
		if x == 0 {
			continue
		}
		from := chain[x-1]
		if r.first[from] <= int32(i) && int32(i) <= r.last[from] {
			c.b += square(ln.spots[i].at - ln.spots[from].at)
			continue
		}
		for _, w := range r.odd[from] {
			if int(w.to) == i {
				c = c.plus(w.cost)
			}
		}
	}
	return c
}
