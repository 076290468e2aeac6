package data

import (
	"math"

	"loomsheet/harness/unit"
)

// CrimpRow is the least pull-out force of a crimp. Military is 0 where none is printed.
type CrimpRow struct {
	Size                 unit.Size
	Commercial, Military unit.Force
	Basis                Basis
}

// Crimps is TE application specifications 114-2157 and 114-2161, pulled at 25.4 mm per minute: the commercial column is the UL 486A set,
// the military column that of MIL-T-7928 (the names of the two standards are from memory). At 2/0 the print has 1235 N beside 300 lbf, which
// is 1334.5 N.
var Crimps = []CrimpRow{
	{awg(26), 13.4, 31.1, Verified},
	{awg(24), 22.3, 44.5, Verified},
	{awg(22), 35.6, 66.7, Verified},
	{awg(20), 57.9, 84.5, Verified},
	{awg(18), 89.0, 169.0, Verified},
	{awg(16), 133.5, 222.5, Verified},
	{awg(14), 222.5, 311.5, Verified},
	{awg(12), 311.5, 489.3, Verified},
	{awg(10), 356.0, 667.2, Verified},
	{awg(8), 400.5, 0, Verified},
	{awg(6), 445.0, 0, Verified},
	{awg(4), 623.0, 0, Verified},
	{awg(2), 801.0, 0, Verified},
	{awg(0), 1112.5, 0, Verified},
	{awg(-1), 1235.0, 0, Verified},
}

// nasaCrimps is NASA-STD-8739.4, Table 13-1, as far as it is at hand: 8 and 13 lb for 24 and 22 AWG; 21 lb for 20 AWG was seen in a
// second-hand table only.
var nasaCrimps = []CrimpRow{
	{Size: awg(24), Commercial: 36, Basis: Verified},
	{Size: awg(22), Commercial: 57, Basis: Verified},
	{Size: awg(20), Commercial: 92, Basis: FromMemory},
}

// PullColumn is a column of figures that a crimp must hold.
type PullColumn string

// Columns, as the setting pull-column names them.
const (
	PullCommercial PullColumn = "commercial"
	PullMilitary   PullColumn = "military"
	PullNASA       PullColumn = "nasa"
)

// PullColumns is every column, the one that reaches furthest first.
var PullColumns = []PullColumn{PullCommercial, PullMilitary, PullNASA}

// CrimpPull is the least force at which a crimp on one wire may part, pulled at 25.4 mm per minute. Between two printed gauges, and so for
// every metric size, it is in proportion to the area and rounded up to a tenth of a newton: more than the next smaller gauge asks, which a
// thicker wire exceeds with a poor crimp, and never what a sound crimp on the thinner wire could not hold. Above the largest gauge that is printed its figure stands, which is on the low
// side, as the condition says. ok is false below the smallest gauge of the column, and above the largest of the short columns (10 AWG military, 20 AWG
// NASA).
func CrimpPull(size unit.Size, column PullColumn) (f unit.Force, info Info, ok bool) {
	rows, document, value := Crimps, "TE 114-2157 and 114-2161", func(r *CrimpRow) unit.Force { return r.Commercial }
	condition := "commercial column"
	switch column {
	case PullMilitary:
		condition, value = "military column", func(r *CrimpRow) unit.Force { return r.Military }
	case PullNASA:
		rows, document, condition = nasaCrimps, "NASA-STD-8739.4 Table 13-1", "its figure"
	}
	var under, over *CrimpRow
	a := size.Area()
	for i := range rows {
		r := &rows[i]
		if value(r) == 0 {
			continue
		}
		if r.Size.Area() <= a {
			under = r
		} else if over == nil {
			over = r
		}
	}
	if under == nil || !unit.Finite(a) {
		return 0, Info{}, false
	}
	f, info = value(under), Info{document, condition + " for " + under.Size.String(), under.Basis}
	switch {
	case under.Size == size || under.Size.Area() == a:
	case over != nil:
		lo, hi := under.Size.Area(), over.Size.Area()
		f += unit.Force(float64(value(over)-f) * float64(a-lo) / float64(hi-lo))
		f = unit.Force(math.Ceil(float64(f)*10-1e-9) / 10)
		info.Condition = condition + ", by area between " + under.Size.String() + " and " + over.Size.String()
		info.Basis = weaker(under.Basis, over.Basis)
	case column != PullCommercial:
		return 0, Info{}, false
	default:
		info.Condition = condition + " for " + under.Size.String() + ", the largest printed: a thicker wire holds more"
	}
	return f, info, true
}

// CrimpGap is the least and most bare conductor to be seen between the insulation and the barrel of a crimp: NASA-STD-8739.4, 10.1b.
func CrimpGap(size unit.Size) (least, most unit.Length, info Info) {
	info = Info{"NASA-STD-8739.4 10.1b", "20 AWG and smaller", Verified}
	if size.Area() <= awg(20).Area()+1e-9 {
		return 0.25, 0.75, info
	}
	if size.Area() < awg(18).Area()-1e-9 {
		// The print has nothing between the two gauges: the narrower holds.
		info.Condition = "as for 20 AWG: nothing is printed up to 18"
		return 0.25, 0.75, info
	}
	info.Condition = "18 AWG and larger"
	return 0.25, 1.25, info
}
