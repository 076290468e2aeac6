package protect

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// working is a case with the loads that work on and off taken out of it step by step, those with the least share of time on first. A fuse warms by
// the mean square of such a current, as long as it holds while the current flows.
type working struct {
	*solve.CaseResult
	steps    []workStep
	starting starting
}

// leastPart of a fuse's current is the least that a load which works on and off counts with: less is what its volts do to others.
const leastPart = 0.01

// forGood is an on-time from which a fuse is as warm as it gets: the longest within which a blade opens at 1.35 times its rating.
const forGood unit.Time = 600

// workStep is the loads of one rhythm, and what every element carries once they rest too.
type workStep struct {
	devices string
	on, off unit.Time
	amps    []unit.Current
}

func (t *tracer) working(c *solve.CaseResult) working {
	w := working{CaseResult: c, starting: t.startsOf(c)}
	type beat struct{ on, off unit.Time }
	loads := map[beat][]int{}
	var beats []beat
	for i := range c.Loads {
		l := &c.Loads[i]
		d := t.draw(l)
		if d == nil || !(d.On > 0) || d.On >= forGood || !l.Fed || l.Rests {
			continue
		}
		b := beat{d.On, max(d.Off, 0)}
		if loads[b] == nil {
			beats = append(beats, b)
		}
		loads[b] = append(loads[b], i)
	}
	slices.SortStableFunc(beats, func(a, b beat) int {
		return cmp.Or(cmp.Compare(timeShare(a.on, a.off), timeShare(b.on, b.off)), cmp.Compare(a.on, b.on), cmp.Compare(a.off, b.off))
	})
	var rest []int
	for _, b := range beats {
		s := workStep{on: b.on, off: b.off}
		for _, i := range loads[b] {
			if s.devices != "" {
				s.devices += ", "
			}
			s.devices += c.Loads[i].Device
		}
		rest = append(rest, loads[b]...)
		s.amps = solve.PointWithout(c, rest).Amps
		w.steps = append(w.steps, s)
	}
	return w
}

// timeShare is the share of time on; a load that works once has none.
func timeShare(on, off unit.Time) float64 {
	if !(off > 0) {
		return 0
	}
	return float64(on / (on + off))
}

// mean is the steady current of an element that warms a fuse as its duty does, and what must be held besides: the current of each rhythm with
// all that lasts longer, for its on-time.
func (w *working) mean(e int) (steady unit.Current, works []Hold) {
	now := math.Abs(float64(w.Point.Amps[e]))
	square := 0.0
	for i := range w.steps {
		s := &w.steps[i]
		after := now
		if e < len(s.amps) {
			after = math.Abs(float64(s.amps[e]))
		}
		if after >= now*(1-leastPart) || now <= float64(noise) {
			continue
		}
		works = append(works, Hold{Device: s.devices, Amps: unit.Current(now), For: s.on})
		square += timeShare(s.on, s.off) * (now*now - after*after)
		now = after
	}
	if now <= float64(noise) {
		now = 0
	}
	return unit.Current(math.Sqrt(square + now*now)), works
}

// draw is what a load was declared as.
func (t *tracer) draw(l *solve.LoadResult) *design.Draw {
	d := t.device(l.Device)
	switch {
	case d == nil || l.Index < 0:
	case l.Coil && l.Index < len(d.Coils):
		return &d.Coils[l.Index].Draw
	case !l.Coil && l.Index < len(d.Draws):
		return &d.Draws[l.Index]
	}
	return nil
}

// zoneAir is a zone and its air.
type zoneAir struct {
	zone string
	air  unit.Temperature
}

// air is the zone a device sits in and its air in a case: its own zone, else the hottest of those its wires come through.
func (t *tracer) air(d *design.Device, c string) (string, unit.Temperature) {
	k := [2]string{d.Name, c}
	x, ok := t.airs[k]
	if !ok {
		x.zone, x.air = t.findAir(d, c)
		t.airs[k] = x
	}
	return x.zone, x.air
}

func (t *tracer) findAir(d *design.Device, c string) (string, unit.Temperature) {
	scope := design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section, Case: c}
	best, _ := heat.Ambient(t.job, scope)
	if d.Zone != "" || t.nt == nil {
		return d.Zone, best
	}
	zone, found := "", false
	for _, i := range t.ends[d.Name] {
		w := &t.nt.Wires[i]
		for k := range w.Ends {
			if w.Ends[k].Device != d.Name {
				continue
			}
			z := w.Zone
			if n := len(w.Path); n > 0 && !w.Loose && t.nt.Space != nil {
				if e := w.Path[[2]int{0, n - 1}[k]].Edge; e >= 0 && e < len(t.nt.Space.Edges) {
					z = t.nt.Space.Edges[e].Zone
				}
			}
			if z == "" {
				continue
			}
			scope.Zone = z
			if a, _ := heat.Ambient(t.job, scope); !found || a > best {
				zone, best, found = z, a, true
			}
		}
	}
	return zone, best
}
