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
	amps, _ := wireAmps(res.Net, without(res, loads), len(res.WireAmps))
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
	follows := map[string]bool{}
	for _, s := range res.Supplies {
		follows[s.Device] = s.Follows
	}
	p := res.again.p
	var changes []change
	for i := range res.Net.Elements {
		e := &res.Net.Elements[i]
		if e.Kind != Load && e.Kind != Coil {
			continue
		}
		law := p.branch(i).law
		switch {
		case off[load{e.Device, e.Index, e.Kind == Coil}]:
			if law != open {
				changes = append(changes, change{i, branch{law: open}})
			}
		case e.Kind == Load && law != open:
			draws[e.Device] = true
		}
	}
	for i := range res.Net.Elements {
		if e := &res.Net.Elements[i]; e.Kind == Supply && follows[e.Device] && !draws[e.Device] && p.branch(i).law != open {
			changes = append(changes, change{i, branch{law: open}})
		}
	}
	res.again.lock()
	defer res.again.unlock()
	return res.again.grid().again(p, changes)
}
