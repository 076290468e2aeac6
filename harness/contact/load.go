package contact

import (
	"math"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// base is the wire on which the published pattern has its base rating.
var base = unit.AWG(18)

// load is what a fuller connector and a thinner wire leave of a contact's rating.
//
// wired is the wire's area over that on which the contact's rating holds, its largest where the part does not say; a thicker one adds nothing.
// The columns of the pattern are for a contact rated on 18 AWG. So a contact of any size is read in the column of the same share: half
// its wire is as half of 18 AWG. 0 is not known, and then only the loading counts. Below the thinnest column (a tenth of that wire) the factor is
// taken on in proportion to the area, lower than the print would go on.
//
// equal is how many contacts loaded like this one make the heat in the housing, of its cavities. The factor is the better of two bounds:
// the printed one at that share of the cavities, and 1/sqrt(equal). The second says that the heat of one contact at its rating, spread over
// several, warms none of them more than that one was: where heat is conducted, a place is warmed most by heat made in it. It rules in housings of
// few cavities, of which the print, whose shares are of a large connector, says nothing. A contact that carries little beside others has
// a great equal; it counts as in a full connector and no worse: at less than that current it adds next to nothing to the heat, and those
// that make the heat are judged by their own share of it. The contact that makes most is always judged by all of it.
func load(equal float64, cavities int, wired unit.Ratio) (f unit.Ratio, by string, known bool) {
	share := 1.0
	if wired > 0 {
		share = min(1, float64(wired))
	}
	thinnest, thin := float64(data.ContactLoads[0].Size.Area()/base.Area()), 1.0
	known = wired > 0
	if share < thinnest {
		thin, share, known = share/thinnest, thinnest, false
	}
	wire := unit.Metric(unit.Area(share) * base.Area())
	if share == 1 {
		wire = base
	}
	if share == thinnest {
		wire = data.ContactLoads[0].Size
	}
	alone, info, _ := data.ContactLoad(0, wire)
	equal = max(1, equal)
	printed, rule := unit.Ratio(0), ""
	switch {
	case equal <= 1:
		printed = alone
	case cavities > 0:
		printed, info, _ = data.ContactLoad(unit.Ratio(min(1, equal/float64(cavities))), wire)
	default:
		printed, info, _ = data.ContactLoad(1, wire) // cavities not known: as full
	}
	by = info.String()
	if spread := alone / unit.Ratio(math.Sqrt(equal)); unit.Worse(spread, printed) {
		printed, rule = spread, "; no more heat than one contact at its rating"
	}
	return printed * unit.Ratio(thin), by + rule, known
}

// warm is what the air leaves: the rise of a contact goes with the square of its current, and the housing must stay below its own limit. It is 1
// for a housing of which no limit is known.
func warm(heat, air unit.Temperature, rise unit.TempDiff) unit.Ratio {
	if heat == 0 {
		return 1
	}
	left := float64(heat - air)
	switch {
	case !(left > 0):
		return 0
	case !(rise > 0):
		return 1
	}
	return unit.Ratio(math.Min(1, math.Sqrt(left/float64(rise))))
}
