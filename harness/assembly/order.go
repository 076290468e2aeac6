package assembly

import (
	"container/heap"
	"slices"
)

// graph is acts by index with what must come before what. A smaller rank is done earlier where nothing else decides; acts of one rank keep
// their order.
type graph struct {
	rank   []int
	before [][]int // by act, the acts that must be done first
}

// edge says that a is done before b.
func (g *graph) edge(a, b int) {
	if a != b && !slices.Contains(g.before[b], a) {
		g.before[b] = append(g.before[b], a)
	}
}

// choice is an act that can be done in several ways, of which one must be found: each lists the acts that must not be done yet then. The first
// is liked best.
type choice struct {
	act  int
	ways [][]int
}

// tries bounds the search over the ways of all choices. A harness as it is built needs hardly more than one try a choice.
const tries = 4000

// answer is an order of all acts, with the way taken of each choice. It has no order where none was found: then stuck is the choices that
// cannot all be met, none of which can be left out, or all of them where not whole: not every way was tried. Nothing stuck and no order: the acts that must
// be before others run in a ring.
type answer struct {
	order []int
	taken []int
	stuck []int
	whole bool
}

// contradiction is choices that cannot all be met.
type contradiction struct {
	stuck []int
	whole bool // every way was tried
}

// plan is an order of all acts that meets every choice but those of the contradictions, whose way taken is -1; no order where the acts that
// must be before others run in a ring.
func (g *graph) plan(choices []choice) (order, taken []int, against []contradiction) {
	rest := make([]int, len(choices))
	for i := range rest {
		rest[i] = i
	}
	taken = make([]int, len(choices))
	for {
		some := make([]choice, len(rest))
		for i, k := range rest {
			some[i] = choices[k]
		}
		a := solve(g, some)
		if len(a.stuck) == 0 {
			for i, w := range a.taken {
				taken[rest[i]] = w
			}
			return a.order, taken, against
		}
		c := contradiction{whole: a.whole}
		for _, i := range a.stuck {
			c.stuck = append(c.stuck, rest[i])
			taken[rest[i]] = -1
		}
		against = append(against, c)
		rest = slices.DeleteFunc(rest, func(k int) bool { return slices.Contains(c.stuck, k) })
	}
}

// solve finds an order in which every act comes after those that must be before it, and every choice before all acts of one of its ways. It
// finds one if there is one, unless the search grows beyond its bound.
func solve(g *graph, choices []choice) answer {
	left := tries
	if taken, ok := g.take(choices, &left); ok {
		order, _ := g.sorted(with(choices, taken))
		return answer{order: order, taken: taken, whole: true}
	}
	if _, ok := g.sorted(nil); !ok {
		return answer{whole: true}
	}
	a := answer{whole: left > 0, stuck: make([]int, len(choices))}
	for i := range choices {
		a.stuck[i] = i
	}
	if !a.whole {
		return a
	}
	// Leave out what is not needed for the contradiction, the last first.
	for i := len(choices) - 1; i >= 0; i-- {
		rest := slices.DeleteFunc(slices.Clone(a.stuck), func(k int) bool { return k == i })
		some := make([]choice, 0, len(rest))
		for _, k := range rest {
			some = append(some, choices[k])
		}
		budget := tries
		if _, ok := g.take(some, &budget); !ok && budget > 0 {
			a.stuck = rest
		}
	}
	return a
}

// take picks a way for every choice, going back where a ring closes. What has one way left is settled before anything is tried.
func (g *graph) take(choices []choice, left *int) ([]int, bool) {
	taken := make([]int, len(choices))
	for i := range taken {
		taken[i] = -1
	}
	if !g.settle(choices, taken) {
		return nil, false
	}
	var more func(i int) bool
	more = func(i int) bool {
		for i < len(choices) && taken[i] >= 0 {
			i++
		}
		if i == len(choices) {
			return true
		}
		for w := range choices[i].ways {
			if covered(choices[i].ways[:w], choices[i].ways[w]) {
				continue // it forbids no less than one that was tried
			}
			if *left--; *left <= 0 {
				break
			}
			taken[i] = w
			if _, ok := g.sorted(with(choices, taken)); ok && more(i+1) {
				return true
			}
		}
		taken[i] = -1
		return false
	}
	return taken, more(0)
}

// settle takes the only way of each choice that has one left, until none has; false where one has none, or there is a ring.
func (g *graph) settle(choices []choice, taken []int) bool {
	if _, ok := g.sorted(nil); !ok {
		return false
	}
	for news := true; news; {
		news = false
		for i := range choices {
			if taken[i] >= 0 {
				continue
			}
			open, n := -1, 0
			for w := range choices[i].ways {
				if covered(choices[i].ways[:w], choices[i].ways[w]) {
					continue
				}
				taken[i] = w
				if _, ok := g.sorted(with(choices, taken)); ok {
					if n++; n == 1 {
						open = w
					}
				}
			}
			taken[i] = -1
			switch n {
			case 0:
				return false
			case 1:
				taken[i], news = open, true
			}
		}
	}
	return true
}

// covered tells whether one of the ways forbids nothing that this one allows.
func covered(ways [][]int, way []int) bool {
	return slices.ContainsFunc(ways, func(w []int) bool {
		return !slices.ContainsFunc(w, func(x int) bool { return !slices.Contains(way, x) })
	})
}

// with is the acts that come after each act by the ways taken so far.
func with(choices []choice, taken []int) map[int][]int {
	after := map[int][]int{}
	for i, w := range taken {
		if w < 0 {
			continue
		}
		after[choices[i].act] = append(after[choices[i].act], choices[i].ways[w]...)
	}
	return after
}

// sorted is an order of all acts, always the one of least rank, then of least index, that can be done; false if there is a ring.
func (g *graph) sorted(after map[int][]int) ([]int, bool) {
	n := len(g.rank)
	waits, next := make([]int, n), make([][]int, n)
	put := func(a, b int) {
		next[a] = append(next[a], b)
		waits[b]++
	}
	for b, as := range g.before {
		for _, a := range as {
			put(a, b)
		}
	}
	for a := range n {
		for _, b := range after[a] {
			put(a, b)
		}
	}
	q := &queue{rank: g.rank}
	for i, w := range waits {
		if w == 0 {
			q.acts = append(q.acts, i)
		}
	}
	heap.Init(q)
	var order []int
	for q.Len() > 0 {
		a := heap.Pop(q).(int)
		order = append(order, a)
		for _, b := range next[a] {
			if waits[b]--; waits[b] == 0 {
				heap.Push(q, b)
			}
		}
	}
	return order, len(order) == n
}

// ring is acts that each must be done before the next, and the last before the first; nil if there is no ring.
func (g *graph) ring() []int {
	order, ok := g.sorted(nil)
	if ok {
		return nil
	}
	done := make([]bool, len(g.rank))
	for _, a := range order {
		done[a] = true
	}
	at := slices.Index(done, false)
	var way []int
	for !slices.Contains(way, at) {
		way = append(way, at)
		at = g.before[at][slices.IndexFunc(g.before[at], func(b int) bool { return !done[b] })]
	}
	way = way[slices.Index(way, at):]
	slices.Reverse(way)
	return way
}

// queue is acts that can be done, by rank and index.
type queue struct {
	rank []int
	acts []int
}

func (q *queue) Len() int { return len(q.acts) }
func (q *queue) Less(i, j int) bool {
	a, b := q.acts[i], q.acts[j]
	return q.rank[a] < q.rank[b] || q.rank[a] == q.rank[b] && a < b
}
func (q *queue) Swap(i, j int) { q.acts[i], q.acts[j] = q.acts[j], q.acts[i] }
func (q *queue) Push(x any)    { q.acts = append(q.acts, x.(int)) }
func (q *queue) Pop() any {
	x := q.acts[len(q.acts)-1]
	q.acts = q.acts[:len(q.acts)-1]
	return x
}
