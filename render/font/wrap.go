package font

import (
	"strings"
	"sync"

	"github.com/rivo/uniseg"
)

// slack absorbs the rounding of a width that was itself computed from the text: a millionth of a millimetre.
const slack = 1e-6

// piece is one letter with its accents: what a line break never divides.
type piece struct {
	at    int // in bytes, where it begins
	units int
}

// rooms are where letters are parted.
var rooms = sync.Pool{New: func() any { return new([]piece) }}

// pieces appends the letters of s, and an end without width.
func pieces(out []piece, m *metrics, s string) []piece {
	if simple(s) {
		for at, r := range s {
			out = append(out, piece{at, m.unit(r)})
		}
		return append(out, piece{at: len(s)})
	}
	at := 0
	for state, rest := -1, s; rest != ""; {
		var g string
		g, rest, _, state = uniseg.FirstGraphemeClusterInString(rest, state)
		out = append(out, piece{at, m.units(g)})
		at += len(g)
	}
	return append(out, piece{at: len(s)})
}

// simple tells whether each character of s is a letter by itself: no accents that follow theirs, nothing that joins.
func simple(s string) bool {
	for i := range len(s) {
		if s[i] >= 0x80 {
			for _, r := range s[i:] {
				if !alone(r) {
					return false
				}
			}
			return true
		}
		if !alone(rune(s[i])) {
			return false
		}
	}
	return true
}

// alone are the letters, signs and marks of the books that no other joins, and the end of a line.
func alone(r rune) bool {
	switch {
	case r <= '~':
		return r >= ' ' || r == '\n'
	case r < 0x300:
		return r >= 0xA0 && r != 0xAD // a soft hyphen
	}
	return r >= 0x370 && r <= 0x482 || r >= 0x2010 && r <= 0x2027 || r >= 0x2030 && r <= 0x205E || r >= 0x2190 && r <= 0x27BF
}

// Wrap breaks s into lines no wider than width. It breaks at spaces; a word too long for a line of its own breaks
// after one of - . _ / if it can, else between any two letters, never between a letter and its accent. "\n" begins a
// new line. The empty text is one empty line. Only a single letter wider than the width stands out.
func Wrap(f Face, size Pt, s string, width MM) (out []string) {
	wrap(f.load(), size, s, width, func(line string) { out = append(out, line) })
	return out
}

// Lines is how many lines Wrap makes of s.
func Lines(f Face, size Pt, s string, width MM) (n int) {
	wrap(f.load(), size, s, width, func(string) { n++ })
	return n
}

func wrap(m *metrics, size Pt, s string, width MM, to func(line string)) {
	for {
		end := strings.IndexByte(s, '\n')
		if end < 0 {
			wrapLine(m, size, s, width, to)
			return
		}
		wrapLine(m, size, s[:end], width, to)
		s = s[end+1:]
	}
}

func wrapLine(m *metrics, size Pt, s string, width MM, to func(line string)) {
	fits := func(units int) bool { return size.scale(units) <= width+slack }
	if s == "" || fits(m.units(s)) {
		to(s)
		return
	}
	room := rooms.Get().(*[]piece)
	defer rooms.Put(room)
	*room = pieces((*room)[:0], m, s)
	ps := *room
	last := len(ps) - 1
	for i := 0; i < last; {
		units, j := 0, i
		for j < last && fits(units+ps[j].units) {
			units += ps[j].units
			j++
		}
		if j == i {
			j++ // one letter wider than the line
		}
		if j < last {
			j = lineEnd(s, ps, i, j, fits)
		}
		to(strings.TrimRight(s[ps[i].at:ps[j].at], " "))
		for i = j; i < last && is(s, ps, i) == ' '; i++ {
		}
	}
}

// is the sign that piece k is; 0 for a letter of several bytes.
func is(s string, ps []piece, k int) byte {
	if ps[k+1].at-ps[k].at > 1 {
		return 0
	}
	return s[ps[k].at]
}

// lineEnd chooses where the line that starts at i ends, given that pieces up to edge fit and edge does not.
func lineEnd(s string, ps []piece, i, edge int, fits func(int) bool) int {
	if is(s, ps, edge) == ' ' {
		return edge
	}
	start := edge // of the word across the edge
	for start > i && is(s, ps, start-1) != ' ' {
		start--
	}
	long := 0
	for k := start; k < len(ps)-1 && is(s, ps, k) != ' '; k++ {
		long += ps[k].units
	}
	if !fits(long) {
		for k := edge; k > start+1; k-- {
			if breakAfter(s, ps, k-1) {
				return k
			}
		}
	}
	if start > i && strings.TrimSpace(s[ps[i].at:ps[start].at]) != "" {
		return start
	}
	return edge
}

// breakAfter tells whether a long name may part after piece k; a decimal point holds its digits together.
func breakAfter(s string, ps []piece, k int) bool {
	switch is(s, ps, k) {
	case '-', '_', '/':
		return true
	case '.':
		return !(k+1 < len(ps)-1 && digit(is(s, ps, k+1)) && k > 0 && digit(is(s, ps, k-1)))
	}
	return false
}

func digit(b byte) bool { return b >= '0' && b <= '9' }

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
	_, _, letter := Extent(f, size, s)
	return letter
}

// Extent is the widths of the widest line, word and letter of s, found in one go.
func Extent(f Face, size Pt, s string) (line, word, letter MM) {
	m := f.load()
	var lines, words, letters, atLine, atWord int
	single := simple(s)
	for _, r := range s {
		u := m.unit(r)
		if single {
			letters = max(letters, u)
		}
		switch r {
		case '\n':
			atLine, atWord = 0, 0
			continue
		case ' ':
			atWord = 0
		default:
			atWord += u
		}
		atLine += u
		lines, words = max(lines, atLine), max(words, atWord)
	}
	for state, rest := -1, s; !single && rest != ""; {
		var g string
		g, rest, _, state = uniseg.FirstGraphemeClusterInString(rest, state)
		letters = max(letters, m.units(g))
	}
	return size.scale(lines), size.scale(words), size.scale(letters)
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
	room := rooms.Get().(*[]piece)
	defer rooms.Put(room)
	*room = pieces((*room)[:0], m, s)
	ps := *room
	for kept < len(ps)-1 && size.scale(units+ps[kept].units) <= width+slack {
		units += ps[kept].units
		kept++
	}
	return strings.TrimRight(s[:ps[kept].at], " ") + "…"
}
