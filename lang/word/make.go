package word

import "loomsheet/harness/unit"

// Short ways to write the table.

func newName() Arg              { return Arg{Kind: NewName} }
func newNames() Arg             { return Arg{Kind: NewName, Many: true} }
func free() Arg                 { return Arg{Kind: FreeName} }
func frees() Arg                { return Arg{Kind: FreeName, Many: true} }
func text() Arg                 { return Arg{Kind: FreeText} }
func spot() Arg                 { return Arg{Kind: Spot} }
func spots() Arg                { return Arg{Kind: Spot, Many: true} }
func coords() Arg               { return Arg{Kind: Coords} }
func end() Arg                  { return Arg{Kind: End} }
func ends() Arg                 { return Arg{Kind: End, Many: true} }
func refer(t ...string) Arg     { return Arg{Kind: Refer, Things: t} }
func refers(t ...string) Arg    { return Arg{Kind: Refer, Things: t, Many: true} }
func choice(c ...string) Arg    { return Arg{Kind: Choice, Choices: c} }
func choices(c ...string) Arg   { return Arg{Kind: Choice, Choices: c, Many: true} }
func measure(d ...unit.Dim) Arg { return Arg{Kind: Measure, Dims: d} }

func dims(d ...unit.Dim) []unit.Dim { return d }

func measures(least, most int, d ...unit.Dim) Arg {
	return Arg{Kind: Measure, Dims: d, Many: true, Least: least, Most: most}
}

func axis() Arg { return choice("x", "y", "z") }

func places(least, most int) Arg { return Arg{Kind: Coords, Many: true, Least: least, Most: most} }

func opt(name string, a Arg, doc string) Option { return Option{Name: name, Arg: a, Doc: doc} }

// dflt is an option with a default, as printed in the reference.
func dflt(name string, a Arg, def, doc string) Option {
	return Option{Name: name, Arg: a, Default: def, Doc: doc}
}

// again is an option that may stand more than once in a line.
func again(name string, a Arg, doc string) Option {
	return Option{Name: name, Arg: a, Repeats: true, Doc: doc}
}

const (
	number   = unit.DimNone
	length   = unit.DimLength
	area     = unit.DimArea
	gauge    = unit.DimGauge
	amps     = unit.DimCurrent
	volts    = unit.DimVoltage
	ohms     = unit.DimResistance
	perMetre = unit.DimLinearResistance
	watts    = unit.DimPower
	seconds  = unit.DimTime
	celsius  = unit.DimTemperature
	share    = unit.DimRatio
	torque   = unit.DimTorque
	charge   = unit.DimCharge
	angle    = unit.DimAngle
)

// Common is the options that every word and every line takes.
var Common = []Option{
	opt("note", text(), "a remark that is printed beside the thing on the sheets"),
	opt("source", text(), "where a value comes from: a data sheet, a measurement, a person"),
	opt("only", frees(), "the variant of the vehicle for which the line holds; kept for later"),
	opt("frozen", free(), "the revision since which this is copper or a hole and no longer free to change"),
}
