package page

import "strings"

// measured is a block made of a function.
type measured func(width, height MM) []Part

func (m measured) Parts(width, height MM) ([]Part, error) { return m(width, height), nil }

// Heading of level 1 to 3; it becomes a bookmark and stays with what follows it.
func (fl *Flow) Heading(level int, s string) {
	if s = strings.Trim(strings.ReplaceAll(s, "\n", " "), " "); s == "" {
		return
	}
	level, fl.head = min(max(level, 1), 3), s
	t := [...]Type{Heading1, Heading2, Heading3}[level-1]
	fl.add(step{heading: true, block: measured(func(w, _ MM) []Part {
		ps := lineParts(t, t.Wrap(s, w), 0, nil)
		for i := range ps {
			ps[i].Keep = Firmly
		}
		ps[0].Gap = [...]MM{9, 7, 5}[level-1]
		ps[0].Mark = &Bookmark{Title: s, Level: level}
		ps[len(ps)-1].Height += 1
		return ps
	})})
}

// Title is the name of the book on its cover.
func (fl *Flow) Title(s string) { fl.Say(Title, s) }

// Para is a paragraph of running text.
func (fl *Flow) Para(s string) { fl.Say(Body, s) }

// Say is a paragraph in any voice.
func (fl *Flow) Say(t Type, s string) {
	if s = strings.Trim(s, " \n"); s == "" {
		return
	}
	fl.Add(measured(func(w, _ MM) []Part {
		ps := lineParts(t, t.Wrap(s, w), 0, nil)
		ps[0].Gap = 2
		return ps
	}))
}

// Space leaves a height free, unless a page ends there.
func (fl *Flow) Space(h MM) {
	fl.Add(measured(func(_, _ MM) []Part { return []Part{{Gap: h}} }))
}

// Figure reserves a height of the body's width and draws into it.
func (fl *Flow) Figure(h MM, draw func(c *Canvas)) {
	fl.Add(measured(func(_, _ MM) []Part { return []Part{{Height: h, Gap: 3, Draw: draw}} }))
}

// FigureRest draws into what is left of the page, or into the next page if less than least is left.
func (fl *Flow) FigureRest(least MM, draw func(c *Canvas)) {
	fl.Add(measured(func(_, _ MM) []Part { return []Part{{Height: least, Gap: 3, Stretch: true, Draw: draw}} }))
}

// List is a list of points with a dash before each.
func (fl *Flow) List(items ...string) {
	fl.items(items, 5, 0.8, func(c *Canvas) { c.Text(0, Body.Baseline(), Body, "–") })
}

// Checklist is a list with a box to tick before each point.
func (fl *Flow) Checklist(items ...string) {
	fl.items(items, TickSize+3, 3, func(c *Canvas) { c.TickBox(0.2, (Body.Leading()-TickSize)/2) })
}

func (fl *Flow) items(items []string, indent, gap MM, mark func(c *Canvas)) {
	for n, s := range items {
		fl.Add(measured(func(w, _ MM) []Part {
			ps := lineParts(Body, Body.Wrap(s, w-indent), indent, mark)
			ps[0].Gap = gap
			if n == 0 {
				ps[0].Gap = max(gap, 2)
			}
			return ps
		}))
	}
}

// Fact is a name and its value.
type Fact struct{ Name, Value string }

// Facts sets names in one column and their values in a second.
func (fl *Flow) Facts(facts ...Fact) {
	for n, f := range facts {
		if strings.Trim(f.Name+f.Value, " \n") == "" {
			continue
		}
		fl.Add(measured(func(w, _ MM) []Part {
			first := MM(0)
			for _, o := range facts {
				first = max(first, Body.Width(o.Name))
			}
			first = min(first+6, w*0.4)
			names, values := Body.Wrap(f.Name, first-6), Strong.Wrap(f.Value, w-first)
			ps := lineParts(Strong, padded(values, len(names)), first, nil)
			for i := range names {
				value := ps[i].Draw
				ps[i].Draw = func(c *Canvas) {
					c.Lines(Box{0, 0, first - 6, c.H()}, Body, Left, names[i:i+1])
					value(c)
				}
			}
			ps[0].Gap = 1.4
			if n == 0 {
				ps[0].Gap = 3
			}
			return ps
		}))
	}
}

func padded(lines []string, n int) []string {
	for len(lines) < n {
		lines = append(lines, "")
	}
	return lines
}

// Caution is a warning beside a heavy bar, plain without colour: a bold title and its sentences.
func (fl *Flow) Caution(title string, sentences ...string) {
	const indent = 6
	fl.Add(measured(func(w, _ MM) []Part {
		head := Type{Heading2.Face, 11, Black}
		ps := lineParts(head, head.Wrap(title, w-indent), indent, nil)
		for i := range ps {
			ps[i].Keep = Firmly
		}
		for _, s := range sentences {
			ps[len(ps)-1].Height += 1.2 // air, with the bar running through
			ps = append(ps, lineParts(Body, Body.Wrap(s, w-indent), indent, nil)...)
		}
		for i := range ps {
			text := ps[i].Draw
			ps[i].Draw = func(c *Canvas) {
				c.Rect(Box{0, 0, 1.6, c.H()}, Solid)
				text(c)
			}
		}
		ps[0].Gap = 5
		return ps
	}))
}

// lineParts makes each line a part, indented, with mark drawn beside the first. The first two and the last two lines
// stay together, so that no page begins or ends with a lonely line.
func lineParts(t Type, lines []string, indent MM, mark func(c *Canvas)) []Part {
	ps := make([]Part, len(lines))
	for i := range lines {
		ps[i] = Part{Height: t.Leading(), Draw: func(c *Canvas) {
			if i == 0 && mark != nil {
				mark(c)
			}
			c.Lines(Box{indent, 0, c.W() - indent, t.Leading()}, t, Left, lines[i:i+1])
		}}
		if i == 0 || i == len(lines)-2 {
			ps[i].Keep = Firmly
		}
	}
	ps[len(ps)-1].Keep = Free
	return ps
}
