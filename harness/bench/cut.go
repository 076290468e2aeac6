package bench

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// cuts is the cut list of a section, in cutting order.
func (m *maker) cuts(section string) []Cut {
	var out []Cut
	var bought []piece
	var screens []int
	for i := range m.net.Wires {
		w := &m.net.Wires[i]
		switch {
		case w.Section != section:
		case !m.isBought(w):
			out = append(out, m.cutWire(i))
		case w.Kind == net.Screen:
			screens = append(screens, i)
		default:
			bought = addCore(bought, m.net, i)
		}
	}
	for _, i := range screens {
		bought = addCore(bought, m.net, i)
	}
	for _, p := range bought {
		out = append(out, m.cutCable(p))
	}
	slices.SortStableFunc(out, func(a, b Cut) int {
		return cmp.Or(design.Natural(a.Family, b.Family), bySize(b.Size, a.Size), design.Natural(a.Colour, b.Colour), cmp.Compare(b.Length, a.Length), design.Natural(a.Name, b.Name))
	})
	return out
}

func bySize(a, b unit.Size) int {
	switch {
	case a == b:
		return 0
	case a.Less(b):
		return -1
	}
	return 1
}

// isBought tells whether a wire is a core, or the screen, of a bought cable.
func (m *maker) isBought(w *net.Wire) bool {
	c := m.cable[w.Cable]
	return c != nil && m.wire[c.Wire] != nil && len(m.wire[c.Wire].Cores) > 0
}

// piece is one length of a bought cable: its cores run between the same two places.
type piece struct {
	cable string
	nodes [2]int
	wires []int
}

// addCore puts a wire to the piece of its cable that runs between the same two places; a screen, which may reach on to the pin that earths
// it, to one with which it shares a place.
func addCore(list []piece, nt *net.Net, wire int) []piece {
	w := &nt.Wires[wire]
	a, b := w.Ends[0].Node, w.Ends[1].Node
	p := piece{w.Cable, [2]int{min(a, b), max(a, b)}, []int{wire}}
	for _, loosely := range []bool{false, true} {
		for i := range list {
			q := &list[i]
			touches := q.nodes == p.nodes || loosely && w.Kind == net.Screen && (a >= 0 && slices.Contains(q.nodes[:], a) || b >= 0 && slices.Contains(q.nodes[:], b))
			if q.cable != p.cable || !touches {
				continue
			}
			twice := slices.ContainsFunc(q.wires, func(o int) bool { return nt.Wires[o].Kind == w.Kind && nt.Wires[o].Core == w.Core })
			if !twice {
				q.wires = append(q.wires, wire)
				return list
			}
		}
	}
	return append(list, p)
}

// screenFamily stands for the wire family of a screen that is put over its cores on the bench.
const screenFamily = "screen"

func (m *maker) cutWire(i int) Cut {
	w := &m.net.Wires[i]
	c := Cut{Wire: i, Name: w.Name, Label: w.Label, Family: or(m.conductor(i).Family, w.Family), Size: m.conductor(i).Size, Cable: w.Cable}
	if w.Kind == net.Screen {
		c.Family = screenFamily
	}
	c.Colour, c.Code, c.ColourStatus = Colour(m.job, w)
	c.Length, c.Terms = m.cutLength(i)
	for e := range w.Ends {
		c.Ends[e] = m.cutEnd(i, e)
	}
	var notes []string
	if cable := m.cable[w.Cable]; cable != nil {
		notes = append(notes, m.madeUp(cable, i))
	}
	if w.Kind == net.Spare {
		notes = append(notes, "spare")
	}
	switch {
	case c.Length == 0:
		notes = append(notes, "length not known")
	case len(w.Path) == 0 && w.LooseLength == 0:
		notes = append(notes, "both ends at one place: check the length on the job")
	}
	if w.Sleeve != "" {
		notes = append(notes, "in sleeve "+w.Sleeve)
	}
	for e := range w.Ends {
		if t := &w.Ends[e]; len(t.SlidOn) > 0 {
			notes = append(notes, "slide on before the end at "+shortText(t)+": "+strings.Join(t.SlidOn, ", "))
		}
	}
	c.Note = strings.Join(notes, "; ")
	return c
}

// madeUp says with what a wire is twisted, cabled or screened on the bench.
func (m *maker) madeUp(cable *design.Cable, wire int) string {
	w := &m.net.Wires[wire]
	if w.Kind == net.Screen {
		return "screen of " + cable.Name
	}
	var with []string
	for _, c := range cable.Holds {
		if c != w.Circuit {
			with = append(with, c)
		}
	}
	s := "in " + cable.Name
	if cable.Twist > 0 && len(with) > 0 {
		s = "twist with " + strings.Join(with, ", ") + ", lay " + cable.Twist.String() + ": " + cable.Name
	}
	return s
}

func (m *maker) cutCable(p piece) Cut {
	slices.SortStableFunc(p.wires, func(a, b int) int {
		x, y := &m.net.Wires[a], &m.net.Wires[b]
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Core, y.Core), cmp.Compare(a, b))
	})
	first := &m.net.Wires[p.wires[0]]
	c := Cut{Cable: p.cable, Family: m.cable[p.cable].Wire, Wire: p.wires[0], Name: p.cable + " " + thing(&first.Ends[0]) + " - " + thing(&first.Ends[1])}
	whole, lead := true, ""
	for n, i := range p.wires {
		w := &m.net.Wires[i]
		core := Core{Wire: i, Name: w.Name, Label: w.Label, Size: m.conductor(i).Size, Screen: w.Kind == net.Screen}
		core.Colour, core.Code, core.ColourStatus = Colour(m.job, w)
		for e := range w.Ends {
			core.Ends[e] = m.cutEnd(i, e)
		}
		c.Cores = append(c.Cores, core)
		length, terms := m.cutLength(i)
		whole = whole && length > 0
		switch {
		case n == 0 || length > c.Length && !core.Screen:
			c.Wire, c.Length, c.Terms = i, length, terms
		case core.Screen && length > c.Length:
			lead = "the screen needs a lead of " + millimetres(length-c.Length) + " mm more"
		}
		if !core.Screen && c.Size.Less(core.Size) {
			c.Size = core.Size
		}
	}
	for e := range c.Ends {
		c.Ends[e] = CutEnd{Text: m.placeText(&first.Ends[e])}
	}
	if !whole {
		c.Length, c.Terms = 0, nil
		lead = "length not known"
	}
	c.Note = lead
	return c
}

// cutLength is how long to cut a wire and what that is made of. Each term is rounded to a whole millimetre, the length up to a whole
// multiple of cut-round that is neither below the exact sum nor below the sum of the terms as printed; what that adds is the last
// term, so that the terms add up to the length. A way of unknown length gives 0.
func (m *maker) cutLength(i int) (unit.Length, []Term) {
	w := &m.net.Wires[i]
	var terms []Term
	add := func(what string, l unit.Length) {
		if l > 0 {
			terms = append(terms, Term{what, l})
		}
	}
	if w.Loose {
		if w.LooseLength < 0 || !unit.Finite(w.LooseLength) {
			return 0, nil
		}
		add("loose lead", w.LooseLength)
	} else if !m.way(w, add) {
		return 0, nil
	}
	m.endTerms(w, add)

	var exact, printed unit.Length
	kept := terms[:0]
	for _, t := range terms {
		exact += t.Length
		if t.Length = unit.Length(math.Round(float64(t.Length))); t.Length > 0 {
			printed += t.Length
			kept = append(kept, t)
		}
	}
	length := roundUp(max(exact, printed), m.length("cut-round", scope(w)))
	if !unit.Finite(length) || length == 0 {
		return 0, nil
	}
	if r := length - printed; r > 0 {
		kept = append(kept, Term{"rounding up", r})
	}
	return length, kept
}

// roundUp goes up to a whole multiple; a step below a tenth of a millimetre counts as 1 mm.
func roundUp(l, step unit.Length) unit.Length {
	if step < 0.1 {
		step = 1
	}
	return unit.Length(math.Ceil(float64(l/step)-1e-9) * float64(step))
}

// way adds the pieces of the way, their slack, the take-up and the twist; false when a piece has no known length, or there is no way.
func (m *maker) way(w *net.Wire, add func(string, unit.Length)) bool {
	if w.Unmeasured || len(w.Path) == 0 && !onePlace(w) {
		return false
	}
	type share struct {
		rate unit.Ratio
		of   unit.Length
	}
	var shares []share
	var total unit.Length
	for k := 0; k < len(w.Path); {
		start := k
		first := &m.geo.Edges[w.Path[k].Edge]
		from, to := stations(first, w.Path[k].Reverse)
		var length, slack unit.Length
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
			rate := net.TakeUp(m.job, w, e)
			n := slices.IndexFunc(shares, func(s share) bool { return s.rate == rate })
			if n < 0 {
				n, shares = len(shares), append(shares, share{rate: rate})
			}
			shares[n].of += e.Length + e.Slack
		}
		total += length + slack
		add(m.stretchText(first)+" "+millimetres(from)+" to "+millimetres(to), length)
		add("slack of "+first.Run, slack)
	}
	for _, s := range shares {
		add("take-up "+s.rate.String(), unit.Length(float64(s.rate)*float64(s.of)))
	}
	if r := m.twist(w); r > 0 {
		add("twist of "+w.Cable+" "+r.String(), unit.Length(float64(r)*float64(total)))
	}
	return true
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
		if es := m.geo.Stretch(e.Run, e.Stretch); len(es) > 0 {
			from, to := m.geo.Edges[es[0]].From, m.geo.Edges[es[len(es)-1]].To
			return e.Run + " (" + m.geo.Text(from) + " to " + m.geo.Text(to) + ")"
		}
	}
	return e.Run
}

// twist is what the cores of a cable twisted on the bench need more than its centre line. A core lies on a helix around the axis:
// sqrt(1 + (pi D / L)^2) - 1 for lay L and pitch diameter D = d / sin(pi/n), n cores of outside d in a ring.
func (m *maker) twist(w *net.Wire) unit.Ratio {
	c := m.cable[w.Cable]
	if c == nil || m.isBought(w) || c.Twist <= 0 || len(c.Holds) < 2 || w.Kind == net.Screen {
		return 0
	}
	var d unit.Length
	for i := range m.net.Wires {
		if m.net.Wires[i].Cable == w.Cable && m.net.Wires[i].Kind == net.Plain {
			d = max(d, m.conductor(i).Outside)
		}
	}
	x := math.Pi * float64(d) / math.Sin(math.Pi/float64(len(c.Holds))) / float64(c.Twist)
	return positive(unit.Ratio(math.Hypot(1, x) - 1))
}

// endTerms adds the tails and service loops. A splice, and an end that is cut back, are made once and get no service loop.
func (m *maker) endTerms(w *net.Wire, add func(string, unit.Length)) {
	for e := range w.Ends {
		tail, loop := net.EndAllowance(m.job, w, e)
		add("tail at "+shortText(&w.Ends[e]), tail)
		add("loop at "+shortText(&w.Ends[e]), loop)
	}
}
