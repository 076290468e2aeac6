package protect

import (
	"slices"

	"loomsheet/harness/unit"
)

// fuseAmps is what a fuse carries in one short, and when it clears that.
type fuseAmps struct {
	fuse   FuseRef
	amps   unit.Current
	latest unit.Time
	ahead  []FuseRef // through which its current comes in this short
}

// behind tells whether a fuse's current comes through another one in this short. Two that feed it side by side have no order.
func (f *fuseAmps) behind(up FuseRef) bool { return slices.Contains(f.ahead, up) }

// pairing holds a fuse against one ahead of it: whatever short lies behind the lower one, that must have cleared before the upper one may open.
// Of all shorts that run through both the worst counts, the one where the lower one's latest time is the greatest share of the upper one's earliest:
// it may be a weak one as well as the strongest, since gates have steps. Where the lower one need not open at all the short is too weak, which is told
// elsewhere.
type pairing struct {
	up, down *FuseResult
	best     Pair
	worst    float64
}

func (p *pairing) see(t *trial) {
	if t.Supply { // a lead with a fuse at each end is cut at both: neither is the lower one
		return
	}
	up, down := p.up, p.down
	var u, d *fuseAmps
	for k := range t.pairs {
		switch t.pairs[k].fuse {
		case up.FuseRef:
			u = &t.pairs[k]
		case down.FuseRef:
			d = &t.pairs[k]
		}
	}
	if u == nil || d == nil || !d.behind(up.FuseRef) && !u.behind(down.FuseRef) {
		return
	}
	latest := d.latest
	for k := range t.pairs { // a fuse still further down that carries all of it ends the short for both
		x := &t.pairs[k]
		if x.behind(down.FuseRef) && x.amps >= d.amps*(1-sameTimes) && sooner(x.latest, latest) < 0 {
			latest = x.latest
		}
	}
	if p.best.Case == "" { // nothing known yet: the place at least
		p.best.Case, p.best.At, p.best.Amps = t.Case, t.At, d.amps
	}
	if latest == Never {
		return
	}
	h := Holds(up.Gate, up.Rating, u.amps, latest)
	if !(h.Earliest > 0) {
		return
	}
	x := Pair{Up: up.FuseRef, Down: down.FuseRef, Case: t.Case, At: t.At, Amps: d.amps, UpEarliest: h.Earliest, DownLatest: latest, Met: h.Met, Known: true}
	x.UpEnergy, x.DownEnergy = energyAt(1, u.amps, h.Earliest), energyAt(1, u.amps, latest)
	x.ByEnergy = h.ByEnergy
	if share := float64(latest) / float64(h.Earliest); share > p.worst*(1+1e-9) {
		p.worst, p.best = share, x
	}
}
