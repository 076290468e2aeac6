package font

import (
	"errors"
	"strings"
	"testing"

	"github.com/rivo/uniseg"
	"pgregory.net/rapid"
)

func TestEveryFaceHasTheSignsOfTheTrade(t *testing.T) {
	for _, f := range Faces() {
		for _, s := range []string{"18 A 2.5 mm² 5 mΩ 35 µΩ/m 105 °C Ø 6,5 ±", "☐ ✓ → … – ×", "äöüßÄéèñåøžłŁ", "ΔT ≤ ½"} {
			if err := Check(f, s); err != nil {
				t.Errorf("%v: %v", f, err)
			}
		}
	}
}

func TestCheckNamesTheCharacter(t *testing.T) {
	for _, c := range []struct {
		text, want string
		char       rune
		offset     int
	}{
		{"pump 日", "日 (U+65E5) is missing", '日', 5},
		{"a\tb", "U+0009 is a tab", '\t', 1},
		{"a\nb", "U+000A is a line end", '\n', 1},
		{"a\rb", "U+000D is a line end", '\r', 1},
		{"a\x00b", "U+0000 is a control", 0, 1},
		{"a\u0085", "U+0085 is a control", 0x85, 1},
		{"ok😀", "U+1F600) lies beyond U+FFFF", '😀', 2},
		{"caf\xe9", "byte 0xE9 is not valid UTF-8", '\uFFFD', 3},
		{"a\uFFFD", "U+FFFD) stands for a damaged", '\uFFFD', 1},
		{"a\u200bb", "U+200B does not show", '\u200b', 1},
		{"a\u202eb", "U+202E does not show", '\u202e', 1},
		{"שלום", "right to left", 'ש', 0},
	} {
		err := Check(Sans, c.text)
		var fault *Fault
		if !errors.As(err, &fault) {
			t.Errorf("%q: no fault", c.text)
			continue
		}
		if !strings.Contains(err.Error(), c.want) || fault.Char != c.char || fault.Offset != c.offset {
			t.Errorf("%q: %v at %d", c.text, err, fault.Offset)
		}
	}
	if err := Check(Mono, strings.Repeat("x", 500)+"日"); len(err.Error()) > 200 {
		t.Errorf("message too long: %v", err)
	}
}

func TestWidth(t *testing.T) {
	// DejaVu Sans: H is 1540 of 2048 units wide (752 per mille), in 10 pt 2.653 mm.
	if w := Width(Sans, 10, "H"); w < 2.652 || w > 2.654 {
		t.Errorf("H is %v mm", w)
	}
	if Width(Mono, 10, "iiii") != Width(Mono, 10, "WWWW") {
		t.Error("Mono is not mono")
	}
	if Width(Narrow, 10, "pump") >= Width(Sans, 10, "pump") {
		t.Error("Narrow is not narrower")
	}
	for _, f := range Faces() {
		if a, d, l := Ascent(f, 10), Descent(f, 10), Leading(f, 10); a <= CapHeight(f, 10) || CapHeight(f, 10) <= 0 || d <= 0 || a+d > l {
			t.Errorf("%v: ascent %v, descent %v, leading %v", f, a, d, l)
		}
	}
	if Face(200).String() != "Sans" || Width(Face(200), 10, "a") != Width(Sans, 10, "a") {
		t.Error("an unknown face is not the plain one")
	}
}

func TestWrap(t *testing.T) {
	em := Width(Mono, 10, "x")
	for _, c := range []struct {
		text string
		cols int
		want string
	}{
		{"", 10, ""},
		{"one two three", 8, "one two|three"},
		{"one two  three", 8, "one two|three"},
		{"ecu-main-connector", 10, "ecu-main-|connector"},
		{"to ecu-main-connector", 10, "to ecu-|main-|connector"},
		{"ab_cdefgh", 5, "ab_|cdefg|h"},
		{"ab/cdefgh", 5, "ab/|cdefg|h"},
		{"ab.cdefgh", 5, "ab.|cdefg|h"},
		{"abcdefghijkl", 5, "abcde|fghij|kl"},
		{"a abcdefghijkl", 5, "a|abcde|fghij|kl"},
		{"is 1.25", 6, "is|1.25"},
		{"123456.25", 8, "123456.2|5"},
		{"first\nsecond", 20, "first|second"},
		{"first\n\nsecond", 20, "first||second"},
		{"abe\u0301de\u0301", 4, "abe\u0301|de\u0301"},
		{"abc", 0, "a|b|c"},
		{"     ", 2, ""},
	} {
		got := strings.Join(Wrap(Mono, 10, c.text, MM(c.cols)*em), "|")
		if got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.text, c.cols, got, c.want)
		}
	}
}

// No letter is lost or added, none stands out unless it alone is too wide, and no accent is parted from its letter.
func TestWrapKeepsTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("ab -._/mW1\u0301Ωä日\n"))).Draw(t, "text")
		width := MM(rapid.Float64Range(-1, 60).Draw(t, "width"))
		lines := Wrap(Sans, 10, s, width)
		bare := func(s string) string { return strings.NewReplacer(" ", "", "\n", "").Replace(s) }
		if bare(strings.Join(lines, "")) != bare(s) {
			t.Fatalf("%q became %q", s, lines)
		}
		if len(lines) == 0 {
			t.Fatal("no line at all")
		}
		breaks := map[int]bool{} // where a grapheme of the bare text ends
		at := 0
		for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == '\n' }) {
			for state := -1; part != ""; {
				var g string
				g, part, _, state = uniseg.FirstGraphemeClusterInString(part, state)
				at += len(bare(g))
				breaks[at] = true
			}
		}
		at = 0
		for _, l := range lines {
			if Width(Sans, 10, l) > width+slack && uniseg.GraphemeClusterCount(l) > 1 {
				t.Fatalf("%q is wider than %v", l, width)
			}
			at += len(bare(l))
			if at > 0 && !breaks[at] {
				t.Fatalf("%q is broken inside a letter: %q", s, lines)
			}
		}
	})
}

// clusters is the letters of s with their accents, by the Unicode rules alone.
func clusters(s string) (out []string) {
	for state := -1; s != ""; {
		var g string
		g, s, _, state = uniseg.FirstGraphemeClusterInString(s, state)
		out = append(out, g)
	}
	return out
}

// What is taken for a letter by itself is one beside any other of them.
func TestAloneIsALetter(t *testing.T) {
	var all []rune
	for r := range rune(0x11000) {
		if alone(r) {
			all = append(all, r)
		}
	}
	if len(all) < 1500 {
		t.Fatalf("%d letters", len(all))
	}
	beside := []rune("\n aW1-©®äΩЖ–‼→↔☐☑✓✔ⓘ▶☺")
	for _, r := range all {
		for _, o := range beside {
			if s := string([]rune{o, r, r, o}); !alone(o) || len(clusters(s)) != 4 {
				t.Fatalf("%q is %q", s, clusters(s))
			}
		}
	}
	if s := string(all); len(clusters(s)) != len(all) {
		t.Error("all of them together are fewer letters")
	}
}

func TestPiecesAreTheLetters(t *testing.T) {
	m := Sans.load()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("ab -.1\u0301Ωä日–\n\r\u200d👍🇩🇪ก็☐"))).Draw(t, "text")
		if rapid.Bool().Draw(t, "cut") && s != "" {
			s = s[1:] // a damaged character
		}
		want, at := clusters(s), 0
		got := pieces(nil, m, s)
		if len(got) != len(want)+1 || got[len(want)].at != len(s) {
			t.Fatalf("%q: %v, want %q", s, got, want)
		}
		for i, g := range want {
			if got[i] != (piece{at, m.units(g)}) {
				t.Fatalf("%q: %v, want %q", s, got, want)
			}
			at += len(g)
		}
		var line, word, letter MM
		for _, l := range strings.Split(s, "\n") {
			line = max(line, Width(Sans, 10, l))
			for _, w := range strings.Split(l, " ") {
				word = max(word, Width(Sans, 10, w))
			}
		}
		for _, g := range want {
			letter = max(letter, Width(Sans, 10, g))
		}
		if l, w, g := Extent(Sans, 10, s); l != line || w != word || g != letter || Longest(Sans, 10, s) != word {
			t.Fatalf("%q takes %v %v %v, want %v %v %v", s, l, w, g, line, word, letter)
		}
		width := MM(rapid.Float64Range(-1, 60).Draw(t, "width"))
		if n := len(Wrap(Sans, 10, s, width)); n != Lines(Sans, 10, s, width) {
			t.Fatalf("%q has not %d lines", s, n)
		}
	})
}

func TestFit(t *testing.T) {
	em := Width(Mono, 10, "x")
	for _, c := range []struct {
		text string
		cols int
		want string
	}{{"abcdef", 6, "abcdef"}, {"abcdef", 5, "abcd…"}, {"abc def", 5, "abc…"}, {"abc", 1, "…"}, {"abc", 0, ""}} {
		if got := Fit(Mono, 10, c.text, MM(c.cols)*em); got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.text, c.cols, got, c.want)
		}
	}
}

func TestLongest(t *testing.T) {
	if got, want := Longest(Sans, 10, "to the motor\nbay"), Width(Sans, 10, "motor"); got != want {
		t.Errorf("%v, want %v", got, want)
	}
	if got, want := Widest(Sans, 10, "iWi"), Width(Sans, 10, "W"); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}
