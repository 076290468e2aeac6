package net

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/design"
)

// seating is the giving of the cavities of one break.
type seating struct {
	*builder
	of        *design.Break
	cavities  []cavity
	crossings []*crossing // in the order of their wires' names
	taken     []*crossing
	spare     []*design.CavityDecision // kept free by hand
}

// giveCavities gives every crossing of every break its cavity: first what is frozen, then what is stated, the rest by rule (board). The rule
// reads names, sizes and the face only, never the order of the text.
func (b *builder) giveCavities() {
	b.roles()
	by := map[string][]*crossing{}
	for _, c := range b.crossings {
		by[c.of.Name] = append(by[c.of.Name], c)
	}
	for _, x := range b.breakList {
		s := &seating{builder: b, of: x, cavities: b.cavities(x), crossings: by[x.Name]}
		slices.SortStableFunc(s.crossings, func(p, q *crossing) int {
			return cmp.Or(cmp.Compare(p.drafts[0].at, q.drafts[0].at), cmp.Compare(p.drafts[1].at, q.drafts[1].at))
		})
		s.taken = make([]*crossing, len(s.cavities))
		s.spare = make([]*design.CavityDecision, len(s.cavities))
		s.decided()
		switch {
		case len(s.cavities) == 0:
		case b.isPost(x):
			for _, c := range s.crossings {
				c.cavity = 0
			}
		default:
			s.byRule()
			s.straighten()
		}
		s.stamp()
	}
}

func (s *seating) index(name string) int {
	return slices.IndexFunc(s.cavities, func(c cavity) bool { return c.name == name })
}

// decided applies what was decided by hand.
func (s *seating) decided() {
	var ds []*design.CavityDecision
	for _, d := range s.job.Cavities {
		if d.Break == s.of.Name && s.index(d.Cavity) >= 0 {
			ds = append(ds, d)
		}
	}
	slices.SortStableFunc(ds, func(x, y *design.CavityDecision) int {
		return cmp.Or(frozenFirst(x.Frozen, y.Frozen), cmp.Compare(specific(y), specific(x)), cmp.Compare(s.index(x.Cavity), s.index(y.Cavity)),
			design.Natural(x.Circuit, y.Circuit), design.Natural(x.From, y.From), design.Natural(x.To, y.To), bySpan(x.Span, y.Span))
	})
	for _, d := range ds {
		i := s.index(d.Cavity)
		switch {
		case d.Circuit != "":
			s.decide(d, i)
		case d.Spare != "" && s.spare[i] == nil:
			s.spare[i] = d
			if c := s.taken[i]; c != nil {
				s.twice(d, c, "kept spare for class "+d.Spare)
			}
		}
	}
}

// specific is 1 for a decision that names one wire, 0 for one about any wire of its circuit.
func specific(d *design.CavityDecision) int {
	if d.From == "" && d.To == "" {
		return 0
	}
	return 1
}

func (c *crossing) answers(d *design.CavityDecision) match {
	return max(c.drafts[0].answers(d.Circuit, d.From, d.To), c.drafts[1].answers(d.Circuit, d.From, d.To))
}

// decide gives a cavity by hand.
func (s *seating) decide(d *design.CavityDecision, i int) {
	if !s.circuitKnown(d.Circuit) {
		if d.Frozen != "" {
			s.problem(Problem{Kind: FrozenLost, Circuit: d.Circuit, From: d.From, To: d.To, Break: s.of.Name, Cavity: d.Cavity, Span: d.Span,
				Detail: fmt.Sprintf("Cavity %s.%s has held it since revision %s, and there is no circuit of that name.", s.of.Name, d.Cavity, d.Frozen)})
		}
		return
	}
	post := s.isPost(s.of)
	if c := s.taken[i]; c != nil && !post {
		if c.answers(d) == stranger {
			s.twice(d, c, "given to "+d.Circuit)
		}
		return
	}
	var seated *crossing
	best := stranger
	for _, c := range s.crossings {
		best = max(best, c.answers(d))
	}
	for _, c := range s.crossings {
		switch {
		case best == stranger || c.answers(d) != best:
			continue
		case c.cavity >= 0:
			seated = c
			continue
		}
		c.cavity, c.status, c.decision = i, d.Status(), d
		s.taken[i] = c
		return
	}
	p := Problem{Kind: CavityUnknown, Circuit: d.Circuit, From: d.From, To: d.To, Break: s.of.Name, Cavity: d.Cavity, Span: d.Span}
	switch {
	case seated != nil && post:
		return
	case seated != nil:
		p.Kind, p.Other = TwoCavities, s.cavities[seated.cavity].name
		p.Detail = fmt.Sprintf("It has cavity %s already, and no other wire of it passes %s.", p.Other, s.of.Name)
		if seated.decision != nil {
			p.Related = related(seated.decision.Span, "cavity "+p.Other+" decided here")
		}
	default:
		if d.Frozen != "" {
			p.Kind = FrozenLost
		}
		p.Detail = fmt.Sprintf("Cavity %s.%s: %s", s.of.Name, d.Cavity, s.wiresOf(d.Circuit))
	}
	s.problem(p)
}

// twice records that two decisions want one cavity.
func (s *seating) twice(d *design.CavityDecision, c *crossing, what string) {
	other := c.drafts[0].Circuit
	p := Problem{Kind: CavityTwice, Circuit: d.Circuit, From: d.From, To: d.To, Other: other, Break: s.of.Name, Cavity: d.Cavity, Span: d.Span,
		Detail: fmt.Sprintf("Here it is %s.", what)}
	if p.Circuit == "" {
		p.Circuit = other
		p.Other = "spare"
	}
	if c.decision != nil {
		p.Related = related(c.decision.Span, "given to "+other+" here")
	}
	s.problem(p)
}

// need is what a half of a crossing will ask of its contact: its size stated, else hinted, and the current hinted.
func (s *seating) need(c *crossing, half int) Need {
	d := c.drafts[half]
	n := s.hints[d.Name]
	if !d.Stated.IsZero() {
		n.Size = d.Stated
	}
	return n
}

// fits tells whether a cavity takes a crossing on both halves.
func (s *seating) fits(c *crossing, i int, loosely bool) bool {
	for half, h := range s.cavities[i].halves {
		n := s.need(c, half)
		if loosely {
			n.Amps = 0
		}
		if !s.takes(h, n, loosely && c.drafts[half].Stated.IsZero()) {
			return false
		}
	}
	return true
}

// room is the capacity of a cavity for ordering; one without a known limit comes last.
func (s *seating) room(i int) float64 {
	if a, ok := s.capacity(s.cavities[i]); ok {
		return float64(a)
	}
	return math.MaxFloat64
}

// straighten lets cavities rise with ordinals where crossings of one name and size are told apart by nothing else, so that frozen lines find
// each its own again. What is frozen stays.
func (s *seating) straighten() {
	for i := 0; i < len(s.crossings); {
		j := i + 1
		for j < len(s.crossings) && s.crossings[j].alike(s.crossings[i]) {
			j++
		}
		var loose []*crossing
		for _, c := range s.crossings[i:j] {
			if c.cavity >= 0 && c.status != design.Frozen && s.need(c, 0) == s.need(s.crossings[i], 0) && s.need(c, 1) == s.need(s.crossings[i], 1) {
				loose = append(loose, c)
			}
		}
		seats := make([]crossing, len(loose))
		for k, c := range loose {
			seats[k] = *c
		}
		slices.SortFunc(seats, func(x, y crossing) int { return cmp.Compare(x.cavity, y.cavity) })
		for k, c := range loose {
			c.cavity, c.status, c.decision = seats[k].cavity, seats[k].status, seats[k].decision
			s.taken[c.cavity] = c
		}
		i = j
	}
}

// alike tells whether two crossings join wires of the same two names, ordinals aside.
func (c *crossing) alike(o *crossing) bool {
	return c.drafts[0].base == o.drafts[0].base && c.drafts[1].base == o.drafts[1].base
}

// leastRoom is the smallest capacity that takes a crossing, 0 if its size is not known yet.
func (s *seating) leastRoom(c *crossing) float64 {
	if s.need(c, 0) == (Need{}) && s.need(c, 1) == (Need{}) {
		return 0
	}
	least := math.MaxFloat64
	for _, loosely := range []bool{false, true} {
		for i := range s.cavities {
			if s.fits(c, i, loosely) {
				least = min(least, s.room(i))
			}
		}
		if least < math.MaxFloat64 {
			break
		}
	}
	return least
}

// none records that no cavity is left.
func (s *seating) none(c *crossing) {
	d := c.drafts[0]
	p := Problem{Kind: NoCavityLeft, Circuit: d.Circuit, Break: s.of.Name, Span: d.Span}
	if d.link != nil {
		p.From, p.To = d.link.From.String(), d.link.To.String()
	}
	free, fit := 0, 0
	for i := range s.cavities {
		if s.taken[i] == nil {
			free++
		}
		if s.fits(c, i, true) {
			fit++
		}
	}
	size := s.need(c, 0).Size
	if o := s.need(c, 1).Size; size.Less(o) {
		size = o
	}
	switch {
	case fit == 0:
		p.Detail = fmt.Sprintf("None of its %d cavities takes %s.", len(s.cavities), size)
	case free == 0:
		p.Detail = fmt.Sprintf("All of its %d cavities are taken.", len(s.cavities))
	case size.IsZero():
		p.Detail = fmt.Sprintf("The %d cavities still free are kept spare for another class.", free)
	default:
		p.Detail = fmt.Sprintf("%d of its %d cavities take %s, and all of those are taken or kept spare; %d others are free.", fit, len(s.cavities), size, free)
	}
	p.Related = related(s.of.Span, "break "+s.of.Name+" has this housing")
	s.problem(p)
}

// stamp writes the cavities into the wires' ends, with contacts and seals stated for them.
func (s *seating) stamp() {
	for _, c := range s.crossings {
		if c.cavity < 0 {
			continue
		}
		name := s.cavities[c.cavity].name
		for half, d := range c.drafts {
			t := d.endAt(s.of.Name, half, c)
			if t == nil {
				continue
			}
			t.Cavity, t.Status = name, c.status
			for _, x := range s.job.Cavities {
				if x.Break == s.of.Name && x.Cavity == name && (x.Circuit == "" || c.answers(x) != stranger) {
					t.take(x)
				}
			}
		}
	}
}

// take fills in what a decision says of an end and nothing before it has.
func (t *Termination) take(x *design.CavityDecision) {
	t.Contact, t.Seal, t.Order = cmp.Or(t.Contact, x.Contact), cmp.Or(t.Seal, x.Seal), cmp.Or(t.Order, x.Order)
	if !t.Angled {
		t.Angle, t.Angled = x.Angle.Nominal, x.Angle.Given
	}
	if len(t.SlidOn) == 0 {
		t.SlidOn = x.SlidOn
	}
}

// endAt is the end of a wire in a crossing: the end towards the other wire.
func (d *draft) endAt(name string, half int, c *crossing) *Termination {
	other := c.drafts[1-half]
	end := 0
	if other.Piece > d.Piece {
		end = 1
	}
	if t := &d.Ends[end]; t.Break == name && t.Half == half {
		return t
	}
	return nil
}

// pinDecisions applies contacts, seals, stack orders and freezing of device pins.
func (b *builder) pinDecisions() {
	ds := slices.Clone(b.job.Cavities)
	slices.SortStableFunc(ds, func(x, y *design.CavityDecision) int {
		return cmp.Or(frozenFirst(x.Frozen, y.Frozen), cmp.Compare(specific(y), specific(x)), design.Natural(x.Device, y.Device),
			design.Natural(x.Cavity, y.Cavity), design.Natural(x.Circuit, y.Circuit), design.Natural(x.Contact, y.Contact), cmp.Compare(x.Order, y.Order), bySpan(x.Span, y.Span))
	})
	by := map[*Termination]*design.CavityDecision{}
	for _, x := range ds {
		if x.Device == "" || b.devices[x.Device] == nil || x.Circuit != "" && !b.circuitKnown(x.Circuit) {
			continue
		}
		met := false
		for _, d := range b.drafts {
			for e := range d.Ends {
				t := &d.Ends[e]
				if t.Device != x.Device || t.Pin != x.Cavity || x.Circuit != "" && d.answers(x.Circuit, x.From, x.To) == stranger {
					continue
				}
				met = true
				b.pinDecision(x, d, t, by)
			}
		}
		if !met && x.Circuit != "" {
			p := Problem{Kind: CavityUnknown, Circuit: x.Circuit, From: x.From, To: x.To, Break: x.Device, Cavity: x.Cavity, Span: x.Span,
				Detail: fmt.Sprintf("Pin %s.%s: %s", x.Device, x.Cavity, b.wiresOf(x.Circuit))}
			if x.Frozen != "" {
				p.Kind = FrozenLost
			}
			b.problem(p)
		}
	}
}

func (b *builder) pinDecision(x *design.CavityDecision, d *draft, t *Termination, by map[*Termination]*design.CavityDecision) {
	if o := by[t]; o != nil && (x.Contact != "" && t.Contact != "" && x.Contact != t.Contact || x.Seal != "" && t.Seal != "" && x.Seal != t.Seal ||
		x.Order != 0 && t.Order != 0 && x.Order != t.Order) {
		b.problem(Problem{Kind: CavityTwice, Circuit: d.Circuit, From: d.From, To: d.To, Other: d.Circuit, Break: x.Device, Cavity: x.Cavity, Span: x.Span,
			Detail: "Two lines decide its contact, seal or place in the stack differently.", Related: related(o.Span, "decided here as well")})
		return
	}
	t.take(x)
	t.Status = max(t.Status, x.Status())
	if by[t] == nil {
		by[t] = x
	}
}
