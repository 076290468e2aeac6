// Package syntax reads the shape of a .loom file: lines of a word, what it is about, options and a block. It knows no word of
// the language; package word does.
package syntax

import "loomsheet/harness/diag"

// File is one source text as read.
type File struct {
	Name     string // as named in messages, relative to the job's folder
	Lines    []*Line
	Comments []Comment
}

// Comment is text after # up to the end of its line, without the #.
type Comment struct {
	Text string
	Span diag.Span
	// Own is set when nothing but blanks stands before it on its line.
	Own bool
}

// Line is one statement.
type Line struct {
	Word    Word
	About   []Value
	Options []Option
	Block   []*Line
	// HasBlock tells an empty block from none.
	HasBlock bool
	Span     diag.Span // from the word to the last option or the closing brace
	Head     diag.Span // from the word to the last option, without the block
}

// Word is the word of a line or of an option.
type Word struct {
	Text string
	Span diag.Span
}

// Option is a word and its list of values.
type Option struct {
	Word   Word
	Values []Value
	Span   diag.Span
}

// ValueKind is the shape of a value.
type ValueKind uint8

// The shapes a value can have.
const (
	Name     ValueKind = iota // letters, digits, - _ /
	Ref                       // a name with ranges or dots in it
	Quantity                  // a number, with or without a unit
	Text                      // in quotes; Value.Text holds what stands between them
	Place                     // round brackets
)

// Value is one value of a list.
type Value struct {
	Kind  ValueKind
	Text  string // as written, without quotes; for a Place the whole of it
	Items []Value
	Span  diag.Span
}
