package reviewbook

import (
	"slices"
	"strconv"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// line is one line of the picture: from a place that branches, through what breaks the way, to the next such place or to loads.
type line struct {
	from, to int   // nodes
	through  []int // elements that are drawn: fuses, contacts of switches and relays, stud posts, diodes
	loads    []int // elements, all loads at its end when no more lines follow
	source   int   // index into the case's supplies of one that gives at from; -1
	joins    bool  // another line leads to the same place, and goes on there
	amps     unit.Current
	next     []*line
}

const (
	leastShown  unit.Current = 1e-3 // what carries less is left out
	ownLine     unit.Current = 10   // from here on a load has a line of its own
	mostThrough              = 4    // symbols in a line
	mostPower                = 3    // cases
)

// power is the feed side of the net of a case as its currents flow.
type power struct {
	c      *solve.CaseResult
	out    [][]int // by node: elements through which current leaves it
	loads  [][]int // by node: loads that draw there
	inflow [][]int // by node: elements through which current comes
	gives  [][]int // by node: supplies with their plus there
}

// ends of an element in the direction of its current.
func (p *power) ends(i int) (from, to int) {
	e := &p.c.Net.Elements[i]
	if p.c.Point.Amps[i] < 0 {
		return e.To, e.From
	}
	return e.From, e.To
}

func (p *power) amps(i int) unit.Current {
	a := p.c.Point.Amps[i]
	if a < 0 {
		return -a
	}
	return a
}

// flow follows the currents from the plus of every supply that gives, up to the loads.
func flow(c *solve.CaseResult) *power {
	n := len(c.Net.Nodes)
	p := &power{c: c, out: make([][]int, n), loads: make([][]int, n), inflow: make([][]int, n), gives: make([][]int, n)}
	leaving, drawing := make([][]int, n), make([][]int, n)
	var at []int
	k := 0
	for i, e := range c.Net.Elements {
		from, _ := p.ends(i)
		switch shown := p.amps(i) >= leastShown; {
		case e.Kind == solve.Supply:
			if k < len(c.Supplies) && c.Supplies[k].Live && c.Point.Amps[i] >= leastShown {
				p.gives[e.From] = append(p.gives[e.From], k)
				at = append(at, e.From)
			}
			k++
		case !shown:
		case e.Kind == solve.Load || e.Kind == solve.Coil:
			drawing[from] = append(drawing[from], i)
		default:
			leaving[from] = append(leaving[from], i)
		}
	}
	seen := make([]bool, n)
	for len(at) > 0 {
		node := at[0]
		at = at[1:]
		if seen[node] {
			continue
		}
		seen[node] = true
		p.out[node], p.loads[node] = leaving[node], drawing[node]
		for _, i := range leaving[node] {
			_, to := p.ends(i)
			p.inflow[to] = append(p.inflow[to], i)
			at = append(at, to)
		}
	}
	return p
}

// mainly is the element through which most of the current comes to a node; -1 for none.
func (p *power) mainly(node int) int {
	best := -1
	for _, i := range p.inflow[node] {
		if best < 0 || unit.Worse(p.amps(i), p.amps(best)) {
			best = i
		}
	}
	return best
}

// roots is a line for each supply that gives where no current comes from elsewhere.
func (p *power) roots() (out []*line) {
	for node, gives := range p.gives {
		if len(gives) > 0 && len(p.inflow[node]) == 0 {
			l := &line{from: node, to: node, source: gives[0], amps: p.c.Supplies[gives[0]].Amps}
			p.branch(l, gives[1:])
			out = append(out, l)
		}
	}
	slices.SortStableFunc(out, func(a, b *line) int { return unit.Compare(b.amps, a.amps) })
	return out
}

// branch gives a line what follows at its end: other supplies that give there, lines with something to show, and the small rest in one.
func (p *power) branch(l *line, gives []int) {
	for _, s := range gives {
		l.next = append(l.next, &line{from: l.to, to: l.to, source: s, amps: p.c.Supplies[s].Amps})
	}
	small := &line{from: l.to, to: l.to, source: -1, loads: p.loads[l.to]}
	for _, i := range small.loads {
		small.amps += p.amps(i)
	}
	for _, i := range p.out[l.to] {
		n := p.follow(i)
		if n.plain() && n.amps < ownLine {
			small.amps += n.amps
			small.loads = append(slices.Clone(small.loads), n.loads...)
		} else {
			l.next = append(l.next, n)
		}
	}
	switch {
	case len(small.loads) == 0:
	case len(l.next) == 0:
		l.loads = small.loads
	default:
		l.next = append(l.next, small)
	}
}

// follow is the line that begins with an element.
func (p *power) follow(i int) *line {
	from, _ := p.ends(i)
	l := &line{from: from, source: -1, amps: p.amps(i)}
	for {
		_, l.to = p.ends(i)
		switch p.c.Net.Elements[i].Kind {
		case solve.Fuse, solve.Switch, solve.Post, solve.Diode:
			l.through = append(l.through, i)
		}
		if p.mainly(l.to) != i {
			l.joins = true
			return l
		}
		if len(p.out[l.to]) != 1 || len(p.loads[l.to])+len(p.gives[l.to]) > 0 || len(p.inflow[l.to]) > 1 || len(l.through) == mostThrough {
			break
		}
		i = p.out[l.to][0]
	}
	p.branch(l, p.gives[l.to])
	if len(l.next) > 0 && !slices.ContainsFunc(l.next, func(n *line) bool { return !n.plain() }) && len(l.through) == 0 && l.amps < ownLine {
		for _, n := range l.next {
			l.loads = append(slices.Clone(l.loads), n.loads...)
		}
		l.next = nil
	}
	return l
}

// plain tells that nothing along the line and behind it is drawn but loads.
func (l *line) plain() bool {
	return len(l.through) == 0 && len(l.next) == 0 && !l.joins && l.source < 0
}

// powerCases picks the case with the greatest current of all supplies, and up to two in which other supplies give.
func (b *book) powerCases() (out []*solve.CaseResult) {
	type choice struct {
		c    *solve.CaseResult
		amps unit.Current
		who  string
	}
	var all []choice
	for _, c := range b.in.Cases {
		x := choice{c: c}
		for i := range c.Supplies {
			if s := &c.Supplies[i]; s.Live && s.Amps >= leastShown && !s.Follows {
				x.amps += s.Amps
				x.who += s.Device + " " + strconv.Itoa(s.Index) + "\n"
			}
		}
		if x.amps > 0 && unit.Finite(x.amps) && c.Net != nil && c.Point.Converged {
			all = append(all, x)
		}
	}
	slices.SortStableFunc(all, func(a, b choice) int { return unit.Compare(b.amps, a.amps) })
	var seen []string
	for _, x := range all {
		if len(out) < mostPower && !slices.Contains(seen, x.who) {
			out, seen = append(out, x.c), append(seen, x.who)
		}
	}
	return out
}

// powerPicture draws the power distribution of a few cases.
func (b *book) powerPicture(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Power distribution")
	cases := b.powerCases()
	if len(cases) == 0 {
		fl.Say(prose, "No supply gives current in any case, so there is nothing to draw.")
		return
	}
	fl.Say(prose, "Feeds only, from the supplies at the left to the loads; returns are left out. The case in which the supplies give most, then cases in which others give. "+
		"Amps are those of the line; lost is the volts from the place before it to its end, over all wires, contacts and joints between; volts are at its end, against the minus terminal of the supply at the head. "+
		"So the volts of a line are those of the line it starts from less what is lost. A heavy line carries 50 A or more, a thin one less than 10 A. Loads behind one fuse that draw little stand together; "+
		"beside them the least volts across any of them. What carries less than 1 mA is left out.")
	fl.Figure(powerKeyHeight, drawPowerKey)
	for _, c := range cases {
		fl.Later(func(fl *page.Flow) {
			p := flow(c)
			fl.Heading(2, "Case "+c.Case)
			for _, l := range p.roots() {
				fl.Add(&powerTree{b: b, p: p, root: l})
			}
		})
	}
}
