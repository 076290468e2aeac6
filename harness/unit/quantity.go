package unit

import (
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Dim is the dimension of a quantity.
type Dim uint8

// The dimensions the language knows.
const (
	DimNone Dim = iota // a bare number
	DimLength
	DimArea
	DimGauge
	DimCurrent
	DimVoltage
	DimResistance
	DimLinearResistance
	DimPower
	DimTime
	DimTemperature
	DimTempDiff
	DimRatio
	DimForce
	DimMass
	DimTorque
	DimAngle
	DimPressure
	DimConductivity
	DimCharge
)

var dimNames = map[Dim]string{
	DimNone: "a bare number", DimLength: "a length", DimArea: "a conductor area", DimGauge: "a wire gauge", DimCurrent: "a current",
	DimVoltage: "a voltage", DimResistance: "a resistance", DimLinearResistance: "a resistance per length", DimPower: "a power",
	DimTime: "a time", DimTemperature: "a temperature", DimTempDiff: "a temperature difference", DimRatio: "a percentage", DimForce: "a force",
	DimMass: "a mass", DimTorque: "a torque", DimAngle: "an angle", DimPressure: "a pressure", DimConductivity: "a heat conductivity", DimCharge: "a charge",
}

// String names the dimension as a tradesman would: "a length".
func (d Dim) String() string { return dimNames[d] }

// Unit is one way to write a dimension.
type Unit struct {
	Name   string
	Dim    Dim
	Factor float64 // to the base unit of the dimension
	Also   []string
}

// Units is every unit the language knows, base unit of each dimension first.
var Units = []Unit{
	{"mm", DimLength, 1, nil}, {"cm", DimLength, 10, nil}, {"m", DimLength, 1000, nil}, {"inch", DimLength, 25.4, nil}, {"ft", DimLength, 304.8, nil},
	{"mm2", DimArea, 1, []string{"mm²"}},
	{"AWG", DimGauge, 1, nil},
	{"A", DimCurrent, 1, nil}, {"mA", DimCurrent, 1e-3, nil},
	{"V", DimVoltage, 1, nil}, {"mV", DimVoltage, 1e-3, nil},
	{"ohm", DimResistance, 1, []string{"Ω", "Ω"}}, {"mohm", DimResistance, 1e-3, []string{"mΩ", "mΩ"}},
	{"uohm", DimResistance, 1e-6, []string{"µohm", "μohm", "µΩ", "μΩ", "uΩ"}}, {"kohm", DimResistance, 1e3, []string{"kΩ", "kΩ"}},
	{"ohm/m", DimLinearResistance, 1, []string{"Ω/m"}}, {"mohm/m", DimLinearResistance, 1e-3, []string{"mΩ/m"}},
	{"ohm/km", DimLinearResistance, 1e-3, []string{"Ω/km"}},
	{"W", DimPower, 1, nil}, {"kW", DimPower, 1e3, nil}, {"mW", DimPower, 1e-3, nil},
	{"s", DimTime, 1, nil}, {"ms", DimTime, 1e-3, nil}, {"us", DimTime, 1e-6, []string{"µs", "μs"}}, {"min", DimTime, 60, nil}, {"h", DimTime, 3600, nil},
	{"C", DimTemperature, 1, []string{"°C"}},
	{"K", DimTempDiff, 1, nil},
	{"%", DimRatio, 0.01, nil},
	{"N", DimForce, 1, nil}, {"kg", DimMass, 1, nil}, {"g", DimMass, 1e-3, nil},
	{"Nm", DimTorque, 1, nil},
	{"Ah", DimCharge, 1, nil},
	{"deg", DimAngle, 1, []string{"°"}},
	{"kPa", DimPressure, 1, nil}, {"bar", DimPressure, 100, nil},
	{"W/mK", DimConductivity, 1, nil},
}

var byName = func() map[string]Unit {
	m := map[string]Unit{}
	for _, u := range Units {
		m[u.Name] = u
		for _, a := range u.Also {
			m[a] = u
		}
	}
	return m
}()

// LookUp finds a unit by its name or another accepted spelling.
func LookUp(name string) (Unit, bool) { u, ok := byName[name]; return u, ok }

// Names lists every accepted spelling, longest first, so that the first match is the longest.
func Names() []string {
	var out []string
	for n := range byName {
		out = append(out, n)
	}
	sort.Slice(out, func(i, j int) bool {
		if len(out[i]) != len(out[j]) {
			return len(out[i]) > len(out[j])
		}
		return out[i] < out[j]
	})
	return out
}

// Of lists the unit names of a dimension, base unit first.
func (d Dim) Units() []string {
	var out []string
	for _, u := range Units {
		if u.Dim == d {
			out = append(out, u.Name)
		}
	}
	return out
}

// Quantity is a number with a dimension, in the base unit of that dimension (mm, mm2, A, V, ohm, ohm/m, W, s, C, K, 1, N, kg,
// Nm, degree, kPa, W/mK; a gauge counts 0000 as -3).
type Quantity struct {
	Value float64
	Dim   Dim
	// Text is how it was written, for messages; printing of results never uses it.
	Text string
}

// ParseError tells what is wrong with a quantity's text.
type ParseError struct{ Why string }

func (e ParseError) Error() string { return e.Why }

// Parse reads "2.5 mm2", "20 AWG", "-5 C", "3%". The number and its unit may be apart by blanks. It accepts Ω, µ, °C, ² and the
// minus sign U+2212. A number that is infinite, or a gauge outside 0000 to 30, is an error.
func Parse(text string) (Quantity, error) {
	t := strings.ReplaceAll(strings.TrimSpace(text), "−", "-")
	i := 0
	for i < len(t) && (t[i] == '-' || t[i] == '.' || t[i] >= '0' && t[i] <= '9') {
		i++
	}
	num, name := t[:i], strings.TrimSpace(t[i:])
	if !utf8.ValidString(name) {
		return Quantity{}, ParseError{"the unit is not readable text"}
	}
	x, err := strconv.ParseFloat(num, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return Quantity{}, ParseError{fmt.Sprintf("%q is not a number", num)}
	}
	if name == "" {
		return Quantity{x, DimNone, text}, nil
	}
	u, ok := byName[name]
	if !ok {
		return Quantity{}, ParseError{fmt.Sprintf("%q is not a unit", name)}
	}
	q := Quantity{x * u.Factor, u.Dim, text}
	if u.Dim == DimGauge {
		n, err := gauge(num)
		if err != nil {
			return Quantity{}, err
		}
		q.Value = float64(n)
	}
	if math.IsInf(q.Value, 0) {
		return Quantity{}, ParseError{"the number is too large"}
	}
	return q, nil
}

func gauge(num string) (int, error) {
	switch num {
	case "00":
		return -1, nil
	case "000":
		return -2, nil
	case "0000":
		return -3, nil
	}
	n, err := strconv.Atoi(num)
	if err != nil || n < 0 || n > 30 || num != strconv.Itoa(n) {
		return 0, ParseError{"wire gauges run from 0000 to 30 AWG, whole numbers"}
	}
	return n, nil
}

// Size turns an area or a gauge into a conductor size; ok is false for any other dimension or an area that is not positive.
func (q Quantity) Size() (s Size, ok bool) {
	switch q.Dim {
	case DimArea:
		return Metric(Area(q.Value)), q.Value > 0
	case DimGauge:
		return AWG(int(q.Value)), true
	}
	return Size{}, false
}

// String prints the quantity in the base unit of its dimension.
func (q Quantity) String() string {
	if q.Dim == DimNone {
		return Number(q.Value, 6)
	}
	if q.Dim == DimGauge {
		return AWG(int(q.Value)).String()
	}
	if q.Dim == DimRatio {
		return Number(q.Value*100, 6) + " %"
	}
	if q.Dim == DimResistance {
		return Resistance(q.Value).String()
	}
	if q.Dim == DimLinearResistance {
		return LinearResistance(q.Value).String()
	}
	for _, u := range Units {
		if u.Dim == q.Dim {
			return Number(q.Value, 6) + " " + u.Name
		}
	}
	return Number(q.Value, 6)
}
