package fit

import (
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// shop is a small job with a net made by hand: every wire has a way of its own through the zone it names, unless told to share one.
type shop struct {
	job *design.Job
	nt  *net.Net
}

var areas = []unit.Area{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120}

// IEC 60228 class 5, plain, at 20 C, ohm/km.
var class5 = []float64{39, 26, 19.5, 13.3, 7.98, 4.95, 3.3, 1.91, 1.21, 0.78, 0.554, 0.386, 0.272, 0.206, 0.161}

func family(name string, heat unit.Temperature) *design.Wire {
	w := &design.Wire{Part: design.Part{Name: name}, Heat: heat}
	for i, a := range areas {
		s := unit.Metric(a)
		w.Sizes = append(w.Sizes, design.WireSize{Size: s, Resistance: unit.LinearResistance(class5[i] / 1000), Outside: unit.Length(1.1*float64(s.Diameter()) + 0.7),
			Source: "IEC 60228:2004 class 5, plain"})
	}
	return w
}

func newShop() *shop {
	return &shop{job: &design.Job{
		Zones: []*design.Zone{{Name: "cabin", Air: 40, HasAir: true}, {Name: "bay", Air: 85, HasAir: true}},
		Parts: design.Parts{Wires: []*design.Wire{family("thin-wall", 125)}},
		Cases: []*design.Case{{Name: "key-on", Supplies: []design.CaseSupply{{Device: "battery"}}}},
		Devices: []*design.Device{{Name: "battery", Pins: []design.Pin{{Name: "pos", Housing: -1, Stud: "M8"}, {Name: "neg", Housing: -1, Stud: "M8"}},
			Supplies: []design.Supply{{Volts: fact[unit.Voltage](12.6), Inside: fact[unit.Resistance](0.005), From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}}}},
	}, nt: &net.Net{Space: &space.Geometry{}}}
}

func fact[T ~float64](x T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true}
}

// load adds a device with pins 1 and 2 and a draw of constant current at 12 V.
func (s *shop) load(name string, amps unit.Current) *design.Draw {
	d := &design.Device{Name: name, Pins: []design.Pin{{Name: "1", Housing: -1, Stud: "M5"}, {Name: "2", Housing: -1, Stud: "M5"}},
		Draws: []design.Draw{{Amps: fact(amps), At: fact[unit.Voltage](12), From: design.PinRef{Pin: "1"}, To: design.PinRef{Pin: "2"}}}}
	s.job.Devices = append(s.job.Devices, d)
	return &d.Draws[0]
}

// joint adds a device that is only a stud.
func (s *shop) joint(name string) {
	s.job.Devices = append(s.job.Devices, &design.Device{Name: name, Pins: []design.Pin{{Name: "s", Housing: -1, Stud: "M6"}}})
}

// wire adds a wire from pin to pin, so long, in a zone. Its circuit is its name.
func (s *shop) wire(name, from, to string, length unit.Length, zone string) *net.Wire {
	w := net.Wire{Name: name, Circuit: name, Core: -1, Length: length}
	for k, e := range []string{from, to} {
		dev, pin, _ := strings.Cut(e, ".")
		w.Ends[k] = net.Termination{Kind: net.OnStud, Device: dev, Pin: pin, Housing: -1, Node: -1, Status: design.Stated}
	}
	s.nt.Space.Edges = append(s.nt.Space.Edges, space.Edge{Run: "run " + name, Length: length, Zone: zone})
	w.Path = []net.Step{{Edge: len(s.nt.Space.Edges) - 1}}
	s.nt.Wires = append(s.nt.Wires, w)
	return &s.nt.Wires[len(s.nt.Wires)-1]
}

// together lays all wires into the way of the first.
func (s *shop) together() {
	for i := range s.nt.Wires {
		s.nt.Wires[i].Path = s.nt.Wires[0].Path
	}
}

func (s *shop) set(name, value string, scope map[string]string) {
	v := design.SettingValue{Name: value}
	if design.FindSetting(name).Kind == design.SetQuantity {
		q, err := unit.Parse(value)
		if err != nil {
			panic(err)
		}
		v = design.SettingValue{Quantity: q}
	}
	s.job.Settings.Lines = append(s.job.Settings.Lines, design.Setting{Name: name, Value: v, Scope: scope})
}

func (s *shop) loop() *Outcome { return Loop(s.job, func(net.Hints) *net.Net { return s.nt }) }

// sizes prints what was chosen and why, by wire.
func sizes(o *Outcome) string {
	var out []string
	for i := range o.Net.Wires {
		c := &o.Sizes[i]
		out = append(out, fmt.Sprintf("%s %v by %s", o.Net.Wires[i].Name, c.Size, c.Why))
	}
	return strings.Join(out, "; ")
}

func at(a unit.Area) size.Conductor { return size.Conductor{Size: unit.Metric(a)} }
