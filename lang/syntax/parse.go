package syntax

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

const (
	// maxDepth is how deep blocks may nest. The language has use for three.
	maxDepth = 8
	// maxTokens is how long one line may be, lists over several lines included.
	maxTokens = 20000
	// MostTold is how many mistakes are told of one text; nobody mends more in one go.
	MostTold = 1000
)

// Told keeps the first mistakes of a sorted list and says that there are more, so that a text can be as wrong as it likes.
func Told(msgs diag.List) diag.List {
	if len(msgs) <= MostTold {
		return msgs
	}
	next := msgs[MostTold]
	msgs = slices.DeleteFunc(slices.Clone(msgs[:MostTold]), func(d diag.Diagnostic) bool { return d.Code == "too-many-mistakes" }) // of a single file
	msgs.Mistake(next.Span, "too-many-mistakes", fmt.Sprintf("there are more than %d mistakes", MostTold), "Mend the ones before this place first; the rest are told then.")
	return msgs
}

// Parse reads the shape of a text. All mistakes of the text are reported; the tree holds what could be read. Any input is accepted.
func Parse(name string, text []byte) (*File, diag.List) { return ParseFrom(name, string(text), 0) }

// ParseFrom is Parse of what begins a statement at that byte of a text. What it finds lies where it lies in the whole text.
func ParseFrom(name, text string, from int) (*File, diag.List) {
	lexed := token.LexFrom(name, text, from, word.IsTop)
	r := &reader{file: &File{Name: name}, in: diag.FileOf(name), text: text, msgs: lexed.Mistakes}
	r.tokens = r.unknownUnits(lexed.Tokens)
	r.stack = []*frame{{lines: &r.file.Lines}}
	r.read()
	for _, c := range lexed.Comments {
		r.file.Comments = append(r.file.Comments, Comment{Text: c.Text, Span: r.span(c.Start, c.End), Own: c.Own})
	}
	r.file.Broken = len(r.msgs) > 0
	r.msgs.Sort()
	return r.file, Told(r.msgs)
}

type reader struct {
	file   *File
	in     diag.File
	text   string
	tokens []token.Token
	next   int
	msgs   diag.List
	stack  []*frame // the first is the file itself
	// forgiven counts closing braces that have lost their partner to a mistake already reported.
	forgiven int
	tooDeep  bool
	told     int // mistakes in the shape of lines
}

// frame is an open block.
type frame struct {
	lines  *[]*Line
	owner  *Line       // nil for the file, and where the line could not be read
	brace  token.Token // zero Kind for the file and for a block without braces
	indent string      // of the owner's line
	known  bool        // whether indent is known: the owner begins its line
	loose  bool        // has no braces: lines indented under one without {
	last   lastLine
	closer *closer
}

// closer is a closing brace that seems to have been meant for this frame but had to close an inner one.
type closer struct{ inner, brace token.Token }

// lastLine is how the last line of a frame was indented.
type lastLine struct {
	line   *Line
	indent string
	known  bool
}

func (r *reader) span(start, end int) diag.Span {
	return diag.Span{File: r.in, Start: int32(start), End: int32(end)}
}

// over is from the beginning of one stretch to the end of another.
func (r *reader) over(from, to diag.Span) diag.Span {
	return diag.Span{File: r.in, Start: from.Start, End: to.End}
}

func (r *reader) top() *frame { return r.stack[len(r.stack)-1] }

func (r *reader) read() {
	for r.next < len(r.tokens) {
		switch t := r.tokens[r.next]; t.Kind {
		case token.EOL:
			r.next++
		case token.RightBrace:
			r.next++
			r.closeBrace(t)
		case token.LeftBrace:
			r.next++
			r.braceAlone(t)
		default:
			r.line()
		}
	}
	r.forgotten(nil)
}

// line reads a head and, if one follows, the opening brace of its block.
func (r *reader) line() {
	start := r.next
	for r.next < len(r.tokens) && !slices.Contains(headEnds, r.tokens[r.next].Kind) {
		r.next++
	}
	tokens := r.tokens[start:r.next]
	first := tokens[0]
	drop := false
	if start > 0 && r.tokens[start-1].Kind == token.RightBrace {
		drop = !r.afterBrace(first)
	}
	if first.First && first.Indent == 0 && first.Kind == token.Name && word.IsTop(first.Text) {
		r.forgotten(&first)
	}
	if first.First && !lacksWord(tokens) {
		r.checkIndent(first)
	}
	line, n := r.head(tokens)
	r.next = start + n
	f := r.top()
	if line != nil && !drop {
		*f.lines = append(*f.lines, line)
	}
	last := lastLine{line, r.indentOf(first), first.First}
	f.last = last
	if r.next < len(r.tokens) && r.tokens[r.next].Kind == token.LeftBrace {
		r.open(last, r.tokens[r.next])
		r.next++
	}
}

var headEnds = []token.Kind{token.EOL, token.LeftBrace, token.RightBrace}

func (r *reader) indentOf(t token.Token) string { return r.text[t.Start-t.Indent : t.Start] }

// open begins the block of a line.
func (r *reader) open(of lastLine, brace token.Token) {
	f := &frame{owner: of.line, brace: brace, indent: of.indent, known: of.known}
	if of.line != nil {
		of.line.HasBlock = true
		of.line.Span.End = int32(brace.End)
		f.lines = &of.line.Block
	}
	if len(r.stack) > maxDepth {
		if !r.tooDeep {
			r.mistake(brace.Start, brace.End, "too-deep", "blocks stand too deep in one another here", "Two levels are enough for every word; look for a { too many.")
			r.tooDeep = true
		}
		f.lines = nil
	}
	if f.lines == nil {
		f.lines = new([]*Line)
	}
	r.stack = append(r.stack, f)
}

// closeBrace ends the innermost block.
func (r *reader) closeBrace(t token.Token) {
	for r.top().loose {
		meant := t.First && r.indentOf(t) == r.top().indent
		r.pop()
		if meant {
			return // its { was missed where the indented lines began
		}
	}
	if len(r.stack) == 1 {
		if r.forgiven > 0 {
			r.forgiven--
			return
		}
		if r.lostBrace(t) {
			return
		}
		r.mistake(t.Start, t.End, "unmatched-brace", "there is no { for this }", "Take it away, or put the { at the end of the line whose block it closes.")
		return
	}
	f := r.top()
	if indent := r.indentOf(t); t.First && f.known && indent != f.indent {
		for _, o := range r.stack[1 : len(r.stack)-1] {
			if o.known && o.indent == indent && o.closer == nil && !o.loose {
				o.closer = &closer{f.brace, t}
			}
		}
	}
	if f.owner != nil {
		f.owner.Span.End = int32(t.End)
	}
	r.pop()
}

// lostBrace finds the place where a { is missing before a } on the same line: before the first option that is a line of the block.
func (r *reader) lostBrace(t token.Token) bool {
	l := r.top().last.line
	if l == nil || l.HasBlock || strings.Contains(r.text[l.Head.Start:t.Start], "\n") {
		return false
	}
	for i, o := range l.Options {
		if word.Find(l.Word.Text, o.Word.Text) == nil || word.Find("", l.Word.Text).Option(o.Word.Text) != nil {
			continue
		}
		r.mistake(t.Start, t.End, "unmatched-brace", "there is no { for this }", "Put a { before `"+o.Word.Text+"`.")
		span := r.over(o.Word.Span, l.Head)
		l.Block = []*Line{{Word: o.Word, About: o.Values, Options: l.Options[i+1:], Span: span, Head: span, Broken: l.Broken}}
		l.Options, l.HasBlock, l.Span.End = l.Options[:i:i], true, int32(t.End)
		l.Head.End = l.About[len(l.About)-1].Span.End
		if i > 0 {
			l.Head.End = l.Options[i-1].Span.End
		}
		return true
	}
	return false
}

func (r *reader) pop() {
	f := r.top()
	r.stack = r.stack[:len(r.stack)-1]
	if n := len(*f.lines); n > 0 && f.owner != nil {
		f.owner.Span.End = max(f.owner.Span.End, (*f.lines)[n-1].Span.End)
	}
}

// forgotten closes all open blocks: at the end of the file, or where a top-level word in column 1 shows that a brace is missing.
func (r *reader) forgotten(at *token.Token) {
	told := 0
	for len(r.stack) > 1 {
		f := r.top()
		r.pop()
		if f.loose {
			continue
		}
		if at != nil {
			r.forgiven++
		}
		if told++; told > maxDepth {
			continue
		}
		brace := f.brace
		detail := "Put a } where its block ends."
		if at != nil {
			detail = "A } is missing before `" + at.Text + "`. Lines that belong into the block are indented."
		}
		if f.closer != nil {
			brace, detail = f.closer.inner, "Put a } where its block ends."
		}
		d := r.mistake(brace.Start, brace.End, "unclosed-brace", "this { is never closed", detail)
		switch {
		case f.closer != nil:
			d.Point(r.span(f.closer.brace.Start, f.closer.brace.End), "this } seems to be meant for an earlier {")
		case at != nil:
			d.Point(r.span(at.Start, at.End), "`"+at.Text+"` begins a statement of its own here")
		}
	}
}

// braceAlone is a { at the beginning of a line.
func (r *reader) braceAlone(t token.Token) {
	last := r.top().last
	title, detail := "a block needs a line that it belongs to", "Put the { at the end of that line."
	if last.line != nil && !last.line.HasBlock {
		r.mistake(t.Start, t.End, "brace-alone", title, "Put the { at the end of the line above: "+token.Shorten(last.line.Word.Text)+" ... {")
		r.open(last, t)
		return
	}
	r.mistake(t.Start, t.End, "brace-alone", title, detail)
	r.open(lastLine{indent: r.indentOf(t), known: t.First}, t)
}

// afterBrace reports text behind a } on its line; it tells whether that text may well be a statement of its own.
func (r *reader) afterBrace(t token.Token) bool {
	if t.First {
		return true
	}
	if t.Kind != token.Illegal {
		r.mistake(t.Start, t.End, "after-brace", "nothing may follow a } on its line", "Begin a new line. Options of the line above stand before its {.")
	}
	return t.Kind == token.Name && word.IsTop(t.Text)
}

// checkIndent finds lines indented under a line that has no block for them, and takes them for that line's block.
func (r *reader) checkIndent(t token.Token) {
	indent := r.indentOf(t)
	for r.top().loose && !deeper(indent, r.top().indent) {
		r.pop()
	}
	f := r.top()
	owner := f.last
	if owner.line == nil || !owner.known || !deeper(indent, owner.indent) {
		return
	}
	if !owner.line.Broken {
		name := "`" + token.Shorten(owner.line.Word.Text) + "`"
		detail := "Put it in { }, or begin it where " + name + " begins."
		if owner.line.HasBlock {
			detail = "Put it before the }, or begin it where " + name + " begins."
		}
		r.mistake(t.Start, t.End, "indented-line", "does this line belong to "+name+" above?", detail).
			Point(owner.line.Word.Span, name+" stands here")
	}
	if len(r.stack) > maxDepth {
		return
	}
	owner.line.HasBlock = true
	r.stack = append(r.stack, &frame{lines: &owner.line.Block, owner: owner.line, indent: owner.indent, known: true, loose: true})
}

// deeper tells whether a line is surely indented more than another; tabs and blanks mixed are not compared.
func deeper(a, b string) bool { return len(a) > len(b) && strings.HasPrefix(a, b) }

func (r *reader) mistake(start, end int, code, title, detail string) *diag.Diagnostic {
	return r.tell(diag.Diagnostic{Code: code, Severity: diag.Mistake, Title: title, Detail: detail, Span: r.span(start, end)})
}

// tell reports; what is beyond anybody's patience is dropped, whatever its place.
func (r *reader) tell(d diag.Diagnostic) *diag.Diagnostic {
	if r.told++; r.told > MostTold+1 {
		return &diag.Diagnostic{}
	}
	r.msgs.Add(d)
	return &r.msgs[len(r.msgs)-1]
}
