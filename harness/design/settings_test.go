package design

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/unit"
)

func set(name, value string, scope ...string) Setting {
	q, err := unit.Parse(value)
	if err != nil {
		panic(err)
	}
	s := Setting{Name: name, Value: SettingValue{Quantity: q}, Scope: map[string]string{}}
	for i := 0; i < len(scope); i += 2 {
		s.Scope[scope[i]] = scope[i+1]
	}
	return s
}

// TestNarrowerRules holds each scope against the next wider one: circuit, device, break, run, panel, class, zone, section, job.
func TestNarrowerRules(t *testing.T) {
	at := Scope{Circuit: "x", Device: "x", Break: "x", Run: "x", Panel: "x", Class: "x", Zone: "x", Section: "x", Case: "x"}
	want := []string{"circuit", "device", "break", "run", "panel", "class", "zone", "section"}
	if !slices.Equal(ScopeKinds, want) {
		t.Fatalf("the order is %v, want %v", ScopeKinds, want)
	}
	kinds := append(slices.Clone(want), "")
	for i, narrow := range kinds {
		for _, wide := range kinds[i+1:] {
			line := func(value, kind string) Setting {
				if kind == "" {
					return set("clip-span", value)
				}
				return set("clip-span", value, kind, "x")
			}
			for _, lines := range [][]Setting{{line("1 mm", narrow), line("2 mm", wide)}, {line("2 mm", wide), line("1 mm", narrow)}} {
				if r := (Settings{lines}).Get("clip-span", at); r.Value.Quantity.Value != 1 || !r.Set {
					t.Errorf("%q does not rule over %q: %v", narrow, wide, r.Value)
				}
			}
		}
	}
}

func TestCaseRulesAmongEquals(t *testing.T) {
	s := Settings{[]Setting{set("drop", "3 %", "class", "lamps"), set("drop", "4 %", "class", "lamps", "case", "night"), set("drop", "5 %", "case", "night"), set("drop", "6 %")}}
	for _, c := range []struct {
		at   Scope
		want string
	}{
		{Scope{Class: "lamps"}, "3 %"}, {Scope{Class: "lamps", Case: "night"}, "4 %"}, {Scope{Class: "fuel", Case: "night"}, "5 %"},
		{Scope{Class: "fuel", Case: "day"}, "6 %"}, {Scope{}, "6 %"},
	} {
		if r := s.Get("drop", c.at); r.Value.String() != c.want {
			t.Errorf("%+v: %s, want %s", c.at, r.Value, c.want)
		}
	}
}

func TestAllScopesMustHold(t *testing.T) {
	s := Settings{[]Setting{set("drop", "3 %", "class", "lamps", "zone", "bay")}}
	if r := s.Get("drop", Scope{Class: "lamps", Zone: "cabin"}); r.Set {
		t.Error("a line whose zone does not hold rules")
	}
	r := s.Get("drop", Scope{Class: "lamps", Zone: "bay"})
	if !r.Set || r.Source() != "set for class lamps, zone bay" {
		t.Errorf("%v, %q", r.Set, r.Source())
	}
}

func TestClash(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b Setting
		want int
	}{
		{"same scope, other value", set("drop", "3 %", "class", "a"), set("drop", "4 %", "class", "a"), 1},
		{"same scope, same value", set("drop", "3 %", "class", "a"), set("drop", "3 %", "class", "a"), 0},
		{"other class", set("drop", "3 %", "class", "a"), set("drop", "4 %", "class", "b"), 0},
		{"narrower", set("drop", "3 %", "class", "a"), set("drop", "4 %", "device", "b"), 0},
		{"equals that may meet", set("drop", "3 %", "class", "a", "zone", "z"), set("drop", "4 %", "class", "a", "section", "s"), 1},
		{"one names a case", set("drop", "3 %", "class", "a"), set("drop", "4 %", "class", "a", "case", "n"), 0},
		{"other cases", set("drop", "3 %", "case", "m"), set("drop", "4 %", "case", "n"), 0},
		{"other setting", set("drop", "3 %"), set("spare-share", "4 %"), 0},
	} {
		if got := (Settings{[]Setting{c.a, c.b}}).Clash(); len(got) != c.want {
			t.Errorf("%s: %d clashes", c.name, len(got))
		}
	}
}

// TestSettingDefs demands that each setting is whole: a default that reads and has its dimension, a source, a sentence.
func TestSettingDefs(t *testing.T) {
	seen := map[string]bool{}
	for i := range SettingDefs {
		d := &SettingDefs[i]
		if seen[d.Name] || d.Name != strings.ToLower(d.Name) {
			t.Errorf("%s stands twice or is not lower case", d.Name)
		}
		seen[d.Name] = true
		if d.Source == "" || d.Doc == "" {
			t.Errorf("%s lacks a source or a sentence", d.Name)
		}
		v, ok := d.DefaultValue()
		switch d.Kind {
		case SetQuantity:
			if ok && !slices.Contains(d.Dims, v.Quantity.Dim) {
				t.Errorf("%s: default %s is %s", d.Name, d.Default, v.Quantity.Dim)
			}
			if len(d.Dims) == 0 {
				t.Errorf("%s takes nothing", d.Name)
			}
		case SetChoice:
			if !slices.Contains(d.Choices, v.Name) {
				t.Errorf("%s: default %s is no choice", d.Name, v.Name)
			}
		case SetPart:
			if d.Part == "" || v.Name == "" {
				t.Errorf("%s names no part", d.Name)
			}
		}
	}
}
