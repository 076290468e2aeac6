// Package syntax reads the shape of a .loom file: lines of a word, what it is about, options and a block. It knows no word of
// the language; package word does.
package syntax

import "loomsheet/harness/diag"

// File is one source text as read.
type File struct {
	Name     string // as named in messages, relative to the job's folder
	Lines    []*Line
	Comments []Comment
	Broken   bool // a mistake was reported in it
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
	// Broken is set when a mistake was reported in the line, before its block: what could be read is here, possibly without a
	// subject, and something may be missing. A reader declares what it names and is silent on what it lacks.
	Broken bool
	Span   diag.Span // from the word to the last option or the closing brace
	Head   diag.Span // from the word to the last option, without the block
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
	Bad                       // could not be read; the mistake is reported, so the value counts as unknown
)

// Value is one value of a list.
type Value struct {
	Kind ValueKind
	// Text is as written but for blanks, of which there is one between a number and its unit (if the author put any) and after a
	// comma; without quotes. For a Place it is the whole of it. "5mm" stays as it is, for it may be the name of a pin.
	Text  string
	Items []Value // of a Place: each a Quantity, a Ref or Bad
	Span  diag.Span
}
