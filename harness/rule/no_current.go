package rule

import (
	"math"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var noCurrent = &Rule{
	Key: "no-current", Title: "a circuit carries current in no case", Severity: diag.Finding,
	Why:     "A wire nobody ever loaded was sized for nothing: a case, a switch position or a return is missing, or the load.",
	Formula: "largest current of the circuit's wires over all cases > 0.1 mA, or `carries` is stated, or the class is signal; one that ends at a load that no case feeds is told of the load",
	Source:  "common practice",
	Do:      "Write a case in which it runs, state what it `carries`, or give it the class signal.",
	Fires:   with(smallJob, "housing sealed-2 {", "housing sealed-3 {") + "circuit spare from battery.pos to lamp.3\n",
	Silent:  with(smallJob, "housing sealed-2 {", "housing sealed-3 {") + "circuit spare from battery.pos to lamp.3 carries 1 A\n",
	Check: func(m *Model, out *diag.List) {
		if len(m.Cases) == 0 {
			return
		}
		dark, _ := unfed(m)
		told := map[string]bool{} // pins of loads that are told as fed in no case
		for _, l := range dark {
			told[pinName(l.Device, l.From)], told[pinName(l.Device, l.To)] = true, true
		}
		of := map[string][]int{} // wires by circuit
		for i := range m.Net.Wires {
			if w := &m.Net.Wires[i]; w.Kind == net.Plain {
				of[w.Circuit] = append(of[w.Circuit], i)
			}
		}
		for _, c := range m.Job.Circuits {
			found, most := false, 0.0
			for _, i := range of[c.Name] {
				w := &m.Net.Wires[i]
				found = true
				if w.Carries > 0 || w.Class == "signal" {
					most = 1
				}
				for _, e := range w.Ends {
					if told[pinName(e.Device, e.Pin)] {
						most = 1
					}
				}
				for _, k := range m.Cases {
					if i < len(k.WireAmps) {
						most = math.Max(most, math.Abs(float64(k.WireAmps[i])))
					}
				}
			}
			if found && most < 1e-4 {
				out.Finding(c.Span, "", "circuit "+c.Name+" carries current in no case", "Its wires have the least size; nothing says that it is enough.", diag.Subject{Kind: "circuit", Name: c.Name})
			}
		}
	},
}

// pinName is a pin in full; one that is written with its device stays as it is.
func pinName(device, pin string) string {
	if strings.Contains(pin, ".") {
		return pin
	}
	return device + "." + pin
}
