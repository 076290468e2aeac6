package rule

import (
	"math"
	"slices"

	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
)

// nearby finds what may come near a sheet, so that a panel is not held against every wire of the vehicle.
type nearby struct {
	g     *space.Geometry
	boxes []box
	on    [][]int // wires, by edge
}

// box is what holds a thing: the least and the greatest of its coordinates, mm.
type box struct{ low, high [3]float64 }

func newNearby(nt *net.Net) *nearby {
	x := &nearby{g: nt.Space, boxes: make([]box, len(nt.Space.Edges)), on: make([][]int, len(nt.Space.Edges))}
	for e := range x.boxes {
		x.boxes[e] = nothing()
		for _, l := range x.g.EdgeWay(e) {
			// No place of a leg is farther from both its ends than half of it is long.
			slack := float64(l.Length) / 2
			if l.Radius == 0 {
				slack = 0
			}
			x.boxes[e].put(l.From, slack)
			x.boxes[e].put(l.To, slack)
		}
	}
	for i := range nt.Wires {
		for _, s := range nt.Wires[i].Path {
			if s.Edge < 0 || s.Edge >= len(x.on) {
				continue
			}
			if list := x.on[s.Edge]; len(list) == 0 || list[len(list)-1] != i {
				x.on[s.Edge] = append(list, i)
			}
		}
	}
	return x
}

func nothing() box {
	inf := math.Inf(1)
	return box{[3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}}
}

func (b *box) put(p solid.Point, slack float64) {
	for k, c := range [3]float64{float64(p.X), float64(p.Y), float64(p.Z)} {
		b.low[k], b.high[k] = min(b.low[k], c-slack), max(b.high[k], c+slack)
	}
}

// apart tells whether two boxes are certainly a millimetre apart, and more than rounding makes of their coordinates.
func (b *box) apart(o *box) bool {
	for k := range b.low {
		room := 1 + 1e-6*(math.Abs(b.low[k])+math.Abs(b.high[k])+math.Abs(o.low[k])+math.Abs(o.high[k]))
		if b.low[k] > o.high[k]+room || o.low[k] > b.high[k]+room {
			return true
		}
	}
	return false
}

// edges lists those that may pass through a sheet: what passes lies within its outline.
func (x *nearby) edges(s *solid.Sheet) (out []int) {
	b := nothing()
	for _, f := range s.Outline {
		b.put(s.Plane.Space(f), 0)
	}
	for e := range x.boxes {
		if !x.boxes[e].apart(&b) {
			out = append(out, e)
		}
	}
	return out
}

// wires lists those that lie in some of these edges.
func (x *nearby) wires(edges []int) (out []int) {
	for _, e := range edges {
		out = append(out, x.on[e]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
