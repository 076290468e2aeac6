package table

import (
	"loomsheet/render/page"
)

// tallest is the share of a body that one row may take; a taller one goes on in a second row.
const tallest = 0.55

// Parts measures the table for a flow; it is what makes a Table a page.Block.
func (t *Table) Parts(width, height MM) ([]page.Part, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	cols, err := t.Widths(width)
	if err != nil {
		return nil, err
	}
	at := t.at
	if at == nil {
		at = &place{}
	}
	head := t.head(cols, height/4)
	head.Keep = page.Firmly
	var parts []page.Part
	if !at.begun {
		if lines := t.titleLines(width); len(lines) > 0 {
			parts = chunks(lines, titleType, height, titlePart)
		}
		parts = append(parts, head)
		parts[0].Gap = 3
	}
	tops := len(parts)
	plain := Later(t.later(), width, head) // opens a later page
	under := func(sub string) *page.Part {
		more := stack(plain, subPart([]string{subType.Fit(sub, width*0.7) + " (continued)"}))
		return &more
	}
	again := &plain
	if at.before > 0 && at.sub != "" {
		again = under(at.sub)
	}
	inGroup := at.before
	first, last := at.before == 0, t.lastRow(at)
	rows := t.layout(cols, height*tallest)
	for n, r := range t.rows {
		if r.sub != "" {
			sub := chunks(subType.Wrap(r.sub, width-2*padX), subType, height, subPart)
			for i := range sub {
				sub[i].Again = &plain
			}
			if len(parts) > tops || at.begun {
				sub[0].Gap = groupGap
			}
			parts = append(parts, sub...)
			again, inGroup, first = under(r.sub), 0, true
			continue
		}
		open := n+1 < len(t.rows) && t.rows[n+1].more
		begins := len(parts)
		parts = rows.parts(parts, &t.rows[n], open)
		pieces := parts[begins:]
		for k := range pieces {
			p := &pieces[k]
			p.Again = again
			if !r.more {
				p.Limit = t.MaxRows
			}
			if k == 0 && !r.more && !r.tied && t.GroupEvery > 0 && inGroup > 0 && inGroup%t.GroupEvery == 0 {
				p.Gap = groupGap
			}
			if t.Together || t.GroupsTogether {
				p.Keep = page.Loose
			}
		}
		pieces[len(pieces)-1].Keep = t.keep(n, first, last, at)
		if !r.more && !r.tied {
			inGroup++
		}
		first = first && open
	}
	if !at.goesOn && len(parts) > 0 {
		parts[len(parts)-1].Keep = page.Free
	}
	return parts, nil
}

// keep ties row n to the next: firmly at the ends, where one row alone would look lost, and as the options ask.
func (t *Table) keep(n int, first bool, last []bool, at *place) page.Keep {
	next := n + 1
	switch {
	case next >= len(t.rows) && (at.after == 1 || at.after > 1 && first):
		return page.Firmly
	case next >= len(t.rows):
		return page.Free
	case t.rows[next].more:
		return page.Firmly
	case t.rows[next].tied && !first && !last[next]:
		return page.Loose
	case t.rows[next].sub != "":
		if t.Together {
			return page.Loose
		}
		return page.Free
	case first || last[next]:
		return page.Firmly
	case t.Together || t.GroupsTogether:
		return page.Loose
	}
	return page.Free
}

// lastRow marks the rows that end a group.
func (t *Table) lastRow(place *place) []bool {
	out := make([]bool, len(t.rows))
	at := 0
	for i, r := range t.rows {
		if !r.more {
			at = i
		}
		if r.sub == "" && (i+1 == len(t.rows) && place.after == 0 || i+1 < len(t.rows) && t.rows[i+1].sub != "") {
			out[at] = true
		}
	}
	return out
}

// chunks makes parts of the lines, firmly tied: one as a rule, more of a text that would take much of a page.
func chunks(lines []string, ty page.Type, height MM, part func([]string) page.Part) []page.Part {
	most := max(1, int(float64(height)/4/float64(ty.Leading())))
	var out []page.Part
	for len(lines) > 0 {
		n := min(most, len(lines))
		p := part(lines[:n])
		p.Keep = page.Firmly
		out, lines = append(out, p), lines[n:]
	}
	return out
}

// stack draws parts below each other as one.
func stack(ps ...page.Part) page.Part {
	h := MM(0)
	for _, p := range ps {
		h += p.Height
	}
	return page.Part{Height: h, Draw: func(c *page.Canvas) {
		y := MM(0)
		for _, p := range ps {
			if p.Draw != nil {
				p.Draw(c.Sub(page.Box{X: 0, Y: y, W: c.W(), H: p.Height}))
			}
			y += p.Height
		}
	}}
}

func (t *Table) titleLines(width MM) []string {
	if t.Title == "" {
		return nil
	}
	return titleType.Wrap(t.Title, width)
}

// later is the title above the second page.
func (t *Table) later() string {
	if t.Later != "" {
		return t.Later
	}
	return t.Title
}

// Later is a head with the title above it that says what a page goes on with; a long one is shortened, the first page has it whole.
func Later(title string, width MM, head page.Part) page.Part {
	if title == "" {
		return head
	}
	const more = ", continued"
	return stack(titlePart([]string{titleType.Fit(title, width-titleType.Width(more)) + more}), head)
}

// ContinueAs names the later pages of a table that has no title, by the heading over it.
func (t *Table) ContinueAs(heading string) {
	if t.Title == "" && t.Later == "" {
		t.Later = heading
	}
}

func titlePart(lines []string) page.Part {
	if len(lines) == 0 {
		return page.Part{}
	}
	h := titleType.Height(len(lines))
	return page.Part{Height: h + 1, Draw: func(c *page.Canvas) {
		c.Lines(page.Box{X: 0, Y: 0, W: c.W(), H: h}, titleType, page.Left, lines)
	}}
}

// head draws the column titles; a title that would take a quarter of the page ends in an ellipsis.
func (t *Table) head(cols []MM, most MM) page.Part {
	lines := make([][]string, len(cols))
	tall, room := 0, max(1, int(float64(most)/float64(headType.Leading())))
	for i, c := range t.Columns {
		if c.Title == "" {
			continue
		}
		w := cols[i] - 2*padX
		lines[i] = headType.Wrap(c.Title, w)
		if len(lines[i]) > room {
			lines[i] = append(lines[i][:room-1:room-1], headType.Fit(lines[i][room-1]+"…", w))
		}
		tall = max(tall, len(lines[i]))
	}
	if tall == 0 {
		return page.Part{Height: 0.5, Draw: func(c *page.Canvas) { c.Line(0, 0, c.W(), 0, page.Firm) }}
	}
	h := headType.Height(tall) + 2*padY
	return page.Part{Height: h, Draw: func(c *page.Canvas) {
		x := MM(0)
		for i, w := range cols {
			th := headType.Height(len(lines[i]))
			c.Lines(page.Box{X: x + padX, Y: h - padY - th, W: w - 2*padX, H: th}, headType, t.Columns[i].Align, lines[i])
			x += w
		}
		c.Line(0, h, c.W(), h, page.Firm)
	}}
}

func subPart(lines []string) page.Part {
	text := subType.Height(len(lines))
	h := max(text+2*padY, 6.4)
	return page.Part{Height: h, Draw: func(c *page.Canvas) {
		c.Rect(page.Box{X: 0, Y: 0, W: c.W(), H: h}, page.Style{Fill: page.Pale})
		c.Lines(page.Box{X: padX, Y: (h - text) / 2, W: c.W() - 2*padX, H: text}, subType, page.Left, lines)
	}}
}
