package heat

import (
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// setting is what a table's printed conditions ask about a wire's place.
type setting struct {
	ambient  unit.Temperature
	altitude unit.Length
	count    int // wires in the bundle
	carrying int // of them, how many carry current
	engine   bool
	at       *stand
	conds    size.Sizes
}

const foot unit.Length = 304.8

// gauge is a row of a table with its solid area by ASTM B258.
type gauge struct {
	size unit.Size
	area unit.Area
}

// row finds the size's own row, else for a metric size the largest row whose area is not above its nominal area.
func row(gauges []gauge, s unit.Size) (r unit.Size, taken string, ok bool) {
	var area unit.Area
	for _, t := range gauges {
		switch {
		case t.size == s:
			return s, "", true
		case !s.AWG && t.area <= s.MM2 && t.area > area:
			r, area, ok = t.size, t.area, true
		}
	}
	if !ok {
		return r, "", false
	}
	return r, "as " + r.String(), true
}

var aircraftSizes, marineSizes = func() (a, m []gauge) {
	for _, r := range data.Aircraft {
		a = append(a, gauge{r.Size, r.Size.Area()})
	}
	for _, r := range data.Marine {
		m = append(m, gauge{r.Size, r.Size.Area()})
	}
	return a, m
}()

// aircraft reads AC 43.13-1B Table 11-9 for wire c; nil when it has neither row nor column for it.
func aircraft(c size.Conductor, at *setting) *TableResult {
	as, taken, ok := row(aircraftSizes, c.Size)
	if !ok {
		return nil
	}
	amps, info, ok := data.AircraftBundle(as, c.Heat)
	if !ok {
		return nil
	}
	most := 33
	if as.Gauge <= 8 {
		most = 9
	}
	var not []string
	if at.ambient > 70 {
		not = append(not, "ambient "+at.ambient.String())
	}
	if at.count > most {
		not = append(not, number(at.count)+" wires in the bundle")
	}
	if at.altitude > 60000*foot {
		not = append(not, "altitude "+at.altitude.String())
	}
	switch share, ok := at.share(); {
	case !ok:
		not = append(not, "the bundle holds wires that the table does not list")
	case share > 0.2:
		not = append(not, share.String()+" of the bundle's capacity used")
	}
	return table(Aircraft, amps, info, not, taken)
}

// aircraftShare is the sum of currents over the sum of what the table allows all wires of the bundle; conds of the whole net.
func aircraftShare(x *stand, conds size.Sizes) (unit.Ratio, bool) {
	used, all := 0.0, 0.0
	for k, i := range x.place.known {
		c := &conds[i]
		as, _, ok := row(aircraftSizes, c.Size)
		if !ok {
			return 0, false
		}
		amps, _, ok := data.AircraftBundle(as, c.Heat)
		if !ok {
			return 0, false
		}
		used += float64(x.effective(k))
		all += float64(amps)
	}
	if all <= 0 {
		return 0, false
	}
	return unit.Ratio(used / all), true
}

// marine reads 33 CFR 183.425 Table 5, in an engine space with the factor of ABYC E-11 for insulation of 105 C (a better one counts
// as that), with the ABYC bundle factors. Nil when it has neither row nor column for the wire.
func marine(c size.Conductor, at *setting) *TableResult {
	as, taken, ok := row(marineSizes, c.Size)
	if !ok {
		return nil
	}
	rating := c.Heat
	if at.engine && rating > 105 {
		rating = 105
	}
	amps, info, ok := data.MarineAmps(as, rating, at.engine, at.carrying)
	if !ok {
		return nil
	}
	var not []string
	most := unit.Temperature(30)
	if at.engine {
		most = 50
		if rating < 105 {
			not = append(not, "insulation of "+c.Heat.String()+" in an engine space")
		}
	}
	if at.ambient > most {
		not = append(not, "ambient "+at.ambient.String())
	}
	return table(Marine, amps, info, not, taken)
}

func table(m Method, amps unit.Current, info data.Info, not []string, taken string) *TableResult {
	t := &TableResult{Method: m, Amps: amps, Condition: info.Condition, Holds: len(not) == 0, Verified: info.Basis == data.Verified, Taken: taken}
	if !t.Holds {
		t.Condition += "; not met here: " + strings.Join(not, ", ")
	}
	return t
}

func number(n int) string { return unit.Number(float64(n), 0) }

// pick reads the table that was asked for; with the balance, one to compare with: the first that holds, else the first there is.
func pick(asked string, c size.Conductor, at *setting) *TableResult {
	switch asked {
	case "aircraft":
		return aircraft(c, at)
	case "marine":
		return marine(c, at)
	}
	a, m := aircraft(c, at), marine(c, at)
	if a == nil || m != nil && m.Holds && !a.Holds {
		return m
	}
	return a
}
