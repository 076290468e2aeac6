package drawing

import (
	"math"

	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// Scale is how many times smaller than the thing a drawing is: 1 is full size, 20 is 1:20.
type Scale float64

// String is the scale as on a drawing, "1:20".
func (s Scale) String() string { return "1:" + unit.Number(float64(s), 1) }

// ladder are the reductions of ISO 5455 up to 1:50, with 1:2.5 and 1:25 between them as the offices of this trade use them.
var ladder = []Scale{1, 2, 2.5, 5, 10, 20, 25, 50}

// furthest is the smallest scale that anything is drawn at: the earth round would fit on a sheet.
const furthest Scale = 1e12

// fitting is the first scale of the ladder at which w by h of the thing fits into room by room2 on paper; beyond 1:50 it goes on by tens.
func fitting(w, h unit.Length, room, room2 page.MM) Scale {
	for ten := Scale(1); ten <= furthest; ten *= 100 {
		for _, s := range ladder {
			if s *= ten; fits(w, h, room, room2, s) {
				return s
			}
		}
	}
	return furthest
}

func fits(w, h unit.Length, room, room2 page.MM, s Scale) bool {
	const slack = 1e-6
	return float64(w)/float64(s) <= float64(room)+slack && float64(h)/float64(s) <= float64(room2)+slack
}

// barLength is the length in the thing of a scale bar: 1, 2 or 5 times a power of ten, at most 100 mm and at most half of w on paper.
func barLength(s Scale, w page.MM) unit.Length {
	most := math.Min(100, float64(w)/2) * float64(s)
	if !(most > 0) {
		return 0
	}
	ten := math.Pow(10, math.Floor(math.Log10(most)))
	for _, k := range []float64{5, 2, 1} {
		if k*ten <= most+1e-9 {
			return unit.Length(k * ten)
		}
	}
	return unit.Length(ten)
}

// proofLength is the length of the bar that proves the print scale: 100 mm, 50 where w is too small, then less.
func proofLength(w page.MM) unit.Length {
	for _, l := range []unit.Length{100, 50, 20} {
		if page.MM(l) <= w {
			return l
		}
	}
	return 10
}
