package heat

import (
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// onset is what the warming of one wire at one place in one case follows from: its bundle, the air, the heat of its neighbours and its own
// current squared.
type onset struct {
	model  *bundle
	k      int
	ta     float64
	others float64 // heat per metre of the neighbours, of surface factor, as in bundle.together; infinite where they run away
	sq     float64
	place  int // of the Thermal's
	given  int // the case
}

// neighbours is for each wire of a bundle the heat of all others, in one go: from the first to it, and from it to the last. Wires that carry
// alike have neighbours alike.
func (m *bundle) neighbours(sq []float64) []float64 {
	n := len(m.wires)
	own, after := make([]float64, n), make([]float64, n+1)
	for i, w := range m.wires {
		c := sq[i] * w.r20
		d := 1 - c*slope*m.b[i]
		own[i] = c / d
		if !(c < math.MaxFloat64) || d <= 0 {
			own[i] = math.Inf(1)
		}
	}
	for i := n - 1; i >= 0; i-- {
		after[i] = own[i] + after[i+1]
	}
	alike := map[float64]float64{0: after[0]}
	before := 0.0
	for i, q := range own {
		rest, ok := alike[q]
		if !ok {
			rest = before + after[i+1]
			if !math.IsInf(q, 1) {
				alike[q] = rest
			}
		}
		before += q
		own[i] = rest
	}
	return own
}

// like tells whether two are wires of equal make in bundles of equal make.
func (x *onset) like(y *onset) bool {
	m, n := x.model, y.model
	return len(m.wires) == len(n.wires) && m.surface == n.surface && m.a == n.a && m.b[x.k] == n.b[y.k]
}

// covers tells whether x is the same bundle at least as warm as y's.
func (x *onset) covers(y *onset) bool {
	return x.ta >= y.ta && x.others >= y.others && x.sq >= y.sq && x.like(y)
}

// warming is how one wire warms at one place in one case: the squares of the steady currents that hold it at rising temperatures, a
// straight line between them.
type warming struct {
	t0        float64 // steady
	temps, sq []float64
	place     int     // of the Thermal's
	given     int     // the case
	rate      float64 // R(20 C) slope / c: so fast resistance grows, as a share, per ampere squared and second
	reach     float64 // up to here the curve is drawn
}

// cells is into how many pieces the curve is cut. They are small near the air's temperature, where it bends: the line stays within
// 0.1 % of the current.
const cells = 64

// warming is that in the bundle, and nowhere better than that of the wire alone in the same air, up to reach. Its curve is good until the next is asked
// for with the same shedding.
func (x *onset) warming(capacity float64, known *shedding, from begin, reach float64) warming {
	w := x.amid(capacity, known, &known.curves[0], from.amid, reach)
	if len(x.model.skin) > 0 && len(w.temps) > 0 {
		w.lower(x.apart(capacity, known, &known.curves[1], from.alone, reach), &known.curves[2])
	}
	w.place, w.given = x.place, x.given
	return w
}

// apart is the warming of the wire alone. It is the same wherever it lies in the same air but for where it begins, so that the points last drawn are kept.
func (x *onset) apart(capacity float64, known *shedding, room *curve, t0, reach float64) warming {
	model := x.model.alone(x.k)
	alone := onset{model: &model, ta: x.ta, sq: x.sq}
	key := apartKey{model.surface, model.b[0], model.wires[0].r20, x.ta, reach}
	for i := range known.apart {
		if a := &known.apart[i]; a.ok && a.key == key {
			w := warming{t0: t0, rate: key.r20 * slope / capacity, reach: reach, temps: append(room.temps[:0], a.temps...), sq: append(room.sq[:0], a.sq...)}
			w.pass(x.sq)
			return w
		}
	}
	w := alone.drawn(capacity, known, room, t0, reach)
	a := &known.apart[known.next]
	known.next = (known.next + 1) % len(known.apart)
	a.key, a.ok, a.temps, a.sq = key, true, append(a.temps[:0], w.temps...), append(a.sq[:0], w.sq...)
	w.pass(x.sq)
	return w
}

// apartKey is what the points of a wire alone follow from.
type apartKey struct {
	surface
	b, r20, ta, reach float64
}

// apart is such points.
type apart struct {
	key       apartKey
	ok        bool
	temps, sq []float64
}

// begin is where that warming begins: the steady temperature in the bundle, and alone.
type begin struct{ amid, alone float64 }

func (b *begin) top() float64 { return math.Max(b.amid, b.alone) }

func (x *onset) begin(known *shedding) float64 {
	if s := x.shed(known); s.ok {
		return x.steady(s.rest)
	}
	return hottest
}

func (x *onset) beginApart(known *shedding) float64 {
	if len(x.model.skin) == 0 {
		return coolest
	}
	model := x.model.alone(x.k)
	alone := onset{model: &model, ta: x.ta, sq: x.sq}
	return alone.begin(known)
}

// apartAs tells whether both begin alike alone.
func (x *onset) apartAs(y *onset) bool {
	m, n := x.model, y.model
	return x.ta == y.ta && x.sq == y.sq && len(m.skin) > 0 && len(n.skin) > 0 && m.skin[x.k] == n.skin[y.k] && m.wires[x.k] == n.wires[y.k] &&
		m.emissivity == n.emissivity && m.pressure == n.pressure
}

// shed is a surface at rest and the loss at each temperature at which a curve is sampled.
type shed struct {
	shedKey
	air  still
	rest float64   // of the surface, with the neighbours' heat alone
	ok   bool      // it rests somewhere
	all  []float64 // as far as it was asked for
}

// shedKey is what that follows from.
type shedKey struct {
	surface
	a, ta, others float64
}

// shedding keeps what was worked out: wires that carry nothing have the same neighbours, and alone all wires of one make are the same.
type shedding struct {
	seen   map[shedKey]*shed
	before map[shedKey]*shed // what was seen until it was much
	curves [3]curve          // to work with
	apart  [4]apart          // as drawn last, for as many cases as there mostly are
	next   int               // of them, to be drawn over
}

// curve is room for the points of one.
type curve struct{ temps, sq [2 * (cells + 2)]float64 }

// mostSeen bounds what is kept, once and again in before.
const mostSeen = 1 << 11

func (x *onset) shed(known *shedding) *shed {
	k := shedKey{x.model.surface, x.model.a, within(x.ta, coolest, hottest), x.others}
	if s := known.seen[k]; s != nil {
		return s
	}
	s := known.before[k]
	if s == nil {
		s = newShed(k)
	}
	if known.seen == nil || len(known.seen) >= mostSeen {
		known.before, known.seen = known.seen, map[shedKey]*shed{}
	}
	known.seen[k] = s
	return s
}

func newShed(k shedKey) *shed {
	s := &shed{shedKey: k, air: k.surface.in(k.ta), rest: k.ta}
	keep := 1 - k.others*slope*k.a
	if s.ok = keep > 0 && !(s.air.loss(hottest) < k.others*factor(hottest)/keep); s.ok {
		if k.others > 0 {
			s.rest = s.air.meets(hottest, k.others*factor(k.ta)/keep, k.others*slope/keep)
		}
	}
	return s
}

// sample is the loss at the j-th temperature.
func (s *shed) sample(j int) float64 {
	if s.all == nil {
		s.all = make([]float64, 1, cells/2+1)
	}
	for n := len(s.all); n <= j; n++ {
		s.all = append(s.all, s.air.loss(s.surfaceAt(n)))
	}
	return s.all[j]
}

func (s *shed) surfaceAt(j int) float64 {
	share := float64(j) / cells
	return s.rest + (hottest-s.rest)*share*share
}

// amid samples the bundle by its surface temperature: with that given, all heat, the wire's own heat and its temperature follow without a
// search. It is drawn no further than the first sample at reach or above: both the temperature and what is held rise from sample to sample, so that what
// comes behind changes nothing before it.
func (x *onset) amid(capacity float64, known *shedding, room *curve, t0, reach float64) warming {
	w := x.drawn(capacity, known, room, t0, reach)
	w.pass(x.sq)
	return w
}

// pass leads what was drawn through where it begins.
func (w *warming) pass(sq float64) {
	if len(w.temps) > 0 {
		w.through(w.t0, sq)
		w.level()
	}
}

// drawn is the points of that.
func (x *onset) drawn(capacity float64, known *shedding, room *curve, t0, reach float64) warming {
	m, r20 := x.model, x.model.wires[x.k].r20
	w := warming{t0: t0, rate: r20 * slope / capacity, reach: reach}
	s := x.shed(known)
	if !s.ok {
		return w
	}
	keep, rest := 1-x.others*slope*m.a, s.rest
	w.temps, w.sq = room.temps[:0], room.sq[:0]
	w.put(rest+m.a*x.others*factor(rest)/keep, 0)
	for j := 1; j <= cells && w.top() < reach; j++ {
		ts, all := s.surfaceAt(j), s.sample(j)
		own := math.Max(0, keep*all-x.others*factor(ts))
		t := ts + m.a*all + m.b[x.k]*own
		w.put(t, own/(r20*factor(t)))
	}
	return w
}

func (w *warming) put(t, sq float64) {
	if n := len(w.temps); n > 0 && !(t > w.temps[n-1]) {
		return
	}
	w.temps, w.sq = append(w.temps, t), append(w.sq, sq)
}

// lower brings the curve down to another where that is lower, and the steady temperature up to the other's.
func (w *warming) lower(v warming, room *curve) {
	n, k := len(w.temps), len(v.temps)
	end := hottest // of what is known of both
	if w.reach < hottest && k > 0 {
		end = math.Min(w.top(), v.top())
	}
	temps, sq := room.temps[:0], room.sq[:0]
	a, b := reader{warming: w}, reader{warming: &v}
	for i, j := 0, 0; i < n || j < k; {
		var t float64
		switch {
		case j == k || i < n && w.temps[i] < v.temps[j]:
			t, i = w.temps[i], i+1
		case i == n || v.temps[j] < w.temps[i]:
			t, j = v.temps[j], j+1
		default:
			t, i, j = w.temps[i], i+1, j+1
		}
		if t > end {
			break
		}
		if t >= w.temps[0] {
			temps, sq = append(temps, t), append(sq, math.Min(a.holds(t), b.holds(t)))
		}
	}
	w.t0, w.temps, w.sq = math.Max(w.t0, v.t0), temps, sq
}

// reader reads a curve at rising temperatures.
type reader struct {
	*warming
	j int
}

// holds is warming.holds at a temperature not below the last one read.
func (r *reader) holds(t float64) float64 {
	for r.j < len(r.temps) && r.temps[r.j] <= t {
		r.j++
	}
	return r.held(t, r.j)
}

func (w *warming) top() float64 { return w.temps[len(w.temps)-1] }

// level ends the curve at the upper bound and lets it nowhere fall, on the side of the lower current.
func (w *warming) level() {
	n := len(w.temps) - 1
	if n > 0 && w.temps[n] > hottest {
		w.sq[n] = w.holds(hottest)
		w.temps[n] = hottest
	}
	for j := n - 1; j >= 0; j-- {
		w.sq[j] = math.Min(w.sq[j], w.sq[j+1])
	}
}

// through leads the curve through a point that is known exactly.
func (w *warming) through(t, sq float64) {
	if !(sq > 0) || !(t < hottest) {
		return
	}
	if j, found := slices.BinarySearch(w.temps, t); !found {
		w.temps, w.sq = slices.Insert(w.temps, j, t), slices.Insert(w.sq, j, sq)
	}
}

// steady is the wire's temperature at its own current, by the equations of bundle.together; rest is the surface without that current.
func (x *onset) steady(rest float64) float64 {
	m, ta := x.model, within(x.ta, coolest, hottest)
	c := x.sq * m.wires[x.k].r20
	d := 1 - c*slope*m.b[x.k]
	if !(c < math.MaxFloat64) || d <= 0 {
		return hottest
	}
	own := c / d
	g := x.others + own
	keep := 1 - g*slope*m.a
	ts := rest
	if own > 0 {
		air := m.in(ta)
		if !(keep > 0) || air.loss(hottest) < g*factor(hottest)/keep {
			return hottest
		}
		ts = air.meets(hottest, g*factor(ta)/keep, g*slope/keep)
	}
	base := ts + m.a*g*factor(ts)/keep
	return math.Min(base+m.b[x.k]*own*factor(base), hottest)
}

// upto is the first place of an ascending list that is above x, at least 1.
func upto(list []float64, x float64) int {
	j, found := slices.BinarySearch(list, x)
	for found && j < len(list) && list[j] == x {
		j++
	}
	return max(1, j)
}

// holds is the square of the steady current that brings the wire to t; 0 where it is there without any.
func (w *warming) holds(t float64) float64 {
	if len(w.temps) == 0 {
		return 0
	}
	return w.held(t, upto(w.temps, t))
}

// held is holds where j is the first temperature of the curve above t.
func (w *warming) held(t float64, j int) float64 {
	n := len(w.temps)
	if n == 0 || t <= w.temps[0] {
		return 0
	}
	if t >= w.temps[n-1] {
		return w.sq[n-1]
	}
	j = max(1, j)
	return w.sq[j-1] + (w.sq[j]-w.sq[j-1])*(t-w.temps[j-1])/(w.temps[j]-w.temps[j-1])
}

// zeroR is where copper's resistance would vanish, in degrees Celsius.
var zeroR = 20 - 1/slope

// piece is the warming between two temperatures in one cell, the square of the current being i2: with the line hold + tilt (T - from) for
// what is held, the integral of dT / (rate (T - zeroR) (i2 - held)) is closed.
type piece struct{ from, excess, tilt, speed float64 }

func (w *warming) piece(j int, from, i2 float64) piece {
	tilt := (w.sq[j] - w.sq[j-1]) / (w.temps[j] - w.temps[j-1])
	p := piece{from: from, excess: i2 - w.holds(from), tilt: tilt}
	p.speed = w.rate * (p.excess + tilt*(from-zeroR))
	return p
}

// time until t is reached, below where the piece's own steady state lies.
func (p piece) time(t float64) float64 {
	left := p.excess - p.tilt*(t-p.from)
	if left <= 0 {
		return math.Inf(1)
	}
	return math.Log((t-zeroR)/(p.from-zeroR)*(p.excess/left)) / p.speed
}

// at is the temperature after d.
func (p piece) at(d float64) float64 {
	a, less := p.from-zeroR, math.Expm1(-p.speed*d)
	return p.from - a*p.excess*less/(p.excess*(1+less)+a*p.tilt)
}

// cell is the first cell that ends above t; the number of points where none does.
func (w *warming) cell(t float64) int { return upto(w.temps, t) }

// after is the hottest within d seconds of a current whose square is i2.
func (w *warming) after(i2, d float64) float64 {
	t := w.t0
	if !(d > 0) {
		return t
	}
	for j := w.cell(t); j < len(w.temps); j++ {
		end := w.temps[j]
		p := w.piece(j, t, i2)
		if !(p.excess > 0) || t >= end {
			return t
		}
		d0 := p.time(end)
		if d0 > d || math.IsInf(d0, 0) {
			if math.IsInf(d, 0) { // where the line meets the current
				return within(t+p.excess/p.tilt, t, end)
			}
			return within(p.at(d), t, end)
		}
		d -= d0
		t = end
	}
	return t
}

// lasts is how many seconds pass until t is reached; infinite where it never is. Where it is more than most, that is as good as any answer.
func (w *warming) lasts(i2, t, most float64) float64 {
	sum, at := 0.0, w.t0
	if at >= t {
		return 0
	}
	most *= 1 + unit.Alike
	for j := w.cell(at); j < len(w.temps) && at < t && !(sum > most); j++ {
		end := math.Min(w.temps[j], t)
		p := w.piece(j, at, i2)
		if !(p.excess > 0) {
			return math.Inf(1)
		}
		sum += p.time(end)
		at = end
	}
	return sum
}

// covers tells whether w is nowhere up to their reach cooler than v: it starts no cooler, and is held everywhere by no more.
func (w *warming) covers(v *warming) bool {
	if w.t0 < v.t0 {
		return false
	}
	at := reader{warming: w}
	for j, t := range v.temps {
		if t > w.reach {
			break
		}
		if at.holds(t) > v.sq[j] {
			return false
		}
	}
	at = reader{warming: v}
	for j, t := range w.temps {
		if t > w.reach {
			break
		}
		if w.sq[j] > at.holds(t) {
			return false
		}
	}
	return !(w.holds(w.reach) > v.holds(w.reach))
}

// envelope is the list with one more, without those that another covers.
func envelope(list []warming, w warming) []warming {
	for i := range list {
		if list[i].covers(&w) {
			return list
		}
	}
	n := len(w.temps)
	points := append(append(make([]float64, 0, 2*n), w.temps...), w.sq...) // a copy of its own
	w.temps, w.sq = points[:n:n], points[n:]
	return append(slices.DeleteFunc(list, func(v warming) bool { return w.covers(&v) }), w)
}
