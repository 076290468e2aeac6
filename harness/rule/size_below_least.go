package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

var sizeBelowLeast = &Rule{
	Key: "size-below-least", Title: "a size is below the least one", Severity: diag.Finding,
	Why:     "A thin wire breaks by handling and vibration before its current ever matters.",
	Formula: "area of the size >= size-least",
	Source:  "common practice; ISO 10133 for boats: 1 mm2",
	Do:      "Take a thicker wire, or set size-least for the circuit.",
	Fires:   with(smallJob, "to lamp.1 colour red", "to lamp.1 colour red size 0.75 mm2") + "set size-least to 1 mm2\n",
	Silent:  with(smallJob, "to lamp.1 colour red", "to lamp.1 colour red size 1 mm2") + "set size-least to 1 mm2\n",
	Check: func(m *Model, out *diag.List) {
		for i := range m.Net.Wires {
			w, c := &m.Net.Wires[i], &m.Sizes[i]
			if w.Kind != net.Plain || !c.Known || w.Cable != "" && c.Why == size.ByCable {
				continue
			}
			r := m.Job.Settings.Get("size-least", wireScope(w, ""))
			least, ok := r.Value.Quantity.Size()
			if !ok || c.Size.Area() >= least.Area()*0.999 {
				continue
			}
			detail := "The limit is " + r.Source() + "."
			if w.Stated.IsZero() {
				detail += " It is left to the program: size-most, or what its family has, ends below that."
			}
			out.Finding(w.Span, "", fmt.Sprintf("%s is %s, the least is %s", w.Name, c.Size, least), detail, wireSubject(w)).
				Measured(sizeQuantity(c.Size), unit.Quantity{Value: float64(least.Area()), Dim: unit.DimArea}, true)
		}
	},
}

func wireScope(w *net.Wire, zone string) design.Scope {
	return design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Zone: zone}
}
