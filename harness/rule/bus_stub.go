package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var busStub = &Rule{
	Key: "bus-stub-long", Title: "a stub of a data bus is too long", Severity: diag.Finding,
	Why:     "A long stub reflects the signal; the bus fails when it is warm and far from home.",
	Formula: "length of each branch from a splice of the bus that is not on the way between its two ends <= bus-stub",
	Source:  "published figures run from 0.3 to 1.5 m; the setting `bus-stub`",
	Do:      "Move the splice nearer to the unit, or lead the bus through it.",
	Fires:   busJob,
	Silent:  with(busJob, "splice s-h, s-l at hub section body", "splice s-h along tail after 340 mm section body\nsplice s-l along tail after 380 mm section body"),
	Check: func(m *Model, out *diag.List) {
		for _, c := range m.Job.Cables {
			if c.As != "bus" {
				continue
			}
			for _, name := range c.Holds {
				stubs(m, c, name, out)
			}
		}
	},
}

// stubs tells the branches of one circuit of a bus that are too long. The trunk is the longest way between two of its pins.
func stubs(m *Model, c *design.Cable, circuit string, out *diag.List) {
	type arm struct {
		to     string
		length unit.Length
		wire   *net.Wire
	}
	at := map[string][]arm{}
	var ends []string
	for i := range m.Net.Wires {
		w := &m.Net.Wires[i]
		if w.Circuit != circuit || w.Kind != net.Plain {
			continue
		}
		at[w.From] = append(at[w.From], arm{w.To, w.Length, w})
		at[w.To] = append(at[w.To], arm{w.From, w.Length, w})
		for e, name := range [2]string{w.From, w.To} {
			if k := w.Ends[e].Kind; k == net.InCavity || k == net.OnStud {
				ends = append(ends, name)
			}
		}
	}
	var walk func(from, node string, length unit.Length, way []*net.Wire, visit func(string, unit.Length, []*net.Wire))
	walk = func(from, node string, length unit.Length, way []*net.Wire, visit func(string, unit.Length, []*net.Wire)) {
		visit(node, length, way)
		for _, a := range at[node] {
			if a.to != from && len(way) < 200 {
				walk(node, a.to, length+a.length, append(way[:len(way):len(way)], a.wire), visit)
			}
		}
	}
	trunk, most := map[*net.Wire]bool{}, unit.Length(-1)
	for _, e := range ends {
		walk("", e, 0, nil, func(node string, length unit.Length, way []*net.Wire) {
			if length > most {
				most, trunk = length, map[*net.Wire]bool{}
				for _, w := range way {
					trunk[w] = true
				}
			}
		})
	}
	for _, e := range ends {
		var stub unit.Length
		var span diag.Span
		done := false
		walk("", e, 0, nil, func(node string, length unit.Length, way []*net.Wire) {
			if done || len(way) == 0 || trunk[way[len(way)-1]] {
				done = done || len(way) > 0
				return
			}
			stub, span = length, way[0].Span
		})
		r := m.Job.Settings.Get("bus-stub", design.Scope{Circuit: circuit, Class: "signal"})
		if limit := unit.Length(r.Value.Quantity.Value); stub > limit {
			out.Finding(span, "", fmt.Sprintf("bus %s: the stub of %s to %s is %s, at most %s", c.Name, circuit, e, stub, limit), "The limit is "+r.Source()+".", diag.Subject{Kind: "cable", Name: c.Name}).
				Measured(unit.Quantity{Value: float64(stub), Dim: unit.DimLength}, r.Value.Quantity, false)
		}
	}
}

const busJob = `harness "Example" revision B
section body
zone cabin air 40 C
point hub at (1000, 0, 0 mm)
run main from ecu to hub to logger section body zone cabin
run tail from hub to cluster section body zone cabin
device ecu at (0, 0, 0 mm) housing sealed-4 {
  pin plus, minus, bus-h, bus-l cavity [1..4]
  supply 5 V inside 1 ohm most 1 A from plus to minus
}
device logger at (2000, 0, 0 mm) housing sealed-4 {
  draw 100 mA from 1 to 2
}
device cluster at (1000, 500, 0 mm) housing sealed-2
splice s-h, s-l at hub section body
circuit live from ecu.plus to logger.1
circuit back from ecu.minus to logger.2
circuit bus-h class signal {
  from ecu.bus-h to s-h to logger.3
  from s-h to cluster.1
}
circuit bus-l class signal {
  from ecu.bus-l to s-l to logger.4
  from s-l to cluster.2
}
cable bus holds bus-h, bus-l as bus twist 30 mm
case on { supply ecu }
`
