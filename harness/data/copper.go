package data

import (
	"math"

	"loomsheet/harness/unit"
)

// Resistivity in ohm mm2 per metre.
type Resistivity float64

// TempCoefficient is a change of resistance per kelvin, as a share of that at 20 C.
type TempCoefficient float64

// HeatCapacity is per volume, in joules per mm3 and kelvin.
type HeatCapacity float64

// Metal is a conductor material.
type Metal struct {
	Name         string
	Resistivity  Resistivity      // at 20 C
	Alpha        TempCoefficient  // at 20 C
	ZeroAt       unit.Temperature // where its resistance would vanish if it went on falling in a straight line
	HeatCapacity HeatCapacity     // at 20 C
	Info
}

// Copper is annealed copper: resistivity 1/58 ohm mm2/m and coefficient by IEC 60028, -234.5 C as in AC 43.13-1B and
// IEC 60364-5-54. The coefficient 0.00393 would put the zero at -234.45 C; the difference is 1 part in 10,000 at 100 C.
var Copper = Metal{
	Name: "copper", Resistivity: 1.0 / 58, Alpha: 0.00393, ZeroAt: -234.5, HeatCapacity: 3.45e-3,
	Info: Info{Document: "IEC 60028; IEC 60364-5-54", Condition: "annealed copper at 20 C"},
}

// coldest is where the straight line of resistance over temperature is left, far below any job.
const coldest unit.Temperature = -200

// Factor is resistance at t over resistance at 20 C: (234.5 + t) / 254.5 for copper (AC 43.13-1B para 11-66d). Below -200 C it
// stays at its value there. The printed factors of IEC 60228 follow 250/(230 + t) instead, up to 0.4 % apart at 100 C.
func (m Metal) Factor(t unit.Temperature) unit.Ratio {
	if t < coldest {
		t = coldest
	}
	return unit.Ratio(float64(t-m.ZeroAt) / float64(20-m.ZeroAt))
}

// ResistanceAt is the resistance per length at t of a conductor that has r20 at 20 C.
func (m Metal) ResistanceAt(r20 unit.LinearResistance, t unit.Temperature) unit.LinearResistance {
	return unit.LinearResistance(float64(r20) * float64(m.Factor(t)))
}

// CircularMils is an area in the old American measure: that of a circle one thousandth of an inch across.
type CircularMils float64

// mil is a thousandth of an inch, in mm.
const mil = 0.0254

// Area of c.
func (c CircularMils) Area() unit.Area { return unit.Area(float64(c) * math.Pi / 4 * mil * mil) }

// InCircularMils is a in circular mils.
func InCircularMils(a unit.Area) CircularMils {
	return CircularMils(float64(a) / (math.Pi / 4 * mil * mil))
}
