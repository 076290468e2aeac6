package unit

import (
	"fmt"
	"math"
	"strconv"
)

// Size is a conductor size as it is bought: a metric nominal area or an AWG number. No gauge equals a metric size, so the
// two never compare equal. The zero Size is no size at all.
type Size struct {
	// MM2 is the nominal metric area in mm2; zero for an AWG size.
	MM2 Area
	// Gauge is the AWG number when AWG is set: 30 down to 0, then -1, -2, -3 for 2/0, 3/0, 4/0 (written 00, 000, 0000).
	Gauge int
	AWG   bool
}

// Metric is a nominal metric size.
func Metric(a Area) Size { return Size{MM2: a} }

// AWG is an American wire gauge number; -3 is 0000.
func AWG(n int) Size { return Size{Gauge: n, AWG: true} }

// IsZero tells whether no size was given.
func (s Size) IsZero() bool { return s == Size{} }

// Area is the nominal metric area, or for an AWG size the area of the solid conductor of that gauge by ASTM B258:
// d = 0.005 in x 92^((36-n)/39).
func (s Size) Area() Area {
	if !s.AWG {
		return s.MM2
	}
	d := s.Diameter()
	return Area(math.Pi / 4 * float64(d) * float64(d))
}

// Diameter of a solid round conductor of the nominal area; for AWG by ASTM B258.
func (s Size) Diameter() Length {
	if s.AWG {
		if s.Gauge >= thickest && s.Gauge-thickest < len(gauges) {
			return gauges[s.Gauge-thickest]
		}
		return gaugeDiameter(s.Gauge)
	}
	return Length(math.Sqrt(4 / math.Pi * float64(s.MM2)))
}

const thickest = -3

// gauges is the diameters of the usual AWG sizes, from 4/0 on: sizes are compared without end.
var gauges = func() (out [44]Length) {
	for i := range out {
		out[i] = gaugeDiameter(thickest + i)
	}
	return out
}()

func gaugeDiameter(gauge int) Length { return Length(0.127 * math.Pow(92, float64(36-gauge)/39)) }

// Less orders sizes by area.
func (s Size) Less(t Size) bool {
	a, b := s.Area(), t.Area()
	if a != b {
		return a < b
	}
	return !s.AWG && t.AWG
}

func (s Size) String() string {
	switch {
	case s.IsZero():
		return "no size"
	case !s.AWG:
		return strconv.FormatFloat(float64(s.MM2), 'f', -1, 64) + " mm2"
	case s.Gauge < 0:
		return "0000"[:1-s.Gauge] + " AWG"
	}
	return fmt.Sprintf("%d AWG", s.Gauge)
}
