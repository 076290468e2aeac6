package table

import (
	"fmt"
	"math"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// wants are the widths a column asks for, padding included.
type wants struct {
	least   MM // its widest letter, ticks and swatches: below it something would stand out
	words   MM // no word broken
	natural MM // nothing wrapped
	cells   MM // the same without the head
	weight  float64
}

// Widths shares the given width among the columns; the sum is the width. Columns get what they need unwrapped if there
// is room, and what is left over by weight. When there is not, the widest give way first, down to their longest word,
// then down to their widest letter. An error says that not even those fit.
func (t *Table) Widths(width MM) ([]MM, error) {
	var (
		ws         = make([]wants, len(t.Columns))
		least      MM
		words, all MM
	)
	for _, mins := range []bool{true, false} {
		least, words, all = 0, 0, 0
		for i, c := range t.Columns {
			if !mins {
				c.Min = 0
			}
			ws[i] = t.want(i, c, width)
			least += ws[i].least
			words += ws[i].words
			all += ws[i].natural
		}
		if least <= width {
			break
		}
	}
	out := make([]MM, len(ws))
	switch {
	case least > width+0.001:
		return nil, fmt.Errorf("table %q: its %d columns need %.0f mm and the page has %.0f mm", t.Title, len(ws), float64(least), float64(width))
	case all <= width:
		t.spread(out, ws, width-all)
	case words <= width:
		level(out, ws, width, func(w wants) (MM, MM) { return w.words, w.natural })
	default:
		level(out, ws, width, func(w wants) (MM, MM) { return w.least, w.words })
	}
	return round(out, width), nil
}

// measured is what a column's texts take, found once for so many rows and one voice; the voice of a column may be changed between two layouts.
type measured struct {
	rows          int
	title         string
	voice         page.Type
	least, words  MM
	natural, head MM
}

func (t *Table) measure(i int, c Column) *measured {
	if t.at != nil {
		return &t.known[i]
	}
	if len(t.known) != len(t.Columns) {
		t.known = make([]measured, len(t.Columns))
	}
	k := &t.known[i]
	if k.rows == len(t.rows)+1 && k.title == c.Title && k.voice == c.Type {
		return k
	}
	*k = begun(c)
	k.rows = len(t.rows) + 1
	k.take(t.rows, i, c)
	return k
}

// begun is what a column takes without rows.
func begun(c Column) measured {
	k := measured{title: c.Title, voice: c.Type}
	k.add(headType, 0, c.Title)
	k.head, k.natural = k.natural, 0
	return k
}

func (k *measured) add(ty page.Type, lead MM, s string) {
	line, word, letter := font.Extent(ty.Face, ty.Size, s)
	lead += 2 * padX
	k.natural = max(k.natural, lead+line)
	k.words = max(k.words, lead+word)
	k.least = max(k.least, lead+letter)
}

// take adds the cells of column i.
func (k *measured) take(rows []row, i int, c Column) {
	for n := range rows {
		if r := &rows[n]; i < len(r.cells) {
			k.add(cellType(c, r.cells[i]), r.cells[i].lead(), r.cells[i].Text)
		}
	}
}

func (t *Table) want(i int, c Column, width MM) wants {
	k := t.measure(i, c)
	w := wants{weight: float64(max(c.Weight, 1)), least: k.least, words: k.words, natural: k.natural}
	head := k.head
	w.cells, w.natural = w.natural, max(w.natural, head)
	w.least += 0.02
	// Rounding must not break a word that just fits, and a word longer than a third of the table may be broken.
	w.natural += 0.1
	w.words = min(w.words+0.1, max(width/3, w.least))
	if c.Width > 0 {
		// A fixed column gives way to the longest word of its head, not to its cells.
		w.words = max(c.Width, min(2*padX+font.Longest(headType.Face, headType.Size, c.Title)+0.1, width/3))
		w.natural = w.words
		w.least = max(w.least, c.Width)
	} else {
		w.least = max(w.least, c.Min)
	}
	if c.Whole {
		w.least = max(w.least, min(w.cells+0.1, width/4), min(2*padX+font.Longest(headType.Face, headType.Size, c.Title)+0.1, width/4))
	}
	w.words = max(w.words, w.least)
	w.natural = max(w.natural, w.words)
	return w
}

// spread gives the columns their natural widths and hands out the rest: by the weights that were stated, or else by
// the natural widths. Fixed columns take part only when there are no others.
func (t *Table) spread(out []MM, ws []wants, rest MM) {
	share := func(i int) float64 { return float64(ws[i].natural) }
	open := func(c Column) bool { return c.Width == 0 }
	for _, c := range t.Columns {
		if c.Weight > 0 {
			share = func(i int) float64 { return ws[i].weight }
			open = func(c Column) bool { return c.Weight > 0 }
			break
		}
	}
	total := 0.0
	for i, c := range t.Columns {
		if open(c) {
			total += share(i)
		}
	}
	if total == 0 {
		open, share = func(Column) bool { return true }, func(i int) float64 { return float64(ws[i].natural) }
		for i := range ws {
			total += share(i)
		}
	}
	for i, c := range t.Columns {
		out[i] = ws[i].natural
		if open(c) {
			out[i] += MM(float64(rest) * share(i) / total)
		}
	}
}

// level finds the height of water at which the columns, each held between its low and its high, fill the width.
func level(out []MM, ws []wants, width MM, bounds func(wants) (low, high MM)) {
	fill := func(mark float64) MM {
		sum := MM(0)
		for i, w := range ws {
			low, high := bounds(w)
			out[i] = min(max(low, MM(mark*w.weight)), high)
			sum += out[i]
		}
		return sum
	}
	lo, hi := 0.0, float64(width)
	for range 60 {
		mid := (lo + hi) / 2
		if fill(mid) <= width {
			lo = mid
		} else {
			hi = mid
		}
	}
	fill(lo)
}

// round brings the widths to hundredths of a millimetre, downwards, and gives what is left to the widest column.
func round(ws []MM, width MM) []MM {
	sum, widest := MM(0), 0
	for i := range ws {
		ws[i] = MM(math.Floor(float64(float64(ws[i])*100)+1e-6) / 100)
		sum += ws[i]
		if ws[i] > ws[widest] {
			widest = i
		}
	}
	ws[widest] += width - sum
	return ws
}
