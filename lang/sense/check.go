package sense

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"loomsheet/harness/diag"
	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

// Reader checks lines. Its messages gather in Msgs.
type Reader struct {
	Msgs diag.List
	// Torn is the first lines whose shape could not be read to the end. What seems wrong there is a part of that mistake.
	Torn []diag.Span
	// open is the parameters of the template whose body is looked through without values; a value that holds one is not checked.
	open []string
	// budget is how many more lines and values may be made from ranges and templates.
	budget int
	spent  bool
	wide   bool // the value at hand is a setting's, which may be as large as it likes
}

// Budget is how many lines and values the short forms of a job may stand for.
const Budget = 600000

// NewReader is a reader with a fresh budget.
func NewReader() *Reader { return &Reader{budget: Budget} }

// Lines checks the lines of one file. Lines that could not be made out are left out; ghosts are the names they would have
// declared, so that nobody is told that those do not exist.
func (r *Reader) Lines(lines []*syntax.Line) (out []*Stmt, ghosts []string) {
	for i, l := range lines {
		w := word.Find("", l.Word.Text)
		if w == nil {
			if !l.Broken {
				r.unknownTop(l, lines[max(i-1, 0)])
			}
			for _, v := range l.About {
				ghosts = append(ghosts, v.Text)
			}
			continue
		}
		out = append(out, r.stmt(l, w))
	}
	return out, ghosts
}

func (r *Reader) unknownTop(l, above *syntax.Line) {
	n := l.Word.Text
	if w := word.Find("", above.Word.Text); w != nil && above != l && (word.Find(w.Name, n) != nil || w.Option(n) != nil) {
		r.Msgs.Mistake(l.Word.Span, "word-misplaced", fmt.Sprintf("does `%s` belong to `%s` above?", short(n), w.Name),
			fmt.Sprintf("Put it in the { } of `%s`; it is no statement of its own.", w.Name)).Point(above.Word.Span, fmt.Sprintf("`%s` stands here", w.Name))
		return
	}
	if o := placesOf(n); o != "" {
		r.Msgs.Mistake(l.Word.Span, "word-misplaced", fmt.Sprintf("`%s` is no statement of its own", short(n)), fmt.Sprintf("It goes with %s.", o))
		return
	}
	d := r.Msgs.Mistake(l.Word.Span, "no-such-word", fmt.Sprintf("`%s` is not a word of the language", short(n)),
		"A line begins with a word such as device, run, break, circuit or case.").Near(diag.Nearest(n, word.Names(word.Top())))
	if h := synonyms[strings.ToLower(n)]; h != "" {
		d.Detail = h
	}
}

// placesOf says with which words a word may stand.
func placesOf(name string) string {
	owners := word.OwnersOf(name)
	if len(owners) == 0 || len(owners) > 8 {
		return ""
	}
	for i, o := range owners {
		owners[i] = "`" + o + "`"
	}
	return join(owners, "or")
}

// join writes a list as in speech: "a, b and c".
func join(list []string, and string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " " + and + " " + list[len(list)-1]
}

// stmt checks one line against its word.
func (r *Reader) stmt(l *syntax.Line, w *word.Word) *Stmt {
	s := &Stmt{Word: w, Span: l.Head, Whole: l.Span, At: l.Word.Span, Broken: l.Broken, Torn: l.Broken}
	if l.Broken {
		r.Torn = append(r.Torn, l.Head)
	}
	s.About = r.values(l.About, &w.About, w.Name, true)
	s.Lost = len(s.About) < len(l.About)
	r.options(s, l.Options)
	for _, b := range l.Block {
		r.blockLine(s, b)
	}
	r.once(s)
	r.required(s)
	return s
}

func (r *Reader) blockLine(s *Stmt, l *syntax.Line) {
	if l.Broken {
		r.Torn = append(r.Torn, l.Head)
	}
	if s.Word.In == "" && s.Word.Name != "template" {
		if w := word.Find(s.Word.Name, l.Word.Text); w != nil {
			b := r.stmt(l, w)
			s.Block = append(s.Block, b)
			s.Broken = s.Broken || b.Broken
			return
		}
	}
	if s.Word.Params || s.Word.Option(l.Word.Text) != nil {
		// The line goes on with the options of the outer word.
		first := syntax.Option{Word: l.Word, Values: l.About, Span: l.Head}
		n := len(l.About)
		if n > 0 {
			first.Span.End = l.About[n-1].Span.End
		}
		s.Broken = s.Broken || l.Broken
		if n > 0 {
			r.options(s, append([]syntax.Option{first}, l.Options...))
		} else {
			s.Wrong = append(s.Wrong, l.Word.Text)
		}
		if l.HasBlock {
			r.Msgs.Mistake(l.Word.Span, "block-misplaced", fmt.Sprintf("`%s` has no block of its own here", l.Word.Text),
				fmt.Sprintf("It goes on with the options of `%s`: write them in the outer block.", s.Word.Name))
		}
		return
	}
	r.unknownInBlock(s, l)
}

func (r *Reader) unknownInBlock(s *Stmt, l *syntax.Line) {
	s.Broken = true
	if s.Torn || l.Broken {
		return // it may well belong there: the line above is not what it seems
	}
	n, outer := l.Word.Text, s.Path()
	lines := word.LineNames(s.Word.Name)
	if s.Word.In != "" {
		lines = s.Word.OptionNames()
	}
	near := diag.Nearest(n, lines)
	switch owners := placesOf(n); {
	case word.IsTop(n) && len(near) == 0:
		r.Msgs.Mistake(l.Word.Span, "word-misplaced", fmt.Sprintf("`%s` does not belong in the block of `%s`", short(n), outer),
			fmt.Sprintf("`%s` is a statement of its own: put it outside these { }, or close the block above it.", n)).Point(s.Span, "the block begins here")
	case owners != "" && len(near) == 0:
		r.Msgs.Mistake(l.Word.Span, "word-misplaced", fmt.Sprintf("`%s` does not belong in the block of `%s`", short(n), outer),
			fmt.Sprintf("It goes with %s.", owners)).Point(s.Span, "the block begins here")
	default:
		d := r.Msgs.Mistake(l.Word.Span, "no-such-line", fmt.Sprintf("`%s` is no line of `%s`", short(n), outer), "").Near(near)
		if len(near) == 0 {
			d.Detail = "Its lines are " + join(lines, "and") + "."
		}
	}
}

func (r *Reader) options(s *Stmt, opts []syntax.Option) {
	for i, o := range opts {
		if s.Word.Params && !isCommon(o.Word.Text) {
			if hasBad(o.Values) {
				s.Wrong = append(s.Wrong, o.Word.Text)
			} else {
				s.Opts = append(s.Opts, Opt{Name: o.Word.Text, Values: o.Values, Span: o.Span, At: o.Word.Span})
			}
			continue
		}
		def := s.Word.Option(o.Word.Text)
		if def == nil {
			s.Wrong = append(s.Wrong, misspelt)
			before := s.About
			if i > 0 {
				before = opts[i-1].Values
			} else if len(s.Opts) > 0 {
				before = nil
			}
			r.unknownOption(s, o, before, i > 0, opts[max(i-1, 0)])
			continue
		}
		if vs := r.values(o.Values, &def.Arg, def.Name, false); len(vs) > 0 {
			s.Opts = append(s.Opts, Opt{Name: def.Name, Arg: &def.Arg, Values: vs, Lost: len(vs) < len(o.Values), Span: o.Span, At: o.Word.Span})
		} else {
			s.Wrong = append(s.Wrong, def.Name)
		}
	}
}

func isCommon(name string) bool {
	return slices.ContainsFunc(word.Common, func(o word.Option) bool { return o.Name == name })
}

// unknownOption words a misspelt option. Most often a comma or a value was lost before it.
func (r *Reader) unknownOption(s *Stmt, o syntax.Option, before []syntax.Value, hasPrev bool, prev syntax.Option) {
	n := o.Word.Text
	d := r.Msgs.Mistake(o.Word.Span, "no-such-option", fmt.Sprintf("`%s` is no option of `%s`", short(n), s.Path()), "")
	near := s.Word.NearOption(n)
	switch {
	case hasPrev && len(prev.Values) == 1 && s.Word.Option(prev.Values[0].Text) != nil && s.Word.Option(prev.Word.Text) != nil:
		d.Detail = fmt.Sprintf("`%s` has no value: `%s` after it is an option too.", short(prev.Word.Text), short(prev.Values[0].Text))
	case len(near) > 0:
		d.Near(near)
	case len(before) > 0 && manyBefore(s, hasPrev, prev) && before[len(before)-1].Kind != syntax.Place:
		d.Detail = fmt.Sprintf("A list needs commas: `%s, %s`.", short(before[len(before)-1].Text), short(n))
		if owners := placesOf(n); owners != "" {
			d.Detail = fmt.Sprintf("It goes with %s. Or, if it belongs to the list before it, a comma is missing: `%s, %s`.", owners, short(before[len(before)-1].Text), short(n))
		}
	default:
		if owners := placesOf(n); owners != "" {
			d.Detail = fmt.Sprintf("It goes with %s.", owners)
		} else {
			d.Detail = "Its options are " + join(s.Word.OptionNames(), "and") + "."
		}
	}
}

// manyBefore tells whether a list was allowed just before.
func manyBefore(s *Stmt, hasPrev bool, prev syntax.Option) bool {
	if !hasPrev {
		return s.Word.About.Many
	}
	def := s.Word.Option(prev.Word.Text)
	return def != nil && def.Arg.Many
}

// short is a text as a message quotes it.
func short(t string) string {
	if len(t) <= 32 {
		return t
	}
	end := 31
	for !utf8.RuneStart(t[end]) {
		end--
	}
	return t[:end] + ".."
}

// once reports options that stand more than once although one value is meant.
func (r *Reader) once(s *Stmt) {
	if s.eachOnce() {
		return
	}
	var kept []Opt
	at := map[string]int{}
	for _, o := range s.Opts {
		def := s.Word.Option(o.Name)
		if def != nil && def.Repeats {
			kept = append(kept, o)
			continue
		}
		i, twice := at[o.Name]
		if !twice {
			at[o.Name] = len(kept)
			kept = append(kept, o)
			continue
		}
		d := r.Msgs.Mistake(o.Span, "option-twice", fmt.Sprintf("`%s` is said twice", short(o.Name)), "Keep one of the two.").Point(kept[i].Span, "first said here")
		if o.Arg != nil && o.Arg.Many {
			d.Detail = fmt.Sprintf("Several values stand in one list with commas: `%s %s, %s`.", o.Name, short(kept[i].Values[0].Text), short(o.Values[0].Text))
		}
	}
	s.Opts = kept
}

// eachOnce tells that no option stands twice; of very many it does not look.
func (s *Stmt) eachOnce() bool {
	if len(s.Opts) > 24 {
		return false
	}
	for i := range s.Opts {
		for k := range i {
			if s.Opts[k].Name == s.Opts[i].Name {
				return false
			}
		}
	}
	return true
}

// required reports what cannot be left out.
func (r *Reader) required(s *Stmt) {
	for _, need := range needed[s.Path()] {
		if !s.Missing(need...) {
			continue
		}
		said := "`" + strings.Join(need, "` or `") + "`"
		d := r.Msgs.Mistake(s.Span, "option-missing", fmt.Sprintf("`%s` does not say %s", head(s), said), "")
		if o := s.Word.Option(need[0]); o != nil {
			d.Detail = fmt.Sprintf("Add `%s` and %s: %s.", need[0], o.Arg.Wants(), o.Doc)
		}
	}
}

// head is the line in short: its word and its first name.
func head(s *Stmt) string {
	if len(s.About) == 0 || s.About[0].Kind == syntax.Place {
		return s.Word.Name
	}
	return s.Word.Name + " " + short(s.About[0].Text)
}
