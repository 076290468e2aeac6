package protect

import (
	"math"

	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Curve is how long the wire that stands least behind a fuse stands each current: what a fuse's gate is drawn against.
type Curve struct {
	Fuse FuseRef
	Wire int // -1: the fuse protects none that is known
	// Rest is what the wire stands for ever, at its insulation's rating and overload-rise.
	Rest   unit.Current
	Limit  unit.Temperature // rating and short-rise, which the points are for
	Points []CurvePoint     // rising current
}

// CurvePoint is a current and how long the wire stands it.
type CurvePoint struct {
	Amps  unit.Current
	Lasts unit.Time
}

// The currents of a curve, as multiples of the fuse's rating: from 1 to 20 in equal ratios.
const (
	curvePoints = 25
	curveMost   = 20.0
)

// curves draws up the limit of the weakest wire of each fuse of a part.
func (g *weigher) curves(part int32) {
	weakest := map[FuseRef]Curve{}
	for _, i := range g.apart.wires.at(part) {
		if int(i) >= len(g.res.Wires) || !g.sizes[i].Known || g.nt.Wires[i].Kind == net.Screen {
			continue
		}
		rest := g.res.rests[i]
		for _, f := range g.res.Wires[i].By {
			if c, ok := weakest[f]; !ok || rest < c.Rest*(1-sameTimes) { // of wires alike the first
				weakest[f] = Curve{Fuse: f, Wire: int(i), Rest: rest, Limit: g.wires[i].short}
			}
		}
	}
	for _, i := range g.fusesIn.at(part) {
		f := &g.res.Fuses[i]
		c, ok := weakest[f.FuseRef]
		if !ok {
			g.res.Curves[i] = Curve{Fuse: f.FuseRef, Wire: -1}
			continue
		}
		for k := range curvePoints {
			amps := f.Rating * unit.Current(math.Pow(curveMost, float64(k)/(curvePoints-1)))
			if t, ok := g.warm.Lasts(c.Wire, amps, c.Limit); ok && t > 0 {
				if c.Points == nil {
					c.Points = make([]CurvePoint, 0, curvePoints)
				}
				c.Points = append(c.Points, CurvePoint{amps, t})
			}
		}
		g.res.Curves[i] = c
	}
}
