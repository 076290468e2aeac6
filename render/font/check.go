package font

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Fault says why a text cannot be printed: the first character that stops it.
type Fault struct {
	Face   Face
	Text   string
	Char   rune // utf8.RuneError where the bytes are not UTF-8
	Byte   byte // the offending byte then
	Offset int  // in bytes
	Why    string
}

func (e *Fault) Error() string {
	where := fmt.Sprintf("in %q", shorten(e.Text))
	if e.Char == utf8.RuneError && e.Byte != 0 {
		return fmt.Sprintf("byte 0x%02X is not valid UTF-8 %s", e.Byte, where)
	}
	if unicode.IsPrint(e.Char) {
		return fmt.Sprintf("character %c (U+%04X) %s %s", e.Char, e.Char, e.Why, where)
	}
	return fmt.Sprintf("character U+%04X %s %s", e.Char, e.Why, where)
}

// shorten keeps a message readable when the text is a page long.
func shorten(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return strings.ToValidUTF8(string([]rune(s)[:most]), "\uFFFD") + "…"
}

// rightToLeft are the scripts that would be printed in the wrong order.
var rightToLeft = []*unicode.RangeTable{unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko}

// Check is the gate that every text passes before it is drawn: nil when each character of s has a glyph in the face
// and prints as itself, otherwise a *Fault with the first that does not. Refused are invalid UTF-8, characters above
// U+FFFF, tabs, line ends and other controls, marks that do not show (zero width, direction, soft hyphen), scripts
// that run right to left, and every character that the face lacks.
func Check(f Face, s string) error {
	m := f.load()
	for i, r := range s {
		if r < 0x10000 && m.prints[r] {
			continue
		}
		why := refusal(r)
		switch {
		case r == utf8.RuneError:
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				return &Fault{Face: f, Text: s, Char: r, Byte: s[i], Offset: i}
			}
		case why == "" && !m.has(r):
			why = "is missing from the typeface " + f.String()
		}
		if why == "" {
			continue
		}
		return &Fault{Face: f, Text: s, Char: r, Offset: i, Why: why}
	}
	return nil
}

// refusal is why a character is printed in no face; empty: it may be.
func refusal(r rune) string {
	switch {
	case r == utf8.RuneError:
		return "stands for a damaged character"
	case r == '\t':
		return "is a tab, which cannot be printed,"
	case r == '\n' || r == '\r' || r == 0x2028 || r == 0x2029:
		return "is a line end, which cannot be printed,"
	case unicode.Is(unicode.Cc, r):
		return "is a control character, which cannot be printed,"
	case unicode.Is(unicode.Cf, r) || r == 0x034F:
		return "does not show on paper"
	case r > 0xFFFF:
		return "lies beyond U+FFFF and cannot be printed"
	case unicode.In(r, rightToLeft...):
		return "runs right to left and would be printed in the wrong order"
	}
	return ""
}
