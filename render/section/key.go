package section

import (
	"loomsheet/harness/layup"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// row is a line of the key: a number and what it stands for, or words alone.
type row struct {
	mark string
	text []string
}

// column is rows one below the other.
type column struct {
	rows  []row
	width page.MM
	mark  page.MM // room of the numbers
}

// rowsOf is a line of the key across the page: one row of each column.
type rowsOf []cell

type cell struct {
	x, mark page.MM
	row     row
}

type key struct {
	beside columns  // beside the drawing
	below  []rowsOf // what found no room there
}

type columns []column

func (r row) height() page.MM { return keyed.Height(len(r.text)) + keyGap }

func (r row) draw(c *page.Canvas, x, y, mark page.MM) {
	if r.mark != "" {
		c.Text(x, y+keyed.Baseline(), keyHead, r.mark)
		x += mark
	}
	for k, s := range r.text {
		t := keyed
		if r.mark == "" {
			t = page.Small
		}
		c.Text(x, y+keyed.Height(k)+keyed.Baseline(), t, s)
	}
}

const leastMark page.MM = 7 // room for a number of the key

// markRoom is the room of the numbers: more where they have many digits.
func (p *picture) markRoom() page.MM {
	return max(leastMark, keyHead.Width(number(p.lay, len(p.lay.Pieces)-1))+1)
}

func (cs columns) height() (h page.MM) {
	for _, c := range cs {
		sum := page.MM(0)
		for _, r := range c.rows {
			sum += r.height()
		}
		h = max(h, sum)
	}
	return h
}

func (cs columns) draw(c *page.Canvas) {
	x := page.MM(0)
	for _, col := range cs {
		y := page.MM(0)
		for _, r := range col.rows {
			r.draw(c, x, y, col.mark)
			y += r.height()
		}
		x += col.width + 3
	}
}

func (r rowsOf) height() (h page.MM) {
	for _, c := range r {
		h = max(h, c.row.height())
	}
	return h
}

func (r rowsOf) draw(c *page.Canvas) {
	for _, x := range r {
		x.row.draw(c, x.x, 0, x.mark)
	}
}

// key lists what the drawing's signs and numbers stand for, in columns beside the drawing, and what finds no room there in rows below it.
func (p *picture) key(width, drawn page.MM) (k key) {
	rows, mark := p.legend(), p.markRoom()
	beside := width - drawn - gutter
	n := int((beside + 3) / (keyColumn + 3))
	if n < 1 {
		n = 0
	}
	all := make([]row, 0, len(rows)+len(p.lay.Pieces))
	wrap := func(list []row, w page.MM) []row {
		out := make([]row, len(list))
		for i, r := range list {
			room := w
			t := page.Small
			if r.mark != "" {
				room, t = w-mark, keyed
			}
			out[i] = row{r.mark, t.Wrap(r.text[0], room)}
		}
		return out
	}
	all = append(append(all, rows...), p.entries()...)
	if n > 0 {
		w := (beside - 3*page.MM(n-1)) / page.MM(n)
		high := p.paper(p.high) + 2*margin
		set := wrap(all, w)
		used := 0
		for range n {
			col := column{width: w, mark: mark}
			sum := page.MM(0)
			for used < len(set) && sum+set[used].height() <= high {
				sum += set[used].height()
				col.rows = append(col.rows, set[used])
				used++
			}
			k.beside = append(k.beside, col)
		}
		all = all[used:]
	}
	n = max(1, int((width+3)/(keyColumn+3)))
	w := (width - 3*page.MM(n-1)) / page.MM(n)
	set := wrap(all, w)
	lines := (len(set) + n - 1) / n
	for i := range lines {
		var line rowsOf
		for col, at := 0, i; at < len(set); col, at = col+1, at+lines {
			line = append(line, cell{page.MM(col) * (w + 3), mark, set[at]})
		}
		k.below = append(k.below, line)
	}
	return k
}

// legend explains signs that the drawing uses.
func (p *picture) legend() (out []row) {
	say := func(s string) { out = append(out, row{text: []string{s}}) }
	if n := len(p.lay.Layers); n > 1 {
		s := "From the core outwards: the core on white"
		told := n
		if n > 8 {
			told = 3
		}
		for i := 1; i < told; i++ {
			s += ", layer " + unit.Number(float64(i+1), 0)
			if i%2 == 1 {
				s += " on grey"
			} else {
				s += " on white"
			}
		}
		if told < n {
			s += ", and so on by turns up to layer " + unit.Number(float64(n), 0)
		}
		say(s + ".")
	}
	fillers, cables, spares, built := false, false, false, false
	for i := range p.lay.Layers {
		fillers = fillers || len(p.lay.Layers[i].Fillers) > 0
		built = built || p.lay.Layers[i].Built > 0
	}
	for i := range p.lay.Pieces {
		cables, spares = cables || p.lay.Pieces[i].Cable != "", spares || p.lay.Pieces[i].Spare
	}
	if fillers {
		say("Crossed: a filler.")
	}
	if built {
		say("Dashed circle within a layer: tape up to there.")
	}
	if cables {
		say("Double outline: a pair or a cable.")
	}
	if spares {
		say("Dashed outline: a spare.")
	}
	if p.stands != nil {
		s := "Where numbers would meet, some circles have none."
		if p.lay.Kind == layup.Layers {
			s += " Around the core they run clockwise in each layer."
		}
		say(s)
	}
	return out
}

// entries explains the numbers, layer by layer.
func (p *picture) entries() (out []row) {
	if !p.numbers {
		return nil
	}
	layer := 0
	for i := range p.lay.Pieces {
		piece := &p.lay.Pieces[i]
		if piece.Layer != layer {
			layer = piece.Layer
			said := "Core"
			if layer > 1 {
				said = "Layer " + unit.Number(float64(layer), 0)
			}
			if y := &p.lay.Layers[layer-1]; y.Hand != layup.Straight {
				said += ", " + y.Hand.String()
			}
			out = append(out, row{text: []string{said}})
		}
		s := piece.Label
		if piece.Colour != "" {
			s += "  " + piece.Colour
		}
		out = append(out, row{number(p.lay, i), []string{s}})
	}
	return out
}
