package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Lines is the text of the page as a reader meets it: runs on one baseline make a line, joined by two spaces, lines
// from the top down. Turned text follows, run by run.
func (p Page) Lines() []string {
	var level, turned []Text
	for _, i := range p.Items {
		switch t, ok := i.(Text); {
		case ok && t.Turn == Level:
			level = append(level, t)
		case ok:
			turned = append(turned, t)
		}
	}
	slices.SortStableFunc(level, func(a, b Text) int { return cmp.Compare(a.At.Y, b.At.Y) })
	var out []string
	for len(level) > 0 {
		n := 1
		for n < len(level) && level[n].At.Y-level[0].At.Y < 0.6 {
			n++
		}
		row := level[:n]
		slices.SortStableFunc(row, func(a, b Text) int { return cmp.Compare(a.At.X, b.At.X) })
		parts := make([]string, n)
		for i, t := range row {
			parts[i] = t.S
		}
		out = append(out, strings.Join(parts, "  "))
		level = level[n:]
	}
	for _, t := range turned {
		out = append(out, t.S)
	}
	return out
}

// Text is the text of the whole book, pages parted by a line of dashes.
func (d *Doc) Text() string {
	var b strings.Builder
	for i, p := range d.Pages {
		fmt.Fprintf(&b, "---- %d\n", i+1)
		for _, l := range p.Lines() {
			b.WriteString(l + "\n")
		}
	}
	return b.String()
}

// Dump writes every primitive of the book, one to a line, hundredths of a millimetre, for comparing layouts.
func (d *Doc) Dump() string {
	var b strings.Builder
	for i, p := range d.Pages {
		fmt.Fprintf(&b, "page %d %.2f x %.2f\n", i+1, float64(p.Size.W), float64(p.Size.H))
		for _, item := range p.Items {
			b.WriteString("  " + describe(item) + "\n")
		}
	}
	for _, m := range d.Bookmarks {
		fmt.Fprintf(&b, "bookmark %d page %d %.2f %q\n", m.Level, m.Page+1, float64(m.Y), m.Title)
	}
	return b.String()
}

func describe(item Item) string {
	switch i := item.(type) {
	case Text:
		return fmt.Sprintf("text %v %v %g %s %s%q", i.At, i.Face, float64(i.Size), i.Ink, [...]string{"", "up ", "down "}[i.Turn%3], i.S)
	case Line:
		return fmt.Sprintf("line %v %v %v", i.A, i.B, i.Style)
	case Rect:
		return fmt.Sprintf("rect %v %v", i.Box, i.Style)
	case Arc:
		return fmt.Sprintf("arc %v %.2f %.2f %.2f..%.2f %v", i.At, float64(i.RX), float64(i.RY), float64(i.From), float64(i.To), i.Style)
	case Polygon:
		return fmt.Sprintf("polygon %v open=%t %v", i.Points, i.Open, i.Style)
	}
	return fmt.Sprintf("%T", item)
}

// String is the place in millimetres.
func (p Point) String() string { return fmt.Sprintf("%.2f,%.2f", float64(p.X), float64(p.Y)) }

// String is corner and size in millimetres.
func (b Box) String() string {
	return fmt.Sprintf("%.2f,%.2f %.2fx%.2f", float64(b.X), float64(b.Y), float64(b.W), float64(b.H))
}

// String is the colour as hexadecimal digits, or "none".
func (i Ink) String() string {
	if !i.On {
		return "none"
	}
	return fmt.Sprintf("%02x%02x%02x", i.R, i.G, i.B)
}

// String is line ink, width, dash and fill.
func (s Style) String() string {
	out := fmt.Sprintf("line %v %.2f fill %v", s.Line, float64(s.Width), s.Fill)
	for _, d := range s.Dash {
		out += fmt.Sprintf(" dash %.2f", float64(d))
	}
	return out
}
