package protect

import (
	"fmt"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// rig is a job with a net made by hand, its sizes, and wires that warm without losing anything unless told otherwise.
type rig struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	res   *Result
	warm  *copperOnly
}

func fact[T ~float64](x T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true}
}

func newRig(volts unit.Voltage, inside unit.Resistance) *rig {
	stud := func(names ...string) (out []design.Pin) {
		for _, n := range names {
			out = append(out, design.Pin{Name: n, Housing: -1, Stud: "M8"})
		}
		return out
	}
	r := &rig{job: &design.Job{}, nt: &net.Net{Space: &space.Geometry{}}, res: &Result{}}
	r.warm = &copperOnly{rig: r, start: 60}
	r.job.Devices = []*design.Device{{Name: "battery", Pins: stud("pos", "neg"),
		Supplies: []design.Supply{{Volts: fact(volts), Inside: fact(inside), From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}}}}
	r.job.Cases = []*design.Case{{Name: "on", Supplies: []design.CaseSupply{{Device: "battery"}}}}
	for _, s := range []string{"lug-resistance", "fuse-resistance", "contact-resistance"} {
		q, _ := unit.Parse("0 mohm")
		r.job.Settings.Lines = append(r.job.Settings.Lines, design.Setting{Name: s, Value: design.SettingValue{Quantity: q}})
	}
	return r
}

// fuse adds a device box<n> with studs in and out and a fuse between, and its result.
func (r *rig) fuse(name string, rating unit.Current, gate []data.FuseGate) FuseRef {
	r.job.Devices = append(r.job.Devices, &design.Device{Name: name, Pins: []design.Pin{{Name: "in", Housing: -1, Stud: "M5"}, {Name: "out", Housing: -1, Stud: "M5"}},
		Fuses: []design.DeviceFuse{{Part: "blade", From: "in", To: "out"}}})
	ref := FuseRef{name, 0}
	r.res.Fuses = append(r.res.Fuses, FuseResult{FuseRef: ref, Part: "blade", Rating: rating, Gate: gate, Verified: true})
	return ref
}

func (r *rig) load(name string, amps unit.Current) {
	r.job.Devices = append(r.job.Devices, &design.Device{Name: name, Pins: []design.Pin{{Name: "1", Housing: -1, Stud: "M5"}, {Name: "2", Housing: -1, Stud: "M5"}},
		Draws: []design.Draw{{Amps: fact(amps), At: fact[unit.Voltage](12), From: design.PinRef{Pin: "1"}, To: design.PinRef{Pin: "2"}}}})
}

// wire adds a wire of an area with so much resistance per metre at 20 C, protected by the fuses named.
func (r *rig) wire(from, to string, metres float64, area unit.Area, perMetre unit.LinearResistance, by ...FuseRef) int {
	i := len(r.nt.Wires)
	w := net.Wire{Name: fmt.Sprintf("w%d %s - %s", i, from, to), Circuit: fmt.Sprintf("c%d", i), Core: -1, Length: unit.Length(1000 * metres), Copper: unit.Length(1000 * metres)}
	for k, e := range []string{from, to} {
		dev, pin, _ := strings.Cut(e, ".")
		w.Ends[k] = net.Termination{Kind: net.OnStud, Device: dev, Pin: pin, Housing: -1, Node: -1}
	}
	r.nt.Wires = append(r.nt.Wires, w)
	r.sizes = append(r.sizes, size.Conductor{Size: unit.Metric(area), Resistance: perMetre, Heat: 105, Known: true, Verified: true})
	r.res.Wires = append(r.res.Wires, WireResult{Wire: i, By: by, Reached: true})
	return i
}

func (r *rig) weigh() *Result {
	g := r.weigher()
	g.weigh(nil, r.res, nil, nil)
	return r.res
}

// weigher knows the fuses and parts of the net, and nothing yet of what may flow.
func (r *rig) weigher() *weigher {
	g := newWeigher(r.job, r.nt, r.sizes, r.warm)
	g.apart = newApart(solve.All(r.job, r.nt, r.sizes), len(r.nt.Wires))
	g.of(r.res)
	r.res.rests = make([]unit.Current, len(r.nt.Wires))
	return g
}

// overloads are those of all parts.
func overloads(g *weigher) {
	for p := range g.apart.n {
		g.overloads(int32(p))
	}
}

// copperOnly keeps all heat in the copper, and sustains so many amperes for each mm2.
type copperOnly struct {
	rig   *rig
	start unit.Temperature
	per   unit.Current // for each mm2; 0: 15 A
}

func (c *copperOnly) Steady(int) unit.Temperature { return c.start }

func (c *copperOnly) Sustained(w int, _ unit.Temperature) unit.Current {
	per := c.per
	if per == 0 {
		per = 15
	}
	return per * unit.Current(c.rig.sizes[w].Size.Area())
}

func (c *copperOnly) After(w int, amps unit.Current, d unit.Time) unit.Temperature {
	s := standing{start: c.start, area: metal(&c.rig.sizes[w])}
	if amps <= c.Sustained(w, 0) {
		return c.start
	}
	return s.adiabaticEnd(energyAt(1, amps, d))
}

func (c *copperOnly) Course(int, unit.Current, unit.Time) []heat.Leg { return nil }

func (c *copperOnly) Lasts(w int, amps unit.Current, limit unit.Temperature) (unit.Time, bool) {
	if amps <= c.Sustained(w, 0) {
		return 0, false
	}
	t, ok := data.Copper.Adiabatic(c.start, limit).Time(amps, metal(&c.rig.sizes[w]))
	return t, ok
}
