package heat

import (
	"math"

	"loomsheet/harness/unit"
)

// Kelvin of 0 C, the Stefan-Boltzmann constant in W/m2K4, and standard gravity in m/s2.
const (
	zeroC   = 273.15
	boltz   = 5.670374e-8
	gravity = 9.80665
)

// coolest and hottest bound every temperature that is worked with, in degrees Celsius. A wire that would get hotter than the upper
// bound is reported at it: no insulation of the trade lasts there, and the laws used here are not meant for it.
const (
	coolest = -150.0
	hottest = 500.0
)

// Bound is the temperature at which what gets hotter is reported.
const Bound unit.Temperature = hottest

// Words is a temperature for a sentence: past the bound it says no more than that.
func Words(t unit.Temperature) string {
	if t >= Bound {
		return "more than " + Bound.String()
	}
	return t.String()
}

// within brings x between the bounds; what is not a number counts as the upper one.
func within(x, low, high float64) float64 {
	if !(x <= high) {
		return high
	}
	return math.Max(x, low)
}

// pressureAt is the air pressure at an altitude, in pascal, by the international standard atmosphere: its troposphere to 11 km, its
// lower stratosphere above. Below sea level and above 20 km it stays at the bound.
func pressureAt(altitude unit.Length) float64 {
	h := within(float64(altitude)/1000, 0, 20000)
	if h <= 11000 {
		return 101325 * math.Pow(1-2.25577e-5*h, 5.25588)
	}
	return 22632 * math.Exp(-(h-11000)/6341.6)
}

// air is what convection needs to know of air at one temperature and pressure.
type air struct {
	conductivity float64 // W/mK
	viscosity    float64 // kinematic, m2/s
	prandtl      float64
	expansion    float64 // 1/K
}

// airAt gives the properties of dry air by Sutherland's laws of viscosity and conductivity (constants from memory; they meet
// handbook tables within 2 % from -50 to 300 C) and the ideal gas law. t in degrees Celsius, p in pascal.
func airAt(t, p float64) air {
	const cp, gas = 1007, 287.05
	k := within(t, coolest, hottest) + zeroC
	r := k / zeroC
	root := float64(r * math.Sqrt(r))
	mu := 1.716e-5 * root * (zeroC + 110.4) / (k + 110.4)
	cond := 0.0241 * root * (zeroC + 194) / (k + 194)
	return air{conductivity: cond, viscosity: mu * gas * k / p, prandtl: mu * cp / cond, expansion: 1 / k}
}

// surface is the outside of a bundle.
type surface struct {
	diameter   float64 // m
	emissivity float64
	pressure   float64 // Pa
}

// loss is the heat that leaves a metre of a horizontal cylinder at ts in still air at ta, in W/m, ta the walls' temperature as
// well. Convection by Churchill and Chu's law for all Rayleigh numbers up to 1e12, air taken at the mean of both temperatures;
// radiation as from a small grey body in a large room.
func (s surface) loss(ts, ta float64) float64 {
	dt := ts - ta
	if dt <= 0 || s.diameter <= 0 {
		return 0
	}
	a := airAt((ts+ta)/2, s.pressure)
	ra := gravity * a.expansion * dt * s.diameter * s.diameter * s.diameter * a.prandtl / (a.viscosity * a.viscosity)
	// [1 + (0.559/Pr)^(9/16)]^(8/27), by roots: this line is where the time of a whole job goes
	x := math.Sqrt(0.559 / a.prandtl)
	y := 1 + float64(x*math.Sqrt(math.Sqrt(math.Sqrt(x))))
	y *= y
	y *= y
	under := math.Cbrt(math.Cbrt(math.Cbrt(y * y)))
	root := 0.60 + float64(0.387*math.Cbrt(math.Sqrt(ra)))/under
	h := root * root * a.conductivity / s.diameter
	hot, cold := ts+zeroC, ta+zeroC
	rad := s.emissivity * boltz * (hot*hot + cold*cold) * (hot + cold) * dt
	return math.Pi * s.diameter * (float64(h*dt) + rad)
}

// conductance is loss over the difference of temperature, in W/mK, at a difference of at least one kelvin.
func (s surface) conductance(ts, ta float64) float64 {
	ts = math.Max(ts, ta+1)
	return s.loss(ts, ta) / (ts - ta)
}
