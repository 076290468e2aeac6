package syntax

import (
	"strings"

	"github.com/alecthomas/participle/v2/lexer"

	"loomsheet/lang/token"
)

// head reads the tokens of one line; nil if it does not even begin with a word. Where a comma too many at a line's end has drawn the
// next line in, it reads but the first of the two and returns how many tokens that is.
func (r *reader) head(tokens []token.Token) (*Line, int) {
	first, last := tokens[0], tokens[len(tokens)-1]
	if len(tokens) > maxTokens {
		r.mistake(first.Start, first.End, "line-too-long", "this line is too long to be read", "Look for a comma too many at a line's end.")
		return r.wordOnly(tokens), len(tokens)
	}
	h, at := parseShape(tokens)
	if at < 0 {
		return r.convert(h, tokens, first.Start, last.End), len(tokens)
	}
	at = fault(tokens, at)
	v := r.explain(tokens, at)
	if v.Code != "" {
		r.tell(v.Diagnostic)
	}
	if i := emptyComma(tokens, at); i >= 0 && openParen(tokens[:i]) < 0 && tokens[i+1].First {
		if h, stop := parseHead(tokens[:i]); stop < 0 {
			line := r.convert(h, tokens, first.Start, tokens[i-1].End)
			line.Broken = true
			return line, i + 1
		}
	}
	line := r.mend(tokens, v.fixed)
	if line == nil {
		line = r.salvage(tokens, at)
	}
	if line != nil {
		line.Broken = true
		line.Head.End, line.Span.End = int32(last.End), int32(last.End)
	}
	return line, len(tokens)
}

// maxMends is how often a line is mended before it is given up.
const maxMends = 6

// mend reads a line as it was probably meant; nil if that cannot be told. Only the first mistake of a line is reported: a further one may
// come of the mending.
func (r *reader) mend(tokens, fixed []token.Token) *Line {
	for range maxMends {
		if len(fixed) < 2 {
			return nil
		}
		h, at := parseHead(fixed)
		if at < 0 {
			return r.convert(h, fixed, tokens[0].Start, tokens[len(tokens)-1].End)
		}
		fixed = r.explain(fixed, fault(fixed, at)).fixed
	}
	return nil
}

func (r *reader) wordOnly(tokens []token.Token) *Line {
	t := tokens[0]
	if t.Kind != token.Name {
		return nil
	}
	span := r.span(t.Start, tokens[len(tokens)-1].End)
	return &Line{Word: Word{t.Text, r.span(t.Start, t.End)}, Broken: true, Span: span, Head: span}
}

// salvage keeps the beginning of a line that could not be read to its end.
func (r *reader) salvage(tokens []token.Token, at int) *Line {
	for end := min(at, len(tokens)); end >= 2 && end > at-12; end-- {
		h, stop := parseHead(tokens[:end])
		if stop >= 0 {
			continue
		}
		line := r.convert(h, tokens, tokens[0].Start, tokens[end-1].End)
		return line
	}
	return r.wordOnly(tokens)
}

// convert makes a line of what the grammar found in some tokens. Of the head's own tokens only the index counts.
func (r *reader) convert(h *head, tokens []token.Token, start, end int) *Line {
	span := r.span(start, end)
	line := &Line{Word: r.word(h.Word, tokens), About: r.values(h.About, tokens), Span: span, Head: span}
	if len(h.Options) > 0 {
		line.Options = make([]Option, len(h.Options))
	}
	for i, o := range h.Options {
		word, values := r.word(o.Word, tokens), r.values(o.Values, tokens)
		line.Options[i] = Option{Word: word, Values: values, Span: r.over(word.Span, values[len(values)-1].Span)}
	}
	return line
}

func (r *reader) word(t lexer.Token, tokens []token.Token) Word {
	k := &tokens[t.Pos.Line]
	return Word{k.Text, r.span(k.Start, k.End)}
}

func (r *reader) values(l list, tokens []token.Token) []Value {
	out := make([]Value, len(l.Values))
	for i, v := range l.Values {
		if v.Place == nil {
			out[i] = r.leaf(v.Leaf, tokens)
			continue
		}
		p := Value{Kind: Place, Span: r.span(tokens[v.Place.Open.Pos.Line].Start, tokens[v.Place.Close.Pos.Line].End), Items: make([]Value, len(v.Place.Items))}
		texts := make([]string, len(v.Place.Items))
		for j, it := range v.Place.Items {
			p.Items[j] = r.leaf(it.Leaf, tokens)
			texts[j] = p.Items[j].Text
		}
		p.Text = "(" + strings.Join(texts, ", ") + ")"
		out[i] = p
	}
	return out
}

var valueKinds = [...]ValueKind{token.Name: Name, token.Ref: Ref, token.Quantity: Quantity, token.Text: Text, token.Illegal: Bad}

func (r *reader) leaf(t lexer.Token, tokens []token.Token) Value {
	k := &tokens[t.Pos.Line]
	return Value{Kind: valueKinds[k.Kind], Text: k.Text, Span: r.span(k.Start, k.End)}
}
