// Package token cuts the text of a .loom file into tokens. It never gives up: what cannot be read becomes an illegal token and a
// located mistake.
package token

import "loomsheet/harness/diag"

// Kind is the kind of a token.
type Kind uint8

// Kinds of tokens.
const (
	EOL      Kind = iota // a line's end; also just before "}" and at the end of the file
	Name                 // letters, digits, - _ /
	Ref                  // a name with ranges or dots in it
	Quantity             // a number, with or without a unit
	Text                 // in quotes
	Comma
	LeftParen
	RightParen
	LeftBrace
	RightBrace
	Illegal // reported already; it stands where a value was meant
)

var kindNames = [...]string{"EOL", "Name", "Ref", "Quantity", "Text", "Comma", "LeftParen", "RightParen", "LeftBrace", "RightBrace", "Illegal"}

func (k Kind) String() string { return kindNames[k] }

// Token is a piece of text with its place by byte offsets.
type Token struct {
	Kind       Kind
	Start, End int
	// Text is as written, except that blanks inside are tidied (a Ref has one after each comma, a Quantity at most one before its
	// unit) and a Text has no quotes.
	Text string
	// First is set when nothing but blanks stands before it on its line; those are Indent bytes.
	First  bool
	Indent int
}

// Comment is text after # up to the end of its line.
type Comment struct {
	Text       string
	Start, End int
	Own        bool // nothing but blanks stands before it on its line
}

// Result is a text in tokens.
type Result struct {
	Tokens   []Token
	Comments []Comment
	Mistakes diag.List
}
