package syntax

import (
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

// explain says in words why a line cannot be read beyond the token of the given number, which may be one behind the last.
func (r *reader) explain(tokens []token.Token, at int) {
	if at == 0 {
		r.noWord(tokens)
		return
	}
	for i := max(0, at-2); i < len(tokens) && i <= at; i++ {
		if tokens[i].Kind == token.Illegal {
			return // what is wrong here was reported with that token
		}
	}
	if open := openParen(tokens[:at]); open >= 0 {
		r.insidePlace(tokens, open, at)
		return
	}
	if i := emptyComma(tokens, at); i >= 0 {
		r.msgs.Mistake(r.span(tokens[i].Start, tokens[i].End), "open-list", "nothing follows this comma",
			"`"+tokens[i+1].Text+"` begins something else. Take the comma away, or write what is missing.")
		return
	}
	if (at == len(tokens) || tokens[at].Kind == token.Name) && tokens[at-1].Kind != token.Comma && r.lostComma(tokens) {
		return
	}
	prev := tokens[at-1]
	switch {
	case at == len(tokens) && prev.Kind == token.Comma:
		r.mistake(prev.Start, prev.End, "open-list", "nothing follows this comma", "Take it away, or write what is missing. A list goes on in the next line unless that begins a statement of its own.")
	case at == len(tokens):
		r.noValue(tokens)
	default:
		r.atToken(tokens, at)
	}
}

// fault is the token that is really at fault. With one token of lookahead the parser may give up before a comma or an option's word
// because of what follows it.
func fault(tokens []token.Token, at int) int {
	if at >= len(tokens) || at < 1 || !closesValue(tokens[at-1].Kind) {
		return at
	}
	switch tokens[at].Kind {
	case token.Comma:
		if openParen(tokens[:at]) >= 0 || !wordAt(tokens, at-1) {
			return at + 1
		}
	case token.Name:
		if openParen(tokens[:at]) < 0 && !wordAt(tokens, at-1) {
			return at + 1
		}
	}
	return at
}

func closesValue(k token.Kind) bool {
	return k != token.Comma && k != token.LeftParen
}

// emptyComma finds the last comma before a fault that stands before a word of the language: the list ended there and the comma is too
// many. It returns -1 if there is none. Only a fault is judged so, for the words are not reserved.
func emptyComma(tokens []token.Token, at int) int {
	for i := min(at, len(tokens)) - 2; i > 0; i-- {
		n := tokens[i+1]
		if tokens[i].Kind == token.Comma && n.Kind == token.Name && word.Known(n.Text) && (n.First || i+2 >= at) {
			return i
		}
	}
	return -1
}

func (r *reader) noWord(tokens []token.Token) {
	t := tokens[0]
	detail := "Such as device, circuit or from; " + said(t) + " is none."
	if t.Kind == token.Comma {
		detail = "A list goes on in the next line when the comma stands at the end of the line before."
	}
	r.mistake(t.Start, t.End, "no-word", "a line begins with a word that says what it is about", detail)
}

// noValue is a line that ends behind a word.
func (r *reader) noValue(tokens []token.Token) {
	t := tokens[len(tokens)-1]
	if len(tokens) == 1 {
		detail := "Write what it is about behind it."
		if w := word.Find("", t.Text); w != nil {
			detail = "Behind it stands " + w.About.Wants() + "."
		}
		r.mistake(t.Start, t.End, "no-value", "nothing follows `"+t.Text+"`", detail)
		return
	}
	detail := "Write its value behind it."
	if w := word.Find("", tokens[0].Text); w != nil {
		if o := w.Option(t.Text); o != nil {
			detail = "Behind it stands " + o.Arg.Wants() + "."
		}
	}
	r.mistake(t.Start, t.End, "no-value", "`"+t.Text+"` has no value", detail)
}

// lostComma finds the place where words and values have changed places, by the first option that no word of the language has.
func (r *reader) lostComma(tokens []token.Token) bool {
	end := len(tokens)
	if tokens[end-1].Kind != token.Comma {
		end--
	}
	for ; end >= 2; end-- {
		h, stop := parseHead(tokens[:end])
		if stop >= 0 {
			if end < len(tokens)-12 {
				return false
			}
			continue
		}
		line := r.convert(h, tokens[0].Start, tokens[end-1].End)
		w := lost(line)
		if w < 0 {
			return false
		}
		o, before := line.Options[w].Word, line.About
		of := line.Word.Text
		if w > 0 {
			before, of = line.Options[w-1].Values, line.Options[w-1].Word.Text
		}
		r.msgs.Mistake(o.Span, "lost-comma", "`"+o.Text+"` is no option",
			"A list needs commas: "+of+" "+before[len(before)-1].Text+", "+o.Text+". Or a value is missing before it.").Near(r.nearOptions(tokens[0].Text, o.Text))
		return true
	}
	return false
}

func (r *reader) nearOptions(of, name string) []string {
	if w := word.Find("", of); w != nil {
		return w.NearOption(name)
	}
	return nil
}

// atToken is a token that stands where an option or a value should.
func (r *reader) atToken(tokens []token.Token, at int) {
	t, prev := tokens[at], tokens[at-1]
	say := func(code, title, detail string) { r.mistake(t.Start, t.End, code, title, detail) }
	wantsValue := prev.Kind == token.Comma || prev.Kind == token.Name && wordAt(tokens, at-1)
	switch {
	case t.Kind == token.RightParen:
		say("unmatched-paren", "there is no ( for this )", "Put a ( where the place begins, or take the ) away.")
	case t.Kind == token.Comma && prev.Kind == token.Comma:
		say("open-list", "nothing stands between these commas", "Take one away, or write what is missing.")
	case t.Kind == token.Comma:
		say("no-value", "`"+prev.Text+"` has no value before this comma", "Write what is missing, or take the comma away.")
	case wantsValue:
		say("no-value", "a value is missing before "+said(t), "Write it behind "+said(prev)+".")
	default:
		say("no-option-word", "a comma or a word is missing before "+said(t),
			"A list needs commas: "+plain(prev)+", "+plain(t)+". Everything else is a word and its value.")
	}
}

// wordAt tells whether the name at i stands where a word or an option's word does.
func wordAt(tokens []token.Token, i int) bool {
	if i == 0 {
		return true
	}
	_, stop := parseHead(tokens[:i])
	return stop < 0
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

func (r *reader) insidePlace(tokens []token.Token, open, at int) {
	paren := r.span(tokens[open].Start, tokens[open].End)
	prev := tokens[at-1]
	starts := prev.Kind == token.LeftParen || prev.Kind == token.Comma
	if at == len(tokens) {
		r.msgs.Mistake(paren, "unclosed-paren", "this ( is never closed", "Put a ) where the place ends. Its line ends here.")
		return
	}
	t := tokens[at]
	span := r.span(t.Start, t.End)
	switch {
	case t.Kind == token.LeftParen:
		r.msgs.Mistake(paren, "unclosed-paren", "this ( is never closed", "Put a ) before the next (.").Point(span, "the next ( stands here")
	case starts && (t.Kind == token.Comma || t.Kind == token.RightParen):
		r.mistake(t.Start, t.End, "no-value", "a coordinate is missing before "+said(t), "A place is written (1180, -440, 470 mm).")
	case t.Kind == token.Name && !starts && (t.Text[0] < '0' || t.Text[0] > '9'):
		r.msgs.Mistake(paren, "unclosed-paren", "this ( is never closed", "Put a ) before `"+t.Text+"`.")
	case !starts && (t.Kind == token.Quantity || t.Kind == token.Ref):
		r.mistake(t.Start, t.End, "lost-comma", "a comma is missing before "+said(t), "A place is written (1180, -440, 470 mm).")
	case t.Kind == token.Name && t.Text[0] >= '0' && t.Text[0] <= '9':
		n := len(t.Text) - len(strings.TrimLeft(t.Text, "0123456789"))
		r.msgs.Mistake(span, "unknown-unit", "`"+t.Text[n:]+"` is no unit of length", "Write a number and its unit: "+t.Text[:n]+" mm.").
			Near(diag.Nearest(t.Text[n:], unit.DimLength.Units()))
	default:
		r.mistake(t.Start, t.End, "no-number", said(t)+" is no coordinate", "A place is written (1180, -440, 470 mm).")
	}
}

// said names a token in a sentence.
func said(t token.Token) string {
	switch t.Kind {
	case token.Comma:
		return "a comma"
	case token.LeftParen:
		return "a ("
	case token.RightParen:
		return "a )"
	case token.Text:
		return "the text " + plain(t)
	}
	return "`" + t.Text + "`"
}

func plain(t token.Token) string {
	switch t.Kind {
	case token.Text:
		return `"` + t.Text + `"`
	case token.LeftParen:
		return "(...)"
	case token.RightParen:
		return "(...)"
	}
	return t.Text
}
