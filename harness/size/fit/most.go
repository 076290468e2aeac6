package fit

import (
	"math"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Most is the limit above which a load of the case, by its index, gets too many volts: most-volts where that is set, else volts-over on top of the
// volts that the load itself says it was measured at. A load in series with others, or fed the wrong way round, is judged too: what lies across it
// is what burns it. There is none for a load that is not fed or rests. No wire is made thicker or thinner for it.
func (j *Judge) Most(c *solve.CaseResult, load int) (Limit, bool) {
	l := &c.Loads[load]
	d := j.draw(l)
	if d == nil || !l.Fed || l.Rests {
		return Limit{}, false
	}
	at := j.scope(c, l)
	out := Limit{Name: "most-volts", Ruling: j.get("most-volts", at)}
	if out.Ruling.Known {
		out.Value = unit.Voltage(out.Ruling.Value.Quantity.Value)
	} else {
		out.Name, out.Ruling = "volts-over", j.get("volts-over", at)
		of := max(d.At.Nominal, d.At.High)
		if !out.Ruling.Known || !d.At.Given || !(of > 0) {
			return Limit{}, false
		}
		out.Value = of + unit.Voltage(out.Ruling.Value.Quantity.Value)
		if out.Ruling.Value.Quantity.Dim == unit.DimRatio {
			out.Of = of
			out.Value = of + unit.Ratio(out.Ruling.Value.Quantity.Value).Of(of)
		}
	}
	out.Span, out.Got = out.Ruling.Span, unit.Voltage(math.Abs(float64(l.Volts)))
	out.worst(c.Corner(load, solve.MostVolts))
	return out, true
}
