package data

import "loomsheet/harness/unit"

const cfr = "33 CFR 183.425 Table 5"

// MarineRatings heads the columns of 33 CFR 183.425 Table 5.
var MarineRatings = [7]unit.Temperature{60, 75, 80, 90, 105, 125, 200}

// MarineRow is one size of 33 CFR 183.425 Table 5; Amps go by the ratings of MarineRatings.
type MarineRow struct {
	Size  unit.Size
	Amps  [7]unit.Current
	Basis Basis
}

// Marine is 33 CFR 183.425 Table 5: copper, 30 C ambient, outside engine spaces. Its 105 C column equals that of ABYC E-11.
var Marine = []MarineRow{
	{awg(18), [7]unit.Current{10, 10, 15, 20, 20, 25, 25}, Verified},
	{awg(16), [7]unit.Current{15, 15, 20, 25, 25, 30, 35}, Verified},
	{awg(14), [7]unit.Current{20, 20, 25, 30, 35, 40, 45}, Verified},
	{awg(12), [7]unit.Current{25, 25, 35, 40, 45, 50, 55}, Verified},
	{awg(10), [7]unit.Current{40, 40, 50, 55, 60, 70, 70}, Verified},
	{awg(8), [7]unit.Current{55, 65, 70, 70, 80, 90, 100}, Verified},
	{awg(6), [7]unit.Current{80, 95, 100, 100, 120, 125, 135}, Verified},
	{awg(4), [7]unit.Current{105, 125, 130, 135, 160, 170, 180}, Verified},
	{awg(3), [7]unit.Current{120, 145, 150, 155, 180, 195, 210}, Verified},
	{awg(2), [7]unit.Current{140, 170, 175, 180, 210, 225, 240}, Verified},
	{awg(1), [7]unit.Current{165, 195, 210, 210, 245, 265, 280}, Verified},
	{awg(0), [7]unit.Current{195, 230, 245, 245, 285, 305, 325}, Verified},
	{awg(-1), [7]unit.Current{225, 265, 285, 285, 330, 355, 370}, Verified},
	{awg(-2), [7]unit.Current{260, 310, 330, 330, 385, 410, 430}, Verified},
	{awg(-3), [7]unit.Current{300, 360, 385, 385, 445, 475, 510}, Verified},
}

// engineFactor is what an engine space (50 C ambient) leaves of Table 5, by the ratings of MarineRatings. That of 105 C is ABYC
// E-11 as printed by cable makers; note 1 of Table 5 is remembered as 0.86 there. The others are note 1 from memory.
var engineFactor = [7]struct {
	factor unit.Ratio
	basis  Basis
}{
	{0.58, FromMemory}, {0.75, FromMemory}, {0.78, FromMemory}, {0.82, FromMemory}, {0.85, Verified}, {0.89, FromMemory}, {1, FromMemory},
}

// MarineBundleFactor is what a bundle of so many current-carrying wires leaves of a single wire's current: ABYC E-11 as printed
// in a cable maker's catalogue. The same page says that under 50 V the law sets no limit, so this is the stricter practice.
func MarineBundleFactor(wires int) (unit.Ratio, Info) {
	info := Info{Document: "ABYC E-11 bundle factors", Condition: "current-carrying wires in one bundle", Basis: Verified}
	switch {
	case wires >= 25:
		return 0.40, info
	case wires >= 7:
		return 0.50, info
	case wires >= 4:
		return 0.60, info
	case wires == 3:
		return 0.70, info
	}
	return 1, info
}

// MarineAmps is the current of a boat's wire: 33 CFR 183.425 Table 5, from the column of the highest printed rating that the
// wire's own rating reaches, times the engine-space factor if it passes one, times the ABYC bundle factor. ok is false for a
// metric size, a gauge that the table lacks, or a rating under 60 C.
func MarineAmps(size unit.Size, rating unit.Temperature, engineSpace bool, wires int) (amps unit.Current, info Info, ok bool) {
	col := -1
	for i, t := range MarineRatings {
		if rating >= t {
			col = i
		}
	}
	if col < 0 {
		return 0, Info{}, false
	}
	for _, row := range Marine {
		if row.Size != size {
			continue
		}
		amps = row.Amps[col]
		info = Info{cfr, "copper, 30 C ambient, outside engine spaces", row.Basis}
		if engineSpace {
			f := engineFactor[col]
			amps = unit.Current(float64(amps) * float64(f.factor))
			info.Condition = "copper, engine space at 50 C: " + f.factor.String() + " of the table"
			info.Basis = weaker(info.Basis, f.basis)
		}
		if f, from := MarineBundleFactor(wires); f < 1 {
			amps = unit.Current(float64(amps) * float64(f))
			info.Document += " with " + from.Document
			info.Condition += ", bundle factor " + unit.Number(float64(f), 2)
			info.Basis = weaker(info.Basis, from.Basis)
		}
		return amps, info, true
	}
	return 0, Info{}, false
}

// MarineSizes is the gauges boat cable is sold in, smallest first.
var MarineSizes = []unit.Size{
	awg(18), awg(16), awg(14), awg(12), awg(10), awg(8), awg(6), awg(4), awg(2), awg(1), awg(0), awg(-1), awg(-2), awg(-3),
}

// MarineArea is the copper that a drop needs by the boat builders' formula CM = 10.75 I L / E, with L out and back in feet (ABYC
// E-11; the figure 10.75 from memory). It is 0 when one of the three is not above 0.
func MarineArea(i unit.Current, outAndBack unit.Length, drop unit.Voltage) (CircularMils, Info) {
	info := Info{"ABYC E-11", "CM = 10.75 I L / E, L out and back in feet", FromMemory}
	if i <= 0 || outAndBack <= 0 || drop <= 0 {
		return 0, info
	}
	return CircularMils(10.75 * float64(i) * float64(outAndBack/foot) / float64(drop)), info
}

// MarineSize is the smallest of MarineSizes with at least so much copper by ASTM B258. ok is false above 0000.
func MarineSize(least CircularMils) (s unit.Size, ok bool) {
	for _, s = range MarineSizes {
		if InCircularMils(s.Area()) >= least {
			return s, true
		}
	}
	return unit.Size{}, false
}

// MarineCableRow is how much copper is in boat cable sold by gauge and by the smaller SAE size of the same number.
type MarineCableRow struct {
	Size     unit.Size
	AWG, SAE CircularMils
	Basis    Basis
}

// MarineCables is a cable maker's catalogue: the same number holds about 10 % less copper in SAE cable.
var MarineCables = []MarineCableRow{
	{awg(18), 1600, 1537, Verified},
	{awg(16), 2600, 2336, Verified},
	{awg(14), 4100, 3702, Verified},
	{awg(12), 6500, 5833, Verified},
	{awg(10), 10500, 9343, Verified},
	{awg(8), 16800, 14810, Verified},
	{awg(6), 26600, 24538, Verified},
	{awg(4), 42000, 37360, Verified},
	{awg(2), 66500, 62450, Verified},
	{awg(1), 83690, 77790, Verified},
	{awg(0), 105600, 98980, Verified},
	{awg(-1), 133100, 125100, Verified},
	{awg(-2), 167800, 158600, Verified},
	{awg(-3), 211600, 205500, Verified},
}
