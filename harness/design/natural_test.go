package design

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestNatural(t *testing.T) {
	names := []string{"b", "inj10", "inj2.1", "", "inj2", "A", "inj02", "a.b", "87a", "9", "inj2.10", "inj", "inj2.9"}
	slices.SortFunc(names, Natural)
	want := []string{"", "9", "87a", "A", "a.b", "b", "inj", "inj02", "inj2", "inj2.1", "inj2.9", "inj2.10", "inj10"}
	if !slices.Equal(names, want) {
		t.Errorf("got  %q\nwant %q", names, want)
	}
}

func TestNaturalIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.StringMatching(`[ab0-2.]{0,6}`)
		a, b, c := g.Draw(t, "a"), g.Draw(t, "b"), g.Draw(t, "c")
		if Natural(a, b) != -Natural(b, a) {
			t.Fatal("not antisymmetric")
		}
		if (Natural(a, b) == 0) != (a == b) {
			t.Fatal("different names are equal")
		}
		if Natural(a, b) <= 0 && Natural(b, c) <= 0 && Natural(a, c) > 0 {
			t.Fatal("not transitive")
		}
	})
}
