package data

import (
	"math"

	"loomsheet/harness/unit"
)

// Adiabatic is how much of a short a conductor stands without losing heat, in amperes times root seconds per mm2.
type Adiabatic float64

// Adiabatic is the factor k of IEC 60364-5-54, from the heat before the short to the heat its insulation may reach:
// k = sqrt(Qc (b + 20) / rho20 x ln((b + final) / (b + initial))), b being the metal's zero below 0 C. It holds for shorts up to
// 5 s. It is 0 where final is not above initial, or initial is below -200 C.
func (m Metal) Adiabatic(initial, final unit.Temperature) Adiabatic {
	if !(final > initial) || !(initial >= coldest) {
		return 0
	}
	const perMM = 1e-3 // ohm mm2/m to ohm mm
	span := float64(m.HeatCapacity) * float64(20-m.ZeroAt) / (float64(m.Resistivity) * perMM)
	return Adiabatic(math.Sqrt(span * math.Log(float64(final-m.ZeroAt)/float64(initial-m.ZeroAt))))
}

// Area is the least area that stands current i for time t: S = sqrt(i i t) / k. ok is false without a factor.
func (k Adiabatic) Area(i unit.Current, t unit.Time) (a unit.Area, ok bool) {
	if !(k > 0) || !(t >= 0) {
		return 0, false
	}
	return unit.Area(math.Abs(float64(i)) * math.Sqrt(float64(t)) / float64(k)), true
}

// Time is how long area a stands current i: t = (k S / i) squared. ok is false without a factor or a current.
func (k Adiabatic) Time(i unit.Current, a unit.Area) (t unit.Time, ok bool) {
	if !(k > 0) || !(i > 0) || !(a > 0) {
		return 0, false
	}
	r := float64(k) * float64(a) / float64(i)
	return unit.Time(r * r), true
}
