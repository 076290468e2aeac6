package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// found writes the mutants of some lines in a function as "kind was>is".
func found(t *testing.T, body string) []string {
	t.Helper()
	src := "package p\n\nfunc f(a, b int, x float64, ok bool, list []int) {\n" + body + "\n}\n"
	ms, err := Mutants("p.go", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range ms {
		if got := src[m.From:m.To]; got != m.Was {
			t.Errorf("%s: the text there is %q", m, got)
		}
		if m.Func != "f" || m.Line < 4 {
			t.Errorf("%s: wrong place", m)
		}
		out = append(out, m.Kind+" "+m.Was+">"+m.Is)
	}
	return out
}

func TestKinds(t *testing.T) {
	for _, c := range []struct {
		body string
		want []string
	}{
		{"_ = a + b", []string{"sign +>-"}},
		{"_ = a - b", []string{"sign ->+"}},
		{"_ = x * x / x", []string{"sign />*", "sign *>/"}},
		{"x += x", []string{"sign +=>-="}},
		{"x -= x", []string{"sign -=>+="}},
		{"x *= x", []string{"sign *=>/="}},
		{"x /= x", []string{"sign /=>*="}},
		{"ok = a < b", []string{"edge <><=", "turn <>>="}},
		{"ok = a <= b", []string{"edge <=><", "turn <=>>"}},
		{"ok = a > b", []string{"edge >>>=", "turn >><="}},
		{"ok = a >= b", []string{"edge >=>>", "turn >=><"}},
		{"ok = a == b", []string{"turn ==>!="}},
		{"ok = a != b", []string{"turn !=>=="}},
		{"ok = ok && ok", []string{"logic &&>||"}},
		{"ok = ok || ok", []string{"logic ||>&&"}},
		{"a = -b", []string{"drop ->"}},
		{"ok = !ok", []string{"drop !>"}},
		{"a++", []string{"step ++>--"}},
		{"a--", []string{"step -->++"}},
		{"a = min(a, b)", []string{"call min>max"}},
		{"a = max(a, b)", []string{"call max>min"}},
		{"x = math.Floor(x)", []string{"call Floor>Ceil"}},
		{"x = math.Ceil(x)", []string{"call Ceil>Floor"}},
		{"x = math.Sin(x) + math.Cos(x)", []string{"sign +>-", "call Sin>Cos", "call Cos>Sin"}},
		{"x = math.Min(x, math.Max(x, x))", []string{"call Min>Max", "call Max>Min"}},
		{"a = 41", []string{"number 41>42"}},
		{"a = 0x10", []string{"number 0x10>17"}},
		{"x = 0.5", []string{"number 0.5>1.5"}},
		{"x = 1.0", []string{"number 1.0>2.0"}}, // stays a number with a point, so that x := 1.0 stays a float64
		{"x = 1e300", nil},
		{`s := "a" + s + "1"`, nil}, // text has no other sign
		{`s += "a"`, nil},
		{"list = make([]int, 3, 9)", []string{"number 3>4"}}, // room made beforehand changes no result
		{"m := make(map[int]int, 9)", nil},
		{"// a + b, 3 < 4\n_ = `1 + 2`", nil},
	} {
		if got := found(t, c.body); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.body, got, c.want)
		}
	}
}

const sample = `package p

type T struct{ n int }

func (t *T) one() int { return t.n + 1 }

func two(a int) int {
	if a > 2 && a < 9 {
		return -a
	}
	return a * 3
}
`

func TestFunctionIsNamed(t *testing.T) {
	ms, err := Mutants("p.go", []byte(sample))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := ms[0].String(), "p.go:5:36 T.one sign: + becomes -"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// TestSampleIsStable: the same seed gives the same order, another seed another one, and an edit of one function leaves the order of all others as it was.
func TestSampleIsStable(t *testing.T) {
	order := func(src string, seed uint64) []string {
		ms, err := Mutants("p.go", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		var keys []string
		for _, m := range shuffled(ms, "p", seed) {
			keys = append(keys, m.Key)
		}
		return keys
	}
	first := order(sample, 1)
	if len(first) < 10 {
		t.Fatalf("only %d mutants", len(first))
	}
	if !slices.Equal(first, order(sample, 1)) {
		t.Error("two lists of the same seed differ")
	}
	if slices.Equal(first, order(sample, 2)) {
		t.Error("another seed gives the same list")
	}
	edited := strings.Replace(sample, "return t.n + 1", "t.n -= 4\n\treturn t.n + 1", 1)
	inTwo := func(keys []string) []string {
		return slices.DeleteFunc(slices.Clone(keys), func(k string) bool { return !strings.HasPrefix(k, "two|") })
	}
	if got, want := inTwo(order(edited, 1)), inTwo(first); !slices.Equal(got, want) {
		t.Errorf("after an edit of another function: %q, want %q", got, want)
	}
	if len(slices.Compact(slices.Sorted(slices.Values(first)))) != len(first) {
		t.Error("two mutants of one name")
	}
}

func TestWanted(t *testing.T) {
	for _, c := range []struct {
		n      int
		share  float64
		number int
		want   int
	}{{100, 0.1, 0, 10}, {101, 0.1, 0, 11}, {7, 1, 0, 7}, {100, 0.1, 30, 30}, {20, 1, 30, 20}, {0, 1, 5, 0}} {
		if got := wanted(c.n, c.share, c.number); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// TestTryAll: what does not build is made up for by the next, and does not count.
func TestTryAll(t *testing.T) {
	var order []Mutant
	for i := range 20 {
		order = append(order, Mutant{Line: i})
	}
	ends := []string{killed, notBuilt, survived, timedOut, notBuilt}
	got := tryAll(order, 6, 3, func(m Mutant) (string, error) { return ends[m.Line%5], nil })
	want := "p: 4 of 6 killed, 67 % (2 by time); 2 survived, 3 not built; 0 mutants in all"
	got.name = "p"
	if got.line() != want {
		t.Errorf("%s, want %s", got.line(), want)
	}
	if len(got.survivors) != 2 || got.survivors[0].Line != 2 || got.survivors[1].Line != 7 {
		t.Errorf("survivors %v", got.survivors)
	}
}

func TestPlaced(t *testing.T) {
	all := []Mutant{{File: "p.go", Line: 1, Col: 2, Kind: "edge", Was: "<", Is: "<="}, {File: "p.go", Line: 1, Col: 2, Kind: "turn", Was: "<", Is: ">="}, {File: "p.go", Line: 12, Col: 3, Kind: "drop", Was: "-"}}
	for at, want := range map[string]int{"p.go": 3, "p.go:1": 2, "p.go:1:2": 2, "p.go:1:2 - edge: < becomes <=": 1, "p.go:12,p.go:1:2 - turn": 2, "q.go": 0, "p.go:2": 0} {
		if got := len(placed(all, at)); got != want {
			t.Errorf("%s: %d, want %d", at, got, want)
		}
	}
}

func TestPasses(t *testing.T) {
	one := passes([]string{"TestA"}, nil, 2*time.Second, 0)
	if want := []pass{{"", 20 * time.Second}}; !slices.Equal(one, want) {
		t.Errorf("quick tests alone: %v, want %v", one, want)
	}
	two := passes([]string{"TestB", "TestA"}, []string{"TestC"}, 9*time.Second, 8*time.Second)
	if want := []pass{{"^(TestA|TestB)$", 15 * time.Second}, {"^(TestC)$", 50 * time.Second}}; !slices.Equal(two, want) {
		t.Errorf("with a slow one: %v, want %v", two, want)
	}
}

// TestEnds runs a small module of its own: one mutant of each end.
func TestEnds(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("go.mod", "module small\n\ngo 1.24\n")
	write("p/p.go", `package p

func Sum(n int) (s int) {
	for i := 0; i < n; i++ {
		s += i
	}
	return s
}

func Unseen(a int) int { return a - 1 }

func Edge(a [1]int, s string) string { return s + s }
`)
	write("p/p_test.go", `package p

import "testing"

func TestSum(t *testing.T) {
	if Sum(4) != 6 {
		t.Error(Sum(4))
	}
}
`)
	t.Chdir(dir)
	b, err := newBench("p", t.TempDir(), "", time.Second, 1, 6)
	if err != nil {
		t.Fatal(err)
	}
	b.passes[0].limit = time.Second
	all, err := inPackage("p")
	if err != nil {
		t.Fatal(err)
	}
	wants := map[string]string{
		"4 < <=":  killed,
		"4 ++ --": timedOut,
		"5 += -=": killed,
		"10 - +":  survived,
		"12 + -":  notBuilt,
	}
	for _, m := range all {
		which := fmt.Sprintf("%d %s %s", m.Line, m.Was, m.Is)
		want, ok := wants[which]
		if !ok {
			continue
		}
		delete(wants, which)
		how, err := try(m, []*bench{b})
		if err != nil {
			t.Fatal(err)
		}
		if how != want {
			t.Errorf("%s: %q, want %q", m, how, want)
		}
	}
	if len(wants) > 0 {
		t.Errorf("not found: %v", wants)
	}
	write("p/p_test.go", "package p\n\nimport \"testing\"\n\nfunc TestNo(t *testing.T) { t.Error() }\n")
	if _, err := newBench("p", t.TempDir(), "", time.Second, 1, 6); err == nil {
		t.Error("tests that fail as they are were taken")
	}
}
