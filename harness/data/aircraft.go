package data

import "loomsheet/harness/unit"

const ac4313 = "FAA AC 43.13-1B CHG 1"

// AircraftRow is one size of AC 43.13-1B Table 11-9: tin-plated copper wire.
type AircraftRow struct {
	Size       unit.Size
	At105C     unit.Current // by temperature rating of the wire
	At150C     unit.Current
	At200C     unit.Current
	Resistance unit.LinearResistance // greatest, at 20 C
	Area       CircularMils          // nominal, not that of ASTM B258
	Basis      Basis
}

// Aircraft is AC 43.13-1B Table 11-9 (page 11-23), ohms per 1000 ft.
var Aircraft = []AircraftRow{
	{awg(24), 2.5, 4, 5, perKft(28.4), 475, Verified},
	{awg(22), 3, 5, 6, perKft(16.2), 755, Verified},
	{awg(20), 4, 7, 9, perKft(9.88), 1216, Verified},
	{awg(18), 6, 9, 12, perKft(6.23), 1900, Verified},
	{awg(16), 7, 11, 14, perKft(4.81), 2426, Verified},
	{awg(14), 10, 14, 18, perKft(3.06), 3831, Verified},
	{awg(12), 13, 19, 25, perKft(2.02), 5874, Verified},
	{awg(10), 17, 26, 32, perKft(1.26), 9354, Verified},
	{awg(8), 38, 57, 71, perKft(0.7), 16983, Verified},
	{awg(6), 50, 76, 97, perKft(0.44), 26818, Verified},
	{awg(4), 68, 103, 133, perKft(0.28), 42615, Verified},
	{awg(2), 95, 141, 179, perKft(0.18), 66500, Verified},
	{awg(1), 113, 166, 210, perKft(0.15), 81700, Verified},
	{awg(0), 128, 192, 243, perKft(0.12), 104500, Verified},
	{awg(-1), 147, 222, 285, perKft(0.09), 133000, Verified},
	{awg(-2), 172, 262, 335, perKft(0.07), 166500, Verified},
	{awg(-3), 204, 310, 395, perKft(0.06), 210900, Verified},
}

const smallBundle = "70 C ambient, 33 or more wires in the bundle, no more than 20 % of its capacity used, up to 60,000 ft"
const largeBundle = "70 C ambient, 9 wires in the bundle, no more than 20 % of its capacity used, up to 60,000 ft"

// AircraftBundle is the current of one wire in a bundle by AC 43.13-1B Table 11-9, from the column of the highest printed rating
// (105, 150, 200 C) that the wire's own rating reaches. ok is false for a metric size, a gauge that the table lacks, or a rating
// under 105 C.
func AircraftBundle(size unit.Size, rating unit.Temperature) (amps unit.Current, info Info, ok bool) {
	for _, row := range Aircraft {
		if row.Size != size {
			continue
		}
		info = Info{ac4313 + " Table 11-9", smallBundle, row.Basis}
		if size.Gauge <= 8 {
			info.Condition = largeBundle
		}
		switch {
		case rating >= 200:
			return row.At200C, info, true
		case rating >= 150:
			return row.At150C, info, true
		case rating >= 105:
			return row.At105C, info, true
		}
	}
	return 0, Info{}, false
}

// AircraftResistance is the greatest resistance at 20 C of tin-plated stranded wire by AC 43.13-1B Table 11-9.
func AircraftResistance(size unit.Size) (r unit.LinearResistance, info Info, ok bool) {
	for _, row := range Aircraft {
		if row.Size == size {
			return row.Resistance, Info{ac4313 + " Table 11-9", "greatest at 20 C, tin-plated copper", row.Basis}, true
		}
	}
	return 0, Info{}, false
}

// AircraftProtectorRow is one wire size of AC 43.13-1B Table 11-3. Breaker is 0 where none is printed.
type AircraftProtectorRow struct {
	Size          unit.Size
	Breaker, Fuse unit.Current
	Basis         Basis
}

// AircraftProtectors is AC 43.13-1B Table 11-3 (page 11-15): the largest breaker and fuse for a copper wire. It is more generous
// than Table 11-9 and keeps other conditions.
var AircraftProtectors = []AircraftProtectorRow{
	{awg(22), 5, 5, Verified},
	{awg(20), 7.5, 5, Verified},
	{awg(18), 10, 10, Verified},
	{awg(16), 15, 10, Verified},
	{awg(14), 20, 15, Verified},
	{awg(12), 30, 20, Verified},
	{awg(10), 40, 30, Verified},
	{awg(8), 50, 50, Verified},
	{awg(6), 80, 70, Verified},
	{awg(4), 100, 70, Verified},
	{awg(2), 125, 100, Verified},
	{awg(1), 0, 150, Verified},
	{awg(0), 0, 150, Verified},
}

// AircraftProtector is the breaker and the fuse for a wire by AC 43.13-1B Table 11-3; breaker is 0 where none is printed.
func AircraftProtector(size unit.Size) (breaker, fuse unit.Current, info Info, ok bool) {
	for _, row := range AircraftProtectors {
		if row.Size == size {
			return row.Breaker, row.Fuse, Info{ac4313 + " Table 11-3", "direct current, copper wire", row.Basis}, true
		}
	}
	return 0, 0, Info{}, false
}

// AircraftDropRow is one system voltage of AC 43.13-1B Table 11-6.
type AircraftDropRow struct {
	Nominal      unit.Voltage
	Continuous   unit.Voltage // most lost between bus and equipment
	Intermittent unit.Voltage
	Basis        Basis
}

// AircraftDrops is AC 43.13-1B Table 11-6 (page 11-21).
var AircraftDrops = []AircraftDropRow{
	{14, 0.5, 1, Verified},
	{28, 1, 2, Verified},
	{115, 4, 8, Verified},
	{200, 7, 14, Verified},
}

// AircraftDrop is the drop that AC 43.13-1B Table 11-6 allows at a nominal system voltage, 14 or 28 V.
func AircraftDrop(nominal unit.Voltage) (continuous, intermittent unit.Voltage, info Info, ok bool) {
	for _, row := range AircraftDrops {
		if row.Nominal == nominal {
			return row.Continuous, row.Intermittent, Info{ac4313 + " Table 11-6", "between bus and equipment, return included", row.Basis}, true
		}
	}
	return 0, 0, Info{}, false
}

// AircraftFreeAirPoint is a point of figure 11-4a that the text quotes: one copper wire in free air.
type AircraftFreeAirPoint struct {
	Size  unit.Size
	Rise  unit.TempDiff // of the conductor above ambient
	Amps  unit.Current
	Basis Basis
}

// AircraftFreeAir is what the text of AC 43.13-1B para 11-69 quotes of figure 11-4a; readings of a curve, so 3 % either way. The
// curves themselves are not at hand, and a figure for a single wire never holds for a bundled one.
var AircraftFreeAir = []AircraftFreeAirPoint{
	{awg(20), 140, 21.5, FromMemory},
	{awg(22), 140, 16.2, FromMemory},
}

// AircraftBundlePoint is a point of figure 11-5 that the text quotes.
type AircraftBundlePoint struct {
	Wires  int
	Loaded unit.Ratio // share of the bundle's capacity in use
	Factor unit.Ratio
	Basis  Basis
}

// AircraftBundlePoints is what the text quotes of figure 11-5.
var AircraftBundlePoints = []AircraftBundlePoint{{35, 0.2, 0.52, FromMemory}}

// AircraftAltitudePoint is a point of figure 11-6 that the text quotes.
type AircraftAltitudePoint struct {
	Altitude unit.Length
	Factor   unit.Ratio
	Basis    Basis
}

const foot unit.Length = 304.8

// AircraftAltitude is what the text quotes of figure 11-6: 0, 20,000 and 60,000 ft.
var AircraftAltitude = []AircraftAltitudePoint{
	{0 * foot, 1, FromMemory},
	{20000 * foot, 0.91, Verified},
	{60000 * foot, 0.79, FromMemory},
}

// FineRow is a gauge below those of AC 43.13-1B Table 11-9.
type FineRow struct {
	Size       unit.Size
	Resistance unit.LinearResistance
	Basis      Basis
}

// Fine is the greatest resistance at 20 C of tinned copper aerospace wire finer than AC 43.13-1B tabulates, as a maker prints it.
var Fine = []FineRow{
	{awg(28), 0.225, Verified},
	{awg(26), 0.135, Verified},
}

const fineSource = "IS-Rayfast catalogue 9 (2017) p. 87"

// FineResistance is the greatest resistance at 20 C of a gauge from 28 to 26.
func FineResistance(size unit.Size) (r unit.LinearResistance, info Info, ok bool) {
	for _, row := range Fine {
		if row.Size == size {
			return row.Resistance, Info{fineSource, "greatest at 20 C, tinned copper", row.Basis}, true
		}
	}
	return 0, Info{}, false
}
