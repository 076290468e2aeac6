package solve

import (
	"math"
	"slices"
	"sync"
)

// islands remembers islands solved from nothing, by their laws: cases, rounds of relays and what is tried at another end of the vehicle ask for the
// same ones again and again. What is found follows from the laws alone, so remembering changes no answer.
var islands struct {
	sync.Mutex
	known map[uint64]*patch
	queue []uint64 // in the order met
	size  int
}

// mostPatched bounds the elements of all islands remembered; the oldest are forgotten first.
const mostPatched = 1 << 19

func keyOf(nodes int, br []branch) uint64 {
	key := uint64(nodes) + 14695981039346656037 // FNV-1a, a word at a time
	for i := range br {
		b := &br[i]
		key = (key ^ (uint64(b.from)<<32 ^ uint64(b.to)<<4 ^ uint64(b.law))) * 1099511628211
		key = (key ^ key>>29 ^ math.Float64bits(b.g)) * 1099511628211
		if b.law > ohmic {
			key = (key ^ key>>29 ^ math.Float64bits(b.e)) * 1099511628211
			key = (key ^ key>>29 ^ math.Float64bits(b.most)) * 1099511628211
		}
	}
	return key ^ key>>29
}

func recall(key uint64, nodes int, br []branch) *patch {
	islands.Lock()
	s := islands.known[key]
	islands.Unlock()
	if s != nil && len(s.hi) == nodes && slices.Equal(s.br, br) {
		return s
	}
	return nil
}

func remember(key uint64, s *patch) {
	if len(s.br) > mostPatched {
		return
	}
	islands.Lock()
	defer islands.Unlock()
	if islands.known == nil {
		islands.known = map[uint64]*patch{}
	}
	if islands.known[key] != nil {
		return
	}
	islands.known[key] = s
	islands.queue = append(islands.queue, key)
	for islands.size += len(s.br) + 1; islands.size > mostPatched; islands.queue = islands.queue[1:] {
		islands.size -= len(islands.known[islands.queue[0]].br) + 1
		delete(islands.known, islands.queue[0])
	}
}
