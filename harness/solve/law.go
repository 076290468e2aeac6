package solve

import "math"

// The nets of a harness join parts of a micro-ohm to parts of kilo-ohms. Resistances are kept within these bounds, so that a
// joint written as zero is still a joint: at 100 A the least one takes 0.1 mV.
const (
	leastResistance = 1e-6 // ohm
	mostResistance  = 1e9  // ohm
	leastVolts      = 1e-3
	mostVolts       = 1e4
	mostAmps        = 1e6
	mostWatts       = 1e8
)

// restSlope is what a flat part of a law counts for in a Newton step, in siemens. It steers the step only: the currents that
// are added up come from the laws themselves, so it leaves no error in the answer.
const restSlope = 1e-6

// law is how the current of an element follows from the volts across it.
type law uint8

const (
	// open carries nothing: a load that rests, a supply that is not connected.
	open law = iota
	// ohmic: i = g v.
	ohmic
	// source: a supply of set-point e behind 1/g. It delivers g (e - v), never less than nothing (an alternator does not push
	// a made-up current into a battery) and never more than most.
	source
	// oneWay: a diode, g (v - e) above e, nothing below.
	oneWay
	// steadyCurrent: most amps from the volts e up, below it falling with the volts to nothing at none.
	steadyCurrent
	// steadyPower: most watts over the volts from e up; below it the resistance it has at e.
	steadyPower
)

// branch is one element as the solver sees it. Loads answer to reversed volts as to forward ones.
type branch struct {
	from, to   int32
	law        law
	g, e, most float64
}

// at is the current from from to to at v volts across, and its slope.
func (b *branch) at(v float64) (i, slope float64) {
	switch b.law {
	case ohmic:
		return b.g * v, b.g
	case source:
		out := b.g * (b.e - v)
		switch {
		case out <= 0:
			return 0, 0
		case out >= b.most:
			return -b.most, 0
		}
		return -out, b.g
	case oneWay:
		if v <= b.e {
			return 0, 0
		}
		return b.g * (v - b.e), b.g
	case steadyCurrent:
		if math.Abs(v) >= b.e {
			return math.Copysign(b.most, v), 0
		}
		return b.most / b.e * v, b.most / b.e
	case steadyPower:
		if math.Abs(v) >= b.e {
			return b.most / v, -b.most / (v * v)
		}
		g := b.most / (b.e * b.e)
		return g * v, g
	}
	return 0, 0
}

// alike tells whether two branches have one law.
func (b *branch) alike(x *branch) bool {
	return b.law == x.law && b.g == x.g && b.e == x.e && b.most == x.most
}

// plain is the branch as if nothing bent: where Newton's method begins. It returns the slope and the current at no volts.
func (b *branch) plain() (g, i float64) {
	switch b.law {
	case ohmic:
		return b.g, 0
	case source, oneWay:
		return b.g, -b.g * b.e
	case steadyCurrent:
		return b.most * currentKnee / b.e, 0
	case steadyPower:
		at := b.e / powerKnee
		return b.most / (at * at), 0
	}
	return 0, 0
}

// bent tells a law that is not a straight line.
func (b *branch) bent() bool { return b.law > ohmic }

// Where the laws of loads bend, as shares of the volts they were measured at.
const (
	// currentKnee: an electronic load that holds its current gives up below about a quarter of its volts; from memory.
	currentKnee = 0.25
	// powerKnee: a converter or a motor that holds its power stops doing so below about half its volts; from memory.
	powerKnee = 0.5
)

// within keeps x between low and high; what is not a number becomes low.
func within(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return min(x, high)
}

func resistor(from, to int32, ohms float64) branch {
	return branch{from: from, to: to, law: ohmic, g: 1 / within(ohms, leastResistance, mostResistance)}
}
