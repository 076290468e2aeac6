package clip

import "slices"

// dual looks for the shares of a hole in common, place by place, at which the best of the two lines, each for itself, cost most: that is
// the best bound. Where only one of them has a clip its share goes up, for then that clip pays for its hole; so the shares climb in
// turns. Each turn's clips also make an answer, the second line settled after the first; the best of them is known when the search begins.
type dual struct {
	*pair
	part  []int64    // by stretch of the first line: its share of a hole in common
	at    []int32    // by spot of the first line: its stretch; -1 where nothing is shared
	alone [2][]int64 // by spot
	fixed [2][]int64 // by spot: the share where it does not depend on part
	best  [2][]int64 // by spot: the shares of the best bound
	bound cost
	known found
	tried [2][]int // chains tried last
	work  int
}

// stretch is how many millimetres have one share.
const stretch = 5

func newDual(p *pair) *dual {
	d := &dual{pair: p, at: blank(len(p.line[0].spots))}
	d.known.cost = never
	for k := range 2 {
		d.alone[k] = p.line[k].alone()
		d.fixed[k] = slices.Clone(d.alone[k])
	}
	for i, j := range p.face[0] {
		if j < 0 {
			continue
		}
		h, _, ok := p.meet(i, int(j))
		a, b := &d.fixed[0][i], &d.fixed[1][j]
		x, y := &p.line[0].spots[i], &p.line[1].spots[j]
		switch {
		case !ok || h >= *a+*b:
		case h == oneHole && *a == oneHole && *b == oneHole && x.given:
			*b = 0
		case h == oneHole && *a == oneHole && *b == oneHole && y.given:
			*a = 0
		case h == oneHole && *a == oneHole && *b == oneHole:
			d.at[i] = int32(x.at / stretch)
		default:
			*a = min(*a, h)
			*b = min(*b, h-*a)
		}
	}
	d.part = make([]int64, p.line[0].length/stretch+1)
	for i := range d.part {
		d.part[i] = oneHole / 2
	}
	return d
}

// shares is what each spot costs at the present shares. Over both lines that is never more than what their clips cost together.
func (d *dual) shares() (out [2][]int64) {
	out = [2][]int64{slices.Clone(d.fixed[0]), slices.Clone(d.fixed[1])}
	for i, s := range d.at {
		if s >= 0 {
			out[0][i], out[1][d.face[0][i]] = d.part[s], oneHole-d.part[s]
		}
	}
	return out
}

// climb changes the shares until the bound meets what is known, in turns at most.
func (d *dual) climb(turns int) {
	for k := range 2 { // so that there is an answer at all
		h := slices.Clone(d.alone[k])
		d.line[k].barGuests(h)
		t := d.line[k].settle(h)
		d.work += t.work
		d.try(k, t.chain())
	}
	d.bound = cost{-1, 0}
	still := 0
	for turn := range turns {
		h := d.shares()
		var chain [2][]int
		sum := cost{}
		for k := range 2 {
			o := d.line[k].outline(h[k])
			sum = sum.plus(o.all)
			chain[k] = o.chain(d.line[k], turn%2 == 1)
			d.work += 3 * len(h[k])
		}
		if d.bound.less(sum) {
			d.bound, d.best = sum, h
		}
		open := wholeHoles(d.bound).a < d.known.cost.a
		for k := range 2 {
			if open {
				d.try(k, chain[k])
			}
		}
		if d.shift(chain, int64(1+8*(turns-turn)/turns)) {
			still = 0
		} else {
			still++
		}
		if d.bound.a >= d.known.cost.a || still > 1 {
			break
		}
	}
}

// shift moves the shares by step where one line has more clips than the other; it tells whether any moved.
func (d *dual) shift(chain [2][]int, step int64) bool {
	want := make([]int64, len(d.part))
	for _, i := range chain[0] {
		if d.at[i] >= 0 {
			want[d.at[i]]++
		}
	}
	for _, j := range chain[1] {
		if i := d.face[1][j]; i >= 0 && d.at[i] >= 0 {
			want[d.at[i]]--
		}
	}
	moved := false
	for s, w := range want {
		to := min(max(d.part[s]+w*step, 0), oneHole)
		moved = moved || to != d.part[s]
		d.part[s] = to
	}
	return moved
}

// try settles the second line after a chain of the first, then the first after the second, and so on while that helps, and keeps the
// answer if it is the best.
func (d *dual) try(first int, chain []int) {
	if slices.Equal(chain, d.tried[first]) {
		return
	}
	d.tried[first] = chain
	for last := never; ; {
		if slices.ContainsFunc(chain, func(i int) bool { return d.line[first].spots[i].guest }) {
			return
		}
		t := d.line[1-first].settle(d.after(first, chain))
		d.work += t.work
		now := t.all.plus(d.line[first].chainCost(chain))
		if !now.less(last) {
			return
		}
		last = now
		next := t.chain()
		if now.less(d.known.cost) {
			d.known.cost = now
			d.known.spots[first], d.known.spots[1-first] = chain, next
		}
		first, chain = 1-first, next
	}
}

// tails is the best of each line at the best shares.
func (d *dual) tails() (out [2]*tail) {
	for k := range 2 {
		out[k] = d.line[k].settle(d.best[k])
		d.work += out[k].work
	}
	return out
}

// chain lists the spots of a best answer, evenness left out: the one with the shortest steps, or that with the longest.
func (o *coarse) chain(ln *line, short bool) (out []int) {
	r := ln.reach
	at := -1
	for k := range o.own {
		if r.begin[k].flat().plus(o.own[k]).plus(o.suf[k]) == o.all {
			at = k
			break
		}
	}
	for at >= 0 {
		out = append(out, at)
		want, next := o.suf[at], -1
		for n := int32(0); n <= r.last[at]-r.first[at] && next < 0; n++ {
			k := r.last[at] - n
			if short {
				k = r.first[at] + n
			}
			if o.own[k].plus(o.suf[k]) == want {
				next = int(k)
			}
		}
		for _, w := range r.odd[at] {
			if next < 0 && w.cost.flat().plus(o.own[w.to]).plus(o.suf[w.to]) == want {
				next = int(w.to)
			}
		}
		at = next
	}
	return out
}
