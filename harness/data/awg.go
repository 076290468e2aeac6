package data

import "loomsheet/harness/unit"

// AWGRow is one gauge. Diameter and area follow from ASTM B258 and are those of unit.Size.
type AWGRow struct {
	Size       unit.Size
	Resistance unit.LinearResistance // solid bare annealed copper at 20 C
	Basis      Basis
}

// AWG is NBS Handbook 100: ohms per 1000 ft of solid bare annealed copper.
var AWG = []AWGRow{
	{awg(30), perKft(103.2), FromMemory},
	{awg(28), perKft(64.9), FromMemory},
	{awg(26), perKft(40.81), FromMemory},
	{awg(24), perKft(25.67), FromMemory},
	{awg(22), perKft(16.14), Verified},
	{awg(20), perKft(10.15), Verified},
	{awg(18), perKft(6.385), Verified},
	{awg(16), perKft(4.016), Verified},
	{awg(14), perKft(2.525), Verified},
	{awg(12), perKft(1.588), Verified},
	{awg(10), perKft(0.9989), Verified},
	{awg(8), perKft(0.6282), Verified},
	{awg(6), perKft(0.3951), Verified},
	{awg(4), perKft(0.2485), Verified},
	{awg(3), perKft(0.197), Verified},
	{awg(2), perKft(0.1563), Verified},
	{awg(1), perKft(0.1239), Verified},
	{awg(0), perKft(0.09827), FromMemory},
	{awg(-1), perKft(0.07793), FromMemory},
	{awg(-2), perKft(0.0618), FromMemory},
	{awg(-3), perKft(0.04901), FromMemory},
}

// AWGResistance is that of a solid copper wire of the gauge at 20 C; a stranded wire has more. ok is false for a metric size and a
// gauge that is not in the table.
func AWGResistance(s unit.Size) (r unit.LinearResistance, info Info, ok bool) {
	for _, row := range AWG {
		if row.Size == s {
			return row.Resistance, Info{"NBS Handbook 100", "solid bare annealed copper at 20 C", row.Basis}, true
		}
	}
	return 0, Info{}, false
}

// NextAWGNotLarger is the largest of the gauges that ampacity tables print (30, 28 and so on to 2, then 1 to 0000) whose solid
// area by ASTM B258 is not above a: the row that a metric wire may be judged by. ok is false below 30 AWG.
func NextAWGNotLarger(a unit.Area) (s unit.Size, ok bool) {
	for n := -3; n <= 30; n++ {
		if s = unit.AWG(n); (n <= 2 || n%2 == 0) && s.Area() <= a {
			return s, true
		}
	}
	return unit.Size{}, false
}
