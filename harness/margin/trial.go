package margin

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// trial is one case of an outcome, to be solved again with something in it changed. Every change is made in a copy.
type trial struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	temps []unit.Temperature
	c     *design.Case
	laid  *solve.Laid       // nil where more than figures was changed
	was   *solve.CaseResult // as it is; nil while that is not known
}

// newTrial takes a case out of an outcome, with what hangs together with some devices and wires. Of the starts that of one device is kept. It is not
// laid yet.
func newTrial(p *parted, name, start string, devices []string, wires []int) (trial, part, bool) {
	c := p.byCase[name]
	if c == nil {
		return trial{}, part{}, false
	}
	x := p.part(c, devices, wires)
	t := trial{job: lean(x.job, start), nt: x.nt, sizes: x.sizes, c: c}
	if p.o.Heat != nil {
		t.temps = x.temps(p.o.Heat.Temps[name])
	}
	return t, x, true
}

func (t *trial) lay() { t.laid = solve.Lay(t.job, t.nt, t.sizes, t.c) }

// lean is the job without what devices draw while they start, but for one: the steady point does not turn on it, and each start costs one
// more solution. A coil's own is kept, since a coil takes it until its armature has moved.
func lean(job *design.Job, keep string) *design.Job {
	out := *job
	out.Devices = slices.Clone(job.Devices)
	for i, d := range out.Devices {
		if d.Name != keep && slices.ContainsFunc(d.Draws, func(l design.Draw) bool { return l.Start.Given }) {
			x := *d
			x.Draws = slices.Clone(d.Draws)
			for k := range x.Draws {
				x.Draws[k].Start = design.Fact[unit.Current]{}
			}
			out.Devices[i] = &x
		}
	}
	return &out
}

// seen is one limit as a solution has it. ok is false when it is not judged there: the load is no longer fed.
type seen struct {
	limit fit.Limit
	amps  unit.Current // of the load where the limit is judged; of what starts, the greatest of its loads
	ok    bool
}

// over is how far the limit is broken, as a share of it.
func (s seen) over() float64 {
	if !s.ok || !unit.Finite(s.limit.Got) {
		return math.Inf(1)
	}
	return float64(s.limit.Over()) / math.Max(math.Abs(float64(s.limit.Value)), 1e-9)
}

// solve is the case with its changes; with devices named no other load is worked out.
func (t trial) solve(only ...string) *solve.CaseResult {
	if t.laid == nil {
		return solve.Case(t.job, t.nt, t.sizes, t.temps, t.c)
	}
	return t.laid.Again(t.was, solve.Figures{Job: t.job, Net: t.nt, Sizes: t.sizes, Temps: t.temps, Case: t.c, Only: only})
}

func (t trial) look(s *Subject) seen {
	only := []string{s.Device}
	if s.Start != "" {
		only = append(only, s.Start)
	}
	return lookIn(t, t.solve(only...), s)
}

func lookIn(t trial, c *solve.CaseResult, s *Subject) (out seen) {
	l := loadOf(c.Loads, s)
	if l == nil {
		return out
	}
	out.amps = l.Amps
	var limits []fit.Limit
	if s.Start == "" {
		limits = fit.Limits(t.job, t.nt, c, l)
	} else {
		for i := range c.Starts {
			st := &c.Starts[i]
			if st.Device != s.Start {
				continue
			}
			if x := startLoadOf(c, st, s); x != nil {
				limits = fit.StartLimits(t.job, t.nt, c, l, x)
			}
			out.amps = startAmps(st)
		}
	}
	for _, k := range limits {
		if k.Name == s.Limit {
			out.limit, out.ok = k, true
			if k.Corner != nil && s.Start == "" {
				out.amps = k.Corner.Load.Amps
			}
		}
	}
	return out
}

func startAmps(st *solve.StartResult) (most unit.Current) {
	for i := 0; ; i++ {
		l := st.Load(i)
		if l == nil {
			return most
		}
		if l.Device == st.Device {
			most = max(most, l.Amps)
		}
	}
}

func startLoadOf(c *solve.CaseResult, st *solve.StartResult, s *Subject) *solve.LoadResult {
	for i := range c.Loads {
		if l := &c.Loads[i]; l.Device == s.Device && l.Coil == s.Coil && l.Index == s.Index {
			return st.Load(i)
		}
	}
	return nil
}

func loadOf(loads []solve.LoadResult, s *Subject) *solve.LoadResult {
	for i := range loads {
		if l := &loads[i]; l.Device == s.Device && l.Coil == s.Coil && l.Index == s.Index {
			return l
		}
	}
	return nil
}

// sides is the ways of a load that a limit asks about.
func sides(l *solve.LoadResult, limit string) (out []solve.Step) {
	if limit != "return-drop" {
		out = append(out, l.Feed...)
	}
	if limit != "feed-drop" {
		out = append(out, l.Return...)
	}
	return out
}

func wireOf(c *solve.CaseResult, s solve.Step) int {
	if c.Net != nil && s.Element >= 0 && s.Element < len(c.Net.Elements) && c.Net.Elements[s.Element].Kind == solve.Wire {
		return c.Net.Elements[s.Element].Wire
	}
	return -1
}

// stretch is a wire on a way with its parallel wires.
type stretch struct {
	wire    int // the one that the way takes
	strands []int
	drop    unit.Voltage
}

// stretches lists the wires of a way in order, each once.
func (t trial) stretches(c *solve.CaseResult, way []solve.Step) []stretch {
	var out []stretch
	for _, s := range way {
		i := wireOf(c, s)
		if i < 0 || i >= len(t.nt.Wires) || slices.ContainsFunc(out, func(x stretch) bool { return slices.Contains(x.strands, i) }) {
			continue
		}
		out = append(out, stretch{i, strands(t.nt, i), s.Drop})
	}
	return out
}

// strands is a wire and those parallel to it: the same piece of the same link.
func strands(nt *net.Net, i int) []int {
	w := &nt.Wires[i]
	if w.Link < 0 || w.Kind != net.Plain {
		return []int{i}
	}
	var out []int
	for j := range nt.Wires {
		if x := &nt.Wires[j]; x.Circuit == w.Circuit && x.Link == w.Link && x.Piece == w.Piece && x.Kind == w.Kind {
			out = append(out, j)
		}
	}
	return out
}

// wireLength is the length that the resistance of a wire is taken over.
func wireLength(w *net.Wire) unit.Length {
	if l := max(w.Copper, w.Length); l > 0 || !w.Loose {
		return l
	}
	return w.LooseLength
}

// withWires is the trial with a net whose wires may be changed.
func (t trial) withWires() trial {
	nt := *t.nt
	nt.Wires = slices.Clone(nt.Wires)
	t.nt = &nt
	return t
}

// longer makes wires longer by a factor.
func (t trial) longer(wires []int, f float64) trial {
	t = t.withWires()
	for _, i := range wires {
		w := &t.nt.Wires[i]
		w.Copper, w.Length, w.LooseLength = scale(w.Copper, f), scale(w.Length, f), scale(w.LooseLength, f)
	}
	return t
}

func scale[T ~float64](x T, f float64) T { return T(float64(x) * f) }

func scaled[T ~float64](x design.Fact[T], f float64) design.Fact[T] {
	x.Low, x.Nominal, x.High = scale(x.Low, f), scale(x.Nominal, f), scale(x.High, f)
	return x
}

// warmer lifts all conductors by so many kelvin.
func (t trial) warmer(k float64) trial {
	temps := make([]unit.Temperature, len(t.nt.Wires))
	for i := range temps {
		temps[i] = 20
		if i < len(t.temps) {
			temps[i] = t.temps[i]
		}
		temps[i] += unit.Temperature(k)
	}
	t.temps = temps
	return t
}

// device is the trial with one device changed.
func (t trial) device(name string, change func(*design.Device)) trial {
	job := *t.job
	job.Devices = slices.Clone(job.Devices)
	for i, d := range job.Devices {
		if d.Name == name && !d.Pattern {
			x := *d
			x.Draws, x.Coils, x.Supplies = slices.Clone(d.Draws), slices.Clone(d.Coils), slices.Clone(d.Supplies)
			change(&x)
			job.Devices[i] = &x
		}
	}
	t.job = &job
	return t
}

// draws scales what a load takes; of a device that starts, what it takes then.
func (t trial) draws(s *Subject, f float64) trial {
	if s.Start != "" {
		return t.device(s.Start, func(d *design.Device) {
			for i := range d.Draws {
				d.Draws[i].Start = scaled(d.Draws[i].Start, f)
			}
			for i := range d.Coils {
				d.Coils[i].Start = scaled(d.Coils[i].Start, f)
			}
		})
	}
	return t.device(s.Device, func(d *design.Device) {
		var l *design.Draw
		switch {
		case s.Coil && s.Index < len(d.Coils):
			l = &d.Coils[s.Index].Draw
		case !s.Coil && s.Index < len(d.Draws):
			l = &d.Draws[s.Index]
		default:
			return
		}
		l.Amps, l.Watts, l.Ohms = scaled(l.Amps, f), scaled(l.Watts, f), scaled(l.Ohms, 1/f)
	})
}

// setPoints is the set-points of supplies by device: those of the device that feeds, and those that the case holds at the same volts, which
// share its load or stand in series with it.
func (t trial) setPoints(feeds string, set unit.Voltage) (devices []string) {
	for _, d := range t.job.Devices {
		if d.Pattern || slices.Contains(devices, d.Name) {
			continue
		}
		k := slices.IndexFunc(t.c.Supplies, func(s design.CaseSupply) bool { return s.Device == d.Name })
		same := false
		for i := range d.Supplies {
			volts := d.Supplies[i].Volts.Nominal
			if k >= 0 && t.c.Supplies[k].At.Given {
				volts = t.c.Supplies[k].At.Nominal
			}
			same = same || k >= 0 && math.Abs(float64(volts-set)) < 1e-6
		}
		if d.Name == feeds || same {
			devices = append(devices, d.Name)
		}
	}
	return devices
}

// supplied shifts the set-points of supplies.
func (t trial) supplied(devices []string, by unit.Voltage) trial {
	shift := func(f design.Fact[unit.Voltage]) design.Fact[unit.Voltage] {
		f.Low, f.Nominal, f.High = f.Low+by, f.Nominal+by, f.High+by
		return f
	}
	for _, n := range devices {
		t = t.device(n, func(d *design.Device) {
			for i := range d.Supplies {
				d.Supplies[i].Volts = shift(d.Supplies[i].Volts)
			}
		})
	}
	c := *t.c
	c.Supplies = slices.Clone(c.Supplies)
	for i := range c.Supplies {
		if c.Supplies[i].At.Given && slices.Contains(devices, c.Supplies[i].Device) {
			c.Supplies[i].At = shift(c.Supplies[i].At)
		}
	}
	t.c = &c
	return t
}

// ruled puts a setting before all others, for one scope.
func (t trial) ruled(name string, q unit.Quantity, scope map[string]string) trial {
	job := *t.job
	scope["case"] = t.c.Name
	t.laid = nil
	job.Settings.Lines = append([]design.Setting{{Name: name, Value: design.SettingValue{Quantity: q}, Scope: scope}}, t.job.Settings.Lines...)
	t.job = &job
	return t
}
