package net

import (
	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// EndAllowance is what one end of a wire adds: the tail, and the service loop, which a splice or an end that is cut back does not get.
func EndAllowance(job *design.Job, w *Wire, end int) (tail, loop unit.Length) {
	t := &w.Ends[end]
	at := design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Device: t.Device, Break: t.Break}
	tail = positive(unit.Length(job.Settings.Get("tail", at).Value.Quantity.Value))
	if t.Kind != InSplice && t.Kind != CutBack {
		loop = positive(unit.Length(job.Settings.Get("service-loop", at).Value.Quantity.Value))
	}
	return tail, loop
}

func positive[T ~float64](x T) T {
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

// copper is the length of conductor between the two terminations: the way with its slack and take-up, and what the ends add. The helix of
// a pair twisted on the bench is not in it; it adds some 2 % to signal wires. A loose lead's stated length is its copper.
func copper(job *design.Job, geo *space.Geometry, w *Wire) unit.Length {
	if w.Loose {
		return w.LooseLength
	}
	var l unit.Length
	for _, s := range w.Path {
		e := &geo.Edges[s.Edge]
		way := e.Length + e.Slack
		l += way + unit.Length(float64(s.TakeUp)*float64(way))
	}
	for e := range w.Ends {
		tail, loop := EndAllowance(job, w, e)
		l += tail + loop
	}
	return positive(l)
}
