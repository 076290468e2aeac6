package shell

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// walkRound orders panels as a person walks round the body: by the angle of each panel's middle about the middle of all panels in plan,
// clockwise as seen from above, from the front, which is the end of least coordinate along the longer level axis (of equals the first of x,
// y, z). Of one angle the lower panel comes first. Upright panels come before level ones (floors, roofs: more level than upright), each
// in that order; panels whose place is not known come last, by name.
func walkRound(job *design.Job, panels []Panel) {
	up, first, second := upAxis(job)
	type rank struct{ kind, angle, high float64 }
	low, high := spread(panels, first, second)
	long, origin := first, design.Point3{}
	if longer(low, high) {
		long = second
	}
	ahead := long.Scale(-1)
	right := ahead.Cross(up)
	centre := solid.Moved(solid.Moved(origin, first.Scale(unit.Ratio((low[0]+high[0])/2))), second.Scale(unit.Ratio((low[1]+high[1])/2)))
	ranks := map[string]rank{}
	for i := range panels {
		p := &panels[i]
		if len(p.Outline) == 0 {
			ranks[p.Name] = rank{kind: 2}
			continue
		}
		var r rank
		if math.Abs(dot(p.Plane.Across.Cross(p.Plane.Up), up)) > math.Sqrt(0.5) {
			r.kind = 1
		}
		mid := p.Plane.Space(middle(p.Outline))
		d := solid.Minus(mid, centre)
		r.high = math.Round(dot(solid.Minus(mid, origin), up)*10) / 10
		if a, b := dot(d, ahead), dot(d, right); math.Hypot(a, b) > float64(touching) {
			// Rounded, so that panels straight ahead are at 0 and none just short of a whole turn.
			r.angle = math.Mod(math.Round(math.Atan2(b, a)*1e4)+math.Round(2e4*math.Pi), math.Round(2e4*math.Pi))
		}
		ranks[p.Name] = r
	}
	slices.SortStableFunc(panels, func(a, b Panel) int {
		x, y := ranks[a.Name], ranks[b.Name]
		return cmp.Or(cmp.Compare(x.kind, y.kind), cmp.Compare(x.angle, y.angle), cmp.Compare(x.high, y.high), design.Natural(a.Name, b.Name))
	})
	for i := range panels {
		panels[i].Walk = i + 1
	}
}

// Along is the level axis along which the panels of a job reach furthest, "x", "y" or "z": that of its length, with the front where it is least.
func Along(job *design.Job, panels []Panel) string {
	_, first, second := upAxis(job)
	long := first
	if longer(spread(panels, first, second)) {
		long = second
	}
	switch {
	case long.X != 0:
		return "x"
	case long.Y != 0:
		return "y"
	}
	return "z"
}

// spread is how far panels reach along two axes.
func spread(panels []Panel, first, second solid.Vector) (low, high [2]float64) {
	low, high = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for i := range panels {
		for _, f := range panels[i].Outline {
			d := solid.Minus(panels[i].Plane.Space(f), design.Point3{})
			for k, axis := range []solid.Vector{first, second} {
				low[k], high[k] = min(low[k], dot(d, axis)), max(high[k], dot(d, axis))
			}
		}
	}
	return low, high
}

func longer(low, high [2]float64) bool { return high[1]-low[1] > high[0]-low[0] }

// middle is the middle of an outline's box.
func middle(o solid.Outline) solid.Flat {
	low, high := o[0], o[0]
	for _, f := range o {
		low.U, low.V, high.U, high.V = min(low.U, f.U), min(low.V, f.V), max(high.U, f.U), max(high.V, f.V)
	}
	return solid.Flat{U: low.U/2 + high.U/2, V: low.V/2 + high.V/2}
}
