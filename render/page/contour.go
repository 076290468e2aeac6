package page

// contour is what a chapter takes on paper, without what is drawn there: enough to lay it out once more without making it. A book is laid out until its
// contents are right, and a long one is not held meanwhile.
type contour struct {
	parts  []uint32 // of each part, which of the book's shapes it has
	rare   []rare   // by part
	end    ahead
	broken bool // something in it changes
}

// shape is what many parts have in common.
type shape struct {
	height, gap, above MM // above: what is drawn over it at the top of a page
	limit              int
	keep               Keep
	stretch, blank     bool
	fresh, heads       bool // heads: something is drawn over it
	begins, joined     bool // a block; joined: it is of one group with the part before it
}

// rare is what few parts have.
type rare struct {
	part  int
	mark  *Bookmark
	frame *framing
}

// shapes is the different shapes of a book.
type shapes struct {
	all   []known
	which map[shape]uint32
}

// known is a part of a shape, as far as it is known without what is on it.
type known struct {
	shape
	part Part
}

func (s *shapes) of(x shape) uint32 {
	n, ok := s.which[x]
	if !ok {
		if s.which == nil {
			s.which = map[shape]uint32{}
		}
		n = uint32(len(s.all))
		p := Part{Height: x.height, Gap: x.gap, Keep: x.keep, Limit: x.limit, Stretch: x.stretch, Draw: nothing}
		if x.blank {
			p.Draw = nil
		}
		if x.heads {
			p.Again = &Part{Height: x.above, Draw: nothing}
		}
		s.all, s.which[x] = append(s.all, known{x, p}), n
	}
	return n
}

// trace notes the contour of the chapter that is made by make.
func (m *measuring) trace(make func()) *contour {
	c, to, before := &contour{}, m.to, m.ahead
	m.tracing, m.fresh, m.next = c, false, nil
	block, group := 0, 0
	m.to = func(p placed) {
		x := shape{height: p.Height, gap: p.Gap, limit: p.Limit, keep: p.Keep, stretch: p.Stretch, blank: p.blank(), fresh: p.fresh,
			begins: p.block != block, joined: group > 0 && p.group == group}
		if p.Again != nil {
			x.heads, x.above = true, p.Again.Height
		}
		if p.Mark != nil || p.frame != nil {
			c.rare = append(c.rare, rare{len(c.parts), p.Mark, p.frame})
		}
		block, group = p.block, p.group
		c.parts = append(c.parts, m.flow.shapes.of(x))
		if len(c.parts) == 1 {
			before.begin(&p)
		}
		to(p)
	}
	make()
	m.to, m.tracing = to, nil
	c.end = m.ahead
	m.after(c, before)
	return c
}

// retrace gives the parts of a chapter by its contour, with nothing on them.
func (m *measuring) retrace(c *contour) {
	before, rare := m.ahead, c.rare
	for i, k := range c.parts {
		x := &m.flow.shapes.all[k]
		if x.begins {
			m.block++
		}
		if !x.joined {
			m.groups++
		}
		p := placed{Part: x.part, block: m.block, group: m.groups, fresh: x.fresh}
		if len(rare) > 0 && rare[0].part == i {
			p.Mark, p.frame, rare = rare[0].mark, rare[0].frame, rare[1:]
		}
		if i == 0 {
			before.begin(&p)
		}
		m.to(p)
	}
	m.after(c, before)
}

// after goes on where a chapter ended, and asks of the next part what was asked of the chapter if it has none.
func (m *measuring) after(c *contour, before ahead) {
	m.ahead = c.end
	if len(c.parts) == 0 {
		m.fresh = m.fresh || before.fresh
		if m.next == nil {
			m.next = before.next
		}
	}
}

// begin makes p the first part after what a.
func (a ahead) begin(p *placed) {
	p.fresh = p.fresh || a.fresh
	if p.frame == nil {
		p.frame = a.next
	}
}

func nothing(*Canvas) {}
