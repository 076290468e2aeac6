package font

import (
	"strings"

	"github.com/rivo/uniseg"
)

// slack absorbs the rounding of a width that was itself computed from the text: a millionth of a millimetre.
const slack = 1e-6

// piece is one letter with its accents: what a line break never divides.
type piece struct {
	text  string
	units int
}

func pieces(m *metrics, s string) []piece {
	if plain(s) {
		out := make([]piece, len(s))
		for i := range out {
			out[i] = piece{s[i : i+1], m.units(s[i : i+1])}
		}
		return out
	}
	var out []piece
	state := -1
	for s != "" {
		var g string
		g, s, _, state = uniseg.FirstGraphemeClusterInString(s, state)
		out = append(out, piece{g, m.units(g)})
	}
	return out
}

// plain tells whether each byte of s is a letter by itself.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Wrap breaks s into lines no wider than width. It breaks at spaces; a word too long for a line of its own breaks
// after one of - . _ / if it can, else between any two letters, never between a letter and its accent. "\n" begins a
// new line. The empty text is one empty line. Only a single letter wider than the width stands out.
func Wrap(f Face, size Pt, s string, width MM) []string {
	m := f.load()
	if strings.IndexByte(s, '\n') < 0 {
		return wrapLine(nil, m, size, s, width)
	}
	var out []string
	for _, line := range strings.Split(s, "\n") {
		out = wrapLine(out, m, size, line, width)
	}
	return out
}

func wrapLine(out []string, m *metrics, size Pt, s string, width MM) []string {
	if s == "" || size.scale(m.units(s)) <= width+slack {
		return append(out, s)
	}
	ps := pieces(m, s)
	fits := func(units int) bool { return size.scale(units) <= width+slack }
	for i := 0; i < len(ps); {
		units, j := 0, i
		for j < len(ps) && fits(units+ps[j].units) {
			units += ps[j].units
			j++
		}
		if j == i {
			j++ // one letter wider than the line
		}
		if j < len(ps) {
			j = lineEnd(ps, i, j, fits)
		}
		out = append(out, strings.TrimRight(join(ps[i:j]), " "))
		for i = j; i < len(ps) && ps[i].text == " "; i++ {
		}
	}
	return out
}

// lineEnd chooses where the line that starts at i ends, given that pieces up to edge fit and edge does not.
func lineEnd(ps []piece, i, edge int, fits func(int) bool) int {
	if ps[edge].text == " " {
		return edge
	}
	start := edge // of the word across the edge
	for start > i && ps[start-1].text != " " {
		start--
	}
	long := 0
	for k := start; k < len(ps) && ps[k].text != " "; k++ {
		long += ps[k].units
	}
	if !fits(long) {
		for k := edge; k > start+1; k-- {
			if breakAfter(ps, k-1) {
				return k
			}
		}
	}
	if start > i && strings.TrimSpace(join(ps[i:start])) != "" {
		return start
	}
	return edge
}

// breakAfter tells whether a long name may part after piece k; a decimal point holds its digits together.
func breakAfter(ps []piece, k int) bool {
	switch ps[k].text {
	case "-", "_", "/":
		return true
	case ".":
		return !(k+1 < len(ps) && digit(ps[k+1].text) && k > 0 && digit(ps[k-1].text))
	}
	return false
}

func digit(s string) bool { return len(s) == 1 && s[0] >= '0' && s[0] <= '9' }

func join(ps []piece) string {
	var b strings.Builder
	for _, p := range ps {
		b.WriteString(p.text)
	}
	return b.String()
}

// Longest is the width of the widest word of s, the least width at which no word has to be broken.
func Longest(f Face, size Pt, s string) MM {
	m := f.load()
	most, word := 0, 0
	for _, r := range s {
		if r == ' ' || r == '\n' {
			word = 0
			continue
		}
		word += m.unit(r)
		most = max(most, word)
	}
	return size.scale(most)
}

// Widest is the width of the widest single letter of s: no column may be narrower.
func Widest(f Face, size Pt, s string) MM {
	m := f.load()
	most := 0
	if plain(s) {
		for i := range len(s) {
			most = max(most, m.units(s[i:i+1]))
		}
		return size.scale(most)
	}
	for _, p := range pieces(m, s) {
		most = max(most, p.units)
	}
	return size.scale(most)
}

// Fit shortens s with an ellipsis until it is no wider than width. For places where the full text stands elsewhere.
// A line end becomes a space.
func Fit(f Face, size Pt, s string, width MM) string {
	m := f.load()
	s = strings.ReplaceAll(s, "\n", " ")
	if size.scale(m.units(s)) <= width+slack {
		return s
	}
	units, kept := m.units("…"), 0
	if size.scale(units) > width+slack {
		return ""
	}
	ps := pieces(m, s)
	for kept < len(ps) && size.scale(units+ps[kept].units) <= width+slack {
		units += ps[kept].units
		kept++
	}
	return strings.TrimRight(join(ps[:kept]), " ") + "…"
}
