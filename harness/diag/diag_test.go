package diag

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	names := []string{"bulkhead", "section", "sealed-2", "sealed-12", "pump", "lamp", "lamps", "tunnel", "resistance"}
	for _, c := range []struct {
		word string
		want string
	}{{"bulkhed", "bulkhead"}, {"Pump", "pump"}, {"secton", "section"}, {"lmap", "lamp"}, {"resistence", "resistance"}, {"seald-2", "sealed-2"}, {"tunn", "tunnel"}} {
		if got := Nearest(c.word, names); len(got) == 0 || got[0] != c.want {
			t.Errorf("%s: %v, want %s first", c.word, got, c.want)
		}
	}
	if got := Nearest("zzzz", names); len(got) != 0 {
		t.Errorf("zzzz is near %v", got)
	}
	if got := Nearest("a", []string{"a1", "a2", "a3", "a4", "a5", "a6"}); len(got) > 4 {
		t.Errorf("%d names", len(got))
	}
}

// The distance is symmetric, zero only for equals, and never more than a letter for each that differs.
func TestDistance(t *testing.T) {
	word := rapid.StringMatching(`[a-c]{0,7}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := distance(a, b, 99)
		if d != distance(b, a, 99) || (d == 0) != (a == b) || d > max(len(a), len(b)) {
			t.Fatalf("%q to %q: %d", a, b, d)
		}
	})
}

// The order of discovery never shows.
func TestSort(t *testing.T) {
	var l List
	for i := range 40 {
		l.Finding(SpanOf(string(rune('a'+i%2)), i%5, 0), string(rune('p'+i%3)), string(rune('A'+i)), "", Subject{Name: string(rune('s' + i%4))})
	}
	want := slices.Clone(l)
	want.Sort()
	for range 20 {
		rand.Shuffle(len(l), func(i, j int) { l[i], l[j] = l[j], l[i] })
		l.Sort()
		for i := range l {
			if l[i].Title != want[i].Title {
				t.Fatalf("another order at %d", i)
			}
		}
	}
}

func TestOpen(t *testing.T) {
	l := List{{Severity: Note}, {Severity: Finding}, {Severity: Finding, Accepted: &Acceptance{By: "a"}}, {Severity: Mistake}}
	if l.Open() != 2 || !l.HasMistakes() || l[:3].HasMistakes() {
		t.Errorf("%d open", l.Open())
	}
}
