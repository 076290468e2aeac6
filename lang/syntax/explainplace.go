package syntax

import (
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/token"
)

const placeForm = "A place is written (1180, -440, 470 mm)."

// insidePlace explains a line that cannot be read beyond a token between round brackets.
func (r *reader) insidePlace(tokens []token.Token, open, at int) verdict {
	paren, prev := tokens[open], tokens[at-1]
	starts := prev.Kind == token.LeftParen || prev.Kind == token.Comma
	unclosed := func(detail string) verdict {
		closed := []token.Token{{Kind: token.RightParen, Start: prev.End, End: prev.End, Text: ")"}}
		if starts {
			closed = append([]token.Token{placeholder(prev.End)}, closed...)
		}
		return r.judge(paren, "unclosed-paren", "this ( is never closed", detail, replace(tokens, at, at, closed...))
	}
	if at == len(tokens) {
		return unclosed("Put a ) where the place ends. Its line ends here.")
	}
	t := tokens[at]
	bad := t
	bad.Kind = token.Illegal
	digit := t.Kind == token.Name && t.Text[0] >= '0' && t.Text[0] <= '9'
	switch {
	case t.Kind == token.LeftParen:
		v := unclosed("Put a ) before the next (.")
		v.Related = []diag.Related{{Span: r.span(t.Start, t.End), Text: "the next ( stands here"}}
		return v
	case starts && (t.Kind == token.Comma || t.Kind == token.RightParen):
		return r.judge(t, "no-value", "a coordinate is missing before "+said(t), placeForm, replace(tokens, at, at, placeholder(prev.End)))
	case !starts && t.Kind == token.Name && !digit:
		return unclosed("Put a ) before " + said(t) + ".")
	case !starts && (t.Kind == token.Quantity || t.Kind == token.Ref || digit):
		return r.judge(t, "lost-comma", "a comma is missing before "+said(t), placeForm, replace(tokens, at, at, token.Token{Kind: token.Comma, Start: prev.End, End: prev.End}))
	case digit:
		n := len(t.Text) - len(strings.TrimLeft(t.Text, "0123456789"))
		v := r.judge(t, "unknown-unit", "`"+token.Shorten(t.Text[n:])+"` is no unit of length", "Write a number and its unit: "+token.Shorten(t.Text[:n])+" mm.", replace(tokens, at, at+1, bad))
		v.Suggest = diag.Nearest(t.Text[n:], unit.DimLength.Units())
		return v
	}
	return r.judge(t, "no-number", said(t)+" is no coordinate", placeForm, replace(tokens, at, at+1, bad))
}

// openParen is the number of the round bracket that is still open at the end of tokens, or -1.
func openParen(tokens []token.Token) int {
	for i := len(tokens) - 1; i >= 0; i-- {
		switch tokens[i].Kind {
		case token.RightParen:
			return -1
		case token.LeftParen:
			return i
		}
	}
	return -1
}
