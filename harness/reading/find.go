package reading

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

const (
	hair    = 1e-9
	trickle = 1e-9 // A by which rounding may pass the sensor's own current
)

type work struct {
	job    *design.Job
	nt     *net.Net
	device map[string]*design.Device
}

// point is one operating point: a case, steady or while a device starts.
type point struct {
	c     string
	start string
	volts func(node int) unit.Voltage
	amps  func(element int) unit.Current
	load  func(i int) *solve.LoadResult
	of    map[string][]int // loads by device
}

func (g *graph) steady(c *solve.CaseResult) point {
	return point{c: c.Case, of: g.loads, volts: func(n int) unit.Voltage { return c.Point.Volts[n] }, amps: func(e int) unit.Current { return c.Point.Amps[e] },
		load: func(i int) *solve.LoadResult { return &c.Loads[i] }}
}

// Find weighs every sensor that says how it reads, against each device that reads it, over all cases and starts in which both are fed. A device
// reads a sensor when the sensor's signal pin is wired to it. It measures against the minus of its own supply if it has one, else against the pin at
// which the sensor's reference arrives, else against the minus of its draw. A sensor without a reader, or whose reference no metal joins to that of
// its reader, is left out: other checks tell what is not connected.
func Find(job *design.Job, nt *net.Net, cases []*solve.CaseResult) []Error {
	w := &work{job: job, nt: nt, device: map[string]*design.Device{}}
	for _, d := range job.Devices {
		if !d.Pattern && w.device[d.Name] == nil {
			w.device[d.Name] = d
		}
	}
	graphs := map[*solve.CaseResult]*graph{}
	for _, c := range cases {
		if c.Net != nil {
			g := newGraph(w, c.Net)
			for i := range c.Loads {
				g.loads[c.Loads[i].Device] = append(g.loads[c.Loads[i].Device], i)
			}
			graphs[c] = g
		}
	}
	var out []Error
	for _, d := range job.Devices {
		if w.device[d.Name] != d {
			continue
		}
		for i := range d.Reads {
			out = append(out, w.sensor(d, i, cases, graphs)...)
		}
	}
	return out
}

// sensor weighs one sensor at each of its readers, by reader.
func (w *work) sensor(d *design.Device, index int, cases []*solve.CaseResult, graphs map[*solve.CaseResult]*graph) []Error {
	x := &d.Reads[index]
	if x.Per == 0 || !unit.Finite(x.Per) {
		return nil
	}
	worst := map[string]*Error{}
	for _, c := range cases {
		g := graphs[c]
		if g == nil {
			continue
		}
		from, to := g.pin(d.Name, x.From), g.pin(d.Name, x.To)
		if from < 0 || to < 0 {
			continue
		}
		for _, reader := range g.readers(d.Name, from) {
			points := []point{g.steady(c)}
			for i := range c.Starts {
				// One that leaves the sensor's reference and both devices alone reads as the case does.
				if s := &c.Starts[i]; s.Net == c.Net && (s.MovesNode(to) || slices.ContainsFunc(slices.Concat(g.loads[d.Name], g.loads[reader]), s.Moves)) {
					points = append(points, point{c.Case, s.Device, s.Volts, s.Amps, s.Load, g.loads})
				}
			}
			at, why := w.reference(g, d, to, reader, c)
			node := g.pin(at.Device, at.Pin)
			if node < 0 {
				continue
			}
			way, ok := g.way(to, node)
			if !ok {
				continue
			}
			for _, p := range points {
				if !p.alive(w.device[reader]) || !p.alive(d) {
					continue
				}
				e := w.weigh(d, index, reader, p)
				e.At, e.Why = at.String(), why
				e.Volts = p.volts(to) - p.volts(node)
				e.Met = !e.Ruling.Known || math.Abs(float64(e.Volts)) <= float64(e.Most)*(1+hair)
				if old := worst[reader]; old == nil || over(&e) > over(old)+hair {
					e.parts(g, way, p)
					worst[reader] = &e
				}
			}
		}
	}
	var out []Error
	for _, e := range worst {
		out = append(out, *e)
	}
	slices.SortFunc(out, func(a, b Error) int { return design.Natural(a.Reader, b.Reader) })
	return out
}

func over(e *Error) float64 { return math.Abs(float64(e.Volts)) - float64(e.Most) }

// alive tells whether a device can take part in a reading: one of its draws is fed, or it has none.
func (p *point) alive(d *design.Device) bool {
	if d == nil || len(d.Draws) == 0 {
		return d != nil
	}
	for _, i := range p.of[d.Name] {
		if l := p.load(i); !l.Coil && l.Fed {
			return true
		}
	}
	return false
}

// weigh fills in all that does not depend on where current runs.
func (w *work) weigh(d *design.Device, index int, reader string, p point) Error {
	x := &d.Reads[index]
	e := Error{Device: d.Name, Index: index, From: x.From, To: x.To, Reader: reader, Case: p.c, Start: p.start, Value: x.Value, Per: x.Per, Span: x.Span}
	e.Ruling = w.job.Settings.Get("reading-error", design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section, Case: p.c})
	e.Most = unit.Voltage(e.Ruling.Value.Quantity.Value)
	for _, i := range p.of[d.Name] {
		l := p.load(i)
		if l.Device != d.Name || l.Coil || !l.Fed || l.Index >= len(d.Draws) {
			continue
		}
		switch a := d.Draws[l.Index]; {
		case own(d, a.To) == x.To:
			e.Own += l.Amps
		case own(d, a.From) == x.To:
			e.Own -= l.Amps
		}
	}
	return e
}

// own is the pin of a device that a reference within it means; empty for one of another device.
func own(d *design.Device, p design.PinRef) string {
	if p.Device == "" || p.Device == d.Name {
		return p.Pin
	}
	return ""
}

// parts lays out the way of the sensor's reference in a point, and the error in the sensor's own unit.
func (e *Error) parts(g *graph, way []solve.Step, p point) {
	var shared []Part
	for _, s := range way {
		el := &g.nw.Elements[s.Element]
		x := Part{Kind: el.Kind, Name: el.Name, Drop: p.volts(el.From) - p.volts(el.To), Amps: p.amps(s.Element)}
		if s.Reverse {
			x.Drop, x.Amps = 0-x.Drop, 0-x.Amps
		}
		if x.Shared = math.Abs(float64(x.Amps-e.Own)) > trickle+1e-6*math.Abs(float64(e.Own)); x.Shared {
			shared = append(shared, x)
		}
		e.Way = append(e.Way, x)
	}
	slices.SortStableFunc(shared, func(a, b Part) int {
		return unit.Compare(math.Abs(float64(b.Drop)), math.Abs(float64(a.Drop)))
	})
	for _, x := range shared {
		e.Shares = append(e.Shares, x.Kind.String()+" "+x.Name)
	}
	e.Off = unit.Quantity{Value: float64(e.Volts/e.Per) * e.Value.Value, Dim: e.Value.Dim}
	if e.Off.Dim == unit.DimTemperature {
		e.Off.Dim = unit.DimTempDiff
	}
}

// reference is the pin against which a reader measures, and why that one.
func (w *work) reference(g *graph, sensor *design.Device, to int, reader string, c *solve.CaseResult) (design.PinRef, string) {
	d := w.device[reader]
	full := func(p design.PinRef) design.PinRef {
		if p.Device == "" {
			p.Device = reader
		}
		return p
	}
	if len(d.Supplies) > 0 {
		best := 0
		for i := range c.Loads { // of several supplies the one on which the sensor hangs
			if l := &c.Loads[i]; l.Device == sensor.Name && l.Supply == reader {
				for k := range d.Supplies {
					if n := g.pin(full(d.Supplies[k].From).Device, d.Supplies[k].From.Pin); n >= 0 && g.feeds(n, l) {
						best = k
					}
				}
			}
		}
		return full(d.Supplies[best].To), "minus of its own supply"
	}
	if p, ok := g.arrives(sensor.Name, to, reader); ok {
		return p, "where the sensor's reference arrives"
	}
	if len(d.Draws) > 0 {
		return full(d.Draws[0].To), "minus of its draw"
	}
	return design.PinRef{}, ""
}
