// Package unit holds the physical quantities of the trade as distinct types, so that a bare number never crosses a package
// boundary. Lengths are kept in millimetres and areas in square millimetres, the units in which the job is written and
// printed; everything else is in plain SI units, temperatures in degrees Celsius.
package unit

import "math"

// Length in millimetres.
type Length float64

// Area in square millimetres.
type Area float64

// Current in amperes.
type Current float64

// Voltage in volts.
type Voltage float64

// Resistance in ohms.
type Resistance float64

// LinearResistance in ohms per metre.
type LinearResistance float64

// Power in watts.
type Power float64

// LinearPower in watts per metre.
type LinearPower float64

// Time in seconds.
type Time float64

// Temperature in degrees Celsius.
type Temperature float64

// TempDiff is a difference of temperatures, in kelvin.
type TempDiff float64

// Ratio is a plain number; 0.03 is printed as 3 %.
type Ratio float64

// Force in newtons.
type Force float64

// Mass in kilograms.
type Mass float64

// Torque in newton metres.
type Torque float64

// Angle in degrees.
type Angle float64

// Charge in ampere-hours, the unit of the trade.
type Charge float64

// Conductivity is a thermal conductivity, in watts per metre and kelvin.
type Conductivity float64

// Over is the charge that a current moves in a time.
func (i Current) Over(t Time) Charge { return Charge(float64(i) * float64(t) / 3600) }

// Over is the resistance of the given length.
func (r LinearResistance) Over(l Length) Resistance {
	return Resistance(float64(r) * float64(l) / 1000)
}

// Drop is the voltage across r at current i.
func (r Resistance) Drop(i Current) Voltage { return Voltage(float64(r) * float64(i)) }

// Of is the share of v.
func (r Ratio) Of(v Voltage) Voltage { return Voltage(float64(r) * float64(v)) }

// Finite tells whether x is neither infinite nor not-a-number.
func Finite[T ~float64](x T) bool { return !math.IsNaN(float64(x)) && !math.IsInf(float64(x), 0) }

// Spread is a value with the least and the most it may be. A value stated without a spread has all three equal.
type Spread[T ~float64] struct {
	Low, Nominal, High T
}

// Exactly is a spread of no width.
func Exactly[T ~float64](x T) Spread[T] { return Spread[T]{x, x, x} }

// Within is a spread of x by a share to either side.
func Within[T ~float64](x T, share Ratio) Spread[T] {
	d := T(math.Abs(float64(x)) * float64(share))
	return Spread[T]{x - d, x, x + d}
}
