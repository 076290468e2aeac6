package format

import (
	"strings"

	"loomsheet/lang/syntax"
)

// atom is a piece of a line that is not parted: a word, or a value with the comma behind it.
type atom struct {
	text     string
	comma    bool             // a line may be broken behind it
	comments []syntax.Comment // behind its comma
	at, end  int              // in the text, without the comma
}

func headAtoms(l *syntax.Line) []atom {
	out := valueAtoms([]atom{{text: l.Word.Text, at: int(l.Word.Span.Start), end: int(l.Word.Span.End)}}, l.About)
	for _, o := range l.Options {
		out = optionAtoms(out, o)
	}
	return out
}

func optionAtoms(out []atom, o syntax.Option) []atom {
	return valueAtoms(append(out, atom{text: o.Word.Text, at: int(o.Word.Span.Start), end: int(o.Word.Span.End)}), o.Values)
}

func valueAtoms(out []atom, values []syntax.Value) []atom {
	for i, v := range values {
		text := v.Text
		if v.Kind == syntax.Text {
			text = `"` + text + `"`
		}
		a := atom{text: text, at: int(v.Span.Start), end: int(v.Span.End)}
		if i < len(values)-1 {
			a.text, a.comma = text+",", true
		}
		out = append(out, a)
	}
	return out
}

func join(atoms []atom) string {
	texts := make([]string, len(atoms))
	for i, a := range atoms {
		texts[i] = a.text
	}
	return strings.Join(texts, " ")
}

func commented(atoms []atom) bool {
	for _, a := range atoms {
		if len(a.comments) > 0 {
			return true
		}
	}
	return false
}

// atoms takes a line's head apart and hands each comment inside it to the comma it stands behind. A comment between coordinates has no
// such place and is written before the line.
func (p *printer) atoms(l *syntax.Line, indent string) []atom {
	out := headAtoms(l)
	i := 0
	for len(p.comments) > 0 && int(p.comments[0].Span.Start) < int(l.Head.End) {
		c := p.comments[0]
		p.comments = p.comments[1:]
		for i < len(out)-1 && out[i+1].at < int(c.Span.Start) {
			i++
		}
		if out[i].end <= int(c.Span.Start) && out[i].comma {
			out[i].comments = append(out[i].comments, c)
		} else {
			p.put(indent+"#"+c.Text, "")
		}
	}
	return out
}

// breakUp lays the atoms out, breaking behind commas where a line would be too long or a comment stands. It leaves room for a brace behind
// the last if one will follow.
func breakUp(atoms []atom, indent string, brace bool) []outLine {
	rows := []outLine{{code: indent}}
	empty := true
	next := func() {
		rows = append(rows, outLine{code: indent + hang})
		empty = true
	}
	for i := 0; i < len(atoms); {
		j := i
		for j < len(atoms)-1 && !atoms[j].comma {
			j++
		}
		group := join(atoms[i : j+1])
		reserve := ""
		if brace && j == len(atoms)-1 {
			reserve = " {"
		}
		if last := rows[len(rows)-1].code; !empty && !fits(last+" "+group+reserve) {
			next()
		}
		last := &rows[len(rows)-1]
		if !empty {
			last.code += " "
		}
		last.code += group
		empty = false
		for _, c := range atoms[j].comments {
			last = &rows[len(rows)-1]
			if !empty && !c.Own {
				last.comment = "#" + c.Text
			} else {
				if !empty {
					next()
				}
				rows[len(rows)-1].code += "#" + c.Text
			}
			next()
		}
		i = j + 1
	}
	return rows
}

// rowsFit tells whether no row is too long, with a brace behind the last.
func rowsFit(rows []outLine, brace bool) bool {
	for i, r := range rows {
		code := r.code
		if i == len(rows)-1 && brace {
			code += " {"
		}
		if !fits(code) && !strings.HasPrefix(strings.TrimSpace(code), "#") {
			return false
		}
	}
	return true
}
