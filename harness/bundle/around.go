package bundle

import (
	"slices"

	"loomsheet/harness/unit"
)

// Around is the band of any circles together: their closest packing, and the trade's figure 1.2 sqrt(sum d2); both 0 where one of them is not
// known. Beyond some circles the least is a bound by area.
func Around(ds []unit.Length) (least, most unit.Length) {
	for _, d := range ds {
		if !usable(d) {
			return 0, 0
		}
	}
	if len(ds) == 0 {
		return 0, 0
	}
	sorted := slices.Clone(ds)
	slices.Sort(sorted)
	slices.Reverse(sorted)
	least = packed(sorted[:min(len(sorted), packOne)])
	if len(sorted) > packOne {
		least = bound(sorted)
	}
	return least, max(trade(sorted), least)
}
