package design

import (
	"reflect"
	"testing"

	"loomsheet/harness/unit"
	"pgregory.net/rapid"
)

// What is kept is what the settings themselves answer, whatever was asked before.
func TestRulings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []string{"clip-ear", "bend-radius", "splice-room"}
		word := rapid.SampledFrom(append(append([]string{}, ScopeKinds...), "case"))
		value := rapid.SampledFrom([]string{"", "a", "b"})
		s := Settings{}
		for range rapid.IntRange(0, 8).Draw(t, "lines") {
			l := Setting{Name: rapid.SampledFrom(names).Draw(t, "name"), Scope: map[string]string{}}
			l.Value.Quantity = unit.Quantity{Value: float64(rapid.IntRange(-2, 90).Draw(t, "value")), Dim: unit.DimLength}
			for range rapid.IntRange(0, 2).Draw(t, "words") {
				l.Scope[word.Draw(t, "word")] = value.Draw(t, "of")
			}
			s.Lines = append(s.Lines, l)
		}
		kept := NewRulings(&s)
		for range 20 {
			var at Scope
			for _, f := range []*string{&at.Circuit, &at.Device, &at.Break, &at.Run, &at.Panel, &at.Class, &at.Zone, &at.Section, &at.Case} {
				*f = value.Draw(t, "field")
			}
			name := rapid.SampledFrom(names).Draw(t, "asked")
			want := s.Get(name, at)
			if got := kept.Get(name, at); !reflect.DeepEqual(got, want) {
				t.Fatalf("%s for %+v: %+v, want %+v", name, at, got, want)
			}
			if got, want := kept.Length(name, at), max(0, unit.Length(want.Value.Quantity.Value)); got != want {
				t.Fatalf("%s for %+v: %v, want %v", name, at, got, want)
			}
		}
	})
}
