package reviewbook

import (
	"fmt"
	"strings"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/joint"
	"loomsheet/harness/mate"
	"loomsheet/harness/net"
	"loomsheet/harness/route"
	"loomsheet/harness/rule"
	"loomsheet/harness/shell"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/render/export"
)

// rig is an invented job built by hand: a battery far from its loads, an alternator, a starter with its relay, lamps, a control unit that
// must not dip, and a heater that no case feeds. Names go through name, so that a test can make them long.
type rig struct {
	job  *design.Job
	nt   *net.Net
	name func(string) string
	line int
}

func given[T ~float64](x T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true}
}

func pin(s string) design.PinRef { return design.PinRef{Pin: s} }

func (r *rig) span() diag.Span {
	r.line++
	return diag.SpanOf("tractor.loom", r.line, r.line+1)
}

func (r *rig) device(name, class string, pins string, fill func(d *design.Device)) {
	d := &design.Device{Name: r.name(name), Class: class, Common: design.Common{Span: r.span()}}
	for _, p := range strings.Fields(pins) {
		d.Pins = append(d.Pins, design.Pin{Name: p, Housing: -1, Stud: "M6"})
	}
	fill(d)
	r.job.Devices = append(r.job.Devices, d)
}

func (r *rig) load(name, class string, d design.Draw) {
	r.device(name, class, "1 2", func(x *design.Device) {
		d.From, d.To, d.Span = pin("1"), pin("2"), r.span()
		x.Draws = []design.Draw{d}
	})
}

// wire goes from pin to pin, so long, through a zone, in a run of its own unless it follows that of another wire.
func (r *rig) wire(circuit, from, to string, length unit.Length, zone, with string) {
	w := net.Wire{Circuit: r.name(circuit), Core: -1, Length: length, Span: r.span()}
	ends := [2]string{from, to}
	for k, e := range ends {
		dev, p, _ := strings.Cut(e, ".")
		w.Ends[k] = net.Termination{Kind: net.OnStud, Device: r.name(dev), Pin: p, Housing: -1, Node: -1, Status: design.Stated}
		ends[k] = r.name(dev) + "." + p
	}
	if a := stated[circuit]; a > 0 {
		w.Stated = unit.Metric(a)
	}
	w.From, w.To = ends[0], ends[1]
	w.Name = w.Circuit + " " + ends[0] + " - " + ends[1]
	edge := -1
	for i := range r.nt.Wires {
		if o := &r.nt.Wires[i]; with != "" && o.Circuit == r.name(with) {
			edge = o.Path[0].Edge
		}
	}
	if edge < 0 {
		edge = len(r.nt.Space.Edges)
		r.nt.Space.Edges = append(r.nt.Space.Edges, space.Edge{Run: "run " + circuit, Length: length, Zone: zone})
	}
	w.Path = []net.Step{{Edge: edge}}
	r.nt.Wires = append(r.nt.Wires, w)
	r.job.Circuits = append(r.job.Circuits, &design.Circuit{Name: w.Circuit, Common: design.Common{Span: w.Span}})
}

func (r *rig) set(name, value string, scope map[string]string) {
	q, err := unit.Parse(value)
	if err != nil {
		panic(err)
	}
	r.job.Settings.Lines = append(r.job.Settings.Lines, design.Setting{Name: name, Value: design.SettingValue{Quantity: q}, Scope: scope, Common: design.Common{Span: r.span()}})
}

// stated sizes keep the figures of the book from moving with the choice of sizes.
var stated = map[string]unit.Area{"battery-plus": 50, "battery-minus": 50, "starter-back": 50, "charge": 16, "charge-back": 16, "hub-feed": 25, "relay-feed": 1.5, "fan-feed": 2.5, "fan-back": 2.5,
	"ecu-feed": 1, "ecu-back": 1, "lamp-left-feed": 2.5, "lamp-left-back": 2.5, "lamp-right-feed": 4, "lamp-right-back": 1.5}

// IEC 60228:2004 class 5, plain, at 20 C, ohm/km.
var class5 = map[unit.Area]float64{0.5: 39, 0.75: 26, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.3, 10: 1.91, 16: 1.21, 25: 0.78, 35: 0.554, 50: 0.386, 70: 0.272, 95: 0.206}

func wires() *design.Wire {
	w := &design.Wire{Part: design.Part{Name: "thin-wall"}, Heat: 125}
	for _, a := range []unit.Area{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95} {
		s, source := unit.Metric(a), "IEC 60228:2004 class 5, plain"
		if a == 4 {
			source = "typical"
		}
		w.Sizes = append(w.Sizes, design.WireSize{Size: s, Resistance: unit.LinearResistance(class5[a] / 1000), Outside: unit.Length(1.1*float64(s.Diameter()) + 0.7), Source: source})
	}
	return w
}

// tractor is the whole job, compiled as far as this book reads it.
func tractor(name func(string) string) export.Input {
	r := &rig{job: &design.Job{Title: name("Heron hill tractor") + " (invented)", Revision: "C", Date: "2026-02-11", Datum: "front axle centre at ground",
		Zones: []*design.Zone{{Name: name("cab"), Air: 40, HasAir: true}, {Name: name("bay"), Air: 85, HasAir: true}}, Parts: design.Parts{Wires: []*design.Wire{wires()}}},
		nt: &net.Net{Space: &space.Geometry{}}, name: name}
	supply := func(name string, volts unit.Voltage, inside unit.Resistance, most unit.Current) {
		r.device(name, "", "pos neg", func(d *design.Device) {
			s := design.Supply{Volts: given(volts), Inside: given(inside), From: pin("pos"), To: pin("neg"), Span: r.span()}
			if most > 0 {
				s.Most = given(most)
			}
			d.Supplies = []design.Supply{s}
		})
	}
	supply("battery", 12.6, 0.005, 0)
	supply("alternator", 14.4, 0.01, 90)
	r.device("frame", "", "e", func(*design.Device) {})
	r.device("hub", "", "p", func(*design.Device) {})
	r.load("starter", "engine", design.Draw{Amps: given[unit.Current](120), At: given[unit.Voltage](10), As: design.ConstantResistance, Start: given[unit.Current](350), StartFor: 0.3, Least: given[unit.Voltage](7)})
	r.load("lamp-left", "lamps", design.Draw{Watts: given[unit.Power](55), At: given[unit.Voltage](12), As: design.ConstantResistance})
	r.load("lamp-right", "lamps", design.Draw{Watts: given[unit.Power](55), At: given[unit.Voltage](12), As: design.ConstantResistance})
	r.load("ecu", "control", design.Draw{Amps: given[unit.Current](3), At: given[unit.Voltage](12), As: design.ConstantPower, Least: given[unit.Voltage](8)})
	r.load("fan", "engine", design.Draw{Amps: given[unit.Current](18), At: given[unit.Voltage](13.5), Start: given[unit.Current](40), StartFor: 0.5, On: 60, Off: 60})
	r.load("heater", "comfort", design.Draw{Amps: given[unit.Current](8), At: given[unit.Voltage](12)})
	r.device("relay", "control", "30 87 85 86", func(d *design.Device) {
		d.States = []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}, Span: r.span()}}
		d.Coils = []design.Coil{{Draw: design.Draw{Ohms: given[unit.Resistance](80), At: given[unit.Voltage](12), From: pin("85"), To: pin("86"), Span: r.span()}, Moves: design.StateRef{State: "on"}, PullIn: given[unit.Voltage](7.2)}}
	})
	r.wire("battery-plus", "battery.pos", "starter.1", 4200, name("bay"), "")
	r.wire("battery-minus", "battery.neg", "frame.e", 900, name("bay"), "")
	r.wire("starter-back", "starter.2", "frame.e", 1500, name("bay"), "")
	r.wire("charge", "alternator.pos", "starter.1", 800, name("bay"), "")
	r.wire("charge-back", "alternator.neg", "frame.e", 700, name("bay"), "")
	r.wire("hub-feed", "starter.1", "hub.p", 2600, name("cab"), "")
	for _, l := range []string{"lamp-left", "lamp-right", "ecu", "fan"} {
		from := "hub.p"
		if l == "fan" {
			from = "relay.87"
		}
		r.wire(l+"-feed", from, l+".1", 3100, name("cab"), "lamp-left-feed")
		r.wire(l+"-back", l+".2", "frame.e", 1900, name("cab"), "lamp-left-back")
	}
	r.wire("relay-feed", "hub.p", "relay.30", 500, name("cab"), "")
	r.wire("coil-feed", "hub.p", "relay.85", 500, name("cab"), "relay-feed")
	r.wire("coil-back", "relay.86", "frame.e", 1800, name("cab"), "")
	r.wire("heater-back", "heater.2", "frame.e", 1800, name("cab"), "coil-back")
	r.set("drop", "3 %", map[string]string{"class": "lamps"})
	r.set("drop", "20 %", nil)
	r.set("drop-of", "12 V", nil)
	r.set("least-start-volts", "8 V", map[string]string{"device": name("ecu")})
	r.set("clip-span", "400 mm", map[string]string{"zone": name("bay"), "case": name("working")})
	for _, d := range r.job.Devices {
		for _, p := range d.Pins {
			u := net.Use{Device: d.Name, Pin: p.Name}
			for i := range r.nt.Wires {
				for _, e := range r.nt.Wires[i].Ends {
					if e.Device == d.Name && e.Pin == p.Name {
						u.Wires = append(u.Wires, i)
					}
				}
			}
			if len(u.Wires) > 0 {
				r.nt.Uses = append(r.nt.Uses, u)
			}
		}
	}
	live := func(name string) design.CaseSupply { return design.CaseSupply{Device: r.name(name)} }
	r.job.Cases = []*design.Case{
		{Name: name("cranking"), Supplies: []design.CaseSupply{live("battery")}, Off: []string{name("fan")}, Common: design.Common{Span: r.span()}},
		{Name: name("working"), Supplies: []design.CaseSupply{live("alternator"), live("battery")}, Off: []string{name("starter")}, Common: design.Common{Span: r.span()}},
	}
	r.job.Accepts = []*design.Accept{{Key: "drop-over", Subject: diag.Subject{Kind: "device", Name: name("lamp-right")}, Value: unit.Quantity{Value: 5, Dim: unit.DimVoltage}, HasValue: true, Reason: "replaced by a lamp of 20 W at revision D", By: "checker 2", Until: "D",
		Common: design.Common{Span: r.span()}}}
	l := fit.Loop(r.job, func(net.Hints) *net.Net { return r.nt })
	res := &harness.Result{Job: r.job, Space: r.nt.Space, Net: l.Net, Sizes: l.Sizes, Cases: l.Cases, Heat: l.Heat, Fixed: &fix.Plan{}, Bundles: &bundle.Bundles{}, Route: &route.Result{}, Shell: &shell.Shell{}, Plan: &bench.Plan{}, Joints: &joint.Places{}, Mate: &mate.Result{}}
	res.Findings = rule.Run(res.Model())
	messages := append(diag.List{{Code: "include-unused", Severity: diag.Note, Title: "nothing of spare.loom is used", Span: diag.SpanOf("tractor.loom", 1, 2)}}, res.Findings...)
	messages.Sort()
	return export.Input{Result: res, Messages: messages, Digest: "3f9ac201d4e7", Locate: func(s diag.Span) string {
		if s.IsZero() {
			return ""
		}
		return fmt.Sprintf("%s:%d:1", s.File, s.Start)
	}}
}

func same(s string) string { return s }
