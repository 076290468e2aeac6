package bundle

import (
	"math"
	"slices"
)

// shared is the lists that are kept, by a number of their contents. Along a run the same wires lie in one edge after another: their list is kept once.
type shared struct {
	ints  map[uint64][][]int
	lists map[uint64][][]*Piece
}

// wires is a list of the same wires, no longer than it is.
func (s *shared) wires(list []int) []int {
	if len(list) == 0 {
		return list
	}
	h := uint64(len(list))
	for _, i := range list {
		h = mix(h, uint64(i))
	}
	for _, k := range s.ints[h] {
		if slices.Equal(k, list) {
			return k
		}
	}
	if s.ints == nil {
		s.ints = map[uint64][][]int{}
	}
	list = slices.Clone(list)
	s.ints[h] = append(s.ints[h], list)
	return list
}

// pieces is a list of the same pieces, no longer than it is.
func (s *shared) pieces(list []*Piece) []*Piece {
	if len(list) == 0 {
		return list
	}
	h := uint64(len(list))
	for i := range list {
		h = mix(mix(h, uint64(list[i].Wire)), math.Float64bits(float64(list[i].Outside)))
	}
	for _, k := range s.lists[h] {
		if slices.Equal(k, list) {
			return k
		}
	}
	if s.lists == nil {
		s.lists = map[uint64][][]*Piece{}
	}
	list = slices.Clone(list)
	s.lists[h] = append(s.lists[h], list)
	return list
}

// mix takes another number into one that stands for a list.
func mix(h, x uint64) uint64 { return (h ^ x) * 0x9e3779b97f4a7c15 >> 1 }
