package solve

import (
	"slices"

	"loomsheet/harness/unit"
)

// WithoutLoads is the current of each wire when some loads rest, by their indexes in the result: as Without, for single draws and
// coils of a device. A supply that follows what its device draws rests when all of that rests.
func WithoutLoads(res *CaseResult, loads []int) []unit.Current {
	if res.again == nil {
		return slices.Clone(res.WireAmps)
	}
	amps, _ := wireAmps(res.Net, res.branches, without(res, loads), len(res.WireAmps))
	return amps
}

// PointWithout is the same operating point by node and element.
func PointWithout(res *CaseResult, loads []int) Point {
	if res.again == nil {
		return res.Point
	}
	return without(res, loads).point()
}

func without(res *CaseResult, loads []int) *point {
	type load struct {
		device string
		index  int
		coil   bool
	}
	off := map[load]bool{}
	for _, i := range loads {
		if i >= 0 && i < len(res.Loads) {
			l := &res.Loads[i]
			off[load{l.Device, l.Index, l.Coil}] = true
		}
	}
	draws := map[string]bool{} // devices that still draw
	br := append([]branch(nil), res.branches...)
	for i, e := range res.Net.Elements {
		if e.Kind != Load && e.Kind != Coil {
			continue
		}
		if off[load{e.Device, e.Index, e.Kind == Coil}] {
			br[i].law = open
		} else if e.Kind == Load && br[i].law != open {
			draws[e.Device] = true
		}
	}
	follows := map[string]bool{}
	for _, s := range res.Supplies {
		follows[s.Device] = s.Follows
	}
	for i, e := range res.Net.Elements {
		if e.Kind == Supply && follows[e.Device] && !draws[e.Device] {
			br[i].law = open
		}
	}
	res.again.lock()
	defer res.again.unlock()
	res.again.s.g.use(br)
	return res.again.s.g.solve(res.from).delivers(res.Net)
}
