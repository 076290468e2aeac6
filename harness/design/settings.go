package design

import (
	"sync"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// SettingKind is what sort of value a setting takes.
type SettingKind uint8

// Sorts of settings.
const (
	SetQuantity SettingKind = iota // a measure of one of Dims
	SetChoice                      // one of Choices
	SetPart                        // the name of a part of the given word
)

// SettingDef describes one named setting: a limit, factor, allowance or default resistance.
type SettingDef struct {
	Name    string
	Kind    SettingKind
	Dims    []unit.Dim
	Choices []string
	Part    string // word whose parts it names
	Limit   bool   // can fail a check
	Above   bool   // more than nothing: at 0 the check that it rules would ask for nothing
	// Default is written as in the language; empty is "not set": the rule that reads it stays silent or says what it does instead.
	Default string
	Source  string // a document, or "common practice", or "from memory"
	Doc     string
}

// ScopeKinds are the words a setting can be narrowed by, narrowest first, before the job itself. Of two settings that both hold, the one
// with the narrower scope rules; of equals the one that also names a case.
var ScopeKinds = []string{"circuit", "device", "break", "run", "panel", "class", "zone", "section"}

// Scope is where a value is wanted; empty fields are not known or do not apply.
type Scope struct {
	Circuit, Device, Break, Run, Panel, Class, Zone, Section, Case string
}

func (s Scope) get(kind string) string {
	switch kind {
	case "circuit":
		return s.Circuit
	case "device":
		return s.Device
	case "break":
		return s.Break
	case "run":
		return s.Run
	case "panel":
		return s.Panel
	case "class":
		return s.Class
	case "zone":
		return s.Zone
	case "section":
		return s.Section
	case "case":
		return s.Case
	}
	return ""
}

// Setting is one set line after its lists were taken apart: a value and the scopes that must all hold.
type Setting struct {
	Name  string
	Value SettingValue
	As    string // the value as written, with its own unit
	// Scope by word ("section", "class", ..., "case"); several must all hold.
	Scope map[string]string
	Common
}

// SettingValue is a quantity or a name.
type SettingValue struct {
	Quantity unit.Quantity
	Name     string
}

// String is the value as printed.
func (v SettingValue) String() string {
	if v.Name != "" {
		return v.Name
	}
	return v.Quantity.String()
}

// Ruling is the value that ruled and where it was set.
type Ruling struct {
	Def   *SettingDef
	Value SettingValue
	Set   bool      // a set line ruled, else the default
	Span  diag.Span // of that line
	Scope string    // "job", or the scopes in words: "class lamps, case night"
	Known bool      // false: not set and no default
	// Rank is smaller for what rules over others: a narrower scope, then a line that names a case; a default ranks last.
	Rank int
}

// Source is where the value came from in words: the scope of the line that set it, or the default's source.
func (r Ruling) Source() string {
	if r.Set {
		return "set for " + r.Scope
	}
	return "default, " + r.Def.Source
}

// Settings is all set lines of a job.
type Settings struct {
	Lines []Setting
}

// Get finds the value that rules for a scope. An unknown name panics: names are checked when the text is read.
func (s Settings) Get(name string, at Scope) Ruling {
	def := FindSetting(name)
	if def == nil {
		panic("no setting " + name)
	}
	best, rank := -1, 0
	for i := range s.Lines {
		l := &s.Lines[i]
		if l.Name != name || !l.holds(at) {
			continue
		}
		if r := l.rank(); best < 0 || r < rank {
			best, rank = i, r
		}
	}
	if best >= 0 {
		l := &s.Lines[best]
		return Ruling{Def: def, Value: l.Value, Set: true, Span: l.Span, Scope: l.ScopeText(), Known: true, Rank: rank}
	}
	v, known := def.DefaultValue()
	return Ruling{Def: def, Value: v, Known: known, Scope: "job", Rank: 2*len(ScopeKinds) + 2}
}

func (l *Setting) holds(at Scope) bool {
	for kind, name := range l.Scope {
		if at.get(kind) != name {
			return false
		}
	}
	return true
}

// rank is smaller for what rules over others.
func (l *Setting) rank() int {
	r := 2 * len(ScopeKinds)
	for i, k := range ScopeKinds {
		if _, ok := l.Scope[k]; ok {
			r = 2 * i
			break
		}
	}
	if _, ok := l.Scope["case"]; !ok {
		r++
	}
	return r
}

// ScopeText is the scope in words.
func (l *Setting) ScopeText() string {
	out := ""
	for _, k := range append(append([]string{}, ScopeKinds...), "case") {
		if n, ok := l.Scope[k]; ok {
			if out != "" {
				out += ", "
			}
			out += k + " " + n
		}
	}
	if out == "" {
		return "job"
	}
	return out
}

// Clash finds pairs of lines that set one setting to different values with equal right to rule for some thing.
func (s Settings) Clash() [][2]*Setting {
	var out [][2]*Setting
	for i := range s.Lines {
		for j := range s.Lines[:i] {
			a, b := &s.Lines[j], &s.Lines[i]
			if a.Name == b.Name && a.rank() == b.rank() && a.Value.String() != b.Value.String() && a.meets(b) {
				out = append(out, [2]*Setting{a, b})
			}
		}
	}
	return out
}

// meets tells whether one thing could fall under both scopes.
func (l *Setting) meets(o *Setting) bool {
	for k, n := range l.Scope {
		if m, ok := o.Scope[k]; ok && m != n {
			return false
		}
	}
	return true
}

// FindSetting finds the definition of a setting, nil if there is none.
func FindSetting(name string) *SettingDef { return settingByName()[name] }

// settingByName is the definitions by name; of one name the first counts.
var settingByName = sync.OnceValue(func() map[string]*SettingDef {
	out := map[string]*SettingDef{}
	for i := range SettingDefs {
		if d := &SettingDefs[i]; out[d.Name] == nil {
			out[d.Name] = d
		}
	}
	return out
})

// defaultsRead is the defaults as values, read once.
var defaultsRead = sync.OnceValue(func() map[string]SettingValue {
	out := map[string]SettingValue{}
	for i := range SettingDefs {
		d := &SettingDefs[i]
		if _, have := out[d.Default]; have || d.Default == "" || d.Kind != SetQuantity {
			continue
		}
		q, err := unit.Parse(d.Default)
		if err != nil {
			panic("default of " + d.Name + ": " + err.Error())
		}
		out[d.Default] = SettingValue{Quantity: q}
	}
	return out
})

// DefaultValue is the default as a value; ok is false if the setting has none.
func (d *SettingDef) DefaultValue() (v SettingValue, ok bool) {
	if d.Default == "" {
		return SettingValue{}, false
	}
	if d.Kind != SetQuantity {
		return SettingValue{Name: d.Default}, true
	}
	if v, read := defaultsRead()[d.Default]; read {
		return v, true
	}
	q, err := unit.Parse(d.Default)
	if err != nil {
		panic("default of " + d.Name + ": " + err.Error())
	}
	return SettingValue{Quantity: q}, true
}
