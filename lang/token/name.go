package token

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// name reads a name or a reference; a chunk that is neither becomes one illegal token with one mistake.
func (l *lexer) name() {
	start := l.pos
	badAt, badSize := -1, 0
	var bad rune
	open := -1
	for l.pos < len(l.s) {
		r, size := utf8.DecodeRuneInString(l.s[l.pos:])
		if !chunky(r) {
			break
		}
		if r == '[' {
			end, ok := bracket(l.s, l.pos)
			if !ok {
				open, l.pos = l.pos, end
				break
			}
			l.pos = end
			continue
		}
		if badAt < 0 && (hidden(r, size) || !nameRune(r) && r != '.') {
			badAt, bad, badSize = l.pos, r, size
		}
		l.pos += size
	}
	raw := l.s[start:l.pos]
	if l.likeNumber(start, raw) {
		return
	}
	switch {
	case badAt >= 0:
		l.badChunk(start, badAt, bad, badSize)
	case open >= 0:
		l.mistake(open, open+1, "unclosed-bracket", "this [ is never closed", "Put a ] where the range ends. Its line ends here.")
	case !strings.ContainsAny(raw, ".["):
		if r, _ := utf8.DecodeRuneInString(raw); unicode.IsLetter(r) || r >= '0' && r <= '9' {
			l.emit(Name, start, Composed(raw))
			return
		}
		l.badStart(start, raw)
	default:
		ref, problem := parseRef(raw)
		if problem == "" {
			l.emit(Ref, start, Composed(ref.String()))
			return
		}
		code := "bad-range"
		if !strings.Contains(raw, "[") {
			code = "bad-dot"
		}
		l.mistake(start, l.pos, code, "`"+Shorten(raw)+"` cannot be read", problem)
	}
	l.emit(Illegal, start, l.s[start:l.pos])
}

// Composed is a name with each letter and its accents in one character where there is one, since both ways of writing it look the same.
func Composed(name string) string {
	if plain(name) {
		return name
	}
	out := norm.NFC.String(name)
	if strings.ContainsRune(out, '\u034f') {
		return name // so many accents on one letter were parted by a mark that nobody sees
	}
	return out
}

// plain tells whether a text has plain letters only.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// bracket returns the offset behind the bracket that opens at i. If it does not close, ok is false and the offset is where the
// range must have ended.
func bracket(s string, i int) (end int, ok bool) {
	comma := false
	for j := i + 1; j < len(s); j++ {
		switch s[j] {
		case ']':
			return j + 1, true
		case '\n':
			if !comma {
				return trimEnd(s, i+1, j), false
			}
		case '"', '#', '{', '}', '(', ')', '[':
			return trimEnd(s, i+1, j), false
		case ',':
			comma = true
		case ' ', '\t', '\r':
		default:
			comma = false
		}
	}
	return trimEnd(s, i+1, len(s)), false
}

func trimEnd(s string, from, to int) int {
	return from + len(strings.TrimRightFunc(s[from:to], unicode.IsSpace))
}

// Shorten is a text as a message may quote it: on one line, and no longer than a person reads.
func Shorten(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n++; n > 4*most {
			s = s[:i] + "…"
			break
		}
	}
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}

func (l *lexer) badStart(start int, raw string) {
	switch raw {
	case "-":
		l.mistake(start, l.pos, "sign-as-name", "`-` is no name", "Call such pins plus, minus.")
	default:
		l.mistake(start, l.pos, "bad-name", "`"+Shorten(raw)+"` is no name", "A name begins with a letter or a digit.")
	}
}

// badChunk reports the first character of a chunk that cannot be in a name.
func (l *lexer) badChunk(start, at int, r rune, size int) {
	raw := l.s[start:l.pos]
	if hidden(r, size) {
		l.badRune(at, r, size)
		return
	}
	say := func(code, title, detail string) { l.mistake(start, l.pos, code, title, detail) }
	switch {
	case raw == "->" || raw == "=>" || r == '→' || r == '↔' || raw == "<->":
		say("arrow", "an arrow has no meaning here", "Ends are written with words: from a to b.")
	case raw == "+":
		say("sign-as-name", "`+` is no name", "Call such pins plus, minus.")
	case strings.HasPrefix(raw, "+") && number(raw, 1) > 1:
		say("bad-name", "`"+Shorten(raw)+"` cannot be read", "A number above zero is written without a sign.")
	case strings.HasPrefix(raw, "//") || strings.HasPrefix(raw, "/*"):
		say("bad-name", "`"+Shorten(raw)+"` cannot be read", "A comment begins with #.")
	case r == '=' || r == ':':
		say("bad-name", fmt.Sprintf("`%c` has no meaning here", r), "A word is followed by its value with nothing between: size 2.5 mm2.")
	case r == ';':
		say("bad-name", "`;` has no meaning here", "A line's end ends a statement; commas part the items of a list.")
	case r == '^':
		say("bad-name", "`"+Shorten(raw)+"` cannot be read", "An area is written mm2.")
	case r == ']':
		say("bad-range", "there is no [ for this ]", "Put a [ where the range begins, or take the ] away.")
	case backwards(r):
		say("bad-name", fmt.Sprintf("a letter in this name (U+%04X) runs right to left", r), "A name of such letters would be printed in the wrong order: write it in letters that run left to right.")
	case unicode.IsDigit(r):
		say("bad-name", fmt.Sprintf("`%c` (U+%04X) is a digit of another script", r, r), "Write numbers with the digits 0 to 9.")
	default:
		say("bad-name", fmt.Sprintf("`%s` holds `%c`, which no name may hold", Shorten(raw), r), "Names are made of letters, digits, - _ and /; put quotes round any other text.")
	}
}

// badRune reports a character that cannot be seen, or a byte that is no character.
func (l *lexer) badRune(at int, r rune, size int) {
	switch {
	case r == utf8.RuneError && size == 1:
		l.mistake(at, at+1, "not-utf8", fmt.Sprintf("the byte %02X here is no readable character", l.s[at]), "Save the file as UTF-8 text.")
	case r == '\t':
		l.mistake(at, at+size, "control-character", "a tab stands in this text", "Put a blank instead; on paper a tab is a box.")
	case r == '\r':
		l.mistake(at, at+size, "control-character", "a carriage return stands here without a line feed", "Save the file with the line ends LF or CR LF.")
	case unicode.IsControl(r):
		l.mistake(at, at+size, "control-character", fmt.Sprintf("an unprintable control character (U+%04X) stands here", r), "Delete it.")
	default:
		l.mistake(at, at+size, "invisible-character", fmt.Sprintf("an invisible character (U+%04X) stands here", r), "Delete it; what is read would differ from what is seen.")
	}
}
