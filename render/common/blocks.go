package common

import (
	"errors"
	"strconv"

	"loomsheet/render/page"
	"loomsheet/render/table"
)

var errContents = errors.New("the contents of the book do not come to rest")

// block is a page.Block made of a function.
type block func(width, height page.MM) []page.Part

// Parts measures the block.
func (b block) Parts(width, height page.MM) ([]page.Part, error) { return b(width, height), nil }

// list is the contents as they stand on a cover.
type list struct {
	contents *Contents
	chapters bool
}

// Changes makes it a block that is measured anew each time.
func (list) Changes() {}

// Parts is a line for each heading with its page at the right.
func (l list) Parts(width, height page.MM) ([]page.Part, error) {
	entries := l.contents.entries(l.chapters)
	return block(func(width, _ page.MM) []page.Part {
		if len(entries) == 0 {
			return nil
		}
		parts := []page.Part{{Height: page.Heading3.Leading() + 1, Gap: 4, Keep: page.Firmly, Draw: func(c *page.Canvas) {
			c.Text(0, page.Heading3.Baseline(), page.Heading3, "Contents")
		}}}
		// In columns, filled downwards, so that a cover seldom needs a second page.
		const gutter = 5
		cols, leading := 2, page.MM(5.2)
		if len(entries) > 24 {
			cols = 3
		}
		if len(entries) > 45 {
			leading = page.Strong.Leading()
		}
		rows := (len(entries) + cols - 1) / cols
		w := (width - gutter*page.MM(cols-1)) / page.MM(cols)
		for i := range rows {
			parts = append(parts, page.Part{Height: leading, Draw: func(c *page.Canvas) {
				for k, x := i, page.MM(0); k < len(entries); k, x = k+rows, x+w+gutter {
					entries[k].draw(c.Sub(page.Box{X: x, Y: 0, W: w, H: c.H()}))
				}
			}})
		}
		parts[1].Keep = page.Firmly
		return parts
	}).Parts(width, height)
}

// bound is the list of the volumes of a long book.
type bound struct {
	contents *Contents
	book     string
}

// Changes makes it a block that is measured anew each time.
func (bound) Changes() {}

// Parts is what is in which volume; nothing of a book that is one.
func (b bound) Parts(width, height page.MM) ([]page.Part, error) {
	if b.contents == nil || len(b.contents.volumes) < 2 {
		return nil, nil
	}
	t := table.New(table.Column{Title: "Volume", Type: page.Strong}, table.Column{Title: "Pages", Whole: true}, table.Column{Title: "From", Weight: 1}, table.Column{Title: "Bound", Align: page.Centre})
	t.Title, t.RowHeight, t.GroupEvery, t.Close = b.book+" in "+Count(len(b.contents.volumes), "volume", "volumes"), 5, 0, true
	for i, v := range b.contents.volumes {
		from := "This cover"
		for _, e := range b.contents.all {
			if e.Page > v.From+1 {
				break
			}
			from = e.Title
		}
		for _, e := range b.contents.all {
			if e.Page == v.From+1 { // what begins there says more than what goes on
				from = e.Title
				break
			}
		}
		t.Row(table.T(strconv.Itoa(i+1)), table.T(strconv.Itoa(v.From+1)+" to "+strconv.Itoa(v.To)), table.T(from), table.Tick())
	}
	return t.Parts(width, height)
}

const numberRoom page.MM = 10

func (e Entry) draw(c *page.Canvas) {
	t, x := page.Strong, page.MM(0)
	if e.Level > 1 {
		t, x = page.Body, 4
	}
	base := t.Baseline()
	s := t.Fit(e.Title, c.W()-x-numberRoom)
	c.Text(x, base, t, s)
	n := strconv.Itoa(e.Page)
	c.TextAt(c.W(), base, t, page.Right, n)
	from, to := x+t.Width(s)+2, c.W()-t.Width(n)-2
	if to > from {
		c.Line(from, base, to, base, page.Style{Line: page.Middle, Width: 0.2, Dash: []page.MM{0.3, 1.4}})
	}
}

// Intro is a paragraph that stays with what follows it: the words above a table.
func Intro(fl *page.Flow, s string) {
	fl.Add(block(func(width, _ page.MM) []page.Part {
		var parts []page.Part
		for _, l := range page.Body.Wrap(s, width) {
			parts = append(parts, page.Part{Height: page.Body.Leading(), Keep: page.Firmly, Draw: func(c *page.Canvas) {
				c.Lines(page.Box{X: 0, Y: 0, W: c.W(), H: c.H()}, page.Body, page.Left, []string{l})
			}})
		}
		parts[0].Gap = 2
		return parts
	}))
}

// TickLine is a row of boxes to tick, each with its word; it wraps when there are many.
func TickLine(words ...string) page.Block {
	return block(func(width, _ page.MM) []page.Part {
		const gap = 8
		type place struct {
			x    page.MM
			text string
		}
		var rows [][]place
		x := width
		for _, s := range words {
			w := page.TickSize + 2 + page.Body.Width(s)
			if x+w > width {
				rows, x = append(rows, nil), 0
			}
			rows[len(rows)-1] = append(rows[len(rows)-1], place{x, page.Body.Fit(s, width-page.TickSize-2)})
			x += w + gap
		}
		var parts []page.Part
		for _, r := range rows {
			parts = append(parts, page.Part{Height: 7, Keep: page.Firmly, Draw: func(c *page.Canvas) {
				base := (c.H()-page.Body.Leading())/2 + page.Body.Baseline()
				for _, p := range r {
					c.TickBox(p.x+0.2, (c.H()-page.TickSize)/2)
					c.Text(p.x+page.TickSize+2, base, page.Body, p.text)
				}
			}})
		}
		if len(parts) > 0 {
			parts[0].Gap = 1.5
			parts[len(parts)-1].Keep = page.Free
		}
		return parts
	})
}
