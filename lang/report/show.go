package report

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/rivo/uniseg"
)

// tabWidth is how many blanks a tab of the source is shown as.
const tabWidth = 4

// visible makes text fit to be printed: what could steer a terminal or cannot be seen is spelt out, a tab becomes blanks.
func visible(s string) string {
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] < ' ' || s[i] > '~' {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, "<%02X>", s[i])
		case r == '\t':
			b.WriteString(strings.Repeat(" ", tabWidth))
		case unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co, unicode.Cs):
			fmt.Fprintf(&b, "<U+%04X>", r)
		default:
			b.WriteString(s[i : i+size])
		}
		i += size
	}
	return b.String()
}

func width(s string) int { return uniseg.StringWidth(s) }

// row is a source line as shown, with a mark under a part of it.
type row struct {
	number     int // from 1; 0 stands for lines left out
	text, mark string
}

// rows shows the lines of a span: the first and the last one, with what is marked underlined.
func (s *source) rows(start, end, room int) []row {
	start, end = s.clamp(start), s.clamp(end)
	first, last := s.lineAt(start), s.lineAt(max(start, end))
	if last > first && end == s.lines[last] {
		last-- // a span that ends with a line's end does not reach into the next line
		end = s.lines[last] + len(s.line(last))
	}
	if first == last {
		return []row{s.row(first, start-s.lines[first], end-s.lines[first], room)}
	}
	out := []row{s.row(first, start-s.lines[first], len(s.line(first)), room)}
	if last > first+1 {
		out = append(out, row{})
	}
	text := s.line(last)
	return append(out, s.row(last, len(text)-len(strings.TrimLeft(text, " \t")), end-s.lines[last], room))
}

// row shows one line with the bytes from a to b marked, at least one place. A line too long for the room is cut round its mark.
func (s *source) row(n, a, b, room int) row {
	text := s.line(n)
	a = max(0, min(a, len(text)))
	b = max(a, min(b, len(text)))
	if trimmed := len(strings.TrimRight(text[a:b], " \t")); trimmed > 0 {
		b = a + trimmed
	}
	before, marked, after := visible(text[:a]), visible(text[a:b]), visible(text[b:])
	if room > 0 && (width(before+marked+after) > room || len(before+marked+after) > mostBytes*room) {
		if w := room * 2 / 3; width(marked) > w || len(marked) > mostBytes*w {
			marked = keepFirst(marked, w) + "…"
			after = ""
		}
		side := max(4, (room-width(marked))/2)
		if width(before) > side || len(before) > mostBytes*side {
			before = "…" + keepLast(before, side-1)
		}
		if rest := max(4, room-width(before)-width(marked)); width(after) > rest || len(after) > mostBytes*rest {
			after = keepFirst(after, rest-1) + "…"
		}
	}
	return row{n + 1, strings.TrimRight(before+marked+after, " "), strings.Repeat(" ", width(before)) + strings.Repeat("~", max(1, width(marked)))}
}

// mostBytes is how many bytes a place of the width of a letter may take: a letter may carry accents without end.
const mostBytes = 16

// keepFirst cuts text to a width without parting a letter from its accent.
func keepFirst(s string, w int) string {
	used := 0
	g := uniseg.NewGraphemes(s)
	for g.Next() {
		from, to := g.Positions()
		if used += g.Width(); used > w || to > mostBytes*w {
			return s[:from]
		}
	}
	return s
}

func keepLast(s string, w int) string {
	left := width(s)
	g := uniseg.NewGraphemes(s)
	for g.Next() {
		from, _ := g.Positions()
		if left <= w && len(s)-from <= mostBytes*w {
			return s[from:]
		}
		left -= g.Width()
	}
	return ""
}

// wrap breaks text between words; 0 is no limit.
func wrap(s string, room int) []string {
	if room <= 0 || width(s) <= room {
		return []string{s}
	}
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		switch {
		case line == "":
			line = w
		case width(line)+1+width(w) <= room:
			line += " " + w
		default:
			out = append(out, line)
			line = w
		}
	}
	return append(out, line)
}
