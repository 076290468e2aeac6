package net

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Lay is how the wires of a bundle lie around one another.
type Lay uint8

// The ways to lay up a bundle.
const (
	ByHand   Lay = iota // a gentle twist by hand
	Flat                // side by side
	InLayers            // concentric layers of alternating hand
)

// LayOf decides how a bundle lies, by the setting lay, and where that is auto by how long it goes on so, and of how many wires, pairs and cables
// it is. A longer bundle, or one of more, is never laid by hand where a shorter one, or one of fewer, is laid in layers: so who knows only an upper
// bound of both learns whether it may lie in layers.
func LayOf(job *design.Job, at design.Scope, long unit.Length, pieces int) (Lay, design.Ruling) {
	r := job.Settings.Get("lay", at)
	switch r.Value.Name {
	case "layers":
		if pieces > 1 {
			return InLayers, r
		}
		return ByHand, r
	case "hand":
		return ByHand, r
	case "flat":
		return Flat, r
	}
	quantity := func(name string) float64 { return job.Settings.Get(name, at).Value.Quantity.Value }
	switch {
	case pieces > 1 && float64(pieces) >= quantity("lay-pieces") && float64(long) >= quantity("lay-from"):
		return InLayers, r
	case float64(long) <= quantity("lay-flat"):
		return Flat, r
	}
	return ByHand, r
}

// LayRatio is the lay length of a layer as a multiple of its outside diameter: the setting lay-ratio, 1 at the least.
func LayRatio(job *design.Job, at design.Scope) unit.Ratio {
	x := job.Settings.Get("lay-ratio", at).Value.Quantity.Value
	if !(x >= 1) {
		return 1
	}
	return unit.Ratio(min(x, 1e6))
}

// MostTakeUp is what no layer of a lay ratio takes up: a wire on a helix of pitch diameter Dp and lay L is sqrt(1 + (pi Dp/L)^2) times as long
// as the way, and Dp is less than the outside diameter of its layer.
func MostTakeUp(ratio unit.Ratio) unit.Ratio {
	return unit.Ratio(math.Hypot(1, math.Pi/float64(ratio)) - 1)
}

// EdgeScopes is the scope of what belongs to the bundle of an edge rather than to a wire.
func EdgeScopes(job *design.Job, geo *space.Geometry) []design.Scope {
	panel := map[string]string{}
	for _, r := range job.Runs {
		panel[r.Name] = r.Panel
	}
	out := make([]design.Scope, len(geo.Edges))
	for i := range geo.Edges {
		e := &geo.Edges[i]
		out[i] = design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section, Panel: panel[e.Run]}
	}
	return out
}

// TakeUpAt is what the lay of a bundle that is not laid in layers adds to the centre line of an edge of that scope, as a share: the setting take-up.
func TakeUpAt(job *design.Job, w *Wire, at design.Scope) unit.Ratio {
	at.Circuit, at.Class = w.Circuit, w.Class
	return positive(unit.Ratio(job.Settings.Get("take-up", at).Value.Quantity.Value))
}

// takeUps sets the most that the lay may add to each step of each wire: where the bundle may be laid in layers the more of the setting take-up
// and of MostTakeUp, else the setting. Resistances rest on it, which are needed before anything is laid up.
func takeUps(job *design.Job, geo *space.Geometry, wires []Wire) {
	on := make([]int, len(geo.Edges))
	last := make([]int, len(geo.Edges)) // wire that was counted last, and one more
	for i := range wires {
		for _, s := range wires[i].Path {
			if last[s.Edge] != i+1 {
				on[s.Edge]++
				last[s.Edge] = i + 1
			}
		}
	}
	type stretch struct {
		run string
		of  int
	}
	long := map[stretch]unit.Length{}
	for i := range geo.Edges {
		e := &geo.Edges[i]
		long[stretch{e.Run, e.Stretch}] += e.Length
	}
	most, scopes := make([]unit.Ratio, len(geo.Edges)), EdgeScopes(job, geo)
	for i := range geo.Edges {
		e := &geo.Edges[i]
		if on[i] == 0 {
			continue
		}
		at := scopes[i]
		if lay, _ := LayOf(job, at, long[stretch{e.Run, e.Stretch}], on[i]); lay == InLayers {
			most[i] = MostTakeUp(LayRatio(job, at))
		}
	}
	for i := range wires {
		w := &wires[i]
		for k := range w.Path {
			s := &w.Path[k]
			s.TakeUp = max(most[s.Edge], TakeUpAt(job, w, scopes[s.Edge]))
		}
	}
}
