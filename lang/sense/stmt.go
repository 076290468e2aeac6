// Package sense holds what was read of a file against the table of words: it tells unknown words, options and wrong values, makes
// the lines that merely go on with the options of an outer line part of that line, and takes ranges and templates apart. What it
// hands on are statements without any short form.
package sense

import (
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

// Stmt is one statement, or one line in the block of one.
type Stmt struct {
	Word  *word.Word
	Span  diag.Span // from the word to the last option of its first line
	Whole diag.Span // with its block
	At    diag.Span // of the word
	About []syntax.Value
	// Lost is set when some of what it is about could not be made out.
	Lost  bool
	Opts  []Opt
	Block []*Stmt
	// Origin is the `use` line that made it; zero if it was written as it stands.
	Origin diag.Span
	// Member counts the members of the range it was repeated by, 0 first.
	Member int
	// Wrong names options that stood there with a value that could not be used: they are not missing.
	Wrong []string
	// Broken is set when a part of the line or of its block could not be made out: what is missing may well have stood there.
	Broken bool
	// Torn is set when its first line could not be read to its end.
	Torn bool
}

// Opt is an option with its values.
type Opt struct {
	Name   string
	Arg    *word.Arg // nil for the parameter of a template
	Values []syntax.Value
	Lost   bool      // some of the values could not be made out
	Span   diag.Span // of the word and its values
	Whole  diag.Span // with its block
	At     diag.Span // of the word
	// Flip is set for the axes whose sign changes in places that were taken over for the other hand.
	Flip [3]bool
}

// Find is the option of that name, nil if it was not given. Of several it is the first.
func (s *Stmt) Find(name string) *Opt {
	for i := range s.Opts {
		if s.Opts[i].Name == name {
			return &s.Opts[i]
		}
	}
	return nil
}

// All is every option of that name, in the order in which they stand.
func (s *Stmt) All(name string) []*Opt {
	var out []*Opt
	for i := range s.Opts {
		if s.Opts[i].Name == name {
			out = append(out, &s.Opts[i])
		}
	}
	return out
}

// Missing tells whether something was surely left out: none of the options stands there, not even with a value that could not be
// used or misspelt.
func (s *Stmt) Missing(names ...string) bool {
	if s.Broken || slices.Contains(s.Wrong, misspelt) {
		return false
	}
	return !slices.ContainsFunc(names, func(n string) bool { return s.Find(n) != nil || slices.Contains(s.Wrong, n) })
}

// Unsure tells whether an option may have stood there although it is not to be found.
func (s *Stmt) Unsure(name string) bool { return s.Find(name) == nil && !s.Missing(name) }

// misspelt stands among Stmt.Wrong for an option of an unknown name.
const misspelt = "?"

// Text is the only value of an option as written; empty if it was not given.
func (s *Stmt) Text(name string) string {
	if o := s.Find(name); o != nil && len(o.Values) > 0 {
		return o.Values[0].Text
	}
	return ""
}

// Name is what the statement is about, as written; empty if that could not be read.
func (s *Stmt) Name() string {
	if len(s.About) == 0 {
		return ""
	}
	return s.About[0].Text
}

// NameSpan is where the name stands; the word's own place if the name could not be read.
func (s *Stmt) NameSpan() diag.Span {
	if len(s.About) == 0 {
		return s.At
	}
	return s.About[0].Span
}

// Path is the word as a person would say it: "device draw", "circuit".
func (s *Stmt) Path() string { return path(s.Word) }

func path(w *word.Word) string {
	if w.In != "" {
		return w.In + " " + w.Name
	}
	return w.Name
}

// Spanned is the place of a list of values.
func Spanned(vs []syntax.Value) diag.Span {
	if len(vs) == 0 {
		return diag.Span{}
	}
	sp := vs[0].Span
	if last := vs[len(vs)-1].Span; last.File == sp.File && last.End > sp.End { // else one of them was handed to a template from elsewhere
		sp.End = last.End
	}
	return sp
}

// copyOf is a deep copy, so that no two statements share a list.
func (s *Stmt) copyOf() *Stmt {
	c := *s
	c.About = slices.Clone(s.About)
	c.Wrong = slices.Clone(s.Wrong)
	c.Opts = slices.Clone(s.Opts)
	for i := range c.Opts {
		c.Opts[i].Values = slices.Clone(c.Opts[i].Values)
	}
	c.Block = make([]*Stmt, len(s.Block))
	for i, b := range s.Block {
		c.Block[i] = b.copyOf()
	}
	return &c
}
