package solve

import (
	"math"
	"slices"
	"sync"
	"weak"
)

// islands remembers islands solved from nothing, by their laws: cases, rounds of relays and what is tried at another end of the vehicle ask for the
// same ones again and again. What is found follows from the laws alone, so remembering changes no answer. The ones met last are kept, those before
// them as long as somebody has them or memory is not wanted.
var islands struct {
	sync.Mutex
	known map[uint64]weak.Pointer[patch]
	queue []metPatch // in the order met
	kept  int        // the first of the queue that is kept
	size  int        // elements of those kept
}

type metPatch struct {
	key uint64
	*patch
}

const (
	mostPatched = 1 << 16 // elements of the islands kept
	mostKnown   = 1 << 15 // islands known
)

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
	s := islands.known[key].Value()
	islands.Unlock()
	if s != nil && len(s.hi) == nodes && slices.Equal(s.br, br) {
		return s
	}
	return nil
}

func remember(key uint64, s *patch) {
	m := &islands
	m.Lock()
	defer m.Unlock()
	if m.known == nil {
		m.known = map[uint64]weak.Pointer[patch]{}
	}
	if m.known[key].Value() != nil {
		return
	}
	m.known[key] = weak.Make(s)
	m.queue = append(m.queue, metPatch{key, s})
	for m.size += len(s.br) + 1; m.size > mostPatched; m.kept++ {
		x := &m.queue[m.kept]
		m.size -= len(x.br) + 1
		x.patch = nil
	}
	if len(m.queue) > mostKnown {
		half := min(m.kept, len(m.queue)/2)
		for _, x := range m.queue[:half] {
			delete(m.known, x.key)
		}
		m.queue = slices.Delete(m.queue, 0, half)
		m.kept -= half
	}
}
