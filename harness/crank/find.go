package crank

import (
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// longest is how long a starter turns at a stretch; what works longer is no starter.
const longest unit.Time = 60

type work struct {
	job     *design.Job
	nt      *net.Net
	sizes   size.Sizes
	temps   map[string][]unit.Temperature
	battery map[string]bool
}

type loadKey struct {
	device string
	index  int
	coil   bool
}

// Find sweeps every case in which a starter turns: the motor with the greatest starting current of the job that works once or no longer than a
// minute at a stretch, while a battery feeds it. Wires stay as warm as in the case, temps by case; what changes is the batteries alone. A case's
// own figures are taken as those of a new battery at the air of its zone in the case.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, temps map[string][]unit.Temperature) []Sweep {
	w := &work{job: job, nt: nt, sizes: sizes, temps: temps, battery: map[string]bool{}}
	for _, b := range job.Batteries() {
		w.battery[b.Device.Name] = true
	}
	motors := w.motors()
	var out []Sweep
	for _, r := range cases {
		for _, c := range job.Cases {
			if c.Name != r.Case {
				continue
			}
			for i := range r.Loads {
				if l := &r.Loads[i]; motors[keyOf(l)] && l.Fed && !l.Rests && w.battery[l.Supply] {
					out = append(out, w.sweep(c, r, l))
					break
				}
			}
			break
		}
	}
	return out
}

func keyOf(l *solve.LoadResult) loadKey { return loadKey{l.Device, l.Index, l.Coil} }

// motors is the draws with the greatest starting current of the job; of twin engines both.
func (w *work) motors() map[loadKey]bool {
	var most unit.Current
	each := func(do func(k loadKey, start unit.Current)) {
		for _, d := range w.job.Devices {
			for i := range d.Draws {
				x := &d.Draws[i]
				if start := max(x.Start.Nominal, x.Start.High); !d.Pattern && x.Start.Given && start > 0 && x.On > 0 && x.On <= longest {
					do(loadKey{d.Name, i, false}, start)
				}
			}
		}
	}
	each(func(_ loadKey, start unit.Current) { most = max(most, start) })
	out := map[loadKey]bool{}
	each(func(k loadKey, start unit.Current) {
		if start == most {
			out[k] = true
		}
	})
	return out
}

func (w *work) device(name string) *design.Device {
	for _, d := range w.job.Devices {
		if d.Name == name && !d.Pattern {
			return d
		}
	}
	return nil
}

func (w *work) sweep(c *design.Case, r *solve.CaseResult, motor *solve.LoadResult) Sweep {
	s := Sweep{Case: c.Name, Motor: motor.Device, Battery: motor.Supply, PerKelvin: data.CellVoltsPerKelvin, Places: w.places(r, motor)}
	for _, x := range r.Supplies {
		if x.Live && w.battery[x.Device] && x.Device != s.Battery && !slices.Contains(s.Besides, x.Device) {
			s.Besides = append(s.Besides, x.Device)
		}
	}
	slices.SortFunc(s.Besides, design.Natural)
	if d := w.device(s.Battery); d != nil {
		s.Air, s.AirFrom = w.air(d, c)
		s.Volts, s.Inside = w.figures(d, 0, c)
		s.Cells = data.BatteryCells(d.Supplies[0].Volts.Nominal)
	}
	s.Rows = append(s.Rows, w.row(&s, c, r, motor, Row{Air: s.Air, Age: AsCase, Own: true, Worn: 1}))
	for _, age := range data.BatteryAges {
		for _, air := range data.BatterySweep {
			s.Rows = append(s.Rows, w.row(&s, c, r, motor, Row{Air: air, Age: age.Name, Worn: age.Inside}))
		}
	}
	s.Source = "rise of a lead-acid battery's inside resistance in the cold and with age, and of its volts at rest with temperature: from memory; the case's own figures are taken as those of a new battery at its own air"
	return s
}

// air of a battery in a case: that of its own zone, else of the zone in which its first wire begins.
func (w *work) air(d *design.Device, c *design.Case) (unit.Temperature, string) {
	at := design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section, Case: c.Name}
	for i := 0; at.Zone == "" && i < len(w.nt.Wires); i++ {
		x := &w.nt.Wires[i]
		for k := range x.Ends {
			if x.Ends[k].Device == d.Name && at.Zone == "" {
				zones := x.Zones(w.nt.Space)
				at.Zone = zones[k*(len(zones)-1)]
			}
		}
	}
	return heat.Ambient(w.job, at)
}

// figures is the set-point and inside resistance of a supply in a case, as the solve takes them.
func (w *work) figures(d *design.Device, i int, c *design.Case) (unit.Voltage, unit.Resistance) {
	s := &d.Supplies[i]
	volts, inside := s.Volts.Nominal, s.Inside
	for k := range c.Supplies {
		if x := &c.Supplies[k]; x.Device == d.Name {
			if x.At.Given {
				volts = x.At.Nominal
			}
			if x.Inside.Given {
				inside = x.Inside
			}
		}
	}
	if !inside.Given {
		at := design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section, Case: c.Name}
		return volts, unit.Resistance(w.job.Settings.Get("supply-inside", at).Value.Quantity.Value)
	}
	return volts, max(inside.Nominal, inside.High)
}

// moved is a supply at another air and age.
func (w *work) moved(d *design.Device, i int, c *design.Case, row *Row) (volts unit.Voltage, inside unit.Resistance, cold unit.Ratio) {
	volts, inside = w.figures(d, i, c)
	at, _ := w.air(d, c)
	air := row.Air
	if row.Own {
		air = at
	}
	there, _ := data.BatteryInsideAt(air)
	here, _ := data.BatteryInsideAt(at)
	cold = there / here
	cells := data.BatteryCells(d.Supplies[i].Volts.Nominal)
	volts += unit.Voltage(cells) * data.CellVoltsPerKelvin * unit.Voltage(air-at)
	return max(volts, 0), inside * unit.Resistance(cold*row.Worn), cold
}

// row solves the case with its batteries at another air and age. They are changed in a copy of the job, so that of a device with several each
// keeps its own figures.
func (w *work) row(s *Sweep, c *design.Case, was *solve.CaseResult, motor *solve.LoadResult, row Row) Row {
	job := *w.job
	job.Devices = slices.Clone(w.job.Devices)
	for i, d := range job.Devices {
		if d.Name != s.Battery && !slices.Contains(s.Besides, d.Name) || d.Pattern {
			continue
		}
		x := *d
		x.Supplies = slices.Clone(d.Supplies)
		for k := range x.Supplies {
			volts, inside, cold := w.moved(d, k, c, &row)
			x.Supplies[k].Volts.Spread, x.Supplies[k].Volts.Given = unit.Exactly(volts), true
			x.Supplies[k].Inside.Spread, x.Supplies[k].Inside.Given = unit.Exactly(inside), true
			if d.Name == s.Battery && k == 0 {
				row.Volts, row.Inside, row.Cold = volts, inside, cold
			}
		}
		job.Devices[i] = &x
	}
	k := *c
	k.Supplies = slices.Clone(c.Supplies)
	for i := range k.Supplies {
		if n := k.Supplies[i].Device; n == s.Battery || slices.Contains(s.Besides, n) {
			k.Supplies[i].At, k.Supplies[i].Inside = design.Fact[unit.Voltage]{}, design.Fact[unit.Resistance]{}
		}
	}
	r := solve.Case(&job, w.nt, w.sizes, w.temps[c.Name], &k)
	var start *solve.StartResult
	for i := range r.Starts {
		if r.Starts[i].Device == motor.Device {
			start = &r.Starts[i]
		}
	}
	if l := load(r.Loads, keyOf(motor)); l != nil && l.Fed {
		row.Turns, row.Amps = true, abs(l.Amps)
	}
	if start != nil {
		if l := loadIn(r, start, keyOf(motor)); l != nil && l.Fed {
			row.Start = abs(l.Amps)
		}
	}
	row.Lets = letGo(was, r)
	row.Relays = len(row.Lets) == 0
	for i := range s.Places {
		row.At = append(row.At, at(&s.Places[i], r, start))
	}
	return row
}

func abs[T ~float64](x T) T { return T(math.Abs(float64(x))) }

func load(ls []solve.LoadResult, k loadKey) *solve.LoadResult {
	for i := range ls {
		if keyOf(&ls[i]) == k {
			return &ls[i]
		}
	}
	return nil
}

// loadIn is a load while a device of the case starts.
func loadIn(r *solve.CaseResult, start *solve.StartResult, k loadKey) *solve.LoadResult {
	for i := range r.Loads {
		if keyOf(&r.Loads[i]) == k {
			return start.Load(i)
		}
	}
	return nil
}

// letGo names the relays that are closed in the case and not here.
func letGo(was, now *solve.CaseResult) []string {
	var out []string
	for i := range was.Relays {
		a := &was.Relays[i]
		for k := range now.Relays {
			b := &now.Relays[k]
			if a.Device == b.Device && a.Coil == b.Coil && a.On && (!b.On || b.Hunts || b.Against) && !a.Against {
				out = append(out, a.Device)
			}
		}
	}
	slices.SortFunc(out, design.Natural)
	return slices.Compact(out)
}

const hair = 1e-9

// at is what a place gets, held against its limits.
func at(p *Place, r *solve.CaseResult, start *solve.StartResult) Volts {
	k := loadKey{p.Device, p.Index, p.Coil}
	var v Volts
	if l := load(r.Loads, k); l != nil {
		v.Steady, v.Fed = l.Volts, l.Fed
	}
	v.MetSteady, v.MetDip = v.Fed && abs(v.Steady) >= p.Least-hair, true
	if start != nil {
		if l := loadIn(r, start, k); l != nil {
			v.Dip = l.Volts
			v.MetDip = abs(v.Dip) >= p.LeastDip-hair
		}
	}
	v.Met = v.MetSteady && v.MetDip
	return v
}

// limits takes the floors on a load's volts.
func limits(ls []fit.Limit) (most unit.Voltage, from string) {
	for _, l := range ls {
		if l.Floor && unit.Worse(l.Value, most) {
			most, from = l.Value, "the load's own least"
			if l.Ruling.Known {
				from = fmt.Sprintf("%s, %s", l.Name, l.Ruling.Source())
			}
		}
	}
	return most, from
}
