package bench

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// sum gathers the terms of a cut length.
type sum struct {
	terms []Term
	texts *termTexts
}

func (s *sum) add(kind TermKind, what string, l unit.Length) {
	if l > 0 {
		s.terms = append(s.terms, Term{what, l, kind})
	}
}

// close rounds each term to a whole millimetre and the length up to a whole multiple of step that is neither below the exact sum nor
// below the sum of the terms as printed; what that adds is the last term, so that the terms add up to the length.
func (s *sum) close(step unit.Length) (unit.Length, Terms) {
	var exact, printed unit.Length
	slices.SortStableFunc(s.terms, func(a, b Term) int { return cmp.Compare(a.Kind/ToleranceTerm, b.Kind/ToleranceTerm) }) // the tolerance last
	kept := s.terms[:0]
	for _, t := range s.terms {
		exact += t.Length
		if t.Length = unit.Length(math.Round(float64(t.Length))); t.Length > 0 {
			printed += t.Length
			kept = append(kept, t)
		}
	}
	length := roundUp(max(exact, printed), step)
	if !unit.Finite(length) || length == 0 {
		return 0, Terms{}
	}
	if r := length - printed; r > 0 {
		kept = append(kept, Term{"rounding up", r, RoundTerm})
	}
	return length, s.texts.hold(kept) // the room goes to the next
}

// roundUp goes up to a whole multiple; a step below a tenth of a millimetre counts as 1 mm.
func roundUp(l, step unit.Length) unit.Length {
	if step < 0.1 {
		step = 1
	}
	return unit.Length(math.Ceil(float64(l/step)-1e-9) * float64(step))
}

// cutLength is how long to cut a wire and what that is made of; 0 for a way of unknown length.
//
// The way, its take-up, the breakouts, the tails and the service loops are what the wire takes at its planned length. The net's Copper, which feeds the
// resistances, is no less than what stays of that between the terminations: it takes the most a lay may take up and the whole of the tails, most of
// which is cut off when the ends are made, and which outweighs the breakouts. The tolerance and the crimp waste are no part of Copper: what the way does not need of
// them is trimmed off on the board, whose dimensions are the planned ones.
func (m *maker) cutLength(i int) (unit.Length, Terms) {
	w := &m.net.Wires[i]
	s := &sum{terms: m.terms[:0], texts: m.termTexts}
	defer func() { m.terms = s.terms[:0] }()
	if w.Loose {
		if w.LooseLength < 0 || !unit.Finite(w.LooseLength) {
			return 0, Terms{}
		}
		s.add(WayTerm, "loose lead", w.LooseLength)
		spread, rule := m.spread("string-spread", scope(w), w.LooseLength)
		s.tolerance(m.branchOver(w, w.LooseLength), spread, rule)
	} else if !m.way(i, s) {
		return 0, Terms{}
	}
	m.endTerms(i, s)
	return s.close(m.length("cut-round", scope(w)))
}

// way adds the pieces of the way, their slack, the take-up, the twist, the breakouts and the tolerance; false when a piece has no known length,
// or there is no way.
func (m *maker) way(i int, s *sum) bool {
	w := &m.net.Wires[i]
	if w.Unmeasured || len(w.Path) == 0 && !onePlace(w) {
		return false
	}
	type share struct {
		rate unit.Ratio
		of   unit.Length
	}
	var shares []share
	var total, laid, spread unit.Length
	var most unit.Ratio
	ruled := ""
	for k := 0; k < len(w.Path); {
		start := k
		first := &m.geo.Edges[w.Path[k].Edge]
		from, to := stations(first, w.Path[k].Reverse)
		var length, slack, more unit.Length
		var rateHere unit.Ratio
		for ; k < len(w.Path); k++ {
			e := &m.geo.Edges[w.Path[k].Edge]
			if e.Run != first.Run || e.Stretch != first.Stretch || w.Path[k].Reverse != w.Path[start].Reverse {
				break
			}
			if !known(e) {
				return false
			}
			_, to = stations(e, w.Path[k].Reverse)
			length, slack = length+e.Length, slack+e.Slack
			rate := m.takeUp(i, w.Path[k].Edge)
			n := slices.IndexFunc(shares, func(s share) bool { return s.rate == rate })
			if n < 0 {
				n, shares = len(shares), append(shares, share{rate: rate})
			}
			shares[n].of += e.Length + e.Slack
			rateHere = max(rateHere, rate)
			laid += unit.Length((1 + float64(rate)) * float64(e.Length+e.Slack))
		}
		more, rule := m.stretchSpread(w, first, length+slack)
		spread += unit.Length((1 + float64(rateHere)) * float64(more))
		if more > 0 && ruled == "" {
			ruled = rule
		} else if more > 0 && ruled != rule {
			ruled = "spread of the way"
		}
		most = max(most, rateHere)
		total += length + slack
		s.add(WayTerm, m.stretchText(first)+" "+millimetres(from)+" to "+millimetres(to), length)
		s.add(WayTerm, "slack of "+first.Run, slack)
	}
	for _, x := range shares {
		s.add(TakeUpTerm, "take-up "+x.rate.String(), unit.Length(float64(x.rate)*float64(x.of)))
	}
	twist := m.twist(w)
	if twist > 0 {
		s.add(TakeUpTerm, "twist of "+w.Cable+" "+twist.String(), unit.Length(float64(twist)*float64(laid)))
	}
	m.breakouts(w, s)
	s.tolerance(unit.Length((1+float64(most))*(1+float64(twist))*float64(m.branchOver(w, total))), unit.Length((1+float64(twist))*float64(spread)), ruled)
	return true
}

// tolerance adds by how much the way may come out longer: what a finished branch may have, or the spread of the lengths by which it was planned. Both
// are about one and the same way, so the greater counts and not their sum.
func (s *sum) tolerance(branch, spread unit.Length, rule string) {
	if branch >= spread {
		s.add(ToleranceTerm, "tolerance of a finished branch, A-620", branch)
		return
	}
	s.add(ToleranceTerm, "tolerance, "+rule, spread)
}

// branchOver is how much longer a finished branch may come out; 0 where nothing is allowed for it.
func (m *maker) branchOver(w *net.Wire, total unit.Length) unit.Length {
	if m.get("branch-spread", scope(w)).Name != "a-620" {
		return 0
	}
	over, _ := data.BranchOver(total)
	return over
}

// stretchSpread is by how much a stretch of a way may be longer than planned, and by which setting.
func (m *maker) stretchSpread(w *net.Wire, e *space.Edge, long unit.Length) (unit.Length, string) {
	name := "way-spread"
	if e.Status == design.Measured {
		name = "string-spread"
	}
	return m.spread(name, m.edgeScope(w, e), long)
}

// spread is a setting that is a share of a length or a length itself, and how it is named.
func (m *maker) spread(name string, at design.Scope, long unit.Length) (unit.Length, string) {
	q := m.get(name, at).Quantity
	x := positive(q.Value)
	if q.Dim == unit.DimRatio {
		return unit.Length(x * float64(long)), name + " " + q.String()
	}
	return unit.Length(x), name + " " + q.String()
}

// onePlace tells whether both ends of a wire without a way are at one place.
func onePlace(w *net.Wire) bool {
	a, b := &w.Ends[0], &w.Ends[1]
	return a.Node >= 0 && a.Node == b.Node
}

func stations(e *space.Edge, reverse bool) (from, to unit.Length) {
	if reverse {
		return e.Station + e.Length, e.Station
	}
	return e.Station, e.Station + e.Length
}

// stretchText names a stretch: by its run, and by its ends where the run has several.
func (m *maker) stretchText(e *space.Edge) string {
	if r := m.run[e.Run]; r != nil && len(r.Stretches) > 1 {
		if ends, ok := m.stretch[stretchKey{e.Run, e.Stretch}]; ok {
			return e.Run + " (" + m.geo.Text(ends[0]) + " to " + m.geo.Text(ends[1]) + ")"
		}
	}
	return e.Run
}

// takeUp is what the lay of an edge adds to a wire, as a share of the way: of its own layer where the bundle is laid up, else the setting.
func (m *maker) takeUp(wire, edge int) unit.Ratio {
	if r, ok := m.laid[[2]int{wire, edge}]; ok {
		return positive(r)
	}
	return positive(unit.Ratio(m.get("take-up", m.edgeScope(&m.net.Wires[wire], &m.geo.Edges[edge])).Quantity.Value))
}

// twist is what the cores of a cable twisted on the bench need more than its centre line. A core lies on a helix around the axis:
// sqrt(1 + (pi D / L)^2) - 1 for lay L and pitch diameter D = d / sin(pi/n), n cores of outside d in a ring.
func (m *maker) twist(w *net.Wire) unit.Ratio {
	c := m.cable[w.Cable]
	if c == nil || m.isBought(w) || c.Twist <= 0 || len(c.Holds) < 2 || w.Kind == net.Screen {
		return 0
	}
	x := math.Pi * float64(m.thickest[w.Cable]) / math.Sin(math.Pi/float64(len(c.Holds))) / float64(c.Twist)
	return positive(unit.Ratio(math.Hypot(1, x) - 1))
}

// breakouts adds what a wire needs to come out of a bundle and round the corner, where it leaves a way that others follow. Ways are counted along their
// middles; a wire on the far side of a bundle of radius r crosses over to a branch that leaves at an angle a, which takes it r tan(a/2) more: nothing straight on, r
// at a right angle; what turns back further than twice that goes round the bundle instead. Where the angle is not known, and where the wire ends beside a bundle
// that goes on, it is a right angle. The thickest bundle at the place counts.
func (m *maker) breakouts(w *net.Wire, s *sum) {
	n := len(w.Path)
	if n == 0 {
		return
	}
	at := func(node int, edge int) {
		if m.through[[2]int{edge, node}] {
			s.add(BreakoutTerm, "breakout at "+m.geo.Text(node), m.thick[edge]/2)
		}
	}
	first, _ := ends(&m.geo.Edges[w.Path[0].Edge], w.Path[0].Reverse)
	at(first, w.Path[0].Edge)
	for k := 0; k+1 < n; k++ {
		a, b := w.Path[k].Edge, w.Path[k+1].Edge
		e, f := &m.geo.Edges[a], &m.geo.Edges[b]
		together := m.turns[[2]int{min(a, b), max(a, b)}]
		if e.Run == f.Run && e.Stretch == f.Stretch || together == len(m.onEdge[a]) && together == len(m.onEdge[b]) {
			continue
		}
		_, node := ends(e, w.Path[k].Reverse)
		var thick unit.Length
		for _, x := range m.atNode[node] {
			thick = max(thick, m.thick[x])
		}
		s.add(BreakoutTerm, "breakout at "+m.geo.Text(node), unit.Length(float64(thick)/2*m.corner(w.Path[k], w.Path[k+1])))
	}
	_, last := ends(&m.geo.Edges[w.Path[n-1].Edge], w.Path[n-1].Reverse)
	at(last, w.Path[n-1].Edge)
}

// corner is tan(a/2), 2 at the most, of the angle a by which a way turns from one step to the next; 1, a right angle, where a place is not known.
func (m *maker) corner(in, out net.Step) float64 {
	a, node := ends(&m.geo.Edges[in.Edge], in.Reverse)
	_, b := ends(&m.geo.Edges[out.Edge], out.Reverse)
	p, q, r := &m.geo.Nodes[a], &m.geo.Nodes[node], &m.geo.Nodes[b]
	if !p.Known || !q.Known || !r.Known {
		return 1
	}
	u := [3]float64{float64(q.At.X - p.At.X), float64(q.At.Y - p.At.Y), float64(q.At.Z - p.At.Z)}
	v := [3]float64{float64(r.At.X - q.At.X), float64(r.At.Y - q.At.Y), float64(r.At.Z - q.At.Z)}
	lu, lv := math.Hypot(math.Hypot(u[0], u[1]), u[2]), math.Hypot(math.Hypot(v[0], v[1]), v[2])
	if !(lu > 0 && lv > 0) || !unit.Finite(lu*lv) {
		return 1
	}
	cos := (float64(u[0]*v[0]) + float64(u[1]*v[1]) + float64(u[2]*v[2])) / (lu * lv)
	if cos >= 1-1e-12 {
		return 0
	}
	return min(2, math.Sqrt((1-cos)/max(1+cos, 1e-12))) // tan(a/2)
}

// ends is the nodes of an edge in the direction of travel.
func ends(e *space.Edge, reverse bool) (from, to int) {
	if reverse {
		return e.To, e.From
	}
	return e.From, e.To
}

// endTerms adds what each end takes: the tail, which holds strip and insertion and is never less than the strip; the service loop, which a splice and an
// end that is cut back do not get; and what is cut off and lost where it is crimped.
func (m *maker) endTerms(i int, s *sum) {
	w := &m.net.Wires[i]
	for e := range w.Ends {
		t := &w.Ends[e]
		at := scope(w)
		at.Device, at.Break = t.Device, t.Break
		tail := m.length("tail", at)
		if c := m.contact[m.contactPart(i, e)]; c != nil {
			tail = max(tail, positive(c.Strip))
		} else if t.Kind == net.InSplice {
			tail = max(tail, positive(m.made[t.Splice].Strip))
		}
		s.add(EndTerm, "tail at "+shortText(t), tail)
		if t.Kind != net.InSplice && t.Kind != net.CutBack {
			s.add(LoopTerm, "loop at "+shortText(t), m.length("service-loop", at))
		}
		if t.Kind != net.CutBack && !m.fitted(t) {
			s.add(WasteTerm, "crimp waste at "+shortText(t), m.length("crimp-waste", at))
		}
	}
}
