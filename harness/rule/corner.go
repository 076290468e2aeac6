package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

const (
	// tellsEnds is how many ends of a corner a finding names, what takes most first.
	tellsEnds = 4
	// tellsFrom is the least that one must take to be named: what the paper can show.
	tellsFrom unit.Voltage = 0.0005
)

// atCorner names the ends at which a figure was found: "at battery set-point 11.8 V, lamp draw 2.2 A". Empty where no spread counts.
func atCorner(k *solve.Corner) string {
	if k == nil {
		return ""
	}
	var ends []string
	left, joints := 0, 0
	for _, e := range k.Ends {
		switch {
		case e.Takes < tellsFrom:
		case e.Joint:
			joints++
		case len(ends) < tellsEnds:
			ends = append(ends, e.What+" "+e.To)
		default:
			left++
		}
	}
	if joints > 0 {
		ends = append(ends, "joints at their ends")
	}
	if left > 0 {
		ends = append(ends, fmt.Sprintf("%d more that take less", left))
	}
	if len(ends) == 0 {
		return ""
	}
	return "at " + strings.Join(ends, ", ")
}
