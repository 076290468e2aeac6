// Package format writes a file of the language in its one canonical layout: two blanks for each block, one blank between words,
// single blank lines where the author had any. It keeps comments and the order of statements and changes no meaning.
package format

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

// Width is how long a line may be, in characters, before it is broken.
const Width = 150

const (
	indentStep = "  "
	// hang is how much further the rest of a broken line is indented: more than a block, so that it is not taken for one.
	hang = "    "
)

// Format writes the file whose text was read into f. A file with mistakes is returned as it is.
func Format(f *syntax.File, text []byte) []byte {
	if f.Broken {
		return bytes.Clone(text)
	}
	p := &printer{text: string(text), comments: f.Comments}
	p.block(f.Lines, "", "")
	p.ownComments(len(text), "")
	return p.bytes()
}

type printer struct {
	text     string
	comments []syntax.Comment // not yet written
	out      []outLine
	prevEnd  int  // in the text, of what was written last
	opened   bool // nothing was written yet in the present block
}

// outLine is a line of the result: code, a comment, or both; neither is a blank line.
type outLine struct{ code, comment string }

func (p *printer) put(code, comment string) { p.out = append(p.out, outLine{code, comment}) }

// gap writes a blank line if the author had one before the given place.
func (p *printer) gap(start int) {
	if !p.opened && len(p.out) > 0 && strings.Count(p.text[p.prevEnd:start], "\n") > 1 {
		p.put("", "")
	}
	p.opened = false
}

// ownComments writes the comments before the given place on lines of their own.
func (p *printer) ownComments(before int, indent string) {
	for len(p.comments) > 0 && int(p.comments[0].Span.Start) < before {
		c := p.comments[0]
		p.comments = p.comments[1:]
		p.gap(int(c.Span.Start))
		p.put(indent+"#"+c.Text, "")
		p.prevEnd = int(c.Span.End)
	}
}

// trailing takes the comment that stands behind the given place on the same line with nothing between.
func (p *printer) trailing(end, before int) string {
	if len(p.comments) == 0 {
		return ""
	}
	c := p.comments[0]
	if int(c.Span.Start) < end || int(c.Span.Start) >= before {
		return ""
	}
	between := p.text[end:int(c.Span.Start)]
	if strings.Contains(between, "\n") || strings.TrimSpace(between) != "" {
		return ""
	}
	p.comments = p.comments[1:]
	p.prevEnd = int(c.Span.End)
	return "#" + c.Text
}

// block writes lines; outer is the word whose block it is.
func (p *printer) block(lines []*syntax.Line, indent, outer string) {
	for _, l := range lines {
		p.ownComments(int(l.Span.Start), indent)
		p.line(l, indent, outer)
	}
}

func (p *printer) line(l *syntax.Line, indent, outer string) {
	p.gap(int(l.Span.Start))
	atoms := p.atoms(l, indent)
	if code, ok := p.oneLine(l); ok && fits(indent+code) && !commented(atoms) {
		p.prevEnd = int(l.Span.End)
		p.put(indent+code, p.trailing(int(l.Span.End), len(p.text)))
		return
	}
	var moved []syntax.Option
	if !rowsFit(breakUp(atoms, indent, l.HasBlock), l.HasBlock) {
		atoms, moved = intoBlock(l, atoms, indent, outer)
	}
	blocked := l.HasBlock || len(moved) > 0
	rows := breakUp(atoms, indent, blocked)
	if blocked {
		rows[len(rows)-1].code += " {"
	}
	p.out = append(p.out, rows...)
	last := &p.out[len(p.out)-1]
	p.prevEnd = int(l.Head.End)
	if !blocked {
		last.comment = p.trailing(int(l.Span.End), len(p.text))
		return
	}
	if l.HasBlock {
		brace := int(l.Head.End) + strings.IndexByte(p.text[int(l.Head.End):], '{') + 1
		p.prevEnd = brace
		last.comment = p.trailing(brace, int(l.Span.End))
	} else {
		last.comment = p.trailing(int(l.Span.End), len(p.text))
	}
	p.opened = true
	inside := indent + indentStep
	for _, o := range moved {
		p.out = append(p.out, breakUp(optionAtoms(nil, o), inside, false)...)
		p.opened = false
	}
	if l.HasBlock {
		p.block(l.Block, inside, l.Word.Text)
		p.ownComments(int(l.Span.End), inside)
	}
	p.opened = false
	p.prevEnd = max(p.prevEnd, int(l.Span.End))
	p.put(indent+"}", "")
	if l.HasBlock {
		p.out[len(p.out)-1].comment = p.trailing(int(l.Span.End), len(p.text))
	}
}

// oneLine is a line with its block on the same line, if the author wrote it so.
func (p *printer) oneLine(l *syntax.Line) (string, bool) {
	code := join(headAtoms(l))
	if !l.HasBlock {
		return code, true
	}
	rest := p.text[int(l.Head.End):int(l.Span.End)]
	if len(l.Block) == 0 {
		return code + " { }", !strings.Contains(rest, "#")
	}
	if len(l.Block) > 1 || strings.Contains(rest, "\n") {
		return "", false
	}
	inner, ok := p.oneLine(l.Block[0])
	return code + " { " + inner + " }", ok
}

func fits(code string) bool { return utf8.RuneCountInString(code) <= Width }

// intoBlock takes options off the end of a line that is too long; they will stand in its block, which means the same. Options that
// would mean something else there stay: those that are words of that block, and the ends of a way.
func intoBlock(l *syntax.Line, atoms []atom, indent, outer string) ([]atom, []syntax.Option) {
	if outer != "" && outer != "template" {
		return atoms, nil
	}
	w := word.Find(outer, l.Word.Text)
	if w == nil || w.Params || w.Name == "template" {
		return atoms, nil
	}
	var moved []syntax.Option
	for i := len(l.Options) - 1; i >= 0; i-- {
		o := l.Options[i]
		known := w.Option(o.Word.Text)
		n := len(optionAtoms(nil, o))
		if known == nil || known.Repeats || o.Word.Text == "from" || word.Find(w.Name, o.Word.Text) != nil || commented(atoms[len(atoms)-n:]) {
			break
		}
		moved = append([]syntax.Option{o}, moved...)
		atoms = atoms[:len(atoms)-n]
		if rowsFit(breakUp(atoms, indent, true), true) {
			break
		}
	}
	return atoms, moved
}

// bytes puts trailing comments of neighbouring lines one under another and ends every line.
func (p *printer) bytes() []byte {
	var b bytes.Buffer
	for i := 0; i < len(p.out); {
		j, widest, narrowest := i, 0, 1<<30
		for j < len(p.out) && p.out[j].comment != "" && p.out[j].code != "" {
			w := utf8.RuneCountInString(p.out[j].code)
			widest, narrowest = max(widest, w), min(narrowest, w)
			j++
		}
		for k := i; k < max(j, i+1); k++ {
			l := p.out[k]
			b.WriteString(l.code)
			if l.comment != "" && l.code != "" {
				pad := 2
				if widest-narrowest <= Width/2 {
					pad += widest - utf8.RuneCountInString(l.code)
				}
				b.WriteString(strings.Repeat(" ", pad))
			}
			b.WriteString(l.comment)
			b.WriteByte('\n')
		}
		i = max(j, i+1)
	}
	return b.Bytes()
}
