package heat

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

func (d *deviations) altitude() {
	d.text(`
## Altitude: AC 43.13-1B figure 11-6, as quoted (20,000 ft verified, the others from memory)

What is left of the current at sea level, 200 C in 60 C air. The figure is one curve for all; by the balance thin air costs less, and least a
bundle, whose inside is the same at any height. So the balance is the more generous the higher: 3 to 5 % at 20,000 ft, 8 to 13 % at
60,000 ft. For work at such heights set ampacity to aircraft.
`)
	d.table("altitude", "quoted", "22 AWG alone", "", "20 AWG alone", "", "10 of 20 and 25 of 22 AWG", "")
	for _, p := range data.AircraftAltitude {
		want := float64(p.Factor)
		cells := []string{fmt.Sprintf("%.0f ft", float64(p.Altitude/foot)), num(want, 2)}
		for _, g := range []int{22, 20} {
			r, _, _ := data.AircraftResistance(unit.AWG(g))
			at := func(h unit.Length) float64 {
				return lone(r, aerospace[g], unit.AWG(g), h).ampacity(60, 200, []float64{0}, 0)
			}
			got := at(p.Altitude) / at(0)
			cells = append(cells, num(got, 2), off(got, want))
		}
		got := room(bundleOf(p.Altitude, 20, 10, 22, 25), 60, 200, fifth()) / room(bundleOf(0, 20, 10, 22, 25), 60, 200, fifth())
		d.row(append(cells, num(got, 2), off(got, want))...)
	}
}

// fifth is a fifth of the example's wires at their full current: 2 of 20 AWG, 5 of 22 AWG.
func fifth() []float64 {
	amps := make([]float64, 35)
	for i := range amps {
		if i < 2 {
			amps[i] = 8.8
		} else if i >= 30 {
			amps[i] = 6.6
		}
	}
	return amps
}

func (d *deviations) factors() {
	d.text(`
## Engine space and bundles: factors on one wire's current

All wires of a bundle carry the same. ABYC E-11 as makers print it (verified), 105 C boat cable in 30 C air; in an engine space the air is at 50 C.
APS manual page 67 (verified), 105 C in 50 C air. A factor of ABYC stands for a range of counts; the balance is asked at both ends. It is the more
cautious the more wires carry their full current at once, which the published factors do not seem to ask.
`)
	d.table("what", "published", "balance, 16 AWG", "", "balance, 4 AWG", "")
	gauges := []int{16, 4}
	line := func(what string, want float64, factor func(r, o, dia float64) float64) {
		cells := []string{what, num(want, 2)}
		for _, g := range gauges {
			r, _, _ := data.AWGResistance(unit.AWG(g))
			got := factor(1.04*float64(r), float64(boat[g]), float64(unit.AWG(g).Diameter()))
			cells = append(cells, num(got, 2), off(got, want))
		}
		d.row(cells...)
	}
	line("ABYC engine space", 0.85, func(r, o, dia float64) float64 { return alone(r, o, dia, 50, 105) / alone(r, o, dia, 30, 105) })
	for _, n := range []int{3, 4, 6, 7, 24, 25, 40} {
		f, _ := data.MarineBundleFactor(n)
		line(fmt.Sprintf("ABYC, %d wires", n), float64(f), func(r, o, dia float64) float64 { return full(n, r, o, dia, 30, 105) / alone(r, o, dia, 30, 105) })
	}
	for _, r := range records(d.t, "maker_wire_tables.csv") {
		n, err := strconv.Atoi(strings.TrimSuffix(r["conductor"], " conductors bundled"))
		if err != nil {
			continue
		}
		line(fmt.Sprintf("APS, %d wires", n), number64(r["value"])/100, func(r, o, dia float64) float64 { return full(n, r, o, dia, 50, 105) / alone(r, o, dia, 50, 105) })
	}
}

func (d *deviations) example() {
	d.text(`
## The worked bundle of AC 43.13-1B para 11-69, example 1 (from memory)

10 wires of 20 AWG and 25 of 22 AWG, 200 C, 60 C air, a fifth of the capacity used. The AC goes from free air by 0.52 for the bundle and 0.79 for
60,000 ft to 8.8 A and 6.6 A, and to 0.20 (25 x 6.6 + 10 x 8.8) = 50.6 A in all. It does not say how the fifth is spread; the balance is
asked for it in two ways: a fifth of the wires at their full current and the others idle, or one wire at its full current and every other at so
much that the sum is a fifth. The first heats more. Greatest resistance throughout.
`)
	d.table("figure", "AC", "a fifth of the wires full", "", "one full, the rest evenly", "")
	one := make([]float64, 35)
	for i := range one {
		one[i] = 6.6
		if i < 10 {
			one[i] = 8.8
		}
		if i > 0 {
			one[i] *= (50.6 - 8.8) / (253 - 8.8)
		}
	}
	free := 21.5
	r, _, _ := data.AircraftResistance(unit.AWG(20))
	mine := lone(r, aerospace[20], unit.AWG(20), 0).ampacity(60, 200, []float64{0}, 0)
	line := func(what string, digits int, want float64, of func(amps []float64) float64) {
		a, b := of(fifth()), of(one)
		d.row(what, num(want, digits), num(a, digits), off(a, want), num(b, digits), off(b, want))
	}
	line("factor for the bundle, from one wire in free air", 2, 0.52, func(amps []float64) float64 {
		return 8.8 * room(bundleOf(0, 20, 10, 22, 25), 60, 200, amps) / mine
	})
	line("20 AWG in the bundle at sea level, A", 1, free*0.52, func(amps []float64) float64 {
		return 8.8 * room(bundleOf(0, 20, 10, 22, 25), 60, 200, amps)
	})
	high := func(amps []float64) float64 { return room(bundleOf(60000*foot, 20, 10, 22, 25), 60, 200, amps) }
	line("20 AWG at 60,000 ft, A", 1, 8.8, func(amps []float64) float64 { return 8.8 * high(amps) })
	line("22 AWG at 60,000 ft, A", 1, 6.6, func(amps []float64) float64 { return 6.6 * high(amps) })
	line("all together at 60,000 ft, A", 1, 50.6, func(amps []float64) float64 { return 50.6 * high(amps) })
}

func (d *deviations) aircraft() {
	d.text(`
## Bundles: AC 43.13-1B Table 11-9 (verified)

70 C air, 60,000 ft, 33 wires (9 from 8 AWG on), a fifth of the capacity used: read as 7 of 33, or 2 of 9, at the printed current. About
half of what the balance allows beyond the table for the small sizes is its milder view of altitude (above). The default margin of 10 K takes
about 15 % off the balance of the 105 C column, where the table itself leaves 35 K. For 000 and 0000 AWG the table prints resistances rounded to one digit.
`)
	d.table("size", "105 C", "balance", "", "150 C", "balance", "", "200 C", "balance", "")
	for _, row := range data.Aircraft {
		g := row.Size.Gauge
		cells := []string{row.Size.String()}
		for _, c := range []struct{ limit, amps float64 }{{105, float64(row.At105C)}, {150, float64(row.At150C)}, {200, float64(row.At200C)}} {
			got := c.amps * tableRoom(g, c.limit, c.amps)
			cells = append(cells, num(c.amps, 1)+" A", num(got, 1)+" A", off(got, c.amps))
		}
		d.row(cells...)
	}
}

// tableRoom is how many times its printed current a size of Table 11-9 carries under the table's conditions.
func tableRoom(g int, limit, amps float64) float64 {
	n, loaded := 33, 7
	if g <= 8 {
		n, loaded = 9, 2
	}
	each := make([]float64, n)
	for i := range loaded {
		each[i] = amps
	}
	return room(bundleOf(60000*foot, g, n), 70, limit, each)
}

func (d *deviations) short() {
	d.text(`
## Shorts: k of IEC 60364-5-54 (verified), Onderdonk (from memory)

How long the current lasts that k allows for 1 s and for 5 s (the standard's bound) on one idle wire of 2.5 mm2 and one of 25 mm2 in air at
the initial temperature, all heat of the insulation left out. A longer time is heat that leaves; the copper is the standard's, 0.017241 ohm mm2/m.
`)
	d.table("insulation", "from, to", "k", "2.5 mm2, 1 s", "2.5 mm2, 5 s", "25 mm2, 1 s", "25 mm2, 5 s")
	for _, r := range records(d.t, "adiabatic_k.csv") {
		if r["conductor"] != "copper" {
			continue
		}
		from, to, k := number64(r["initial_c"]), number64(r["final_c"]), number64(r["k_printed"])
		cells := []string{r["insulation"], fmt.Sprintf("%g C, %g C", from, to), num(k, 0)}
		for _, area := range []float64{2.5, 25} {
			b := newBench(unit.Area(area))
			b.job.Zones[0].Air, b.job.Zones[1].Air = -20, unit.Temperature(from)
			b.conds[0].Resistance = unit.LinearResistance(1.7241e-2 / area)
			th := b.thermal()
			for _, sec := range []float64{1, 5} {
				if s, ok := th.Lasts(0, unit.Current(k*area/math.Sqrt(sec)), unit.Temperature(to)); ok {
					cells = append(cells, num(float64(s), 2)+" s")
				} else {
					cells = append(cells, "never")
				}
			}
		}
		d.row(cells...)
	}
	d.text("\n16 AWG (2581 circular mils) at 168.9 A from 25 C, without any loss: " + num(onderdonk(), 2) + " s until copper melts; Onderdonk's formula gives 5 s.")
}

func onderdonk() float64 {
	area := float64(data.CircularMils(2581).Area())
	w := warming{t0: 25, temps: []float64{25, 1083}, sq: []float64{0, 0}, rate: 1.7241e-2 / area * slope / (3.45 * area)}
	return w.lasts(168.9*168.9, 1083, math.Inf(1))
}

func (d *deviations) assumptions() {
	d.text(`
## What each assumption is worth

On the current of 20 AWG alone (200 C in 60 C air), and of the worked bundle at sea level with a fifth of its wires full.
`)
	d.table("instead of", "alone", "bundle")
	type set struct{ diameter, eps, kBundle, kIns, pack, ohm float64 }
	base := set{1, 0.9, 0.15, 0.2, 1.2, 1}
	ask := func(s set) (float64, float64) {
		var wires []strand
		sum := 0.0
		for i := range 35 {
			g := 22
			if i < 10 {
				g = 20
			}
			r, _, _ := data.AircraftResistance(unit.AWG(g))
			o := float64(aerospace[g]) * s.diameter
			wires = append(wires, strand{float64(r) * s.ohm, o / 2000, float64(unit.AWG(g).Diameter()) / 2000})
			sum += o * o
		}
		one := newBundle(wires[:1], 2*wires[0].outside, 0, s.kBundle, s.kIns, s.eps, pressureAt(0))
		all := newBundle(wires, s.pack*math.Sqrt(sum)/1000, 0, s.kBundle, s.kIns, s.eps, pressureAt(0))
		return one.ampacity(60, 200, []float64{0}, 0), room(all, 60, 200, fifth())
	}
	a0, b0 := ask(base)
	for _, c := range []struct {
		what string
		set  set
	}{
		{"emissivity 0.9: 0.8", set{1, 0.8, 0.15, 0.2, 1.2, 1}},
		{"emissivity 0.9: 0.95", set{1, 0.95, 0.15, 0.2, 1.2, 1}},
		{"insulation 0.2 W/mK: 0.16", set{1, 0.9, 0.15, 0.16, 1.2, 1}},
		{"insulation 0.2 W/mK: 0.25", set{1, 0.9, 0.15, 0.25, 1.2, 1}},
		{"bundle 0.15 W/mK: 0.1", set{1, 0.9, 0.1, 0.2, 1.2, 1}},
		{"bundle 0.15 W/mK: 0.25", set{1, 0.9, 0.25, 0.2, 1.2, 1}},
		{"bundle 1.2 sqrt(n) wide: 1.1", set{1, 0.9, 0.15, 0.2, 1.1, 1}},
		{"bundle 1.2 sqrt(n) wide: 1.3", set{1, 0.9, 0.15, 0.2, 1.3, 1}},
		{"outside of each wire: 10 % less", set{0.9, 0.9, 0.15, 0.2, 1.2, 1}},
		{"outside of each wire: 10 % more", set{1.1, 0.9, 0.15, 0.2, 1.2, 1}},
		{"greatest resistance: 8 % less, as measured wire has", set{1, 0.9, 0.15, 0.2, 1.2, 0.92}},
	} {
		a, b := ask(c.set)
		d.row(c.what, fmt.Sprintf("%+.1f %%", 100*(a/a0-1)), fmt.Sprintf("%+.1f %%", 100*(b/b0-1)))
	}
	d.text(`
## What the balance does not know

- Moving air, sun, a hot wall beside the bundle: the air stated for a zone must cover them. Walls are taken to be as warm as the air.
- Bundles laid on a panel or into a duct shed less than one that hangs free.
- How wires really touch: each is taken to lie in the middle of its bundle, wires through which no current goes cool nothing, and the conductivity
  of a bundle is one number from memory, worth some 8 % on the current of a full bundle.
- Heat that a hot terminal, contact or lug leads into a wire, or a cold stud leads out of it.
- The mass of the insulation and of the bundle, when a wire warms in a fault or a start: left out, so that it is never cooler than told.`)
}
