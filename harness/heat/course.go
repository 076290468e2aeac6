package heat

import (
	"math"

	"loomsheet/harness/unit"
)

// Leg is a part of the way on which a wire warms. With c the factor k of its copper without the logarithm (IEC 60364-5-54) and A the geometric mean of its
// nominal area and of that by its resistance, it takes (c A)^2 ln((234.5 + To) / (234.5 + From)) / (Keeps amps^2).
type Leg struct {
	From, To unit.Temperature
	// FromHolds and ToHolds are the steady currents that would hold it there.
	FromHolds, ToHolds unit.Current
	// Keeps is what stays in the copper of the heat made: 1 less the mean over the time of the square of what would hold it, as a share of the square
	// of what flows.
	Keeps unit.Ratio
	For   unit.Time
}

// legs is into how many parts of equal rise a way is cut, leastWay the rise in kelvin that makes one.
const (
	legs     = 4
	leastWay = 0.01
)

// Course is the way on which After finds what it tells; nothing where the wire hardly warms, or is not known.
func (t *Thermal) Course(wire int, amps unit.Current, d unit.Time) []Leg {
	if !t.Known(wire) {
		return nil
	}
	var out []Leg
	for _, whole := range []bool{false, true} {
		out = nil
		ws, top := t.of(drawn{wire, whole}), math.Inf(-1)
		for i := range ws {
			if end := ws[i].after(squared(amps), float64(d)); unit.Worse(end, top) {
				top, out = end, ws[i].course(squared(amps), float64(d))
			}
		}
		if top < t.reach(wire) {
			break
		}
	}
	return out
}

func (w *warming) course(i2, d float64) []Leg {
	end := w.after(i2, d)
	rise := end - w.t0
	if !(rise > leastWay) || math.IsInf(d, 0) {
		return nil
	}
	out := make([]Leg, 0, legs)
	from, begun := w.t0, 0.0
	for k := 1; k <= legs; k++ {
		to, at := end, d
		if k < legs {
			to = w.t0 + rise*float64(k)/legs
			at = math.Min(w.lasts(i2, to, math.Inf(1)), d)
		}
		if !(at > begun) {
			continue
		}
		out = append(out, Leg{From: unit.Temperature(from), To: unit.Temperature(to), FromHolds: unit.Current(math.Sqrt(w.holds(from))), ToHolds: unit.Current(math.Sqrt(w.holds(to))),
			Keeps: unit.Ratio(math.Log((to-zeroR)/(from-zeroR)) / (w.rate * i2 * (at - begun))), For: unit.Time(at - begun)})
		from, begun = to, at
	}
	return out
}
