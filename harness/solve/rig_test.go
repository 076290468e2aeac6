package solve

import (
	"math"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// tb is what plain and property tests share.
type tb interface {
	Helper()
	Errorf(format string, args ...any)
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// rig is a small job built by hand. Ends of wires are device.pin (a stud), a splice, or with a leading / a cavity.
type rig struct {
	t     tb
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	c     *design.Case
}

const (
	lug = 0.1e-3 // ohm, the default of lug-resistance
	ohm = unit.Resistance(1)
)

func newRig(t tb) *rig {
	t.Helper()
	c := &design.Case{Name: "run"}
	return &rig{t: t, job: &design.Job{Cases: []*design.Case{c}}, nt: &net.Net{}, c: c}
}

func given[T ~float64](x T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true}
}

func at(pin string) design.PinRef {
	d, p, ok := strings.Cut(pin, ".")
	if !ok {
		return design.PinRef{Pin: pin}
	}
	return design.PinRef{Device: d, Pin: p}
}

func (r *rig) device(d design.Device) *rig {
	r.job.Devices = append(r.job.Devices, &d)
	return r
}

// supply adds a device with one supply from plus to minus, live in the case.
func (r *rig) supply(name string, volts unit.Voltage, inside unit.Resistance, most unit.Current) *rig {
	s := design.Supply{Volts: given(volts), Inside: given(inside), From: at("plus"), To: at("minus")}
	if most > 0 {
		s.Most = given(most)
	}
	r.c.Supplies = append(r.c.Supplies, design.CaseSupply{Device: name})
	return r.device(design.Device{Name: name, Supplies: []design.Supply{s}})
}

// load adds a device with one draw from plus to minus, measured at 12 V.
func (r *rig) load(name string, as design.LoadKind, amps unit.Current) *rig {
	return r.device(design.Device{Name: name, Draws: []design.Draw{{Amps: given(amps), At: given(unit.Voltage(12)), As: as, From: at("plus"), To: at("minus")}}})
}

func (r *rig) heater(name string, ohms unit.Resistance) *rig {
	return r.device(design.Device{Name: name, Draws: []design.Draw{{Ohms: given(ohms), As: design.ConstantResistance, From: at("plus"), To: at("minus")}}})
}

func (r *rig) switched(name string, resistance unit.Resistance) *rig {
	return r.device(design.Device{Name: name, States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"1", "2"}, Resistance: given(resistance)}}})
}

func (r *rig) on(device string) *rig {
	r.c.States = append(r.c.States, design.CaseState{Device: device, State: "on"})
	return r
}

func (r *rig) set(name, value string) *rig {
	q, err := unit.Parse(value)
	if err != nil {
		r.t.Fatal(err)
	}
	r.job.Settings.Lines = append(r.job.Settings.Lines, design.Setting{Name: name, Value: design.SettingValue{Quantity: q}})
	return r
}

// wire adds a wire of 1 m with the given resistance at 20 C.
func (r *rig) wire(from, to string, ohms unit.Resistance) int {
	end := func(s string) net.Termination {
		cavity := strings.HasPrefix(s, "/")
		d, p, pin := strings.Cut(strings.TrimPrefix(s, "/"), ".")
		switch {
		case !pin:
			return net.Termination{Kind: net.InSplice, Splice: d}
		case cavity:
			return net.Termination{Kind: net.InCavity, Device: d, Pin: p}
		}
		return net.Termination{Kind: net.OnStud, Device: d, Pin: p}
	}
	r.nt.Wires = append(r.nt.Wires, net.Wire{Name: from + " - " + to, Length: 1000, Ends: [2]net.Termination{end(from), end(to)}})
	r.sizes = append(r.sizes, size.Conductor{Resistance: unit.LinearResistance(ohms), Known: true})
	return len(r.nt.Wires) - 1
}

// wires adds several: from, to, ohms.
func (r *rig) wires(list ...any) *rig {
	for i := 0; i < len(list); i += 3 {
		r.wire(list[i].(string), list[i+1].(string), unit.Resistance(list[i+2].(float64)))
	}
	return r
}

func (r *rig) solve() *CaseResult {
	r.t.Helper()
	res := Case(r.job, r.nt, r.sizes, nil, r.c)
	checkBalance(r.t, res.Net, &res.Point)
	for i := range res.Starts {
		p := res.Starts[i].Point()
		checkBalance(r.t, res.Starts[i].Net, &p)
	}
	for i := range res.Loads {
		checkLadder(r.t, res, &res.Loads[i])
	}
	return res
}

// checkBalance demands what holds for any answer: finite numbers, currents that add up to nothing at every node, and as much power
// given as taken.
func checkBalance(t tb, nw *Network, p *Point) {
	t.Helper()
	if !p.Converged {
		t.Fatalf("not converged, %g A left over", float64(p.Residual))
	}
	sum := make([]float64, len(nw.Nodes))
	largest, given, taken := 0.0, 0.0, 0.0
	for i, e := range nw.Elements {
		a := float64(p.Amps[i])
		v := float64(p.Volts[e.From] - p.Volts[e.To])
		if math.IsNaN(a) || math.IsInf(a, 0) || math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%s: %g A, %g V", e.Name, a, v)
		}
		largest = max(largest, math.Abs(a))
		if e.Kind == Supply {
			if a < 0 {
				t.Fatalf("%s takes %g A", e.Name, -a)
			}
			given += a * v
			a = -a
		} else {
			taken += a * v
		}
		sum[e.From] -= a
		sum[e.To] += a
	}
	for n, s := range sum {
		if math.Abs(s) > 1e-9*largest+1e-18 {
			t.Fatalf("%g A left over at %s, largest %g A", s, nw.Nodes[n], largest)
		}
	}
	// In the volts as reported the drop over a joint of a micro-ohm is only good to rounding of the volts.
	if math.Abs(given-taken) > 1e-9*math.Max(given, 1e-6) {
		t.Fatalf("%.12g W given, %.12g W taken", given, taken)
	}
}

// checkLadder demands that the steps of a load's ways join up, and that what they lose is what lies between supply and load.
func checkLadder(t tb, res *CaseResult, l *LoadResult) {
	t.Helper()
	if !l.Fed {
		return
	}
	if l.Supply == "" {
		t.Fatalf("%s is fed, but by no supply", l.Device)
	}
	near(t, l.Device+" supply less drops", float64(l.SupplyVolts-l.FeedDrop-l.ReturnDrop), math.Abs(float64(l.Volts)), 1e-9)
	for _, way := range [][]Step{l.Feed, l.Return} {
		for k := 1; k < len(way); k++ {
			a, b := res.Net.Elements[way[k-1].Element], res.Net.Elements[way[k].Element]
			end, begin := a.To, b.From
			if way[k-1].Reverse {
				end = a.From
			}
			if way[k].Reverse {
				begin = b.To
			}
			if end != begin {
				t.Fatalf("%s: %s does not go on from %s", l.Device, b.Name, a.Name)
			}
			near(t, "volts after "+b.Name, float64(way[k].Volts), float64(way[k-1].Volts-way[k].Drop), 1e-9)
		}
	}
}

func near(t tb, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}

func load(t tb, res *CaseResult, device string) *LoadResult {
	t.Helper()
	for i := range res.Loads {
		if res.Loads[i].Device == device && !res.Loads[i].Coil {
			return &res.Loads[i]
		}
	}
	t.Fatalf("no load %s", device)
	return nil
}

func supply(t tb, res *CaseResult, device string) *SupplyResult {
	t.Helper()
	for i := range res.Supplies {
		if res.Supplies[i].Device == device {
			return &res.Supplies[i]
		}
	}
	t.Fatalf("no supply %s", device)
	return nil
}

func problems(res *CaseResult, kind ProblemKind) (out []Problem) {
	for _, p := range res.Problems {
		if p.Kind == kind {
			out = append(out, p)
		}
	}
	return out
}

// branchesOf is the laws of a result's net, with the nodes of the net.
func branchesOf(res *CaseResult) []branch {
	out := make([]branch, len(res.Net.Elements))
	for i := range out {
		out[i] = *res.again.p.branch(i)
		out[i].from, out[i].to = int32(res.Net.Elements[i].From), int32(res.Net.Elements[i].To)
	}
	return out
}
