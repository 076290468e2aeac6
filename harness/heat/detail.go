package heat

import (
	"math"

	"loomsheet/harness/unit"
)

// Shedding is how the surface of a bundle sheds its heat, step by step, so that a reviewer can work it again.
type Shedding struct {
	Film         unit.Temperature  // mean of surface and air
	Conductivity unit.Conductivity // of air at the film
	Viscosity    Viscosity
	Prandtl      unit.Ratio
	Rayleigh     unit.Ratio
	Nusselt      unit.Ratio
	Convection   unit.LinearPower
	Radiation    unit.LinearPower
}

// Viscosity is kinematic, in square metres per second.
type Viscosity float64

// Shed works out the heat that leaves a bundle of an outside diameter whose surface stands at a temperature in still air, at an
// altitude: Churchill and Chu's law for a horizontal cylinder and radiation to walls at the air's temperature. All is nothing where the
// surface is not warmer than the air.
func Shed(outside unit.Length, surfaceAt, airTemp unit.Temperature, emissivity unit.Ratio, altitude unit.Length) Shedding {
	ts, ta, d := float64(surfaceAt), float64(airTemp), float64(outside)/1000
	p := pressureAt(altitude)
	a := airAt((ts+ta)/2, p)
	out := Shedding{Film: unit.Temperature((ts + ta) / 2), Conductivity: unit.Conductivity(a.conductivity), Viscosity: Viscosity(a.viscosity), Prandtl: unit.Ratio(a.prandtl)}
	if !(ts > ta) || !(d > 0) {
		return out
	}
	eps := within(float64(emissivity), 0, 1)
	all := surface{d, eps, p}.loss(ts, ta)
	hot, cold := ts+zeroC, ta+zeroC
	rad := math.Pi * d * eps * boltz * (hot*hot + cold*cold) * (hot + cold) * (ts - ta)
	ra := gravity * a.expansion * (ts - ta) * d * d * d * a.prandtl / (a.viscosity * a.viscosity)
	out.Rayleigh = unit.Ratio(ra)
	out.Radiation, out.Convection = unit.LinearPower(rad), unit.LinearPower(all-rad)
	out.Nusselt = unit.Ratio((all - rad) / (math.Pi * a.conductivity * (ts - ta)))
	return out
}
