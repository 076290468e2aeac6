package rule

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/reading"
	"loomsheet/harness/solve"
)

var earthShared = &Rule{
	Key: "earth-shared", Title: "a sensor's return shares metal with a load's", Severity: diag.Finding,
	Why:     "What comes back over the same wire, splice or stud lifts the sensor's reference: little today, more when the joint ages.",
	Formula: "no wire, splice, stud or cavity between a sensor's reference and the pin that its reader measures against lies on the way back of a load that is neither a sensor nor of class signal; where the reading is off by more than its limit `reading-off` says so instead",
	Source:  "common practice; AC 43.13-1B 11-189: separate grounds for sensitive returns, from memory",
	Do:      "Take the sensor's return to its reader by a wire of its own.",
	Fires: with(readingJob, "circuit ref from sensor.2 to gauge.4 class signal\n", "", "draw 0.1 A from 1 to 2\n  joins 2, 4\n", "draw 0.1 A from 1 to 2\n  unused 4\n",
		"circuit back from battery.neg to lamp.2 size 0.5 mm2 colour black", "splice s-back at lamp section body\ncircuit back size 16 mm2 colour black {\n  from battery.neg to s-back\n  from s-back to lamp.2, sensor.2 size 1 mm2\n}"),
	Silent: readingJob,
	Check: func(m *Model, out *diag.List) {
		for i := range m.Readings {
			e := &m.Readings[i]
			if !e.Met {
				continue
			}
			loads, where := m.sharers(e)
			if len(loads) == 0 {
				continue
			}
			out.Finding(own(m, e.Device, e.Span), "", fmt.Sprintf("the return of %s shares %s with %s", e.Device, few(where, 3), few(loads, 3)),
				fmt.Sprintf("Its reference %s.%s is %s off %s, within the limit of %s.", e.Device, e.To, e.Volts, e.At, e.Most), diag.Subject{Kind: "device", Name: e.Device})
		}
	},
}

// sharers are the loads whose current comes back over the way of a sensor's reference, and what they share.
func (m *Model) sharers(e *reading.Error) (loads, where []string) {
	way := map[string]string{}
	for _, p := range e.Way {
		switch p.Kind {
		case solve.Wire, solve.Contact, solve.Lug, solve.SpliceJoint, solve.Post:
			way[p.Kind.String()+"\x00"+p.Name] = p.Kind.String() + " " + p.Name
		}
	}
	met := map[string]bool{}
	for _, c := range m.Cases {
		if c.Net == nil {
			continue
		}
		for k := range c.Loads {
			l := &c.Loads[k]
			if !l.Fed || l.Class == "signal" || l.Device == e.Device || isSensor(m.device(l.Device)) {
				continue
			}
			for _, s := range l.Return {
				x := &c.Net.Elements[s.Element]
				if text, ok := way[x.Kind.String()+"\x00"+x.Name]; ok {
					met[text] = true
					if !slices.Contains(loads, l.Device) {
						loads = append(loads, l.Device)
					}
				}
			}
		}
	}
	for _, p := range e.Way {
		if t := p.Kind.String() + " " + p.Name; met[t] && !slices.Contains(where, t) {
			where = append(where, t)
		}
	}
	slices.SortFunc(loads, design.Natural)
	return loads, where
}

func isSensor(d *design.Device) bool { return len(d.Reads) > 0 }

// few lists names, at most so many.
func few(names []string, most int) string {
	if n := len(names) - most; n > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n)
	}
	return strings.Join(names, ", ")
}
