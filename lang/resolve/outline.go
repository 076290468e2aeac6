package resolve

import (
	"fmt"

	"loomsheet/harness/solid"
	"loomsheet/lang/sense"
)

// outline demands that corners enclose an area and that no side crosses another, seen square to their plane.
func (b *builder) outline(s *sense.Stmt, option, what string) {
	o, ps := s.Find(option), points3(s, option)
	if o == nil || len(ps) < 3 || len(ps) != len(o.Values) {
		return
	}
	plane, _, ok := solid.FlatOf(ps, solid.Vector{Z: 1})
	if !ok {
		b.mistake(s, o.Span, "corners-cross", fmt.Sprintf("the corners of %s enclose no area", what), "Three of them at least lie apart and not in one line, in order round the sheet.")
		return
	}
	flat := make(solid.Outline, len(ps))
	for i, p := range ps {
		flat[i], _ = plane.Flat(p)
	}
	for i := range flat {
		for j := i + 2; j < len(flat); j++ {
			if i == 0 && j == len(flat)-1 {
				continue // they meet in a corner
			}
			if solid.Cross(flat[i], flat[i+1], flat[j], flat[(j+1)%len(flat)]) {
				b.mistake(s, o.Span, "corners-cross", fmt.Sprintf("the sides of %s cross: from corner %d to %d, and from %d to %d", what, i+1, i+2, j+1, (j+1)%len(flat)+1), "Write the corners in order round the sheet.")
				return
			}
		}
	}
}
