// Package fit finds the sizes of a job's wires: it solves and heats the net, grows what is short, and begins again until every limit
// is met or out of reach.
package fit

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Limit is one limit on the volts of a load, with what the case gives it.
type Limit struct {
	Name  string       // of the setting; "least" for what the load itself says
	Value unit.Voltage // most volts lost; with Floor least volts left
	Got   unit.Voltage
	Floor bool
	Of    unit.Voltage // the volts of which the limit is a percentage; 0 where it is in volts
	// Ruling is where the limit was set; not Known for the load's own.
	Ruling design.Ruling
	Span   diag.Span // of the line that sets it; zero for a default
	// Corner is where Got was found: the load solved again with each spread at the end that is worst for this limit; nil when no spread has
	// any influence.
	Corner *solve.Corner
}

// Over is how far a limit is broken, in volts; 0 or less when it is met.
func (l Limit) Over() unit.Voltage {
	if l.Floor {
		return l.Value - l.Got
	}
	return l.Got - l.Value
}

// hair is what rounding may add to volts.
const hair = 1e-9

// Met tells whether the limit is met.
func (l Limit) Met() bool { return l.Over() <= hair }

// Scope is where the settings of a load are looked up: its device with class, zone and section, the circuit that feeds it, and the
// case. A device without a class has that of this circuit.
func Scope(job *design.Job, nt *net.Net, c *solve.CaseResult, load *solve.LoadResult) design.Scope {
	return once(job, nt).scope(c, load)
}

func (j *Judge) scope(c *solve.CaseResult, load *solve.LoadResult) design.Scope {
	at := design.Scope{Device: load.Device, Class: load.Class, Case: c.Case}
	if d := j.device(load.Device); d != nil {
		at.Zone, at.Section = d.Zone, d.Section
	}
	if w := nearestWire(j.nt, c, load); w != nil {
		at.Circuit = w.Circuit
		if at.Class == "" {
			at.Class = w.Class
		}
	}
	return at
}

// nearestWire is the last wire on the way to a load.
func nearestWire(nt *net.Net, c *solve.CaseResult, load *solve.LoadResult) *net.Wire {
	for i := len(load.Feed) - 1; i >= 0; i-- {
		if w := wireOf(c, load.Feed[i]); w >= 0 && w < len(nt.Wires) {
			return &nt.Wires[w]
		}
	}
	return nil
}

// wireOf is the wire of a step, -1 for anything else.
func wireOf(c *solve.CaseResult, s solve.Step) int {
	if kindOf(c, s) == solve.Wire {
		return c.Net.Elements[s.Element].Wire
	}
	return -1
}

// Limits lists every limit on the steady volts of a load in a case: drop, feed-drop, return-drop, feed-return-drop, least-volts and
// the load's own least. A limit that is not set is left out; so is everything for a load that is not fed, rests, has no way to a
// supply, or is fed through other loads only: lamps in series behind an open switch are off, not short of volts. The limits on feed
// and return judge draws alone: what is meant for a starter is not meant for its solenoid's coil. Each limit is judged at its own corner of
// the spreads.
func Limits(job *design.Job, nt *net.Net, c *solve.CaseResult, load *solve.LoadResult) []Limit {
	return once(job, nt).limits(nil, c, load, -1)
}

// Limits is those of a load of the case, by its index.
func (j *Judge) Limits(c *solve.CaseResult, load int) []Limit {
	return j.limits(nil, c, &c.Loads[load], load)
}

// limits appends to out.
func (j *Judge) limits(out []Limit, c *solve.CaseResult, load *solve.LoadResult, n int) []Limit {
	if !judged(c, load) {
		return out
	}
	at := j.scope(c, load)
	if load.Supply != "" {
		follows := c.Follows(load)
		for _, x := range []struct {
			name string
			got  unit.Voltage
		}{
			{"drop", load.FeedDrop + load.ReturnDrop}, {"feed-drop", load.FeedDrop}, {"return-drop", load.ReturnDrop},
			{"feed-return-drop", load.FeedDrop + load.ReturnDrop},
		} {
			if load.Coil && x.name != "drop" {
				continue
			}
			if l, ok := j.dropLimit(at, load, x.name, follows); ok {
				l.Got = x.got
				out = append(out, l)
			}
		}
	}
	if l, ok := j.floorLimit(at, "least-volts", load.Volts); ok {
		out = append(out, l)
	}
	if least := j.leastOf(load); least.Given {
		out = append(out, Limit{Name: "least", Value: max(least.Nominal, least.High), Got: load.Volts, Floor: true, Span: least.Span})
	}
	return corners(c, load, n, out)
}

// judged tells whether limits on volts mean anything for a load in a case.
func judged(c *solve.CaseResult, load *solve.LoadResult) bool {
	if !load.Fed || load.Rests {
		return false
	}
	for _, way := range [][]solve.Step{load.Feed, load.Return} {
		for _, s := range way {
			if k := kindOf(c, s); k == solve.Load || k == solve.Coil {
				return false
			}
		}
	}
	return true
}

func kindOf(c *solve.CaseResult, s solve.Step) solve.ElementKind {
	if c.Net == nil || s.Element < 0 || s.Element >= len(c.Net.Elements) {
		return solve.Join
	}
	return c.Net.Elements[s.Element].Kind
}

// StartLimits lists the limits on the volts of a load while a device starts: least-start-volts, and the load's own least. steady is the same load of the case.
func StartLimits(job *design.Job, nt *net.Net, c *solve.CaseResult, steady, starting *solve.LoadResult) []Limit {
	return startCorners(c, starting, once(job, nt).startLimits(c, steady, starting))
}

// StartLimits is those of a load of the case while a device starts, both by their index. What it gets is looked for only where there is a limit.
func (j *Judge) StartLimits(c *solve.CaseResult, start, load int) []Limit {
	return j.startGets(nil, c, start, load, j.startFloors(c, &c.Loads[load]))
}

// startGets appends to limits the floors with what a load gets while a device starts.
func (j *Judge) startGets(limits []Limit, c *solve.CaseResult, start, load int, floors []Limit) []Limit {
	if len(floors) == 0 {
		return limits
	}
	st := &c.Starts[start]
	starting := st.Load(load)
	if starting == nil {
		return limits
	}
	limits = append(limits, floors...)
	for i := len(limits) - len(floors); i < len(limits); i++ {
		limits[i].Got = starting.Volts
		limits[i].worst(st.Corner(load, quantityOf(limits[i].Name)))
	}
	return limits
}

func (j *Judge) startLimits(c *solve.CaseResult, steady, starting *solve.LoadResult) []Limit {
	limits := j.startFloors(c, steady)
	for i := range limits {
		limits[i].Got = starting.Volts
	}
	return limits
}

// startFloors is the limits without what the load gets.
func (j *Judge) startFloors(c *solve.CaseResult, steady *solve.LoadResult) []Limit {
	if !judged(c, steady) {
		return nil
	}
	var out []Limit
	if l, ok := j.floorLimit(j.scope(c, steady), "least-start-volts", 0); ok {
		out = append(out, l)
	}
	if least := j.leastOf(steady); least.Given {
		out = append(out, Limit{Name: "least", Value: max(least.Nominal, least.High), Floor: true, Span: least.Span})
	}
	return out
}

// DropLimit is the most volts that may be lost on feed and return of a load by the setting drop, and the line that ruled.
func DropLimit(job *design.Job, nt *net.Net, c *solve.CaseResult, load *solve.LoadResult) (unit.Voltage, design.Ruling) {
	j := once(job, nt)
	l, _ := j.dropLimit(j.scope(c, load), load, "drop", c.Follows(load))
	return l.Value, l.Ruling
}

// dropLimit reads a limit on lost volts. A percentage is one of drop-of, else of the volts the load was measured at; on a supply that
// follows never of more than that supply's set-point, since a tenth of a battery's volts is a quarter of a sensor's.
func (j *Judge) dropLimit(at design.Scope, load *solve.LoadResult, name string, follows bool) (Limit, bool) {
	r := j.get(name, at)
	if !r.Known {
		return Limit{}, false
	}
	l := Limit{Name: name, Ruling: r, Span: r.Span, Value: unit.Voltage(r.Value.Quantity.Value)}
	if r.Value.Quantity.Dim == unit.DimRatio {
		l.Of = load.At
		if of := j.get("drop-of", at); of.Known {
			l.Of = unit.Voltage(of.Value.Quantity.Value)
		}
		if follows && load.SupplySet > 0 {
			l.Of = min(l.Of, load.SupplySet)
		}
		l.Value = unit.Ratio(r.Value.Quantity.Value).Of(l.Of)
	}
	return l, true
}

func (j *Judge) floorLimit(at design.Scope, name string, got unit.Voltage) (Limit, bool) {
	r := j.get(name, at)
	if !r.Known {
		return Limit{}, false
	}
	return Limit{Name: name, Value: unit.Voltage(r.Value.Quantity.Value), Got: got, Floor: true, Ruling: r, Span: r.Span}, true
}

func (j *Judge) leastOf(load *solve.LoadResult) design.Fact[unit.Voltage] {
	if d := j.draw(load); d != nil {
		return d.Least
	}
	return design.Fact[unit.Voltage]{}
}
