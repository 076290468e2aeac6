package fix

import (
	"cmp"
	"slices"
	"sort"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// nearby is what is on a sheet and on those beside it, by its place across, so that what is far off is not looked at.
type nearby struct {
	things            []laidThing // by U
	apart             float64     // hole-apart
	gap               unit.Length // cut-out-gap
	drill, cover, lid unit.Length // the most of any thing
}

// laidThing is a thing in the plane of a sheet; order is its place in the list of all.
type laidThing struct {
	*thing
	at    solid.Flat
	order int
}

func (m *maker) nearby(s *sheet) *nearby {
	n := &nearby{apart: float64(m.times("hole-apart", s.panel.Name, 1)), gap: m.length("cut-out-gap", design.Scope{Panel: s.panel.Name})}
	for i := -1; i < len(s.beside); i++ {
		x := s
		if i >= 0 {
			x = s.beside[i]
		}
		for k := range x.things {
			t := &x.things[k]
			f, _ := s.plane.Flat(t.at)
			n.things = append(n.things, laidThing{t, f, len(n.things)})
			n.drill, n.cover, n.lid = max(n.drill, t.drill), max(n.cover, t.cover), max(n.lid, t.lid)
		}
	}
	slices.SortStableFunc(n.things, func(a, b laidThing) int { return cmp.Compare(a.at.U, b.at.U) })
	return n
}

// tooNear is the first thing that a hole would stand too near to.
func (n *nearby) tooNear(f solid.Flat, drill unit.Length) string {
	var first *laidThing
	n.around(f, n.most(drill), func(t *laidThing) {
		if first != nil && first.order < t.order {
			return
		}
		if (solid.Vector{X: t.at.U - f.U, Y: t.at.V - f.V}).Length() < n.needed(t, drill)-tiny {
			first = t
		}
	})
	if first == nil {
		return ""
	}
	return "too near " + first.name
}

// most is more than a hole of that size needs from any thing.
func (n *nearby) most(drill unit.Length) unit.Length {
	return max(unit.Length(n.apart*float64(max(drill, n.drill))), drill/2+n.cover+n.gap, drill/2+n.lid) + 1
}

// needed is the least from a hole of that size to a thing, from middle to middle.
func (n *nearby) needed(t *laidThing, drill unit.Length) unit.Length {
	needed := unit.Length(n.apart * float64(max(drill, t.drill)))
	if t.cover > 0 {
		needed = drill/2 + t.cover + n.gap
	}
	if t.lid > 0 {
		needed = max(needed, drill/2+t.lid)
	}
	return needed
}

// around shows the things no further off than that along each axis, and maybe others.
func (n *nearby) around(f solid.Flat, most unit.Length, do func(*laidThing)) {
	for k := sort.Search(len(n.things), func(k int) bool { return n.things[k].at.U >= f.U-most }); k < len(n.things); k++ {
		t := &n.things[k]
		if t.at.U > f.U+most {
			break
		}
		if d := t.at.V - f.V; !(d > most || d < -most) {
			do(t)
		}
	}
}
