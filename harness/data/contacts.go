package data

import (
	"math"

	"loomsheet/harness/unit"
)

// ContactRow is one contact size of the aerospace circular connectors.
type ContactRow struct {
	Size        string
	Least, Most unit.Size // wire
	Rating      unit.Current
	TestDrop    unit.Voltage // most, at its rating; 0 where none is at hand
	Basis       Basis
	TestBasis   Basis
}

// Contacts is AS39029: rating, wire range and test drop of a mated pair.
var Contacts = []ContactRow{
	{"22D", awg(28), awg(22), 5, 0.073, FromMemory, FromMemory},
	{"20", awg(24), awg(20), 7.5, 0.055, Verified, FromMemory},
	{"16", awg(20), awg(16), 13, 0.049, FromMemory, FromMemory},
	{"12", awg(14), awg(12), 23, 0.042, FromMemory, FromMemory},
	{"8", awg(10), awg(8), 46, 0, FromMemory, FromMemory},
}

// TestResistance is that of a mated pair by its test drop; ok is false where no test drop is at hand.
func (c ContactRow) TestResistance() (r unit.Resistance, ok bool) {
	if c.TestDrop == 0 || c.Rating == 0 {
		return 0, false
	}
	return unit.Resistance(float64(c.TestDrop) / float64(c.Rating)), true
}

// ContactLoadRow is one cell of a maker's table: what a wire's gauge and the share of loaded cavities leave of the rating of a
// single contact on 18 AWG. Loaded 0 is a single loaded contact.
type ContactLoadRow struct {
	Loaded unit.Ratio
	Size   unit.Size
	Factor unit.Ratio
	Basis  Basis
}

// ContactLoads is a maker's product specification, TE 108-40005 figure 4. It shows the pattern; another connector has its own figures. From 26 %
// on the factor follows 1/sqrt(loading) within 6 %: what counts is the sum of the squares of the currents, the heat of the whole connector.
// At 26 % and 24 AWG the print is 3 % off the product of its row and column: likely a misprint.
var ContactLoads = []ContactLoadRow{
	{0, awg(28), 0.384, Verified},
	{0, awg(26), 0.45, Verified},
	{0, awg(24), 0.536, Verified},
	{0, awg(22), 0.647, Verified},
	{0, awg(20), 0.795, Verified},
	{0, awg(18), 1.0, Verified},
	{0.26, awg(28), 0.237, Verified},
	{0.26, awg(26), 0.278, Verified},
	{0.26, awg(24), 0.342, Verified},
	{0.26, awg(22), 0.4, Verified},
	{0.26, awg(20), 0.491, Verified},
	{0.26, awg(18), 0.618, Verified},
	{0.5, awg(28), 0.164, Verified},
	{0.5, awg(26), 0.193, Verified},
	{0.5, awg(24), 0.229, Verified},
	{0.5, awg(22), 0.277, Verified},
	{0.5, awg(20), 0.341, Verified},
	{0.5, awg(18), 0.428, Verified},
	{0.76, awg(28), 0.132, Verified},
	{0.76, awg(26), 0.155, Verified},
	{0.76, awg(24), 0.184, Verified},
	{0.76, awg(22), 0.222, Verified},
	{0.76, awg(20), 0.273, Verified},
	{0.76, awg(18), 0.344, Verified},
	{1.0, awg(28), 0.114, Verified},
	{1.0, awg(26), 0.134, Verified},
	{1.0, awg(24), 0.159, Verified},
	{1.0, awg(22), 0.192, Verified},
	{1.0, awg(20), 0.236, Verified},
	{1.0, awg(18), 0.297, Verified},
}

// ContactLoad is what is left of a contact's rating by figure 4. Between two printed loadings the heat, 1/f^2, is taken in proportion: the print
// follows that within 5 %. Above a single contact and up to the first printed loading that loading holds, since the print does not say how many
// cavities its connector has. Between two gauges the factor is in proportion to the area, which lies below the curve of the print. A wire
// thicker than 18 AWG counts as 18. ok is false for a share above 1 and a wire under 28 AWG.
func ContactLoad(loaded unit.Ratio, size unit.Size) (f unit.Ratio, info Info, ok bool) {
	area := min(size.Area(), awg(18).Area())
	under, over := unit.Size{}, unit.Size{}
	for _, row := range ContactLoads {
		if a := row.Size.Area(); a <= area && (under.IsZero() || under.Less(row.Size)) {
			under = row.Size
		} else if a > area && (over.IsZero() || row.Size.Less(over)) {
			over = row.Size
		}
	}
	if under.IsZero() || !(loaded >= 0 && loaded <= 1) {
		return 0, Info{}, false
	}
	f, basis := contactColumn(loaded, under)
	if !over.IsZero() {
		g, b := contactColumn(loaded, over)
		share := float64(area-under.Area()) / float64(over.Area()-under.Area())
		f, basis = f+unit.Ratio(share*float64(g-f)), weaker(basis, b)
	}
	return f, Info{"a maker's specification of contact current, TE 108-40005 figure 4", "on the rating of one contact on 18 AWG", basis}, true
}

// contactColumn reads the column of a printed gauge.
func contactColumn(loaded unit.Ratio, size unit.Size) (unit.Ratio, Basis) {
	var before *ContactLoadRow
	for i := range ContactLoads {
		row := &ContactLoads[i]
		if row.Size != size {
			continue
		}
		if row.Loaded < loaded {
			before = row
			continue
		}
		if before == nil || before.Loaded == 0 || row.Loaded == loaded {
			return row.Factor, row.Basis
		}
		heat := func(f unit.Ratio) float64 { return 1 / (float64(f) * float64(f)) }
		share := float64(loaded-before.Loaded) / float64(row.Loaded-before.Loaded)
		h := heat(before.Factor) + float64(share*(heat(row.Factor)-heat(before.Factor)))
		return unit.Ratio(1 / math.Sqrt(h)), weaker(before.Basis, row.Basis)
	}
	return before.Factor, before.Basis
}
