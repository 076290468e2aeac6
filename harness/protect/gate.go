package protect

import (
	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// sameTimes is how near two multiples of a rating count as one: 13.5 A on 10 A is the listed 1.35.
const sameTimes = 1e-9

// atRating is how long a fuse carries its rating: 100 h (ISO 8820 parts, from memory; the makers' gates that list it agree).
const atRating unit.Time = 360000

// Holds is the claim that a current which flows for so long does not open a fuse: the gate's earliest time at the next higher listed
// multiple must be longer. A multiple whose earliest time is not stated is passed over, since a still higher one opens no later.
//
// Above all listed multiples nothing is stated. It is claimed there by energy: the element is heated to melting before much heat leaves it, so it
// takes no less than about what it stands at the highest listed multiple with an earliest time, (times x rating)2 x earliest. A little less may do, for
// what is lost on the way at that multiple; the claim says ByEnergy so that it can be worded as the estimate it is.
func Holds(gate []data.FuseGate, rating, amps unit.Current, d unit.Time) Hold {
	h := Hold{Amps: amps, For: d}
	if !(rating > 0) {
		return h
	}
	m := unit.Ratio(amps / rating)
	h.Times = m
	if m <= 1+sameTimes && len(gate) > 0 {
		h.Listed, h.Earliest, h.Met = 1, atRating, d < atRating
		return h
	}
	next, top := -1, -1
	for i, g := range gate {
		if !(g.Least > 0) {
			continue
		}
		if g.Times >= m*(1-sameTimes) && (next < 0 || g.Times < gate[next].Times) {
			next = i
		}
		if top < 0 || g.Times > gate[top].Times {
			top = i
		}
	}
	switch {
	case next >= 0:
		h.Listed, h.Earliest = gate[next].Times, gate[next].Least
	case top >= 0:
		h.ByEnergy = true
		h.Earliest = unit.Time(float64(energyAt(gate[top].Times, 1, gate[top].Least)) / float64(m*m))
	}
	h.Met = h.Earliest > 0 && d < h.Earliest
	return h
}

// Clears is the claim that a current opens a fuse: no later than the gate's latest time at the next lower listed multiple. Below the lowest
// multiple with a latest time it need never open.
//
// Beyond the highest listed multiple the time falls so that the energy stays what it is there: an element that melts before heat leaves it needs a
// fixed energy, and at the listed multiple it took that and what was lost besides. What the arc lets through after the element has parted is not in
// this share beyond the gate.
func Clears(fuse FuseRef, gate []data.FuseGate, rating, amps unit.Current) Clearing {
	c := Clearing{Fuse: fuse, Amps: amps}
	if !(rating > 0) {
		return c
	}
	m := unit.Ratio(amps / rating)
	c.Times = m
	at, higher := -1, false
	for i, g := range gate {
		switch {
		case g.Times > m*(1+sameTimes):
			higher = higher || g.Most > 0
		case g.Most > 0 && (at < 0 || g.Times > gate[at].Times):
			at = i
		}
	}
	if at < 0 {
		return c
	}
	c.Listed, c.Latest = gate[at].Times, gate[at].Most
	if !higher && m > c.Listed*(1+sameTimes) {
		c.ByEnergy = true
		c.Latest = unit.Time(float64(energyAt(c.Listed, 1, gate[at].Most)) / float64(m*m))
	}
	c.Energy = energyAt(1, amps, c.Latest)
	return c
}

// energyAt is the energy of a multiple of a rating that flows for so long.
func energyAt(times unit.Ratio, rating unit.Current, d unit.Time) data.Energy {
	a := float64(times) * float64(rating)
	return data.Energy(a * a * float64(d))
}
