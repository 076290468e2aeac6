package heat

import (
	"math"

	"loomsheet/harness/unit"
)

// DutyStep is one load that works on and off, taken out of a case: what each wire carries once it rests, and the loads of the steps
// before it as well.
type DutyStep struct {
	Device  string
	On, Off unit.Time      // Off 0: works once
	Amps    []unit.Current // by wire of the net
}

// DutyCurrents is the duty loads of each case in the order they were taken out, the one with the least share of time on first.
type DutyCurrents map[string][]DutyStep

// share is how far the peak of the periodic transient gets towards the steady temperature of the working load, for a wire with one
// time constant: (1 - e^(-on/tau)) / (1 - e^(-(on+off)/tau)); for a load that works once the denominator is 1.
func share(on, off unit.Time, tau float64) float64 {
	if on <= 0 || tau <= 0 {
		return 1
	}
	up := -math.Expm1(-float64(on) / tau)
	if off <= 0 {
		return up
	}
	return up / -math.Expm1(-float64(on+off)/tau)
}

// plasticCapacity is the heat capacity of wire insulation per volume, J/m3K (from memory: 1.7e6 to 2.3e6 for PVC, polyethylene and
// fluoropolymers; the low end heats soonest).
const plasticCapacity = 1.7e6

// timeConstant is that of the wire alone in still air, in seconds: heat capacity of copper and insulation (J/m3K) over the conductance
// of its surface at the limit temperature. In a bundle a wire warms more slowly, so a duty judged by this is judged hotter.
func (w strand) timeConstant(copper, plastic, area, emissivity, pressure, ta, limit float64) float64 {
	ring := math.Pi*w.outside*w.outside - area
	c := copper*area + plastic*math.Max(0, ring)
	g := surface{2 * w.outside, emissivity, pressure}.conductance(math.Min(limit, hottest), within(ta, coolest, hottest-1))
	if g <= 0 {
		return 0
	}
	return c / g
}

// effective is the square of the steady current that heats a wire as the duty does at its peak: that of what is left when all duty
// loads rest, and for each of them its part of what it adds. A load whose rest would raise the current takes nothing off.
func effective(full float64, steps []DutyStep, wire int, tau float64) float64 {
	sum, before := 0.0, full*full
	for _, s := range steps {
		after := before
		if wire < len(s.Amps) {
			after = square(s.Amps[wire])
		}
		if after < before {
			sum += share(s.On, s.Off, tau) * (before - after)
			before = after
		}
	}
	return sum + before
}

func square(i unit.Current) float64 {
	if !unit.Finite(i) {
		return 0
	}
	return float64(i) * float64(i)
}

// after is the temperature of a conductor that starts at t0 and keeps all heat of the current for so long: the integral of
// I^2 R(T) / C, with c the heat capacity of its copper per metre.
func after(t0, sq, r20, c float64, d unit.Time) float64 {
	if c <= 0 {
		return hottest
	}
	zero := 20 - 1/slope
	t := zero + (t0-zero)*math.Exp(within(sq*r20*slope*float64(d)/c, 0, 100))
	return within(t, coolest, hottest)
}
