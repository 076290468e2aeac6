package resolve

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

// scopeKinds is every word by which a setting can be narrowed.
var scopeKinds = append(slices.Clone(design.ScopeKinds), "case")

// mostSettings is how many single settings the lists of scopes of a job may stand for.
const mostSettings = 20000

func (b *builder) settings() {
	for _, s := range b.stmts {
		if s.Word.Name == "set" && s.Name() != "" {
			b.setting(s)
		}
	}
	b.clashes()
}

func (b *builder) setting(s *sense.Stmt) {
	def := design.FindSetting(s.Name())
	if def == nil {
		b.miss(s, missKey{"setting", s.Name()}, s.NameSpan(), "no-such-setting", fmt.Sprintf("there is no setting `%s`", s.Name()), func(d *diag.Diagnostic) {
			d.Detail = "The reference lists all settings. Switches are set inside a case."
			d.Near(diag.Nearest(s.Name(), names(design.SettingDefs, func(d design.SettingDef) string { return d.Name })))
		})
		return
	}
	o := s.Find("to")
	if o == nil {
		return
	}
	value, ok := b.settingValue(s, def, o)
	scopes, ok2 := b.scopes(s)
	if !ok || !ok2 {
		return
	}
	for _, sc := range scopes {
		if len(b.job.Settings.Lines) >= mostSettings {
			if !b.crowded {
				b.crowded = true
				b.mistake(s, s.At, "too-much", fmt.Sprintf("this job has more than %d settings, one for each name in a list of scopes", mostSettings), "Set it for a class or a section instead.")
			}
			return
		}
		b.job.Settings.Lines = append(b.job.Settings.Lines, design.Setting{Name: def.Name, Value: value, As: o.Values[0].Text, Scope: sc, Common: own(s)})
	}
}

func (b *builder) settingValue(s *sense.Stmt, def *design.SettingDef, o *sense.Opt) (design.SettingValue, bool) {
	v := o.Values[0]
	switch def.Kind {
	case design.SetPart:
		if !b.sense.Value(v, &word.Arg{Kind: word.Refer, Things: []string{def.Part}}, def.Name) {
			return design.SettingValue{}, false
		}
		return design.SettingValue{Name: v.Text}, b.part(def.Part, v.Text, v.Span)
	case design.SetChoice:
		return design.SettingValue{Name: v.Text}, b.sense.Value(v, &word.Arg{Kind: word.Choice, Choices: def.Choices}, def.Name)
	}
	if !b.sense.Value(v, &word.Arg{Kind: word.Measure, Dims: def.Dims}, def.Name) {
		return design.SettingValue{}, false
	}
	q, ok := quantity(v)
	if ok && q.Dim == unit.DimVoltage {
		b.volts(s, given(s, unit.Voltage(q.Value), v))
	}
	if _, sized := q.Size(); ok && !sized && (q.Dim == unit.DimArea || q.Dim == unit.DimGauge) {
		b.zero(s, v, "a conductor size")
		return design.SettingValue{}, false
	}
	// Two ways to write one value are one value.
	q.Text = q.String()
	if ok && def.Above && !(q.Value > 0) {
		b.zero(s, v, "`"+def.Name+"`")
		return design.SettingValue{}, false
	}
	return design.SettingValue{Quantity: q}, ok
}

// scopes takes the lists of scopes apart: one for each way to pick one name of every list.
func (b *builder) scopes(s *sense.Stmt) ([]map[string]string, bool) {
	out := []map[string]string{{}}
	ok := true
	for _, kind := range scopeKinds {
		o := s.Find(kind)
		if o == nil {
			ok = ok && !slices.Contains(s.Wrong, kind)
			continue
		}
		var list []string
		if kind == "class" {
			b.refused(s, o.Values)
			list = names(o.Values, func(v syntax.Value) string { return v.Text })
		} else {
			list = b.all(s, o.Values, kind)
		}
		if len(list) == 0 {
			ok = false
			continue
		}
		if len(out)*len(list) > mostSettings {
			b.mistake(s, o.Span, "too-much", "the lists of scopes stand for too many settings", "Set it for a class or a section instead.")
			return nil, false
		}
		var next []map[string]string
		for _, sc := range out {
			for _, n := range list {
				m := map[string]string{kind: n}
				for _, k := range scopeKinds {
					if x, has := sc[k]; has {
						m[k] = x
					}
				}
				next = append(next, m)
			}
		}
		out = next
	}
	return out, ok
}

// clashes reports settings that contradict each other, a message for each pair of lines.
func (b *builder) clashes() {
	ls := b.job.Settings.Lines
	slices.SortStableFunc(ls, func(x, y design.Setting) int {
		return cmp.Or(design.Natural(x.Name, y.Name), design.Natural(x.ScopeText(), y.ScopeText()), cmp.Compare(x.Value.String(), y.Value.String()))
	})
	type pair struct{ a, b diag.Span }
	told := map[pair]bool{}
	for from := 0; from < len(ls); {
		to := from
		for to < len(ls) && ls[to].Name == ls[from].Name {
			to++
		}
		for _, c := range clashing(ls[from:to]) {
			x, y := c[0], c[1]
			if y.Span.Compare(x.Span) < 0 {
				x, y = y, x
			}
			if told[pair{x.Span, y.Span}] {
				continue
			}
			told[pair{x.Span, y.Span}] = true
			title := fmt.Sprintf("%s is set to %s and to %s for %s", x.Name, x.As, y.As, scopeText(x))
			detail := "Keep one of the two."
			if x.ScopeText() != y.ScopeText() {
				title = fmt.Sprintf("%s is set to %s for %s and to %s for %s", x.Name, x.As, scopeText(x), y.As, scopeText(y))
				detail = "A thing that is in both has no rule which one counts. Narrow one of the two."
			}
			b.msgs.Mistake(y.Span, "setting-clash", title, detail).Point(x.Span, "the other one")
		}
		from = to
	}
}

func scopeText(s *design.Setting) string {
	if len(s.Scope) == 0 {
		return "the whole job"
	}
	return s.ScopeText()
}

// manyLines is how many lines of one setting are held against each other pair by pair; beyond, only lines of the same scope are.
const manyLines = 400

func clashing(ls []design.Setting) [][2]*design.Setting {
	if len(ls) <= manyLines {
		return design.Settings{Lines: ls}.Clash()
	}
	var out [][2]*design.Setting
	for i := 1; i < len(ls); i++ {
		if ls[i].ScopeText() == ls[i-1].ScopeText() && ls[i].Value.String() != ls[i-1].Value.String() {
			out = append(out, [2]*design.Setting{&ls[i-1], &ls[i]})
		}
	}
	return out
}
