package resolve

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// namesOf lists the declared names of some kinds, in natural order.
func (b *builder) namesOf(kinds ...string) []string {
	var out []string
	for _, t := range b.order {
		if slices.Contains(kinds, t.kind) {
			out = append(out, t.name)
		}
	}
	slices.SortFunc(out, design.Natural)
	return out
}

// find looks up a name of one of some kinds; nil after a message. All kinds share one space of names.
func (b *builder) find(s *sense.Stmt, v syntax.Value, kinds ...string) *thing {
	t := b.names[space(kinds[0])][v.Text]
	switch {
	case t == nil:
		what := join(kinds, "or")
		b.miss(s, missKey{space(kinds[0]), v.Text}, v.Span, "no-such-"+kinds[0], fmt.Sprintf("there is no %s `%s`", what, v.Text), func(d *diag.Diagnostic) {
			among := b.namesOf(kinds...)
			d.Near(diag.Nearest(v.Text, among))
			if other := b.elsewhere(v.Text, kinds[0]); other != nil {
				d.Detail = fmt.Sprintf("`%s` is a %s.", v.Text, other.kind)
			} else if len(among) == 0 {
				d.Detail = fmt.Sprintf("The job declares no %s at all.", what)
			} else if len(among) <= 6 {
				d.Detail = fmt.Sprintf("There %s.", isAre(among))
			}
		})
		return nil
	case !slices.Contains(kinds, t.kind):
		if t.st.Torn {
			return nil // nobody knows what it is
		}
		b.wrongKind(s, v, t, kinds)
		return nil
	}
	return t
}

func isAre(names []string) string {
	if len(names) == 1 {
		return "is " + names[0]
	}
	return "are " + join(names, "and")
}

func (b *builder) wrongKind(s *sense.Stmt, v syntax.Value, t *thing, kinds []string) {
	var near []string
	if !b.many() {
		near = diag.Nearest(v.Text, b.namesOf(kinds...))
	}
	b.mistake(s, v.Span, "wrong-kind", fmt.Sprintf("`%s` is a %s, wanted is a %s", t.name, t.kind, join(kinds, "or")), "").
		Near(near).Point(t.st.NameSpan(), "declared here")
}

// elsewhere finds a thing of another kind by that name.
func (b *builder) elsewhere(name, kind string) *thing {
	for _, t := range b.order {
		if t.name == name && space(t.kind) != space(kind) {
			return t
		}
	}
	return nil
}

// refer is the name in an option if it exists, else empty.
func (b *builder) refer(s *sense.Stmt, option string, kinds ...string) string {
	o := s.Find(option)
	if o == nil {
		return ""
	}
	if t := b.find(s, o.Values[0], kinds...); t != nil {
		return t.name
	}
	return ""
}

// refers is the names in an option's list that exist.
func (b *builder) refers(s *sense.Stmt, option string, kinds ...string) []string {
	o := s.Find(option)
	if o == nil {
		return nil
	}
	return b.all(s, o.Values, kinds...)
}

func (b *builder) all(s *sense.Stmt, vs []syntax.Value, kinds ...string) []string {
	var out []string
	seen := map[string]bool{}
	for _, v := range vs {
		if t := b.find(s, v, kinds...); t != nil && !seen[t.name] {
			seen[t.name] = true
			out = append(out, t.name)
		}
	}
	return out
}

// belongs is the section or zone a thing says it is in; left out, it is the only one of the job.
func (b *builder) belongs(s *sense.Stmt, kind string) string {
	if !s.Missing(kind) {
		return b.refer(s, kind, kind)
	}
	all, known := b.among[kind]
	if !known {
		all = b.namesOf(kind)
		b.among[kind] = all
	}
	if len(all) == 1 {
		return all[0]
	}
	if b.blind {
		return ""
	}
	d := b.mistake(s, s.NameSpan(), "option-missing", fmt.Sprintf("`%s %s` does not say its %s", s.Word.Name, s.Name(), kind), "")
	switch {
	case len(all) == 0 && kind == "section":
		d.Detail = "Declare one: `section main`. A section is what comes away as one piece."
	case len(all) == 0:
		d.Detail = "Declare one: `zone cabin air 40 C`. A zone says how hot the air gets where the wires lie."
	default:
		d.Detail = fmt.Sprintf("Write `%s` and one of %s.", kind, join(all[:min(len(all), 8)], "or"))
	}
	return ""
}

// own is what every statement may carry.
func own(s *sense.Stmt) design.Common {
	c := design.Common{Span: s.At, Note: s.Text("note"), Source: s.Text("source"), Frozen: s.Text("frozen")}
	c.Span.End = max(s.At.End, s.NameSpan().End)
	if s.NameSpan().File != s.At.File || s.NameSpan().Start < s.At.Start {
		c.Span.End = s.At.End
	}
	if o := s.Find("only"); o != nil {
		for i, v := range o.Values {
			if i > 0 {
				c.Only += ", "
			}
			c.Only += v.Text
		}
	}
	return c
}

// class is a free word, but some kinds of circuit are not for this program.
func (b *builder) class(s *sense.Stmt) string {
	o := s.Find("class")
	if o == nil {
		return ""
	}
	b.refused(s, o.Values)
	return o.Values[0].Text
}

var refusedClasses = []string{"airbag", "airbags", "pyro", "pyrotechnic", "pyrotechnics", "mains"}

func (b *builder) refused(s *sense.Stmt, vs []syntax.Value) {
	for _, v := range vs {
		if slices.Contains(refusedClasses, strings.ToLower(v.Text)) {
			b.mistake(s, v.Span, "class-refused", fmt.Sprintf("class %s is not for this program", v.Text),
				"It judges direct current up to 60 V. Airbags and other pyrotechnics, and mains, follow rules of their own: leave them to the maker's harness.")
		}
	}
}

// join writes a list as in speech: "a, b and c".
func join(list []string, and string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " " + and + " " + list[len(list)-1]
}
