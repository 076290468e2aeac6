package protect

import (
	"math"

	"loomsheet/harness/unit"
)

// reaches is how hot a wire gets while a current flows for so long, and the share of its room that takes. It is the lower of two figures: all
// heat kept in the copper, which no wire exceeds, and the wire with what it loses to its insulation, bundle and air. Where it stands the first its verdict
// is certain; unless it is to be told finely that figure is given then, which may be far above what it reaches, but never below.
func (g *weigher) reaches(wire int, amps unit.Current, d unit.Time, fine bool) (t unit.Temperature, used float64) {
	x := &g.wires[wire]
	e := energyAt(1, amps, d)
	t = x.adiabaticEnd(e)
	if fine || e > x.stands {
		t = min(t, g.warm.After(wire, amps, d))
	}
	return t, float64(t-x.start) / math.Max(float64(x.short-x.start), 1e-6)
}

// brings holds a wire against an overload that a fuse ends.
func (g *weigher) brings(wire int, o *Overload, fine bool) (used float64) {
	o.Reaches, used = g.reaches(wire, o.Amps, o.Latest, fine)
	o.Met, o.Used = used <= 1+1e-9, unit.Ratio(used)
	return used
}

// settle finds finely what a short does at worst: the wire that takes most of its room is told finely until it is the one that did before. No other takes more,
// since none takes more than it is known to.
func (g *weigher) settle(t *trial) {
	for t.sum(); t.at >= 0 && !t.heats[t.at].fine; t.sum() {
		h := &t.heats[t.at]
		*h = g.bear(h.wire, h.steps, true)
	}
}
