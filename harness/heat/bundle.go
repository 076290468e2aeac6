package heat

import (
	"math"

	"loomsheet/harness/data"
)

// slope is the rise of copper's resistance per kelvin, as a share of that at 20 C, along the straight line of package data.
var slope = 1 / float64(20-data.Copper.ZeroAt)

// strand is one wire of a bundle: its resistance at 20 C in ohm/m and its radii in m.
type strand struct {
	r20             float64
	outside, copper float64
}

// bundle is wires side by side in one sleeve. Lengths in m, conductivities in W/mK.
//
// The conductor of wire i is at
//
//	T_i = T_s + a Q + b_i q_i
//
// with T_s the surface, Q the heat of all wires and q_i its own, per metre. In a bundle
//
//	a   = ln(D/D_bundle)/(2 pi k_ins) + 1/(4 pi k_bundle)
//	b_i = -1/(4 pi k_bundle) + ln(R_bundle/r_i)/(2 pi k_bundle) + ln(r_i/r_copper)/(2 pi k_ins)
//
// that is: the sleeve's wall carries all heat; the others' heat is spread evenly over the bundle, and each wire is taken to lie in
// its middle, the worst place for both; its own heat spreads from there and passes its own insulation. A wire alone has neither
// bundle term. With q_i = I_i^2 R_i (1 + slope (T_i - 20)) all of this is linear for a given surface temperature, so that one
// search for T_s, at which the surface loses just Q, solves the bundle exactly.
//
// Idle neighbours would cool a wire like fins. How well they touch is not known, so no wire counts as cooler than it would be
// alone in the same air.
type bundle struct {
	surface
	wires []strand
	a     float64
	b     []float64
	skin  []float64 // b of each wire alone; empty for one wire
}

// newBundle lays wires into a bundle of the given outside diameter, wall being the sleeve's.
func newBundle(wires []strand, diameter, wall, kBundle, kIns, emissivity, pressure float64) *bundle {
	m := &bundle{surface: surface{diameter + 2*wall, emissivity, pressure}, wires: wires, b: make([]float64, len(wires))}
	if wall > 0 && diameter > 0 {
		m.a = math.Log((diameter+2*wall)/diameter) / (2 * math.Pi * kIns)
	}
	if len(wires) == 1 { // all between copper and air is insulation, the jacket of a bought cable too
		m.b[0] = ratioLog(math.Max(wires[0].outside, diameter/2), wires[0].copper) / (2 * math.Pi * kIns)
		return m
	}
	if len(wires) == 0 {
		return m
	}
	m.a += 1 / (4 * math.Pi * kBundle)
	m.skin = make([]float64, len(wires))
	for i, w := range wires {
		m.skin[i] = ratioLog(w.outside, w.copper) / (2 * math.Pi * kIns)
		m.b[i] = m.skin[i] + ratioLog(diameter/2, w.outside)/(2*math.Pi*kBundle) - 1/(4*math.Pi*kBundle)
	}
	return m
}

// alone is one of several wires without the others.
func (m *bundle) alone(i int) bundle {
	return bundle{surface: surface{2 * m.wires[i].outside, m.emissivity, m.pressure}, wires: m.wires[i : i+1], b: m.skin[i : i+1]}
}

// ratioLog is ln(outer/inner), never below 0.
func ratioLog(outer, inner float64) float64 {
	if inner <= 0 || outer <= inner {
		return 0
	}
	return math.Log(outer / inner)
}

// state is a bundle at rest.
type state struct {
	temps   []float64 // of the conductors, C
	surface float64
	watts   float64 // per m, of all
	runaway bool    // no steady state under the upper bound: all temperatures stand at it

	own []float64 // to work with
}

// solve finds the steady state in air at ta, sq being the square of each wire's current.
func (m *bundle) solve(ta float64, sq []float64) (s state) {
	m.settle(&s, ta, sq)
	return s
}

// settle is solve with what s has room for.
func (m *bundle) settle(s *state, ta float64, sq []float64) {
	m.balance(s, ta, sq)
	for i := range m.skin {
		one := m.alone(i)
		if sq[i] != 0 && !one.cooler(s.temps[i], ta, sq[i]) {
			s.temps[i] = math.Max(s.temps[i], one.together(ta, sq[i:i+1]).temps[0])
		}
		s.runaway = s.runaway || s.temps[i] >= hottest
	}
}

// cooler tells whether a wire alone stays below t: whether at t its surface would shed more than it makes.
func (m *bundle) cooler(t, ta, sq float64) bool {
	q := sq * m.wires[0].r20 * factor(t)
	return m.loss(t-m.b[0]*q, within(ta, coolest, hottest)) >= q
}

// together is the state by the equations of the bundle.
func (m *bundle) together(ta float64, sq []float64) (s state) {
	m.balance(&s, ta, sq)
	return s
}

// balance is together with what s has room for.
func (m *bundle) balance(s *state, ta float64, sq []float64) {
	ta = within(ta, coolest, hottest)
	*s = state{temps: resized(s.temps, len(m.wires)), own: resized(s.own, len(m.wires))}
	own := s.own // heat per metre of surface factor: q_i = own_i * (1 + slope*(T_s + a*Q - 20))
	g := 0.0
	for i, w := range m.wires {
		c := sq[i] * w.r20
		d := 1 - c*slope*m.b[i]
		if !(c < math.MaxFloat64) || d <= 0 {
			m.lost(s)
			return
		}
		own[i] = c / d
		g += own[i]
	}
	if g*slope*m.a >= 1 {
		m.lost(s)
		return
	}
	total := func(ts float64) float64 { return g * factor(ts) / (1 - g*slope*m.a) }
	ts := ta
	if g > 0 {
		air := m.in(ta)
		if air.loss(hottest) < total(hottest) {
			m.lost(s)
			return
		}
		ts = air.meets(hottest, total(ta), g*slope/(1-g*slope*m.a))
	}
	s.surface = ts
	if g > 0 {
		s.watts = total(ts)
	}
	base := ts + m.a*s.watts
	for i := range m.wires {
		s.temps[i] = math.Min(base+m.b[i]*own[i]*factor(base), hottest)
		s.runaway = s.runaway || s.temps[i] >= hottest
	}
}

// factor is copper's resistance at t over that at 20 C.
func factor(t float64) float64 { return 1 + float64(slope*(t-20)) }

func (m *bundle) lost(s *state) {
	s.surface, s.watts, s.runaway = hottest, m.loss(hottest, 20), true
	for i := range s.temps {
		s.temps[i] = hottest
	}
}

// ampacity is the current that brings wire k to limit while the others carry the squares in sq; 0 when the others or the air alone
// reach it.
func (m *bundle) ampacity(ta, limit float64, sq []float64, k int) float64 {
	amps := m.amid(ta, limit, sq, k)
	if len(m.skin) > 0 && amps > 0 {
		one := m.alone(k)
		amps = math.Min(amps, one.amid(ta, limit, []float64{0}, 0))
	}
	return amps
}

// amid is the ampacity by the equations of the bundle.
func (m *bundle) amid(ta, limit float64, sq []float64, k int) float64 {
	r := m.wires[k].r20 * factor(limit)
	if limit <= ta || r <= 0 {
		return 0
	}
	rest := append([]float64(nil), sq...)
	rest[k] = 0
	if m.together(ta, rest).temps[k] >= limit {
		return 0
	}
	g := 0.0
	for i, w := range m.wires {
		c := rest[i] * w.r20
		g += c / (1 - c*slope*m.b[i])
	}
	// With T_k known the rest is linear in T_s again: the own heat, then all heat.
	keep := 1 - g*slope*m.a
	heat := func(ts float64) (own, all float64) {
		own = (limit - ts - m.a*g*factor(ts)/keep) / (m.b[k] + m.a/keep)
		return own, (own + g*factor(ts)) / keep
	}
	if m.b[k]+m.a/keep <= 0 { // nothing between copper and air
		return math.Sqrt(math.Max(0, m.loss(limit, ta)) / r)
	}
	air := m.in(ta)
	_, cold := heat(ta)
	_, hot := heat(limit)
	ts := air.meets(limit, cold, (hot-cold)/(limit-ta))
	own, _ := heat(ts)
	return math.Sqrt(math.Max(0, own) / r)
}
