package benchbook

import (
	"slices"

	"loomsheet/harness/bench"
	"loomsheet/render/connector"
	"loomsheet/render/page"
)

// small is a connector or a splice that takes half of the width: its title, what it is, its faces and its table, in one piece.
type small struct {
	title  string
	parts  []page.Block
	height page.MM
}

const (
	between   page.MM = 6    // two small connectors
	mostSmall         = 0.62 // of a page, that a small connector may take
	smallRows         = 8    // of its table
	aboveOne  page.MM = 5    // small connectors that stand one above the other
	titleGap  page.MM = 1    // between the title and what it is
	blockGap  page.MM = 1.5  // between faces and table
)

// smallOf is a connector as it stands beside another; false for one that is too large for that.
func smallOf(c *bench.Connector, body page.Box) (small, bool) {
	if len(c.Rows) == 0 || len(c.Rows) > smallRows || !connector.Legible(c, (body.W-between)/2) {
		return small{}, false
	}
	s := small{title: c.Title, parts: []page.Block{lines(page.Heading2, c.Title), lines(page.Tight, describe(c))}}
	if len(c.Wire.Cavities) > 0 {
		s.parts = append(s.parts, connector.Views(c))
	}
	s.parts = append(s.parts, pinTable(c, true))
	return s, s.measure(body)
}

// measure finds the height; false if it is too tall, or has no room in half of the width.
func (s *small) measure(body page.Box) bool {
	for _, b := range s.parts {
		h, err := page.Height(b, (body.W-between)/2)
		if err != nil {
			return false
		}
		s.height += h + blockGap
	}
	return s.height <= body.H*mostSmall
}

// draw puts it onto a canvas of its height.
func (s *small) draw(c *page.Canvas) {
	y := page.MM(0)
	for _, b := range s.parts {
		h, _ := page.Place(c.Sub(page.Box{Y: y, W: c.W(), H: c.H() - y}), b)
		y += h + blockGap
	}
}

// lines is a text of one voice, wrapped.
func lines(t page.Type, s string) page.Block {
	return block(func(width, _ page.MM) []page.Part {
		l := t.Wrap(s, width)
		return []page.Part{{Height: t.Height(len(l)), Draw: func(c *page.Canvas) { c.Lines(page.Box{W: c.W(), H: c.H()}, t, page.Left, l) }}}
	})
}

type block func(width, height page.MM) []page.Part

// Parts measures the block.
func (b block) Parts(width, height page.MM) ([]page.Part, error) { return b(width, height), nil }

// rowsOf sets small ones two by two, those of like height beside one another, in an order that fills the pages; used is what stands above the first.
func rowsOf(list []small, body page.Box, used page.MM) []page.Block {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b small) int {
		switch {
		case a.height > b.height+0.01:
			return -1
		case b.height > a.height+0.01:
			return 1
		}
		return 0
	})
	var rows [][]small
	var heights []need
	for len(list) > 0 {
		n := min(2, len(list))
		rows, heights = append(rows, list[:n]), append(heights, need{list[0].height + aboveOne, list[0].height + aboveOne})
		list = list[n:]
	}
	var out []page.Block
	for _, i := range filled(heights, body.H, used) {
		out = append(out, pair(rows[i]))
	}
	return out
}

// pair is one or two small connectors side by side, in one piece, with their bookmarks.
func pair(list []small) page.Block {
	return block(func(width, _ page.MM) []page.Part {
		w := (width - between) / 2
		var parts []page.Part
		for i := range list {
			parts = append(parts, page.Part{Keep: page.Firmly, Mark: &page.Bookmark{Title: list[i].title, Level: 2}, Draw: func(*page.Canvas) {}})
		}
		parts[0].Gap = aboveOne
		h := list[0].height
		return append(parts, page.Part{Height: h, Draw: func(c *page.Canvas) {
			for i := range list {
				list[i].draw(c.Sub(page.Box{X: page.MM(i) * (w + between), W: w, H: h}))
			}
		}})
	})
}

// need is the height of something, and how much of it must find room on the page on which it begins.
type need struct{ all, start page.MM }

// filled is the order that fills the pages: as given, but where one cannot begin on what is left of a page, the next that can goes first. The first of
// the page that follows is the one that had to wait.
func filled(list []need, page, used page.MM) []int {
	var out, left []int
	for i := range list {
		left = append(left, i)
	}
	for len(left) > 0 {
		k := 0
		for k < len(left) && used+list[left[k]].start > page {
			k++
		}
		if k == len(left) {
			k, used = 0, 0
		}
		used += list[left[k]].all
		for used > page {
			used -= page
		}
		out, left = append(out, left[k]), append(left[:k:k], left[k+1:]...)
	}
	return out
}
