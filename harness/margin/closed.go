package margin

import (
	"math"

	"loomsheet/harness/contact"
	"loomsheet/harness/data"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// inProportion is the room of a load whose use of the limit goes with it.
func inProportion(of string, from unit.Quantity, used float64) Room {
	r := Room{What: Load, Own: true, Of: of, From: from, To: from}
	f := mostFactor
	if used > 0 {
		f = 1 / used
	}
	if r.Beyond = f > mostFactor; r.Beyond {
		f = mostFactor
	}
	r.To.Value *= math.Max(1, f)
	return r
}

// warmerBy is how much warmer the air may be.
func warmerBy(of string, k float64) Room {
	r := Room{What: Ambient, Own: true, Of: of, From: kelvin(0), To: kelvin(math.Max(0, k))}
	if r.Beyond = k > mostWarmer; r.Beyond {
		r.To = kelvin(mostWarmer)
	}
	return r
}

// fuseAmbient is how much warmer the air around a fuse may be: up to where the factor of data.FuseAmbientFactor, straight between its points,
// falls to what the load needs, or where the table ends.
func fuseAmbient(r *protect.FuseResult) (Room, bool) {
	if !(r.Rating > 0) || !(r.Factor > 0) {
		return Room{}, false
	}
	need := float64(r.Need) * float64(r.Factor) / float64(r.Rating) // the factor at which the limit is met just so
	rows := data.FuseAmbient
	rated := float64(rows[0].Allowed)
	for i := 1; i < len(rows); i++ {
		low, high := float64(rows[i].Allowed)/rated, float64(rows[i-1].Allowed)/rated
		if need > low {
			at := float64(rows[i-1].Ambient) + (high-math.Min(need, high))/(high-low)*float64(rows[i].Ambient-rows[i-1].Ambient)
			return warmerBy("around it", at-float64(r.Ambient)), true
		}
	}
	return warmerBy("around it; there the datasheet ends", float64(rows[len(rows)-1].Ambient-r.Ambient)), true
}

// contactAmbient turns the factor for the air round: the rise of a contact goes with the square of its current, so the air may reach the limit of
// the housing less that rise. Where no limit of the housing is known there is no answer.
func contactAmbient(r *contact.EndResult) (Room, bool) {
	full := float64(r.Rating) * float64(r.Loading)
	if r.Heat == 0 || !(full > 0) {
		return Room{}, false
	}
	share := float64(r.Shared) / full
	return warmerBy("around it", float64(r.Heat-r.Ambient)-math.Max(0, float64(r.Rise))*share*share), true
}

// holdRoom is how much a starting current may grow until the fuse need not hold it: at a step of its gate, or beyond it by energy.
func holdRoom(r *protect.FuseResult, h *protect.Hold) Room {
	out := Room{What: Load, Own: true, Of: h.Device + " as it starts", From: amperes(h.Amps), To: amperes(h.Amps)}
	if h.Works {
		out.Of = h.Device + " as it works"
	}
	at := cross(func(by float64) float64 {
		x := protect.Holds(r.Gate, r.Rating, scale(h.Amps, 1+by), h.For)
		switch {
		case x.Met:
			return float64(x.For)/float64(x.Earliest) - 1
		case !(x.Earliest > 0):
			return math.Inf(1)
		}
		return math.Max(float64(x.For)/float64(x.Earliest)-1, 1e-12)
	}, mostFactor-1)
	out.found(at)
	out.To.Value *= 1 + at.at
	return out
}
