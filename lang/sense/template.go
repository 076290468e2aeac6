package sense

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/lang/expand"
	"loomsheet/lang/syntax"
)

// Template is a group of statements with parameters.
type Template struct {
	Name   string
	Params []string
	Span   diag.Span // of its name
	Body   []*syntax.Line
	Used   bool
	hazy   bool // its parameters could not be made out
	told   map[string]bool
}

// Template reads the head of a template; its body waits for the values.
func (r *Reader) Template(l *syntax.Line) *Template {
	head := *l
	head.Block, head.HasBlock = nil, false
	t := &Template{}
	var more []*syntax.Line
	for _, b := range l.Block {
		if b.Word.Text == "takes" {
			more = append(more, b)
		} else {
			t.Body = append(t.Body, b)
		}
	}
	head.Block = more
	stmts, _ := r.Lines([]*syntax.Line{&head})
	if len(stmts) == 0 || stmts[0].Name() == "" {
		return nil
	}
	s := stmts[0]
	t.Name, t.Span, t.hazy, t.told = s.Name(), s.NameSpan(), s.Missing("takes") || s.Unsure("takes"), map[string]bool{}
	if o := s.Find("takes"); o != nil {
		for _, v := range o.Values {
			t.Params = append(t.Params, v.Text)
		}
	}
	kept := t.Body[:0]
	for _, b := range t.Body {
		if slices.Contains([]string{"template", "use", "include", "harness"}, b.Word.Text) {
			r.Msgs.Mistake(b.Word.Span, "word-misplaced", fmt.Sprintf("`%s` cannot stand in a template", short(b.Word.Text)), "A template holds statements such as device, circuit and cable.").
				Point(t.Span, "the template")
			continue
		}
		kept = append(kept, b)
	}
	t.Body = kept
	return t
}

// Look checks the body of a template that nobody uses, as far as that can be done without values.
func (r *Reader) Look(t *Template) {
	r.open = t.Params
	r.Lines(t.Body)
	r.open = nil
	for _, l := range t.Body {
		r.slips(l, t)
	}
}

// Use makes one copy of a template's statements.
func (r *Reader) Use(u *Stmt, t *Template) (out []*Stmt, ghosts []string) {
	if t.hazy {
		return nil, nil
	}
	values := r.params(u, t)
	if values == nil || !r.spend(u.At, weight(t.Body)) {
		return nil, nil
	}
	lines := make([]*syntax.Line, 0, len(t.Body))
	for _, l := range t.Body {
		lines = append(lines, r.fill(l, t, values))
	}
	before := len(r.Msgs)
	out, ghosts = r.Lines(lines)
	for i := before; i < len(r.Msgs); i++ {
		r.Msgs[i].Point(u.Span, "the template is used here")
	}
	for _, s := range out {
		s.Origin = u.Span
	}
	return out, ghosts
}

func weight(ls []*syntax.Line) int {
	n := 0
	for _, l := range ls {
		n += 1 + len(l.Options) + weight(l.Block)
	}
	return n
}

// params gathers the values of a use; nil if one is missing or wrong.
func (r *Reader) params(u *Stmt, t *Template) map[string]syntax.Value {
	out, ok := map[string]syntax.Value{}, true
	for _, o := range u.Opts {
		if isCommon(o.Name) && !slices.Contains(t.Params, o.Name) {
			continue
		}
		switch {
		case !slices.Contains(t.Params, o.Name):
			ok = false
			if t.told[o.Name] {
				continue
			}
			t.told[o.Name] = true
			d := r.Msgs.Mistake(o.At, "no-such-parameter", fmt.Sprintf("template %s takes no `%s`", short(t.Name), short(o.Name)), "").
				Near(diag.Nearest(o.Name, t.Params)).Point(t.Span, "the template")
			if len(d.Suggest) == 0 {
				d.Detail = "It takes " + join(t.Params, "and") + "."
			}
		case len(o.Values) > 1:
			r.several(o.Values, o.Name, false)
			ok = false
		default:
			out[o.Name] = o.Values[0]
		}
	}
	if !ok || len(u.Wrong) > 0 {
		return nil
	}
	for _, p := range t.Params {
		if _, given := out[p]; !given && u.Missing(p) {
			r.Msgs.Mistake(u.Span, "option-missing", fmt.Sprintf("`use %s` does not say `%s`", short(t.Name), short(p)), "Each parameter of a template gets a value: "+strings.Join(t.Params, ", ")+".").
				Point(t.Span, "the template")
			ok = false
		}
	}
	if !ok {
		return nil
	}
	return out
}

// fill copies a line with the values in place of the brackets.
func (r *Reader) fill(l *syntax.Line, t *Template, values map[string]syntax.Value) *syntax.Line {
	c := *l
	c.About = r.fillList(l.About, t, values)
	c.Options = make([]syntax.Option, len(l.Options))
	for i, o := range l.Options {
		o.Values = r.fillList(o.Values, t, values)
		c.Options[i] = o
	}
	c.Block = make([]*syntax.Line, len(l.Block))
	for i, b := range l.Block {
		c.Block[i] = r.fill(b, t, values)
	}
	return &c
}

func (r *Reader) fillList(vs []syntax.Value, t *Template, values map[string]syntax.Value) []syntax.Value {
	out := make([]syntax.Value, len(vs))
	for i, v := range vs {
		out[i] = r.fillValue(v, t, values)
	}
	return out
}

func (r *Reader) fillValue(v syntax.Value, t *Template, values map[string]syntax.Value) syntax.Value {
	switch {
	case v.Kind == syntax.Place:
		v.Items = r.fillList(v.Items, t, values)
		return v
	case v.Kind == syntax.Text || !expand.HasRange(v.Text):
		return v
	}
	if inside, ok := strings.CutPrefix(v.Text, "["); ok {
		if name, ok := strings.CutSuffix(inside, "]"); ok {
			if w, ok := values[name]; ok {
				return w
			}
		}
	}
	bad := false
	text, unknown := expand.Fill(v.Text, func(name string) (string, bool) {
		w, ok := values[name]
		if ok && (w.Kind == syntax.Place || w.Kind == syntax.Text || strings.ContainsAny(w.Text, " []")) {
			if !bad {
				r.Msgs.Mistake(w.Span, "wrong-value", fmt.Sprintf("`%s` stands inside a name, %s", name, says(w)), "Give a plain name or a number.").
					Point(v.Span, "the name it becomes a part of")
			}
			bad = true
		}
		return w.Text, ok
	})
	r.slip(v, t, unknown)
	if bad || len(unknown) > 0 || len(text) > 4*longest {
		return syntax.Value{Kind: syntax.Bad, Text: v.Text, Span: v.Span}
	}
	v.Text = text
	v.Kind = syntax.Name
	if strings.ContainsAny(text, ".[") {
		v.Kind = syntax.Ref
	}
	return v
}

// slips reports brackets in a template that are neither a parameter nor a range.
func (r *Reader) slips(l *syntax.Line, t *Template) {
	check := func(v syntax.Value) {
		if v.Kind != syntax.Text && v.Kind != syntax.Place && expand.HasRange(v.Text) {
			_, unknown := expand.Fill(v.Text, func(n string) (string, bool) { return n, slices.Contains(t.Params, n) })
			r.slip(v, t, unknown)
		}
	}
	for _, v := range l.About {
		check(v)
	}
	for _, o := range l.Options {
		for _, v := range o.Values {
			check(v)
		}
	}
	for _, b := range l.Block {
		r.slips(b, t)
	}
}

func (r *Reader) slip(v syntax.Value, t *Template, unknown []string) {
	for _, n := range unknown {
		d := r.Msgs.Mistake(v.Span, "no-such-parameter", fmt.Sprintf("template %s has no parameter `%s`", short(t.Name), short(n)), "").
			Near(diag.Nearest(n, t.Params)).Point(t.Span, "the template")
		if len(d.Suggest) == 0 {
			d.Detail = "It takes " + join(t.Params, "and") + "."
		}
	}
}
