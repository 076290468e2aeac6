package token

import (
	"regexp"
	"strings"
)

var (
	// written is a number as other programs write one: with an exponent, to the base of sixteen, with marks between its thousands.
	written = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?[eE][+-]?[0-9]+$|^0[xX][0-9a-fA-F]+(\.[0-9a-fA-F]+)?([pP][+-]?[0-9]+)?$|^[0-9]+([_'][0-9]+)+$`)
	// endless is what other programs write for no number, and for one without end.
	endless = regexp.MustCompile(`^(?i:nan|inf|infinity|infinite)$`)
)

// Unnumbered says what to write in place of text that other programs take for a number and that is none here; empty for any other text.
func Unnumbered(text string) string {
	switch {
	case text == "" || len(text) > 400 || text[0] > '9' && !strings.ContainsRune("iInN", rune(text[0])):
		return ""
	case written.MatchString(text):
		return "Write the number out in digits, with a point before its fraction: 1500 or 0.0015."
	case len(text) <= len("infinity") && endless.MatchString(text):
		return "Write a number in digits; what has no limit is left out."
	}
	return ""
}

// likeNumber reads a chunk that looks like a number and has a unit behind it; the name of a pin may look so too, but has none.
func (l *lexer) likeNumber(start int, raw string) bool {
	how := Unnumbered(raw)
	if how == "" {
		return false
	}
	at := start + len(raw)
	for at < len(l.s) && (l.s[at] == ' ' || l.s[at] == '\t') {
		at++
	}
	u := unitAt(l.s, at)
	if u == at {
		return false
	}
	l.pos = u
	l.mistake(start, u, "number-unclear", "`"+Shorten(raw)+"` cannot be read as a number", how)
	l.emit(Illegal, start, l.s[start:u])
	return true
}

// marked says how a number with commas between its digits may have been meant.
func marked(written, unit string) string {
	list := strings.ReplaceAll(written, ",", ", ") + unit
	whole, part, _ := strings.Cut(written, ",")
	switch {
	case strings.Contains(part, ","):
		return "In a list a blank follows each comma: write " + list + "."
	case strings.Contains(whole, "."), strings.Contains(part, "."):
		return "A number has one point, before its fraction, and no mark between its thousands: 1500.5" + unit + ". In a list a blank follows the comma: " + list + "."
	case len(part) == 3 && strings.Trim(whole, "0") != "":
		return "For a number of thousands write " + whole + part + unit + ", for one with a fraction " + whole + "." + part + unit + "; in a list a blank follows the comma: " + list + "."
	}
	return "For a number write " + whole + "." + part + unit + "; in a list a blank follows the comma: " + list + "."
}
