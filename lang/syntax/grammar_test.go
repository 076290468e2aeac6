package syntax

import (
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

// The whole grammar, blocks included, as one set of rules. The reader takes a text to pieces instead; both must agree.
type wholeFile struct {
	Lines []*wholeLine `parser:"@@*"`
}

type wholeLine struct {
	Head  head        `parser:"@@"`
	Block *wholeBlock `parser:"@@?"`
	End   lexer.Token `parser:"@EOL"`
}

type wholeBlock struct {
	Open  lexer.Token  `parser:"@LeftBrace"`
	Lines []*wholeLine `parser:"@@*"`
	Close lexer.Token  `parser:"@RightBrace"`
}

func (r *reader) whole(lines []*wholeLine, tokens []token.Token) []*Line {
	var out []*Line
	for _, l := range lines {
		c := r.convert(&l.Head, tokens, 0, 0)
		if l.Block != nil {
			c.HasBlock = true
			c.Block = r.whole(l.Block.Lines, tokens)
		}
		out = append(out, c)
	}
	return out
}

func TestPiecesAgreeWithTheWholeGrammar(t *testing.T) {
	p := participle.MustBuild[wholeFile](participle.Lexer(definition{}), participle.UseLookahead(1))
	for _, f := range scenarios(t) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		tokens := token.Lex("a", text, word.IsTop).Tokens
		lex, err := lexer.Upgrade(&piece{tokens: tokens})
		if err != nil {
			t.Fatal(err)
		}
		w, err := p.ParseFromLexer(lex)
		if err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		file, _ := Parse("a", text)
		r := &reader{file: &File{Name: "a"}, in: diag.FileOf("a")}
		if d := cmp.Diff(r.whole(w.Lines, tokens), file.Lines, cmpopts.IgnoreFields(Line{}, "Span", "Head"), cmpopts.EquateEmpty()); d != "" {
			t.Errorf("%s: %s", f, d)
		}
	}
}

// The grammar is decided by one token; a change that needs two fails here, since the parser is built with this constant.
func TestOneTokenOfLookaheadSuffices(t *testing.T) {
	if lookahead != 1 {
		t.Errorf("lookahead is %d", lookahead)
	}
	if n := strings.Count(lineParser.String(), "="); n > 7 {
		t.Errorf("the grammar of a line has grown to %d rules:\n%s", n, lineParser.String())
	}
}

// Every kind of token that the grammar names comes out of the lexer, and every literal in it would be cut as one token.
func TestGrammarLexes(t *testing.T) {
	sample := "device pump at (1, -2, 3 mm) class [a, b].1 note \"x\" on ! {\n a b\n}\n"
	got := map[string]bool{}
	for _, tok := range token.Lex("a", []byte(sample), nil).Tokens {
		got[strings.ToLower(tok.Kind.String())] = true
	}
	ebnf := lineParser.String()
	kinds := regexp.MustCompile(`<(\w+)>`).FindAllStringSubmatch(ebnf, -1)
	if len(kinds) < 8 {
		t.Fatalf("few kinds in\n%s", ebnf)
	}
	for _, k := range kinds {
		if !got[k[1]] {
			t.Errorf("no token of kind %s", k[1])
		}
	}
	for _, q := range regexp.MustCompile(`"[^"]*"`).FindAllString(ebnf, -1) {
		s, err := strconv.Unquote(q)
		if err != nil {
			t.Fatal(err)
		}
		if toks := token.Lex("a", []byte(s), nil).Tokens; len(toks) != 2 || toks[0].Text != s {
			t.Errorf("%s is not one token", q)
		}
	}
}

// An option word spelt like a unit would be drawn into the number before it.
func TestNoWordIsSpeltLikeAUnit(t *testing.T) {
	check := func(name string) {
		if slices.Contains(unit.Names(), name) {
			t.Errorf("`%s` is a unit", name)
		}
		if r := token.Lex("a", []byte("size 5 "+name+" x"), nil); len(r.Tokens) != 5 || r.Tokens[2].Text != name {
			t.Errorf("`5 %s` reads as %v", name, r.Tokens)
		}
	}
	n := 0
	for _, w := range word.All() {
		check(w.Name)
		for _, o := range w.Options {
			check(o.Name)
			n++
		}
	}
	for _, o := range word.Common {
		check(o.Name)
	}
	if n < 100 {
		t.Errorf("only %d options looked at", n)
	}
}
