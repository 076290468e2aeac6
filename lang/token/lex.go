package token

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

type lexer struct {
	file      diag.File
	s         string
	pos       int
	lineStart int
	fresh     bool // no token yet on this line
	top       func(string) bool
	bare      bool // a carriage return without a line feed was reported
	out       Result
}

// What a text may cost: so many tokens are cut from it, and so many mistakes are told of it.
const (
	mostTokens   = 1_000_000
	mostMistakes = 1001
)

// mostText is how many letters a text in quotes may have: half a printed page.
const mostText = 2000

// usual is how many bytes a token and the blanks around it have in an ordinary text.
const usual = 6

// Lex cuts text into tokens. A list goes on over a line's end after a comma, but never over a name in column 1 for which top
// answers true: that begins a statement of its own.
func Lex(file string, text []byte, top func(string) bool) Result {
	return LexFrom(file, string(text), 0, top)
}

// LexFrom is Lex of what begins a line at that byte of a text.
func LexFrom(file, text string, from int, top func(string) bool) Result {
	l := &lexer{file: diag.FileOf(file), s: text, pos: from, lineStart: from, fresh: true, top: top}
	l.out.Tokens = make([]Token, 0, min((len(text)-from)/usual, mostTokens)+8)
	if from == 0 && strings.HasPrefix(l.s, "\ufeff") {
		l.pos = len("\ufeff")
		l.lineStart = l.pos
	}
	for l.pos < len(l.s) {
		if len(l.out.Tokens) >= mostTokens {
			l.out.Mistakes = l.out.Mistakes[:min(len(l.out.Mistakes), mostMistakes-1)]
			l.mistake(l.pos, l.pos, "too-much", "this file is too long to be read beyond this place", "No harness is that large; write it as several jobs.")
			break
		}
		l.step()
	}
	if n := len(l.out.Tokens); n > 0 && l.out.Tokens[n-1].Kind != EOL {
		l.eol(len(l.s))
	}
	return l.out
}

func (l *lexer) step() {
	r, size := utf8.DecodeRuneInString(l.s[l.pos:])
	switch {
	case r == '\n' || strings.HasPrefix(l.s[l.pos:], "\r\n"):
		if k, any := l.last(); any && k != EOL && k != Comma && k != LeftBrace {
			l.eol(l.pos)
		}
		if r == '\r' {
			l.pos++
		}
		l.pos++
		l.lineStart, l.fresh = l.pos, true
	case r == '\r':
		l.bareReturn()
	case blank(r):
		l.pos += size
	case r == '#':
		l.comment()
	case r == '"':
		l.text()
	case r >= utf8.RuneSelf && strings.ContainsRune("“”„«»", r):
		l.curly()
	case r == ',':
		l.punct(Comma)
	case r == '(':
		l.punct(LeftParen)
	case r == ')':
		l.punct(RightParen)
	case r == '{':
		l.punct(LeftBrace)
	case r == '}':
		if k, any := l.last(); any && k != EOL && k != LeftBrace {
			l.eol(l.pos)
		}
		l.punct(RightBrace)
	default:
		l.chunk()
	}
}

func (l *lexer) last() (Kind, bool) {
	n := len(l.out.Tokens)
	if n == 0 {
		return EOL, false
	}
	return l.out.Tokens[n-1].Kind, true
}

func (l *lexer) eol(at int) {
	l.out.Tokens = append(l.out.Tokens, Token{Kind: EOL, Start: at, End: at})
}

// emit appends the token from start to the present position.
func (l *lexer) emit(k Kind, start int, text string) {
	t := Token{Kind: k, Start: start, End: l.pos, Text: text, First: l.fresh}
	if l.fresh {
		t.Indent = start - l.lineStart
	}
	if prev, any := l.last(); any && prev == Comma && k == Name && l.fresh && t.Indent == 0 && l.top != nil && l.top(text) {
		l.eol(l.out.Tokens[len(l.out.Tokens)-1].End)
	}
	l.fresh = false
	l.out.Tokens = append(l.out.Tokens, t)
}

func (l *lexer) punct(k Kind) {
	l.pos++
	l.emit(k, l.pos-1, l.s[l.pos-1:l.pos])
}

// bareReturn is a carriage return without a line feed, which some editors end lines with. One message for the whole file is enough; what
// follows is read as a new line, so that everything else is told as well.
func (l *lexer) bareReturn() {
	if !l.bare {
		l.bare = true
		l.badRune(l.pos, '\r', 1)
	}
	if k, any := l.last(); any && k != EOL && k != Comma && k != LeftBrace {
		l.eol(l.pos)
	}
	l.pos++
	l.lineStart, l.fresh = l.pos, true
}

// mistake reports; nobody reads more than so many of one file, and what is told beyond is dropped.
func (l *lexer) mistake(start, end int, code, title, detail string) *diag.Diagnostic {
	if len(l.out.Mistakes) >= mostMistakes {
		return &diag.Diagnostic{}
	}
	return l.out.Mistakes.Mistake(diag.Span{File: l.file, Start: int32(start), End: int32(end)}, code, title, detail)
}

// lineEnd is the offset at which the present line ends, without a carriage return.
func (l *lexer) lineEnd() int {
	if i := strings.IndexAny(l.s[l.pos:], "\r\n"); i >= 0 {
		return l.pos + i
	}
	return len(l.s)
}

func (l *lexer) comment() {
	start, end := l.pos, l.lineEnd()
	if n := len(l.out.Tokens); n > 0 && !l.fresh && l.out.Tokens[n-1].End == start {
		switch t := l.out.Tokens[n-1]; t.Kind {
		case Name, Ref, Quantity:
			l.mistake(t.Start, start+1, "glued-comment", "# stands directly behind `"+Shorten(t.Text)+"`",
				"A comment begins with # after a blank; a name cannot hold a #.")
		}
	}
	l.checkReadable(start, end)
	l.out.Comments = append(l.out.Comments, Comment{Text: strings.TrimRightFunc(l.s[start+1:end], unicode.IsSpace), Start: start, End: end, Own: l.fresh})
	l.pos = end
}

func (l *lexer) text() {
	start := l.pos
	if i := strings.IndexAny(l.s[start+1:], "\"\r\n"); i >= 0 && l.s[start+1+i] == '"' {
		l.pos = start + 1 + i + 1
		if l.checkReadable(start, l.pos) && l.checkPrintable(start, l.pos) {
			l.emit(Text, start, l.s[start+1:l.pos-1])
		} else {
			l.emit(Illegal, start, l.s[start:l.pos])
		}
		return
	}
	// What follows is lost up to the line's end, but not a brace there, or every later brace would be out of step.
	keep := strings.TrimRightFunc(l.s[start:l.lineEnd()], unicode.IsSpace)
	switch {
	case strings.HasSuffix(keep, "{"):
		keep = keep[:len(keep)-1]
	case strings.HasSuffix(keep, "}") && l.braceOnLine():
		keep = keep[:len(keep)-1]
	}
	keep = strings.TrimRightFunc(keep, unicode.IsSpace)
	l.pos = start + len(keep)
	l.mistake(start, l.pos, "unclosed-text", "this text is not closed", `Put a second " where it ends. Text cannot go on in the next line.`)
	l.emit(Illegal, start, keep)
}

// checkPrintable reports a text that no book can hold: one too long, or with a letter that would not be printed as it is written.
func (l *lexer) checkPrintable(start, end int) bool {
	if n := utf8.RuneCountInString(l.s[start+1 : end-1]); n > mostText {
		l.mistake(start, end, "text-too-long", fmt.Sprintf("this text has %d letters", n), fmt.Sprintf("A text has at most %d, so that it can be printed.", mostText))
		return false
	}
	for i, r := range l.s[start:end] {
		at, to := start+i, start+i+utf8.RuneLen(r)
		switch {
		case backwards(r):
			l.mistake(at, to, "unprintable-letter", fmt.Sprintf("a letter in this text (U+%04X) runs right to left", r),
				"It would be printed in the wrong order: write the text in letters that run left to right.")
			return false
		case r > 0xffff:
			l.mistake(at, to, "unprintable-letter", fmt.Sprintf("the character U+%04X cannot be printed", r), "Write it in words.")
			return false
		}
	}
	return true
}

// braceOnLine tells whether a block was opened on the present line.
func (l *lexer) braceOnLine() bool {
	for i := len(l.out.Tokens) - 1; i >= 0 && l.out.Tokens[i].Start >= l.lineStart; i-- {
		if l.out.Tokens[i].Kind == LeftBrace {
			return true
		}
	}
	return false
}

func (l *lexer) curly() {
	start := l.pos
	_, size := utf8.DecodeRuneInString(l.s[start:])
	end := start + size
	if i := strings.IndexAny(l.s[end:], "“”«»\"\r\n"); i >= 0 && l.s[end+i] != '\n' && l.s[end+i] != '\r' {
		_, n := utf8.DecodeRuneInString(l.s[end+i:])
		end += i + n
	}
	l.pos = end
	l.mistake(start, end, "curly-quotes", "text stands between straight quotes", `Write "like this"; a word processor bends them.`)
	l.emit(Illegal, start, l.s[start:end])
}

// checkReadable reports the first character in a comment or a text that nobody can see or that is no character at all.
func (l *lexer) checkReadable(start, end int) bool {
	for i := start; i < end; {
		r, size := utf8.DecodeRuneInString(l.s[i:end])
		if hidden(r, size) && (r != '\t' || l.s[start] == '"') {
			l.badRune(i, r, size)
			return false
		}
		i += size
	}
	return true
}

// chunk reads a number with its unit, a name or a reference.
func (l *lexer) chunk() {
	if l.quantity() {
		return
	}
	l.name()
}

// quantity reads a number and its unit if both together fill up a chunk.
func (l *lexer) quantity() bool {
	start := l.pos
	e := number(l.s, start)
	if e == start {
		return false
	}
	if commas := decimalComma(l.s, e); commas > e {
		l.decimalComma(start, commas)
		return true
	}
	if e < len(l.s) && l.s[e] == '"' {
		l.pos = e + 1
		l.mistake(start, l.pos, "inch-mark", "a quote mark is no unit", "Write "+Shorten(l.s[start:e])+" inch.").Near([]string{"inch"})
		l.emit(Illegal, start, l.s[start:l.pos])
		return true
	}
	if u := unitAt(l.s, e); u > e {
		l.pos = u
		l.emit(Quantity, start, l.s[start:u])
		return true
	}
	if !boundary(l.s, e) {
		return false
	}
	at := e
	for at < len(l.s) {
		r, size := utf8.DecodeRuneInString(l.s[at:])
		if !blank(r) {
			break
		}
		at += size
	}
	if u := unitAt(l.s, at); u > at {
		l.pos = u
		l.emit(Quantity, start, l.s[start:e]+" "+l.s[at:u])
		return true
	}
	l.pos = e
	l.emit(Quantity, start, l.s[start:e])
	return true
}

func (l *lexer) decimalComma(start, end int) {
	written := l.s[start:end]
	at := end
	for at < len(l.s) && (l.s[at] == ' ' || l.s[at] == '\t') {
		at++
	}
	unit := ""
	if u := unitAt(l.s, at); u > at {
		unit, end = " "+l.s[at:u], u
	}
	l.pos = end
	l.mistake(start, end, "decimal-comma", "`"+Shorten(written)+"` may be one number or several", marked(Shorten(written), unit))
	l.emit(Illegal, start, l.s[start:end])
}

// number returns the offset behind the number that begins at i, or i.
func number(s string, i int) int {
	j := i
	switch {
	case strings.HasPrefix(s[j:], "-"):
		j++
	case strings.HasPrefix(s[j:], "−"):
		j += len("−")
	}
	k := digits(s, j)
	if k == j {
		return i
	}
	if k < len(s) && s[k] == '.' {
		if m := digits(s, k+1); m > k+1 {
			return m
		}
	}
	return k
}

func digits(s string, i int) int {
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	return i
}

// decimalComma returns the offset behind commas with a digit directly on both sides, or i.
func decimalComma(s string, i int) int {
	for i+1 < len(s) && s[i] == ',' && s[i+1] >= '0' && s[i+1] <= '9' {
		i = number(s, i+1)
	}
	return i
}

// unitNames is the names of units by their first byte.
var unitNames = func() (out [256][]string) {
	for _, n := range unit.Names() {
		out[n[0]] = append(out[n[0]], n)
	}
	return out
}()

// unitAt returns the offset behind the unit that begins at i and ends on a word boundary, or i.
func unitAt(s string, i int) int {
	if i >= len(s) {
		return i
	}
	for _, u := range unitNames[s[i]] {
		if strings.HasPrefix(s[i:], u) && boundary(s, i+len(u)) {
			return i + len(u)
		}
	}
	return i
}

// boundary tells whether a chunk ends before i.
func boundary(s string, i int) bool {
	if i >= len(s) {
		return true
	}
	r, _ := utf8.DecodeRuneInString(s[i:])
	return !chunky(r)
}

// chunky tells whether a rune goes on with a chunk: all but blanks, line ends and punctuation.
func chunky(r rune) bool {
	switch r {
	case '\n', '\r', ' ', '\t', ',', '(', ')', '{', '}', '"', '#':
		return false
	}
	return r <= unicode.MaxASCII || !blank(r)
}

func blank(r rune) bool {
	return r == ' ' || r == '\t' || r > unicode.MaxASCII && unicode.Is(unicode.Zs, r)
}

// hidden tells whether a rune cannot be seen on paper, or is no rune.
func hidden(r rune, size int) bool {
	if r < utf8.RuneSelf {
		return r < ' ' || r == 0x7f
	}
	if r == utf8.RuneError && size == 1 {
		return true
	}
	return unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Variation_Selector, unicode.Other_Default_Ignorable_Code_Point)
}

// backwards tells whether a letter is of a script that runs right to left: on paper its names would be printed in the wrong order.
func backwards(r rune) bool {
	return r >= utf8.RuneSelf && unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko)
}

func nameRune(r rune) bool {
	return !backwards(r) && nameLetter(r)
}

func nameLetter(r rune) bool {
	if r >= 'a' && r <= 'z' {
		return true
	}
	return r >= '0' && r <= '9' || r == '-' || r == '_' || r == '/' || unicode.IsLetter(r) || unicode.In(r, unicode.Mn, unicode.Mc)
}
