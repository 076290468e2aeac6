package syntax

import (
	"io"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"loomsheet/lang/token"
)

// The grammar of a line up to its block. Blocks are not in it: braces are matched by the reader itself, which thereby knows which
// one was forgotten, needs no recursion, and goes on after every mistake.

type head struct {
	Word    lexer.Token `parser:"@Name"`
	About   list        `parser:"@@"`
	Options []option    `parser:"@@*"`
}

type option struct {
	Word   lexer.Token `parser:"@Name"`
	Values list        `parser:"@@"`
}

type list struct {
	Values []value `parser:"@@ ( Comma @@ )*"`
}

type value struct {
	Leaf  lexer.Token `parser:"@( Name | Ref | Quantity | Text | Illegal )"`
	Place *place      `parser:"| @@"`
}

type place struct {
	Open  lexer.Token `parser:"@LeftParen"`
	Items []item      `parser:"@@ ( Comma @@ )*"`
	Close lexer.Token `parser:"@RightParen"`
}

type item struct {
	Leaf lexer.Token `parser:"@( Quantity | Ref | Illegal )"`
}

// lookahead is how many tokens decide which way to go on. The language is made so that one does.
const lookahead = 1

var lineParser = participle.MustBuild[head](participle.Lexer(definition{}), participle.UseLookahead(lookahead))

// definition tells the kinds of tokens; the text itself is cut by package token.
type definition struct{}

// tokenType gives a kind its number; those below zero are left to participle, whose -1 is the end.
func tokenType(k token.Kind) lexer.TokenType { return -2 - lexer.TokenType(k) }

// Symbols names the kinds of tokens.
func (definition) Symbols() map[string]lexer.TokenType {
	m := map[string]lexer.TokenType{"EOF": lexer.EOF}
	for k := token.EOL; k <= token.Illegal; k++ {
		m[k.String()] = tokenType(k)
	}
	return m
}

// Lex cuts a whole text, line ends included.
func (definition) Lex(name string, r io.Reader) (lexer.Lexer, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return &piece{tokens: token.Lex(name, text, nil).Tokens}, nil
}

// piece hands out a stretch of tokens. The line of a position is the place of the token in its piece, its column that in bytes of
// its end: positions in words are made on printing.
type piece struct {
	tokens []token.Token
	next   int
}

// Next is the next token of the piece.
func (p *piece) Next() (lexer.Token, error) {
	if p.next >= len(p.tokens) {
		return lexer.Token{Type: lexer.EOF, Pos: lexer.Position{Line: len(p.tokens)}}, nil
	}
	t := p.tokens[p.next]
	p.next++
	return lexer.Token{Type: tokenType(t.Kind), Value: t.Text, Pos: lexer.Position{Offset: t.Start, Line: p.next - 1, Column: t.End}}, nil
}

// parseHead reads one line's head. The number is that of the token at which it could not go on, or -1.
func parseHead(tokens []token.Token) (*head, int) {
	lex, err := lexer.Upgrade(&piece{tokens: tokens})
	if err != nil {
		return nil, 0
	}
	h, err := lineParser.ParseFromLexer(lex)
	if err == nil {
		return h, -1
	}
	if pe, ok := err.(participle.Error); ok {
		return h, min(pe.Position().Line, len(tokens))
	}
	return h, 0
}
