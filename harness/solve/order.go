package solve

import "sync"

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
}

// mostRemembered bounds the edges of all nets remembered; the oldest are forgotten first.
const mostRemembered = 1 << 20

func patternOf(nodes int, br []branch) *pattern {
	key := uint64(nodes) + 14695981039346656037 // FNV-1a over the ends
	for i := range br {
		key = (key ^ uint64(br[i].from)<<32 ^ uint64(br[i].to)) * 1099511628211
	}
	orders.Lock()
	o := orders.known[key]
	orders.Unlock()
	if o != nil && o.same(nodes, br) {
		return o.p
	}
	o = &order{nodes: nodes, edges: make([][2]int32, len(br))}
	for i := range br {
		o.edges[i] = [2]int32{int32(br[i].from), int32(br[i].to)}
	}
	o.p = newPattern(nodes, o.edges)
	orders.Lock()
	defer orders.Unlock()
	if orders.known == nil {
		orders.known = map[uint64]*order{}
	}
	if orders.known[key] == nil && len(br) <= mostRemembered {
		orders.known[key] = o
		orders.queue = append(orders.queue, key)
		for orders.size += len(br); orders.size > mostRemembered; orders.queue = orders.queue[1:] {
			orders.size -= len(orders.known[orders.queue[0]].edges)
			delete(orders.known, orders.queue[0])
		}
	}
	return o.p
}

func (o *order) same(nodes int, br []branch) bool {
	if o.nodes != nodes || len(o.edges) != len(br) {
		return false
	}
	for i, e := range o.edges {
		if int(e[0]) != br[i].from || int(e[1]) != br[i].to {
			return false
		}
	}
	return true
}
