package joint

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// density of copper, kg per mm2 of section and mm of length: 8.96 g/cm3, a handbook value.
const density = 8.96e-6

// weight is copper as a whole number of hundredths of 1 mm2, and cost such times whole micrometres, so that sums do not depend on their
// order. Both have bounds, so that none overflows.
type weight = int64

const (
	mostWeight = int64(1e6)  // 100 cm2
	mostWay    = int64(1e12) // 1000 km
	mostCost   = int64(1) << 60
)

func weightOf(a unit.Area) weight {
	x := math.Round(float64(a) * 100)
	if !(x > 1) {
		return 1
	}
	return int64(min(x, float64(mostWeight)))
}

func wayOf(l unit.Length) int64 {
	x := math.Round(float64(l) * 1000)
	if !(x > 0) {
		return 0
	}
	return int64(min(x, float64(mostWay)))
}

// plus adds costs up to a bound that is above any of them.
func plus(a, b int64) int64 { return min(a+b, mostCost) }

func massOf(cost int64) unit.Mass { return unit.Mass(float64(cost) / 1000 / 100 * density) }

// loads is the current that each pin of each device draws, steady, by the volts it was measured at; that of a load whose amps cannot be told
// without solving the net counts as nothing.
func loads(job *design.Job) map[design.PinRef]unit.Current {
	volts := unit.Voltage(0)
	for _, d := range job.Devices {
		for _, s := range d.Supplies {
			if !d.Pattern && s.Volts.Given {
				volts = max(volts, s.Volts.Nominal)
			}
		}
	}
	out := map[design.PinRef]unit.Current{}
	add := func(d *design.Draw) {
		v := d.At.Or(volts)
		amps := d.Amps.Or(0)
		switch {
		case d.Watts.Given && v > 0:
			amps = unit.Current(float64(d.Watts.Nominal) / float64(v))
		case d.Ohms.Given && d.Ohms.Nominal > 0:
			amps = unit.Current(float64(v) / float64(d.Ohms.Nominal))
		}
		if !unit.Finite(amps) || amps < 0 {
			return
		}
		for _, p := range []design.PinRef{d.From, d.To} {
			p.Span = design.PinRef{}.Span
			out[p] += amps
		}
	}
	for _, d := range job.Devices {
		if d.Pattern {
			continue
		}
		for i := range d.Draws {
			add(&d.Draws[i])
		}
		for i := range d.Coils {
			add(&d.Coils[i].Draw)
		}
	}
	return out
}

// guess is the copper of a link before there are sizes: its stated size; else of what flows through it, by splice-load, no less than
// size-least. What flows is what it carries by the author's word, else the draws of the side of its circuit that it parts from the supply.
func guess(job *design.Job, draws map[design.PinRef]unit.Current, c *design.Circuit, p *net.Pull) weight {
	l := &c.Links[p.Link]
	if !l.Size.IsZero() {
		return min(mostWeight, weightOf(l.Size.Area())*int64(p.Strands))
	}
	class := l.Class
	if class == "" {
		class = c.Class
	}
	at := design.Scope{Circuit: c.Name, Class: class}
	get := func(name string) float64 {
		x := job.Settings.Get(name, at).Value.Quantity
		if z, ok := x.Size(); ok {
			return float64(z.Area())
		}
		return x.Value
	}
	amps := l.Carries.Or(0)
	if !l.Carries.Given {
		amps = through(draws, c, p.Link)
	}
	area := max(get("size-least")*float64(p.Strands), float64(amps)/get("splice-load"))
	if most := get("size-most") * float64(p.Strands); area > most {
		area = most
	}
	return weightOf(unit.Area(area))
}

// through is the current in a link: what lies beyond it as seen from the supply, which is taken to be on the side with an end that draws nothing.
func through(draws map[design.PinRef]unit.Current, c *design.Circuit, link int) unit.Current {
	side := func(start design.End) (sum unit.Current, feeds bool) {
		key := func(e design.End) design.End { e.Span = design.End{}.Span; return e }
		seen := map[design.End]bool{key(start): true}
		todo := []design.End{key(start)}
		for len(todo) > 0 {
			e := todo[0]
			todo = todo[1:]
			if e.Kind == design.AtPin {
				x := draws[design.PinRef{Device: e.Name, Pin: e.Pin}]
				sum += x
				feeds = feeds || x == 0
			}
			for i := range c.Links {
				l := &c.Links[i]
				if i == link || l.From == l.To {
					continue
				}
				for _, p := range [2][2]design.End{{l.From, l.To}, {l.To, l.From}} {
					if o := key(p[1]); key(p[0]) == e && !seen[o] {
						seen[o] = true
						todo = append(todo, o)
					}
				}
			}
		}
		return sum, feeds
	}
	a, fa := side(c.Links[link].From)
	b, fb := side(c.Links[link].To)
	switch {
	case a == 0 || fa && !fb:
		return b
	case b == 0 || fb && !fa:
		return a
	}
	return max(a, b)
}
