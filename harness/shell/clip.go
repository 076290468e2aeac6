package shell

import (
	"math"
	"slices"
	"strings"

	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// lies says where the bundles of the clips of a hole are, seen from it, of those whose ear puts the hole beside them and that are in that
// place.
func (m *maker) lies(h *need) string {
	p := m.panel(h.Panel)
	if p == nil || len(p.Outline) == 0 || !h.Known {
		return ""
	}
	var texts, named []string
	for i := range h.clips {
		c := &h.clips[i]
		if !(clean(c.Ear) > 0) || !c.Known || !place(c.At) {
			continue
		}
		foot, _ := p.Plane.Flat(c.At)
		if d := apart(foot, h.Flat); h.stated != nil && (abs(d-c.Ear) > float64(touching) || !m.standsSo(c.EarSide, solid.Minus(p.Plane.Space(h.Flat), p.Plane.Space(foot)))) {
			continue // in a stated hole it is turned as it comes
		}
		if t := bundleFrom(c.EarSide, unit.Number(float64(c.Ear), 0)); !slices.Contains(texts, t) {
			texts = append(texts, t)
		}
		named = append(named, "clip "+c.Mark+": "+bundleFrom(c.EarSide, unit.Number(float64(c.Ear), 0)))
	}
	if len(texts) == 1 {
		return texts[0]
	}
	return strings.Join(named, "; ")
}

// standsSo tells whether a hole lies from its bundle where the words say, within an eighth of a turn.
func (m *maker) standsSo(side string, v solid.Vector) bool {
	axis := or(m.job.Up, "z")
	if _, a, ok := strings.Cut(side, "at larger "); ok {
		axis = a
	} else if _, a, ok := strings.Cut(side, "at smaller "); ok {
		axis = a
	} else if !strings.HasPrefix(side, "above") && !strings.HasPrefix(side, "below") {
		return false
	}
	along := map[string]unit.Length{"x": v.X, "y": v.Y, "z": v.Z}[axis]
	if strings.HasPrefix(side, "below") || strings.Contains(side, "smaller") {
		along = -along
	}
	return float64(along) >= math.Sqrt(0.5)*float64(v.Length())
}

// bundleFrom turns on which side of the bundle a hole is into where the bundle lies from it.
func bundleFrom(side, far string) string {
	place := far + " mm beside it"
	switch {
	case side == "above the bundle":
		place = far + " mm below it"
	case side == "below the bundle":
		place = far + " mm above it"
	case strings.HasPrefix(side, "between"):
		return "it lies between the two bundles, " + far + " mm from the middle of each"
	case strings.Contains(side, "at larger "):
		place += ", at smaller " + side[strings.LastIndex(side, " ")+1:]
	case strings.Contains(side, "at smaller "):
		place += ", at larger " + side[strings.LastIndex(side, " ")+1:]
	}
	return "the middle of the bundle lies " + place
}

// bundleOff is how far the middle of a clip's bundle stands off its panel.
func (m *maker) bundleOff(p *Panel, c *clipAt) (unit.Length, bool) {
	if p == nil || len(p.Outline) == 0 || !c.Known || !place(c.At) {
		return 0, false
	}
	return m.offSheet(p, c.At), true
}
