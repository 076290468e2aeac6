package data

import (
	"math"

	"loomsheet/harness/unit"
)

// BundleFactorRow is bundle diameter over wire diameter for a count of equal wires.
type BundleFactorRow struct {
	From, To int
	Factor   unit.Ratio
	Basis    Basis
}

// BundleFactors is the trade table of a cable maker's catalogue, 1 to 61 equal wires. It lies above the best known packing from 8
// wires on; a real harness is between the two.
var BundleFactors = []BundleFactorRow{
	{1, 1, 1.00, Verified},
	{2, 2, 2.00, Verified},
	{3, 3, 2.16, Verified},
	{4, 4, 2.41, Verified},
	{5, 5, 2.70, Verified},
	{6, 7, 3.00, Verified},
	{8, 8, 3.60, Verified},
	{9, 12, 4.00, Verified},
	{13, 14, 4.41, Verified},
	{15, 16, 4.70, Verified},
	{17, 19, 5.00, Verified},
	{20, 21, 5.31, Verified},
	{22, 24, 5.61, Verified},
	{25, 27, 6.00, Verified},
	{28, 30, 6.41, Verified},
	{31, 33, 6.70, Verified},
	{34, 37, 7.00, Verified},
	{38, 40, 7.31, Verified},
	{41, 44, 7.61, Verified},
	{45, 48, 8.00, Verified},
	{49, 52, 8.41, Verified},
	{53, 56, 8.70, Verified},
	{57, 61, 9.00, Verified},
}

// BundleDiameter is the outside of a bundle by trade practice: the table of factors for up to 61 equal wires, else
// 1.2 sqrt(sum of d squared). No wire makes no bundle; one makes its own diameter.
func BundleDiameter(outside []unit.Length) (d unit.Length, info Info) {
	info = Info{"wire catalogue, bundle diameter factors", "D = 1.2 sqrt(sum of d squared)", Verified}
	if len(outside) == 0 {
		return 0, info
	}
	sum, equal := 0.0, true
	for _, o := range outside {
		sum += float64(o) * float64(o)
		equal = equal && o == outside[0]
	}
	if equal {
		for _, row := range BundleFactors {
			if row.From <= len(outside) && len(outside) <= row.To {
				info.Condition, info.Basis = "factor "+unit.Number(float64(row.Factor), 2)+" for equal wires", row.Basis
				return unit.Length(float64(row.Factor) * float64(outside[0])), info
			}
		}
	}
	return unit.Length(1.2 * math.Sqrt(sum)), info
}
