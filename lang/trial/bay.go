package trial

import (
	"fmt"
	"strings"
)

// spot is where a device stands and where its branch leaves the bay's trunk.
type spot struct{ root, at string }

// bay writes a section that plugs into the spine: feed, fuse box, controller, loads, switches, sensors.
func (w *writer) bay(c string, x, b int) {
	s := fmt.Sprintf("%s-b%d", c, b)
	hub, side := hub(x, b)
	at := func(dx, y int) string { return fmt.Sprintf("(%d, %d, 12 mm)", hub+dx, side*y) }
	loads, sensors, switches := w.between(10, 12), w.between(6, 8), w.between(2, 4)
	devices := loads + sensors + switches + 1

	w.line("# bay %s", s)
	w.line("section %s", s)
	for _, p := range []struct {
		name, as string
		dx       int
	}{{"p", "housing trial-power-2 key N", -60}, {"d", "housing rect-34 class signal", 60}} {
		w.line("break %s-%s at %s %s {", s, p.name, at(p.dx, 170), p.as)
		w.line("  half %s-spine contacts sockets mount free", c)
		w.line("  half %s contacts pins mount free", s)
		w.line("}")
	}
	w.line("point %s-h at (%d, 0, 12 mm)", s, hub)
	last := c + "-h0"
	if b > 1 {
		last = fmt.Sprintf("%s-b%d-h", c, b-1)
	}
	w.line("run %s-s from %s to %s-h section %s-spine zone cabin panel %s-floor", s, last, s, c, c)
	w.line("run %s-t from %s-h to %s-p, %s-d section %s-spine zone cabin", s, s, s, s, c)
	w.line("run %s-u from %s-k1 to %s-p, %s-d section %s zone cabin", s, s, s, s, s)
	spots := w.trunk(s, c, at, devices)
	w.line("run %s-e section %s zone cabin panel %s-floor {", s, s, c)
	w.line("  from %s-k2 to %s-box, %s-ctl", s, s, s)
	w.line("  from %s-k1 to %s-shell.bay%d, %s-shell.lamps%d", s, c, b, c, b)
	w.line("}")

	amps := w.box(s, at(170, 420), loads, switches)
	w.units = append(w.units, unit{s, at(-170, 420), sensors, w.between(3, 6), 0.2 + 0.1*float64(w.between(0, 6))})
	w.line("circuit %s-feed from %s-main.bay%d via %s-p to %s-box.in colour red", s, c, b, s, s)
	w.line("circuit %s-ctl-feed from %s-box.ctl to %s-ctl.plus colour red/yellow", s, s, s)
	w.line("circuit %s-ctl-earth from %s-ctl.earth to %s-shell.bay%d colour black", s, s, c, b)
	w.line("circuit %s-box-earth from %s-box.earth to %s-shell.bay%d colour black", s, s, c, b)
	w.loads(s, c, b, spots, amps)
	w.switches(s, c, spots[loads:], switches)
	w.sensors(s, c, spots[loads+switches+1:], sensors)
}

// trunk is the middle of the bay, with a point for each two devices; their places, in an order that the seed decides.
func (w *writer) trunk(s, c string, at func(dx, y int) string, devices int) []spot {
	w.line("point %s-k1 at %s", s, at(0, 300))
	w.line("point %s-k2 at %s", s, at(0, 420))
	way := fmt.Sprintf("%s-k1 to %s-k2", s, s)
	var row []spot
	for i := range (devices + 1) / 2 {
		y := 520 + rowLong*i
		k := fmt.Sprintf("%s-k%d", s, i+3)
		w.line("point %s at %s", k, at(0, y))
		way += " to " + k
		row = append(row, spot{k, at(w.between(150, 430), y)}, spot{k, at(-w.between(150, 430), y)})
	}
	w.line("run %s-m from %s section %s zone cabin panel %s-floor", s, way, s, c)
	all := make([]spot, devices)
	for to, from := range w.rnd.Perm(devices) {
		all[to] = row[from]
	}
	return all
}

// box has a fuse for each load; the last two loads are on a relay that a switch calls.
func (w *writer) box(s, at string, loads, switches int) (amps []float64) {
	w.line("device %s-box at %s zone cabin {", s, at)
	w.line("  housing box-40 as a")
	w.line("  pin in stud M8")
	w.line("  pin o[1..%d] cavity a.[1..%d]", loads, loads)
	w.line("  pin calls, call, earth, ctl cavity a.[%d..%d]", loads+1, loads+4)
	w.line("  pin sw[1..%d] cavity a.[%d..%d]", switches, loads+5, loads+4+switches)
	if n := loads + 5 + switches; n <= 22 {
		w.line("  unused a.[%d..22]", n)
	}
	w.line("  inner bus")
	w.line("  state heat.on joins in, bus resistance 2 mohm rating 40 A")
	w.line("  coil 85 ohm from call to earth moves heat.on pull-in 8 V drop-out 3 V")
	w.line("  fuse blade-3 from in to calls, ctl")
	w.line("  draw 40 mA from sw[1..%d] to earth", switches)
	for i := range loads {
		load := []struct {
			amps float64
			fuse string
		}{{0.3, "blade-2"}, {0.42, "blade-2"}, {0.6, "blade-2"}, {1.2, "blade-3"}, {1.75, "blade-5"}, {2.1, "blade-5"}, {2.8, "blade-7-5"}}[w.rnd.IntN(7)]
		from := "in"
		if i >= loads-2 {
			from = "bus"
		}
		w.line("  fuse %s from %s to o%d", load.fuse, from, i+1)
		amps = append(amps, load.amps)
	}
	w.line("}")
	return amps
}

// loads are earthed four to a splice.
func (w *writer) loads(s, c string, b int, spots []spot, amps []float64) {
	earths := make([][]string, (len(amps)+3)/4)
	for i, a := range amps {
		d := fmt.Sprintf("%s-l%d", s, i+1)
		how, start := w.pick("", " at 13.5 V as resistance", " at 13.5 V as power"), ""
		if w.rnd.IntN(4) == 0 {
			start = fmt.Sprintf(" start %.1f A for 0.1 s", a*4)
		}
		w.line("device %s at %s like lamp { draw %.2f A%s from 1 to 2%s }", d, spots[i].at, a, how, start)
		w.branch(d, s, c, spots[i])
		w.line("circuit %s from %s-box.o%d to %s.1 class lamps colour %s", d, s, i+1, d, w.pick("yellow", "white", "grey", "green"))
		earths[i/4] = append(earths[i/4], d+".2")
	}
	for g, e := range earths {
		w.line("splice %s-se%d section %s", s, g+1, s)
		w.line("circuit %s-earth%d colour black {", s, g+1)
		w.line("  from %s to %s-se%d", strings.Join(e, ", "), s, g+1)
		w.line("  from %s-se%d to %s-shell.lamps%d", s, g+1, c, b)
		w.line("}")
	}
}

func (w *writer) branch(device, s, c string, p spot) {
	w.line("run %s-r from %s to %s section %s zone cabin panel %s-floor", device, p.root, device, s, c)
}

// switches carry the box's signals; one more calls the relay.
func (w *writer) switches(s, c string, spots []spot, n int) {
	one := func(d, to string, p spot) {
		w.line("device %s at %s housing plain-2 { state on joins 1, 2 resistance 5 mohm }", d, p.at)
		w.branch(d, s, c, p)
		w.line("circuit %s-out from %s.2 to %s-box.%s colour violet", d, d, s, to)
	}
	for i := range n {
		d := fmt.Sprintf("%s-sw%d", s, i+1)
		one(d, fmt.Sprintf("sw%d", i+1), spots[i])
		if w.rnd.IntN(2) == 0 {
			w.day = append(w.day, d)
		} else {
			w.night = append(w.night, d)
		}
	}
	one(s+"-heat", "call", spots[n])
	w.night = append(w.night, s+"-heat")
	w.line("splice %s-calls section %s", s, s)
	w.line("circuit %s-calls colour violet/red {", s)
	w.line("  from %s-box.calls to %s-calls", s, s)
	w.line("  from %s-calls to %s-sw[1..%d].1, %s-heat.1", s, s, n, s)
	w.line("}")
}
