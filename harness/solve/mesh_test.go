package solve

import (
	"math/rand/v2"
	"testing"
)

// TestMeshes holds the blocks of small random nets against a search of every closed way.
func TestMeshes(t *testing.T) {
	joined, apart := 0, 0
	for seed := range uint64(300) {
		pick := rand.New(rand.NewPCG(seed, 2)).IntN
		nodes := 2 + pick(6)
		br := make([]branch, 1+pick(9))
		for i := range br {
			br[i] = branch{from: int32(pick(nodes)), to: int32(pick(nodes)), law: ohmic}
			if pick(5) == 0 {
				br[i].law = open
			}
		}
		with := make([]map[int]bool, len(br)) // by branch: those on a closed way with it
		for i := range br {
			with[i] = map[int]bool{}
		}
		var walk func(first int, at, end int32, way []int, passed map[int32]bool)
		walk = func(first int, at, end int32, way []int, passed map[int32]bool) {
			if at == end {
				for _, a := range way {
					for _, b := range way {
						with[a][b] = true
					}
				}
				return
			}
			for i := range br {
				b := &br[i]
				if b.law == open || b.from == b.to || i == first {
					continue
				}
				for _, d := range [2][2]int32{{b.from, b.to}, {b.to, b.from}} {
					if d[0] == at && !passed[d[1]] {
						passed[d[1]] = true
						walk(first, d[1], end, append(way[:len(way):len(way)], i), passed)
						passed[d[1]] = false
					}
				}
			}
		}
		for i := range br {
			if b := &br[i]; b.law != open && b.from != b.to {
				walk(i, b.to, b.from, []int{i}, map[int32]bool{b.to: true})
			}
		}
		of := meshes(nodes, br)
		for a := range br {
			if (of[a] >= 0) != (len(with[a]) > 0) {
				t.Fatalf("seed %d: branch %d in block %d, on closed ways with %v", seed, a, of[a], with[a])
			}
			for b := range br {
				if a == b || of[a] < 0 {
					continue
				}
				if (of[a] == of[b]) != with[a][b] {
					t.Fatalf("seed %d: branches %d and %d in blocks %d and %d, together %v", seed, a, b, of[a], of[b], with[a][b])
				}
				if with[a][b] {
					joined++
				} else {
					apart++
				}
			}
		}
	}
	if joined < 100 || apart < 100 {
		t.Errorf("only %d together, %d apart", joined, apart)
	}
}
