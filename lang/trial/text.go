// Package trial writes realistic harnesses of any size from a seed: invented jobs by which the compiler is measured and tried. The same
// seed and size give the same text.
//
// A job is a row of cars with a battery each. Along each car lies a spine; off it plugs one bay after another, each a section of its own with a
// fuse box, a controller, loads, switches, sensors and splices. Bays differ by the seed in how many of each they have, in place, load and fuse.
package trial

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

const (
	baysOfCar = 10    // at most
	carLong   = 14500 // mm, buffer to buffer
	bayLong   = 1300  // mm
	rowLong   = 65    // mm between two branches of a bay
	bayWires  = 80    // about
)

// Text is the text of a job of about the given count of wires, at least some 90. It compiles without mistakes and meets the limits.
func Text(seed uint64, wires int) string {
	w := &writer{rnd: rand.New(rand.NewPCG(seed, uint64(wires)))}
	w.line(`harness "Trial of %d wires, seed %d (invented demo)" revision A datum "floor, left front"`, wires, seed)
	w.line("set drop-of to 13.5 V")
	w.line("set drop to 10 %%")
	w.line("zone cabin air 40 C")
	w.line("zone under air 55 C with wet")
	w.line(`housing trial-power-2 heat 125 C keys N, W, X source "invented" {`)
	w.line("  flange 44 mm, 44 mm behind 25 mm room 57 mm")
	w.line("  cavity [1, 2] takes size-8 at (0, 0 mm) step (11, 0 mm)")
	w.line("}")
	left := max(1, (wires+bayWires/2)/bayWires)
	for car := 1; left > 0; car++ {
		bays := min(left, baysOfCar)
		w.car(car, bays)
		left -= bays
	}
	w.controllers()
	w.cases()
	return w.text.String()
}

type writer struct {
	rnd      *rand.Rand
	text     strings.Builder
	units    []unit   // controllers in the order of the row
	supplies []string // of every car
	day      []string // switches that are on by day
	night    []string
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.text, format+"\n", args...) }

func (w *writer) between(low, high int) int { return low + w.rnd.IntN(high-low+1) }

func (w *writer) pick(of ...string) string { return of[w.rnd.IntN(len(of))] }

// car writes a battery, its isolator and fuses, the spine and the bays.
func (w *writer) car(n, bays int) {
	c := fmt.Sprintf("c%d", n)
	x := (n - 1) * carLong
	w.line("# ---- car %d", n)
	w.line("section %s-spine", c)
	w.line("panel %s-floor thickness 1.5 mm zone cabin, under {", c)
	w.line("  corners (%d, -1500, 0 mm), (%d, -1500, 0 mm), (%d, 1500, 0 mm), (%d, 1500, 0 mm)", x, x+carLong, x+carLong, x)
	w.line("}")
	w.line("device %s-battery at (%d, -600, 12 mm) {", c, x+350)
	w.line("  pin pos, neg stud M8")
	w.line("  supply 13.2 V inside 4 mohm stores 120 Ah from pos to neg")
	w.line("}")
	w.line("device %s-link at (%d, -600, 12 mm) zone cabin {", c, x+470)
	w.line("  pin in, out stud M8")
	w.line("  inner fused")
	w.line("  fuse link-250 from in to fused")
	w.line("  state on joins fused, out resistance 0.3 mohm")
	w.line("}")
	w.line("device %s-main at (%d, 300, 12 mm) zone cabin {", c, x+600)
	w.line("  pin in stud M8")
	w.line("  pin bay[1..%d] stud M6", bays)
	w.line("  fuse bolt-40 from in to bay[1..%d]", bays)
	w.line("}")
	w.line("device %s-shell at (%d, -300, 0 mm) {", c, x+600)
	w.line("  pin main at (%d, -900, 0 mm) stud M8 torque 12 Nm panel %s-floor", x+500, c)
	for b := 1; b <= bays; b++ {
		hub, side := hub(x, b)
		w.line("  pin bay%d at (%d, %d, 0 mm) stud M8 torque 12 Nm panel %s-floor", b, hub-300, side*300, c)
		w.line("  pin lamps%d at (%d, %d, 0 mm) stud M8 torque 12 Nm panel %s-floor", b, hub+300, side*300, c)
	}
	w.line("  joins main, bay[1..%d], lamps[1..%d] resistance 2 mohm", bays, bays)
	w.line("}")
	w.line("point %s-h0 at (%d, 0, 12 mm)", c, x+750)
	w.line("run %s-in section %s-spine zone cabin panel %s-floor {", c, c, c)
	w.line("  from %s-h0 to %s-main", c, c)
	w.line("  from %s-battery to %s-link", c, c)
	w.line("  from %s-link to (%d, -560, 12 mm) to %s-h0", c, x+700, c)
	w.line("  from %s-battery to (%d, -800, 12 mm) to %s-shell.main", c, x+420, c)
	w.line("}")
	w.line("circuit %s-battery from %s-battery.pos to %s-link.in colour red sleeve braid", c, c, c)
	w.line("circuit %s-plus from %s-link.out to %s-main.in colour red", c, c, c)
	w.line("circuit %s-minus from %s-battery.neg to %s-shell.main colour black", c, c, c)
	if n > 1 {
		before := fmt.Sprintf("c%d", n-1)
		w.line("break %s-couple at (%d, 0, 12 mm) housing round-24 class signal {", c, x)
		w.line("  half %s-spine contacts sockets mount free", before)
		w.line("  half %s-spine contacts pins mount free", c)
		w.line("}")
		w.line("run %s-aft from %s-b%d-h to %s-couple section %s-spine zone cabin panel %s-floor sleeve braid", before, before, baysOfCar, c, before, before)
		w.line("run %s-fore from %s-couple to %s-h0 section %s-spine zone cabin panel %s-floor sleeve braid", c, c, c, c, c)
	}
	w.day = append(w.day, c+"-link")
	w.supplies = append(w.supplies, c+"-battery")
	for b := 1; b <= bays; b++ {
		w.bay(c, x, b)
	}
}

// hub is where a bay leaves the spine, and to which side it lies.
func hub(x, b int) (hub, side int) { return x + 900 + bayLong*b - bayLong/2, 1 - 2*(b%2) }

// cases are three states of the whole row: at rest, by day, and by night with all that can be on.
func (w *writer) cases() {
	w.line("case rest { supply %s }", strings.Join(w.supplies, ", "))
	w.line("case day like rest { set %s to on }", strings.Join(w.day, ", "))
	w.line("case night like day { set %s to on }", strings.Join(w.night, ", "))
}
