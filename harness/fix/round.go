package fix

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// round is a ball about a place in which the same is found as there: places that follow one another closely need no new look.
type round struct {
	middle design.Point3
	reach  unit.Length // below nothing, or nothing: no place is known to be like it
}

// mostRound is how far it is looked for what stands round a place, in millimetres; and hair is more than floating point leaves open.
const (
	mostRound = 60
	hair      = 1e-2
)

func (r *round) holds(p design.Point3) bool {
	if !(r.reach > 0) || !solid.Known(p) {
		return false
	}
	v := solid.Minus(p, r.middle)
	return float64(v.X)*float64(v.X)+float64(v.Y)*float64(v.Y)+float64(v.Z)*float64(v.Z) < float64(r.reach)*float64(r.reach)
}

// like is where the same sheet is found under a place as under this one: no outline of those that are looked at is near.
func (s *sheet) like(at design.Point3, on *sheet) round {
	out := round{at, unit.Length(math.Inf(1))}
	if !solid.Known(at) {
		out.reach = 0
	}
	for i := -1; i < len(s.beside); i++ {
		x := s
		if i >= 0 {
			x = s.beside[i]
		}
		f, _ := x.plane.Flat(at)
		out.reach = min(out.reach, x.outline.Room(f))
		if x == on {
			break
		}
	}
	return out
}

// roomAt is where nothing forbids a hole, as nothing does here: neither outline nor keep-out comes near, nor anything that is on the sheet.
func (s *shutting) roomAt(at design.Point3, on *sheet, f solid.Flat) round {
	out := s.sheet.like(at, on)
	out.reach = min(out.reach, on.outline.Room(f)-s.edge-hair, on.near.room(f, s.drill))
	for _, k := range on.keepOuts {
		out.reach = min(out.reach, k.Room(f)-s.drill/2-hair)
	}
	return out
}

// room is how far from a place, at least, a hole of that size stands too near to nothing, as it does not there.
func (n *nearby) room(f solid.Flat, drill unit.Length) unit.Length {
	free := unit.Length(mostRound)
	n.around(f, n.most(drill)+mostRound, func(t *laidThing) {
		free = min(free, solid.Vector{X: t.at.U - f.U, Y: t.at.V - f.V}.Length()-n.needed(t, drill)-hair)
	})
	return free
}
