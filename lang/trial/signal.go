package trial

import "fmt"

// unit is a controller and what its bay has for it.
type unit struct {
	bay, at        string
	sensors, calls int
	amps           float64
}

// controllers read the sensors, feed them 5 V, and talk with the next in the row: a twisted pair from plug to plug, and single wires.
func (w *writer) controllers() {
	for i, u := range w.units {
		s := u.bay
		w.line("device %s-ctl at %s housing sealed-34 class signal {", s, u.at)
		w.line("  pin plus, earth, v5, e5 cavity [1..4]")
		w.line("  pin in[1..%d] cavity [5..%d]", u.sensors, 4+u.sensors)
		n := 4 + u.sensors
		w.line("  supply 5 V inside 0.5 ohm most 0.3 A from v5 to e5")
		w.line("  joins e5, earth resistance 5 mohm")
		w.line("  draw %.1f A from plus to earth", u.amps)
		neighbour := func(to unit, bus, call string) {
			calls := min(u.calls, to.calls)
			w.line("  pin %s-[h, l] cavity [%d, %d]", bus, n+1, n+2)
			w.line("  pin %s[1..%d] cavity [%d..%d]", call, calls, n+3, n+2+calls)
			w.line("  draw 120 ohm from %s-h to %s-l", bus, bus)
			n += 2 + calls
		}
		if i > 0 {
			neighbour(w.units[i-1], "bus", "call")
		}
		if i < len(w.units)-1 {
			neighbour(w.units[i+1], "next", "back")
		}
		w.line("  unused [%d..34]", n+1)
		w.line("}")
		if i > 0 {
			w.data(w.units[i-1], u)
		}
	}
}

func (w *writer) data(from, to unit) {
	s, calls := to.bay, min(from.calls, to.calls)
	w.line("circuit %s-bus-[h, l] from %s-ctl.next-[h, l] to %s-ctl.bus-[h, l] class signal", s, from.bay, s)
	w.line("cable %s-bus holds %s-bus-h, %s-bus-l as pair twist 30 mm", s, s, s)
	w.line("circuit %s-call[1..%d] from %s-ctl.back[1..%d] to %s-ctl.call[1..%d] class signal", s, calls, from.bay, calls, s, calls)
}

// sensors share the controller's 5 V and its return over a splice each.
func (w *writer) sensors(s, c string, spots []spot, n int) {
	for i := range n {
		d := fmt.Sprintf("%s-n%d", s, i+1)
		w.line("device %s at %s like sensor-3", d, spots[i].at)
		w.branch(d, s, c, spots[i])
		w.line("circuit %s from %s-ctl.in%d to %s.3 class signal colour green", d, s, i+1, d)
	}
	for i, pin := range []string{"v5", "e5"} {
		w.line("splice %s-s%s section %s", s, pin, s)
		w.line("circuit %s-%s class signal colour %s {", s, pin, []string{"orange", "brown"}[i])
		w.line("  from %s-ctl.%s to %s-s%s", s, pin, s, pin)
		w.line("  from %s-s%s to %s-n[1..%d].%d", s, pin, s, n, i+1)
		w.line("}")
	}
}
