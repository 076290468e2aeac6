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
	k := within(t, coolest, hottest) + zeroC
	r := k / zeroC
	root := float64(r * math.Sqrt(r))
	mu := viscousAt * root / (k + viscous)
	cond := conductsAt * root / (k + conducts)
	return air{conductivity: cond, viscosity: mu * airGas * k / p, prandtl: mu * airHeat / cond, expansion: 1 / k}
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
	a := s.in(ta)
	return a.loss(ts)
}

// Sutherland's constants of air, and the constants of its laws at 0 C: viscosity in Pa s, conductivity in W/mK, heat capacity in J/kgK, gas
// constant in J/kgK. From memory.
const (
	viscous, conducts = 110.4, 194.0
	viscousAt         = 1.716e-5 * (zeroC + viscous)
	conductsAt        = 0.0241 * (zeroC + conducts)
	airHeat, airGas   = 1007.0, 287.05
	prandtlAt         = viscousAt * airHeat / conductsAt // over (k + conducts) / (k + viscous)
)

// still is a surface in still air of one temperature: what loss needs of both, worked out once. This is where the time of a whole job goes.
type still struct {
	ta, rayleigh, radiation, conduction float64
	diameter                            float64
}

func (s surface) in(ta float64) still {
	d := s.diameter
	return still{ta: ta, diameter: d, radiation: math.Pi * d * s.emissivity * boltz, conduction: math.Pi * conductsAt / (zeroC * math.Sqrt(zeroC)),
		rayleigh: gravity * d * d * d * airHeat * s.pressure * s.pressure / (airGas * airGas * conductsAt * viscousAt) * (zeroC * zeroC * zeroC)}
}

// loss is surface.loss with the properties of air written out (see airAt): the Rayleigh number is g dt d3 Pr / (k v2) with conductivity and
// viscosity as k^1.5 over what Sutherland adds, the Prandtl number the ratio of what he adds.
func (s *still) loss(ts float64) float64 {
	dt := ts - s.ta
	if dt <= 0 || s.diameter <= 0 {
		return 0
	}
	k := within((ts+s.ta)/2, coolest, hottest) + zeroC
	v, c := k+viscous, k+conducts
	k3 := k * k * k
	ra := s.rayleigh * dt * v * c / (k3 * k3)
	root := 0.60 + float64(prandtlShare.at(c/v)*math.Cbrt(math.Sqrt(ra)))
	hot, cold := ts+zeroC, s.ta+zeroC
	convection := float64(s.conduction * k * math.Sqrt(k) / c * root * root * dt)
	return convection + float64(s.radiation*(hot*hot+cold*cold)*(hot+cold)*dt)
}

// prandtlShare is 0.387 / (1 + (0.559/Pr)^(9/16))^(8/27) of Churchill and Chu's law over the ratio that the Prandtl number of air goes with.
var prandtlShare = newSeries(func(x float64) float64 {
	return 0.387 / math.Pow(1+math.Pow(0.559/(prandtlAt*x), 9.0/16), 8.0/27)
}, (hottest+zeroC+conducts)/(hottest+zeroC+viscous), (coolest+zeroC+conducts)/(coolest+zeroC+viscous))

// series is a smooth function between two bounds as a polynomial of (x - mid) / half, laid through its values at Chebyshev's points.
type series struct {
	mid, half float64
	c         [12]float64
}

func newSeries(f func(float64) float64, low, high float64) series {
	s := series{mid: (low + high) / 2, half: (high - low) / 2}
	n := len(s.c)
	before, now := [12]float64{}, [12]float64{1} // Chebyshev's polynomials by their coefficients
	for j := range n {
		sum := 0.0
		for i := range n {
			a := math.Pi * (float64(i) + 0.5) / float64(n)
			sum += f(s.mid+s.half*math.Cos(a)) * math.Cos(float64(j)*a)
		}
		if sum *= 2 / float64(n); j == 0 {
			sum /= 2
		}
		next, twice := [12]float64{}, 2.0
		if j == 0 {
			twice = 1
		}
		for i := range n {
			s.c[i] += sum * now[i]
			if i > 0 {
				next[i] = twice * now[i-1]
			}
			next[i] -= before[i]
		}
		before, now = now, next
	}
	return s
}

func (s *series) at(x float64) float64 {
	z := (x - s.mid) / s.half
	y, c := z*z, &s.c
	even := c[0] + y*(c[2]+y*(c[4]+y*(c[6]+y*(c[8]+y*c[10]))))
	odd := c[1] + y*(c[3]+y*(c[5]+y*(c[7]+y*(c[9]+y*c[11]))))
	return even + z*odd
}

// conductance is loss over the difference of temperature, in W/mK, at a difference of at least one kelvin.
func (s surface) conductance(ts, ta float64) float64 {
	ts = math.Max(ts, ta+1)
	return s.loss(ts, ta) / (ts - ta)
}
