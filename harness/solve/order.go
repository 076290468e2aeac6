package solve

import (
	"slices"
	"sync"
	"sync/atomic"
)

// orders remembers the order of elimination of nets met before: finding it costs more than solving, and the rounds of sizing, the starts and
// the corners of a case ask for the same one again and again. It follows from what joins what alone, so remembering changes no answer.
var orders struct {
	sync.Mutex
	known map[uint64]*order
	queue []uint64 // in the order met
	size  int
}

type order struct {
	nodes int
	edges [][2]int32
	p     *pattern
	asked atomic.Bool // again, since it was met or spared
}

// mostRemembered bounds the edges of all nets remembered; the oldest that was not asked for again is forgotten first.
const mostRemembered = 1 << 18

func patternOf(nodes int, ends [][2]int32) *pattern {
	key := uint64(nodes) + 14695981039346656037 // FNV-1a over the ends
	for _, e := range ends {
		key = (key ^ uint64(e[0])<<32 ^ uint64(e[1])) * 1099511628211
	}
	orders.Lock()
	o := orders.known[key]
	orders.Unlock()
	if o != nil && o.nodes == nodes && slices.Equal(o.edges, ends) {
		o.asked.Store(true)
		return o.p
	}
	o = &order{nodes: nodes, edges: slices.Clone(ends)}
	o.p = newPattern(nodes, o.edges)
	orders.Lock()
	defer orders.Unlock()
	if orders.known == nil {
		orders.known = map[uint64]*order{}
	}
	if orders.known[key] == nil && len(ends) <= mostRemembered {
		orders.known[key] = o
		orders.queue = append(orders.queue, key)
		for orders.size += len(ends); orders.size > mostRemembered; orders.queue = orders.queue[1:] {
			first := orders.queue[0]
			if x := orders.known[first]; x.asked.Swap(false) {
				orders.queue = append(orders.queue, first)
				continue
			}
			orders.size -= len(orders.known[first].edges)
			delete(orders.known, first)
		}
	}
	return o.p
}
