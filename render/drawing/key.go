package drawing

import (
	"cmp"
	"slices"

	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// keyRow is a row of the key on paper.
type keyRow struct {
	tag   page.Box // frame of its number
	lines []text
}

var keyVoice = page.Body.Sized(9)

const (
	keyGap  page.MM = 6 // between columns
	keyRoom page.MM = 3 // above the key
	rowGap  page.MM = 1.2
)

// entries is the key in the order of its numbers, what has none last.
func (y *laying) entries() []Entry {
	var out, last []Entry
	for i, s := range y.l.d.Labels {
		switch {
		case y.bare[i] && y.with[i] > 0 && !y.bare[y.with[i]-1]:
			out = append(out, Entry{y.numbers[y.with[i]-1], s.Text + " (within 3 mm of this number's place)"})
		case y.bare[i]:
			last = append(last, Entry{0, s.Text + " (no room for its mark; it lies at " + where(s.At) + ")"})
		case y.numbered[i]:
			out = append(out, Entry{y.numbers[i], s.Text})
		}
	}
	slices.SortStableFunc(out, func(a, b Entry) int { return cmp.Compare(a.Number, b.Number) })
	return append(out, last...)
}

func where(p Place) string {
	if !p.finite() {
		return "no place"
	}
	return unit.Number(float64(p.X), 0) + ", " + unit.Number(float64(p.Y), 0) + " mm"
}

// columns of the key: as many as make it lowest; how wide each is, the room of numbers, and how many lines the longest row takes.
func (y *laying) columns(es []Entry) (n int, width, tag page.MM, lines int) {
	for _, e := range es {
		tag = max(tag, tagVoice.Width(mark(e.Number))+1.6)
	}
	least := page.MM(0)
	for k := 1; k <= 6; k++ {
		w := (y.l.W - keyGap*page.MM(k-1)) / page.MM(k)
		if k > 1 && w < tag+25 {
			break
		}
		most := 1
		for _, e := range es {
			most = max(most, len(keyVoice.Wrap(e.Text, w-tag-2)))
		}
		if h := rowsHeight((len(es)+k-1)/k, most); k == 1 || h < least {
			n, width, lines, least = k, w, most, h
		}
	}
	return n, width, tag, lines
}

func mark(number int) string {
	if number == 0 {
		return "–"
	}
	return unit.Number(float64(number), 0)
}

func rowHeight(lines int) page.MM { return keyVoice.Height(lines) + rowGap }

// rowsHeight is the height of so many rows. The conversion keeps a processor from fusing the product with what it is added to.
func rowsHeight(rows, lines int) page.MM { return page.MM(float64(rows) * float64(rowHeight(lines))) }

// keyHeight is how high the whole key would be.
func (y *laying) keyHeight() page.MM {
	es := y.entries()
	if len(es) == 0 {
		return 0
	}
	n, _, _, lines := y.columns(es)
	return keyRoom + rowsHeight((len(es)+n-1)/n, lines)
}

// layKey sets the key below the drawing, column by column, and leaves in Rest what finds no room; it returns the height used.
func (y *laying) layKey(top page.MM) page.MM {
	es := y.entries()
	y.l.Rest, y.l.key = nil, nil
	if len(es) == 0 {
		return 0
	}
	n, width, tag, lines := y.columns(es)
	room := y.l.H - y.barH - top
	if y.grow {
		room = y.keyHeight()
	}
	rows := min((len(es)+n-1)/n, max(0, int(float64((room-keyRoom+0.001)/rowHeight(lines)))))
	if rows == 0 || width < tag+10 {
		y.l.Rest = es
		return 0
	}
	for i, e := range es {
		if i >= rows*n {
			y.l.Rest = es[i:]
			break
		}
		at := page.Box{X: (width + keyGap) * page.MM(i/rows), Y: top + keyRoom + rowsHeight(i%rows, lines), W: width, H: keyVoice.Leading()}
		row := keyRow{tag: page.Box{X: at.X, Y: at.Y, W: tag, H: at.H}}
		row.lines = append(row.lines, in(row.tag, tagVoice, mark(e.Number)))
		for k, s := range keyVoice.Wrap(e.Text, width-tag-2) {
			row.lines = append(row.lines, text{page.Point{X: at.X + tag + 2, Y: at.Y + keyVoice.Height(k) + (keyVoice.Leading()-height(keyVoice))/2 + font.Ascent(keyVoice.Face, keyVoice.Size)}, keyVoice, s})
		}
		y.l.key = append(y.l.key, row)
	}
	return keyRoom + rowsHeight(rows, lines)
}
