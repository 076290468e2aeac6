package protect

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
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

// Curves draws up the limit of the weakest wire of each fuse.
func Curves(job *design.Job, nt *net.Net, sizes size.Sizes, th *heat.Thermal, r *Result) []Curve {
	weakest := map[FuseRef]Curve{}
	for i := range r.Wires {
		if i >= len(sizes) || !sizes[i].Known || nt.Wires[i].Kind == net.Screen {
			continue
		}
		if len(r.Wires[i].By) == 0 {
			continue
		}
		var rest unit.Current
		if i < len(r.rests) {
			rest = r.rests[i]
		} else {
			rest = th.Sustained(i, sizes[i].Heat+rise(job, nt, i, "overload-rise"))
		}
		for _, f := range r.Wires[i].By {
			if c, ok := weakest[f]; !ok || rest < c.Rest*(1-sameTimes) { // of wires alike the first
				weakest[f] = Curve{Fuse: f, Wire: i, Rest: rest, Limit: sizes[i].Heat + rise(job, nt, i, "short-rise")}
			}
		}
	}
	out := make([]Curve, len(r.Fuses))
	inParts(len(out), func(i int) {
		f := &r.Fuses[i]
		c, ok := weakest[f.FuseRef]
		if !ok {
			out[i] = Curve{Fuse: f.FuseRef, Wire: -1}
			return
		}
		for k := range curvePoints {
			amps := f.Rating * unit.Current(math.Pow(curveMost, float64(k)/(curvePoints-1)))
			if t, ok := th.Lasts(c.Wire, amps, c.Limit); ok && t > 0 {
				c.Points = append(c.Points, CurvePoint{amps, t})
			}
		}
		out[i] = c
	})
	if len(out) == 0 {
		return nil
	}
	return out
}

// rise reads overload-rise or short-rise for a wire.
func rise(job *design.Job, nt *net.Net, wire int, setting string) unit.Temperature {
	w := &nt.Wires[wire]
	return unit.Temperature(job.Settings.Get(setting, design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Zone: w.Zone}).Value.Quantity.Value)
}
