package syntax

import (
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

// verdict is what is wrong with a line, and the line as it was probably meant. The latter keeps names and values that stand behind
// the mistake, so that it costs one message and not one for every place that uses them.
type verdict struct {
	diag.Diagnostic
	fixed []token.Token // nil if nobody can tell
}

func (r *reader) judge(t token.Token, code, title, detail string, fixed []token.Token) verdict {
	return verdict{diag.Diagnostic{Code: code, Severity: diag.Mistake, Title: title, Detail: detail, Span: r.span(t.Start, t.End)}, fixed}
}

// explain says why a line cannot be read beyond the token of the given number, which may be one behind the last. A verdict
// without a code is about a mistake that was reported with its token.
func (r *reader) explain(tokens []token.Token, at int) verdict {
	if lacksWord(tokens) {
		return r.lostWord(tokens)
	}
	if at == 0 {
		return r.noWord(tokens)
	}
	if at < len(tokens) && tokens[at].Kind == token.Illegal {
		if arrow(tokens[at].Text) {
			to := tokens[at]
			to.Kind, to.Text = token.Name, "to"
			return verdict{fixed: replace(tokens, at, at+1, to)}
		}
		return verdict{fixed: replace(tokens, at, at+1)}
	}
	for i := max(0, at-2); i < min(at, len(tokens)); i++ {
		if tokens[i].Kind == token.Illegal {
			return verdict{}
		}
	}
	if open := openParen(tokens[:at]); open >= 0 {
		return r.insidePlace(tokens, open, at)
	}
	if i := emptyComma(tokens, at); i >= 0 {
		return r.judge(tokens[i], "open-list", "nothing follows this comma",
			"`"+short(tokens[i+1])+"` begins something else. Take the comma away, or write what is missing.", replace(tokens, i, i+1))
	}
	prev := tokens[at-1]
	if at == len(tokens) && prev.Kind == token.Comma {
		return r.judge(prev, "open-list", "nothing follows this comma",
			"Take it away, or write what is missing. A list goes on in the next line unless that begins a statement of its own.", tokens[:at-1])
	}
	if at == 2 && tokens[1].Kind == token.Name && word.Known(tokens[1].Text) && tokens[2].Kind != token.Comma {
		return r.judge(tokens[0], "no-value", "nothing follows `"+short(tokens[0])+"`", "`"+short(tokens[1])+"` is an option already.",
			replace(tokens, 1, 1, placeholder(tokens[0].End)))
	}
	if at == len(tokens) || tokens[at].Kind != token.RightParen {
		if i := strayName(tokens, at); i >= 0 {
			return r.lost(tokens, i)
		}
	}
	if at == len(tokens) {
		return r.noValue(tokens)
	}
	return r.atToken(tokens, at)
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

func closesValue(k token.Kind) bool { return k != token.Comma && k != token.LeftParen }

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

// strayName finds the first name before a fault that stands where an option's word should and that no option is called, or -1: from there
// on words and values have changed places. A use may have options of any name.
func strayName(tokens []token.Token, at int) int {
	if tokens[0].Text == "use" {
		return -1
	}
	// Words and values take turns, a list is one value.
	isWord := true
	for i := 0; i < min(at+1, len(tokens)); i++ {
		switch {
		case tokens[i].Kind == token.Comma:
			isWord = false
		case isWord && tokens[i].Kind != token.Name:
			return -1
		case isWord:
			if i > 0 && !word.Known(tokens[i].Text) {
				return i
			}
			isWord = false
		default:
			if tokens[i].Kind == token.LeftParen {
				i = closing(tokens, i)
			}
			isWord = i+1 >= len(tokens) || tokens[i+1].Kind != token.Comma
		}
	}
	return -1
}

// closing is the number of the bracket that closes the one at i, or of the last token.
func closing(tokens []token.Token, i int) int {
	for ; i < len(tokens); i++ {
		if tokens[i].Kind == token.RightParen {
			return i
		}
	}
	return len(tokens) - 1
}

// lost explains the name at i, which stands where an option's word should: a comma before it got lost, or the value before it.
func (r *reader) lost(tokens []token.Token, i int) verdict {
	stray, value, before := tokens[i], tokens[i-1], token.Token{}
	if i >= 2 {
		before = tokens[i-2]
	}
	if value.Kind == token.Name && word.Known(value.Text) && before.Kind == token.Name && wordAt(tokens, i-2) {
		return r.judge(before, "no-value", "`"+short(before)+"` has no value", "What follows, `"+short(value)+" "+short(stray)+"`, is an option of its own."+form(before.Text),
			replace(tokens, i-1, i-1, placeholder(before.End)))
	}
	if value.Kind == token.Quantity && bare(value.Text) && (i+1 == len(tokens) || tokens[i+1].Kind == token.Name && word.Known(tokens[i+1].Text)) {
		unknown := placeholder(value.Start)
		unknown.End = stray.End
		return r.judge(stray, "unknown-unit", "`"+short(stray)+"` is no unit", "Write one of the known units behind the number, or leave it a bare number.",
			replace(tokens, i-1, i+1, unknown))
	}
	v := r.judge(stray, "lost-comma", "`"+short(stray)+"` is no option",
		"A list needs commas: "+plain(value)+", "+short(stray)+". Or a value is missing before it.", replace(tokens, i, i, token.Token{Kind: token.Comma, Start: value.End, End: value.End}))
	if w := r.find(tokens[0].Text); w != nil {
		v.Suggest = w.NearOption(stray.Text)
	}
	return v
}

// lacksWord tells whether a line seems to begin with the name of a thing instead of a word: a comma or an option follows at once.
func lacksWord(tokens []token.Token) bool {
	if len(tokens) < 3 || tokens[0].Kind != token.Ref && (tokens[0].Kind != token.Name || word.Known(tokens[0].Text)) {
		return false
	}
	return tokens[1].Kind == token.Comma || tokens[1].Kind == token.Name && word.Known(tokens[1].Text) && tokens[2].Kind != token.Comma
}

// lostWord is a line that begins with the name of the thing it is about.
func (r *reader) lostWord(tokens []token.Token) verdict {
	outer := ""
	if f := r.top(); f.owner != nil {
		outer = f.owner.Word.Text
	}
	words := word.InBlock(outer)
	if l := r.top().last.line; l != nil {
		if w := word.Find(outer, l.Word.Text); w != nil {
			words = append([]word.Word{*w}, words...) // most likely the line above has the same
		}
	}
	detail := "Begin the line with the word that says what it is about."
	for _, w := range words {
		t := token.Token{Kind: token.Name, Text: w.Name, Start: tokens[0].Start, End: tokens[0].Start}
		fixed := replace(tokens, 0, 0, t)
		if h, stop := parseHead(fixed); stop < 0 && !slices.ContainsFunc(h.Options, func(o option) bool { return w.Option(o.Word.Value) == nil }) {
			return r.judge(tokens[0], "no-word", "a word is missing before `"+short(tokens[0])+"`", detail+" It may be "+w.Name+".", fixed)
		}
	}
	return r.judge(tokens[0], "no-word", "a word is missing before `"+short(tokens[0])+"`", detail, nil)
}

func (r *reader) noWord(tokens []token.Token) verdict {
	if tokens[0].Kind == token.Illegal {
		return verdict{}
	}
	detail := "Such as device, circuit or from; " + said(tokens[0]) + " is none."
	if tokens[0].Kind == token.Comma {
		detail = "A list goes on in the next line when the comma stands at the end of the line before."
	}
	return r.judge(tokens[0], "no-word", "a line begins with a word that says what it is about", detail, nil)
}

// noValue is a line that ends behind a word.
func (r *reader) noValue(tokens []token.Token) verdict {
	t := tokens[len(tokens)-1]
	fixed := replace(tokens, len(tokens), len(tokens), placeholder(t.End))
	w := r.find(tokens[0].Text)
	if len(tokens) == 1 {
		detail := "Write what it is about behind it."
		if w != nil {
			detail = "Behind it stands " + w.About.Wants() + "."
		}
		return r.judge(t, "no-value", "nothing follows `"+short(t)+"`", detail, fixed)
	}
	detail := "Write its value behind it."
	if w != nil {
		if o := w.Option(t.Text); o != nil {
			detail = "Behind it stands " + o.Arg.Wants() + "."
		}
	}
	return r.judge(t, "no-value", "`"+short(t)+"` has no value", detail, fixed)
}

// atToken is a token that stands where an option or a value should.
func (r *reader) atToken(tokens []token.Token, at int) verdict {
	t, prev := tokens[at], tokens[at-1]
	wantsValue := prev.Kind == token.Comma || prev.Kind == token.Name && wordAt(tokens, at-1)
	switch {
	case t.Kind == token.RightParen:
		begin := at
		for begin > 1 && slices.Contains(coordinates, tokens[begin-1].Kind) {
			begin--
		}
		return r.judge(t, "unmatched-paren", "there is no ( for this )", "Put a ( where the place begins, or take the ) away.",
			replace(tokens, begin, begin, token.Token{Kind: token.LeftParen, Start: tokens[begin].Start, End: tokens[begin].Start, Text: "("}))
	case t.Kind == token.Comma && prev.Kind == token.Comma:
		return r.judge(t, "open-list", "nothing stands between these commas", "Take one away, or write what is missing.", replace(tokens, at, at+1))
	case t.Kind == token.Comma:
		return r.judge(t, "no-value", "`"+short(prev)+"` has no value before this comma", "Write what is missing, or take the comma away.",
			replace(tokens, at, at, placeholder(prev.End)))
	case wantsValue:
		return r.judge(t, "no-value", "a value is missing before "+said(t), "Write it behind "+said(prev)+".", replace(tokens, at, at, placeholder(prev.End)))
	}
	title := "a comma or a word is missing before " + said(t)
	if alike(prev, t) {
		return r.judge(t, "no-option-word", title, "A list needs commas: "+plain(prev)+", "+plain(t)+". Everything else is a word and its value.",
			replace(tokens, at, at, token.Token{Kind: token.Comma, Start: prev.End, End: prev.End}))
	}
	// The word of an option is missing. Unless just one takes such a value, what the value belongs to is not known.
	names := r.takers(tokens[0].Text, t)
	if len(names) == 0 || len(names) > 4 {
		return r.judge(t, "no-option-word", title, "An option is a word and its value; commas part the items of a list.", replace(tokens, at, valueEnd(tokens, at)))
	}
	fixed := replace(tokens, at, valueEnd(tokens, at))
	if len(names) == 1 {
		fixed = replace(tokens, at, at, token.Token{Kind: token.Name, Text: names[0], Start: t.Start, End: t.Start})
	}
	return r.judge(t, "no-option-word", title, "It may be "+strings.Join(names, ", or ")+" "+plain(t)+".", fixed)
}

// valueEnd is the number of the token behind the value at i.
func valueEnd(tokens []token.Token, i int) int {
	if tokens[i].Kind == token.LeftParen {
		return closing(tokens, i) + 1
	}
	return i + 1
}

// takers names the options of a line's word that take a quantity of the kind of t, a place, or a text.
func (r *reader) takers(name string, t token.Token) []string {
	w := r.find(name)
	if w == nil {
		return nil
	}
	var out []string
	for _, o := range w.Options {
		fits := false
		switch t.Kind {
		case token.Quantity:
			q, err := unit.Parse(t.Text)
			fits = err == nil && q.Dim != unit.DimNone && slices.Contains(o.Arg.Dims, q.Dim)
		case token.LeftParen:
			fits = o.Arg.Kind == word.Spot || o.Arg.Kind == word.Coords
		case token.Text:
			fits = o.Arg.Kind == word.FreeText
		}
		if fits {
			out = append(out, o.Name)
		}
	}
	return out
}

// find looks up the word with which a line of the present block begins.
func (r *reader) find(name string) *word.Word {
	if f := r.top(); f.owner != nil {
		return word.Find(f.owner.Word.Text, name)
	}
	return word.Find("", name)
}

// coordinates are what may stand in a place.
var coordinates = []token.Kind{token.Quantity, token.Ref, token.Illegal, token.Comma}

// alike tells whether two neighbouring values may belong to one list.
func alike(a, b token.Token) bool {
	named := []token.Kind{token.Name, token.Ref}
	if a.Kind == token.Quantity && b.Kind == token.Quantity {
		p, _ := unit.Parse(a.Text)
		q, _ := unit.Parse(b.Text)
		return p.Dim == q.Dim
	}
	return a.Kind == b.Kind || slices.Contains(named, a.Kind) && slices.Contains(named, b.Kind) || a.Kind == token.RightParen && b.Kind == token.LeftParen
}

// wordAt tells whether the name at i stands where a word or an option's word does.
func wordAt(tokens []token.Token, i int) bool {
	if i == 0 {
		return true
	}
	_, stop := parseHead(tokens[:i])
	return stop < 0
}

// replace puts other tokens in the place of those from i to j.
func replace(tokens []token.Token, i, j int, with ...token.Token) []token.Token {
	return slices.Concat(tokens[:i], with, tokens[j:])
}

// placeholder stands for a value that is missing.
func placeholder(at int) token.Token { return token.Token{Kind: token.Illegal, Start: at, End: at} }

func arrow(s string) bool { return s == "->" || s == "=>" || s == "→" }

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
	return "`" + short(t) + "`"
}

// short is the text of a token as a message quotes it.
func short(t token.Token) string { return token.Shorten(t.Text) }

func plain(t token.Token) string {
	switch t.Kind {
	case token.Text:
		return `"` + short(t) + `"`
	case token.LeftParen, token.RightParen:
		return "(...)"
	}
	return short(t)
}

// form shows how a top-level word is written, by its example's first line; empty for any other word.
func form(name string) string {
	w := word.Find("", name)
	if w == nil || w.Example == "" {
		return ""
	}
	first, _, _ := strings.Cut(w.Example, "\n")
	return " It is written like `" + strings.TrimSuffix(first, " {") + "`."
}
