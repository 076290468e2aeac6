package worked

import (
	"math"

	"loomsheet/harness/data"
	"loomsheet/harness/heat"
	"loomsheet/harness/unit"
)

// mostKept is the temperature, in degrees Celsius, past which it is not worked out where a wire would get that loses nothing: copper melts.
const mostKept = 1000

// warms works the two figures of which the lower is what a wire reaches in a fault: all heat kept in its copper, and what it loses on the way counted. The second is
// left out where both are printed alike.
func (k *maker) warms(amps unit.Current, d unit.Time, start, reaches unit.Temperature, area unit.Area, course []heat.Leg) {
	zero := -float64(data.Copper.ZeroAt)
	c := math.Sqrt(float64(data.Copper.HeatCapacity) * (zero + 20) / (float64(data.Copper.Resistivity) / 1000))
	a, i, t := float64(area), float64(amps), float64(d)
	if !(a > 0) || !(i > 0) || !(t > 0) {
		return
	}
	common := []Input{in("c", c, "", "sqrt(Qc (b + 20) / resistivity at 20 C) of copper, IEC 60364-5-54"), in("b", zero, "C", "IEC 60364-5-54"), in("Io", i, "A", "as above")}
	end := (zero+float64(start))*math.Exp(min(i*i*t/math.Pow(c*a, 2), 50)) - zero
	if end < mostKept {
		k.put(Line{What: "If its copper kept all heat", Formula: "Tk = (b + Ti) x 2.718282 ^ (Io ^ 2 x t / (c x A) ^ 2) - b", Inputs: append(append([]Input{}, common...), in("A", a, "mm2", "copper: the size, or less where its greatest resistance tells of less"),
			in("t", t, "s", "latest time of the gate"), in("Ti", float64(start), "C", "where it begins")), Result: short(end, "C"), Note: "never hotter than that"})
	}
	if len(course) == 0 || heat.Words(unit.Temperature(end)) == heat.Words(reaches) {
		return
	}
	by := k.put(Line{What: "Copper that warms", Formula: "A = sqrt(An x R / r)", Inputs: []Input{in("An", float64(k.c.Size.Area()), "mm2", "the size, which holds the heat"), in("R", float64(data.Copper.Resistivity)*1000, "mohm mm2/m", "copper at 20 C"),
		in("r", float64(k.c.Resistance)*1000, "mohm/m", "as under Resistance, which makes it")}, Result: short(math.Sqrt(float64(k.c.Size.Area())*float64(data.Copper.Resistivity)/float64(k.c.Resistance)), "mm2")})
	common = append(common, in("A", math.Sqrt(float64(k.c.Size.Area())*float64(data.Copper.Resistivity)/float64(k.c.Resistance)), "mm2", from(by)))
	sum := Line{What: "By then its copper is at " + sig(float64(course[len(course)-1].To), 5) + " C", Result: short(t, "s"), Note: "the times add up to that of the fault: no hotter than that"}
	for n, l := range course {
		stays := func(holds unit.Current) string { return sig(1-math.Pow(float64(holds)/i, 2), 4) }
		name := "t" + unit.Number(float64(n+1), 0)
		line := k.put(Line{What: "Time in which it warms from " + sig(float64(l.From), 5) + " C to " + sig(float64(l.To), 5) + " C", Formula: "t = (c x A) ^ 2 x ln((b + Tb) / (b + Ta)) / (f x Io ^ 2)",
			Inputs: append(append([]Input{}, common...), Input{Name: "Ta", Value: sig(float64(l.From), 9) + " C"}, Input{Name: "Tb", Value: sig(float64(l.To), 9) + " C"},
				in("f", float64(l.Keeps), "", "what stays in the copper, 1 - (I / Io) ^ 2 with I what holds it by the balance: "+short(float64(l.FromHolds), "A")+" at Ta, "+stays(l.FromHolds)+"; "+short(float64(l.ToHolds), "A")+" at Tb, "+stays(l.ToHolds))),
			Result: short(float64(l.For), "s")})
		if sum.Formula += " + " + name; n == 0 {
			sum.Formula = "t = " + name
		}
		sum.Inputs = append(sum.Inputs, in(name, float64(l.For), "s", from(line)))
	}
	k.put(sum)
}
