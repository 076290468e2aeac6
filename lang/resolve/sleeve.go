package resolve

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
)

// sleeve is a sleeve with its sizes, and the walls in step with them, smallest first.
func (b *builder) sleeve(s *sense.Stmt, base design.Part) *design.Sleeve {
	v := &design.Sleeve{Part: base, As: s.Text("as"), Recovered: s.Text("sizes-are") == "recovered", Glued: s.Text("lining") == "glue", Heat: fact[unit.Temperature](s, "heat"), Sizes: lengths(s, "sizes"), Walls: lengths(s, "wall")}
	v.Grows, _ = amount[unit.Ratio](s, "grows")
	b.aboveZero(s, "sizes", "a size")
	if len(v.Sizes) == 0 {
		v.Walls = nil // that they are missing has been told
	}
	if n := len(v.Walls); n > 1 && n != len(v.Sizes) {
		b.mistake(s, s.Find("wall").Span, "out-of-step", fmt.Sprintf("sleeve %s has %d sizes and %d walls", base.Name, len(v.Sizes), n), "Write one wall for all sizes, or one for each.").
			Point(s.Find("sizes").Span, "the sizes")
		v.Walls = nil
	}
	type pair struct{ size, wall unit.Length }
	ps := make([]pair, len(v.Sizes))
	for i, d := range v.Sizes {
		ps[i] = pair{d, v.Wall(i)}
	}
	slices.SortStableFunc(ps, func(x, y pair) int { return cmp.Compare(x.size, y.size) })
	for i, p := range ps {
		v.Sizes[i] = p.size
		if len(v.Walls) > 1 {
			v.Walls[i] = p.wall
		}
	}
	return v
}

// boot is a boot, backshell or gland.
func (b *builder) boot(s *sense.Stmt, base design.Part) *design.Boot {
	v := &design.Boot{Part: base, As: s.Text("as"), Passes: length(s, "passes"), Length: length(s, "length"), Heat: fact[unit.Temperature](s, "heat")}
	v.Bundle[0], v.Bundle[1] = b.range2(s, "bundle")
	v.Body[0], v.Body[1] = b.range2(s, "body")
	return v
}
