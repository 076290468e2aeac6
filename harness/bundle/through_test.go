package bundle

import (
	"math"
	"slices"
	"testing"

	"loomsheet/harness/unit"
)

func TestThrough(t *testing.T) {
	job, nt, sizes := yard(wire(0, 1), wire(0, 1), wire(0, 2), wire(2))
	for i, d := range []unit.Length{2, 3, 2, 4} {
		sizes[i].Outside = d
	}
	b := Find(job, nt, sizes)
	// All that passes lies in edge 0, 5.1496 thick, and its sleeve of 0.6 mm: not 1.2 sqrt(6.2^2 + 3.2^2) = 8.37 as two bundles.
	most, edges, known := b.Through(1)
	if math.Abs(float64(most)-5.14959-1.2) > 1e-4 || !slices.Equal(edges, []int{0, 1, 2}) || !known {
		t.Errorf("a branch: %v in %v", most, edges)
	}
	if most, edges, _ := b.Through(0); most != 0 || edges != nil {
		t.Errorf("nothing passes the end: %v in %v", most, edges)
	}
	// Three bundles of 3 mm, each from one edge into another, and no edge in all of them.
	job, nt, sizes = yard(wire(0, 1), wire(0, 2), wire(1, 2))
	for i, d := range []unit.Length{3, 3, 3} {
		sizes[i].Outside = d
	}
	if most, _, _ := Find(job, nt, sizes).Through(1); !near(most, unit.Length(1.2*math.Sqrt(3*4.2*4.2))) {
		t.Errorf("three bundles: %v", most)
	}
	sizes[1].Outside = 0
	if _, _, known := Find(job, nt, sizes).Through(1); known {
		t.Error("a wire of unknown outside is known")
	}
}
