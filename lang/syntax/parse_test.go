package syntax

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"loomsheet/harness/diag"
	"loomsheet/lang/token"
	"loomsheet/lang/word"
)

func scenarios(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/scenarios/*.loom")
	if err != nil || len(files) < 4 {
		t.Fatalf("scenarios: %v %v", files, err)
	}
	return files
}

func TestScenariosReadWithoutMessage(t *testing.T) {
	for _, f := range scenarios(t) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{string(text), "\ufeff" + strings.ReplaceAll(string(text), "\n", "\r\n")} {
			file, msgs := Parse(filepath.Base(f), []byte(text))
			for _, m := range msgs {
				t.Errorf("%s: %d %s: %s (%s)", f, m.Span.Start, m.Code, m.Title, text[m.Span.Start:m.Span.End])
			}
			if file.Broken || len(file.Lines) == 0 {
				t.Errorf("%s: broken %v, %d lines", f, file.Broken, len(file.Lines))
			}
		}
	}
}

func TestExamplesOfWordsRead(t *testing.T) {
	for _, w := range word.All() {
		file, msgs := Parse("example", []byte(w.Example))
		for _, m := range msgs {
			t.Errorf("%s: %s: %s", w.Name, m.Code, m.Title)
		}
		var found bool
		for _, l := range file.Lines {
			found = found || w.In == "" && l.Word.Text == w.Name
			for _, b := range l.Block {
				found = found || w.In == l.Word.Text && b.Word.Text == w.Name
			}
		}
		if !found {
			t.Errorf("the example of %s %s does not show it:\n%s", w.In, w.Name, w.Example)
		}
	}
}

func TestCodes(t *testing.T) {
	var source strings.Builder
	for _, pattern := range []string{"*.go", "../token/*.go"} {
		files, _ := filepath.Glob(pattern)
		for _, f := range files {
			if b, err := os.ReadFile(f); err == nil && !strings.HasSuffix(f, "_test.go") && f != "codes.go" {
				source.Write(b)
			}
		}
	}
	for i, c := range Codes {
		if i > 0 && Codes[i-1].Code >= c.Code {
			t.Errorf("%s is out of order", c.Code)
		}
		_, msgs := Parse("a", []byte(c.Text))
		if !slices.ContainsFunc(msgs, func(d diag.Diagnostic) bool { return d.Code == c.Code }) {
			t.Errorf("%s: the example gives %v", c.Code, msgs)
		}
		if !strings.Contains(source.String(), `"`+c.Code+`"`) {
			t.Errorf("%s is not in use", c.Code)
		}
	}
	// Every code in the sources stands as the argument before a title.
	for _, m := range regexp.MustCompile(`(?:istake\([^\n]*?|say\(|code := |code = )"([a-z0-9]+(?:-[a-z0-9]+)+)"`).FindAllStringSubmatch(source.String(), -1) {
		if !slices.ContainsFunc(Codes, func(c CodeExample) bool { return c.Code == m[1] }) {
			t.Errorf("no example of %s", m[1])
		}
	}
}

// shape writes a tree in brief: word[values] option[values] {block}, ! for a broken line.
func shape(lines []*Line) string {
	var out []string
	list := func(vs []Value) string {
		var t []string
		for _, v := range vs {
			s := v.Text
			if v.Kind == Bad {
				s = "?"
			}
			t = append(t, s)
		}
		return "[" + strings.Join(t, "|") + "]"
	}
	for _, l := range lines {
		s := l.Word.Text + list(l.About)
		for _, o := range l.Options {
			s += " " + o.Word.Text + list(o.Values)
		}
		if l.Broken {
			s += "!"
		}
		if l.HasBlock {
			s += "{" + shape(l.Block) + "}"
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

// Each case is a text, the mistakes as code at marked text, and what of the text is read all the same.
var cases = []struct{ name, text, mistakes, tree string }{
	{"empty", "", "", ""},
	{"comment only", "# x", "", ""},
	{"a statement", "device pump at (1, -2, 3 mm) class fuel", "", "device[pump] at[(1, -2, 3 mm)] class[fuel]"},
	{"block on one line", "housing x { cavity [1, 2] takes y }\n", "", "housing[x]{cavity[[1, 2]] takes[y]}"},
	{"empty block", "panel x { }\npanel y {\n}\n", "", "panel[x]{}; panel[y]{}"},
	{"list over lines", "undo a,\n  b, # x\n\n  c\n", "", "undo[a|b|c]"},
	{"range over lines", "unused a.[1,\n  2]\n", "", "unused[a.[1, 2]]"},
	{"place over lines", "at (1,\n 2, # y\n 3 mm) z w\n", "", "at[(1, 2, 3 mm)] z[w]"},
	{"bare number before a word", "pin 1, 2 stud M10\nparallel 2 colour red\ncavity 1 stud M10\n", "", "pin[1|2] stud[M10]; parallel[2] colour[red]; cavity[1] stud[M10]"},
	{"parameters of any name", "use t n 1 a 2 place (1, 2, 3 mm)", "", "use[t] n[1] a[2] place[(1, 2, 3 mm)]"},
	{"misspelt option is left to sense", "draw 4 frm 1 to 2", "", "draw[4] frm[1] to[2]"},

	{"unknown unit", "supply 12 Volts inside 5 mohm", "unknown-unit at Volts", "supply[?] inside[5 mohm]"},
	{"cubed", "from b.1 to c.2 size 5 mm3 colour red", "unknown-unit at mm3", "from[b.1] to[c.2] size[?] colour[red]"},
	{"unit like no other", "run a from b to c length 12 furlongs slack 3 mm", "unknown-unit at furlongs", "run[a] from[b] to[c] length[?] slack[3 mm]!"},
	{"square", "a b size 5 sq mm colour red", "unknown-unit at sq mm", "a[b] size[?] colour[red]"},
	{"units in a list", "a 1 metre, 2 metre", "unknown-unit at metre, unknown-unit at metre", "a[?|?]"},
	{"unit of a coordinate", "point a at (1, 2, 470mmm) note x", "unknown-unit at 470mmm", "point[a] at[(1, 2, 470mmm)] note[x]!"},
	{"decimal comma", "a b size 2,5 mm2 colour red", "decimal-comma at 2,5 mm2", "a[b] size[?] colour[red]"},

	{"lost comma", "set isolator kill to on", "lost-comma at kill", "set[isolator|kill] to[on]!"},
	{"lost comma before a number", "fuse x from a to 2 3", "no-option-word at 3", "fuse[x] from[a] to[2|3]!"},
	{"lost value", "device pump at housing sealed-2 section engine", "no-value at at", "device[pump] at[?] housing[sealed-2] section[engine]!"},
	{"value missing at the end", "device pump at (1, 2, 3 mm) housing", "no-value at housing", "device[pump] at[(1, 2, 3 mm)] housing[?]!"},
	{"word alone", "section", "no-value at section", "section[?]!"},
	{"comma too many", "circuit a from b.1, to c.2", "open-list at ,", "circuit[a] from[b.1] to[c.2]!"},
	{"comma at the end", "section a,", "open-list at ,", "section[a]!"},
	{"comma before a statement", "section a,\nbreak x", "open-list at ,", "section[a]!; break[x]"},
	{"comma before a line of the block", "device x {\n  draw 4 A from 1 to 2,\n  fuse b from 1 to 2\n}", "open-list at ,", "device[x]{draw[4 A] from[1] to[2]!; fuse[b] from[1] to[2]}"},
	{"comma before }", "device x {\n  unused 1,\n}", "open-list at ,", "device[x]{unused[1]!}"},
	{"two commas", "a b,, c", "open-list at ,", "a[b|c]!"},
	{"comma first", ", a\nb c", "no-word at ,", "b[c]"},
	{"number first", "5 mm a {\n b c\n}\nd e", "no-word at 5 mm", "d[e]"},

	{"open bracket", "point a at (1, 2, 3 mm\npoint b at (1, 2, 3 mm)", "unclosed-paren at (", "point[a] at[(1, 2, 3 mm)]!; point[b] at[(1, 2, 3 mm)]"},
	{"open bracket before an option", "device a at (1, 2, 3 mm section x {\n  draw 1 A from 1 to 2\n}", "unclosed-paren at (", "device[a] at[(1, 2, 3 mm)] section[x]!{draw[1 A] from[1] to[2]}"},
	{"no comma between coordinates", "point b at (1 2 3 mm)", "lost-comma at 2", "point[b] at[(1, 2, 3 mm)]!"},
	{"no coordinates", "point b at ()", "no-value at )", "point[b] at[()]!"},
	{"open range", "run x from [1..\nrun y from a to b", "unclosed-bracket at [", "run[x] from[?]; run[y] from[a] to[b]"},
	{"open range before a block", "device a[1..2 {\n  draw 1 A from 1 to 2\n}\nsection b", "unclosed-bracket at [", "device[?]{draw[1 A] from[1] to[2]}; section[b]"},
	{"open text before a block", "device x note \"abc {\n  draw 1 A from 1 to 2\n}\nsection y", "unclosed-text at \"abc", "device[x] note[?]{draw[1 A] from[1] to[2]}; section[y]"},
	{"open text in a block on one line", "device x { pin a note \"abc }\nsection y", "unclosed-text at \"abc", "device[x]{pin[a] note[?]}; section[y]"},

	{"lost comma between names", "device a, b c, d at (1, 2, 3 mm) {\n  unused 1\n}", "lost-comma at c", "device[a|b|c|d] at[(1, 2, 3 mm)]!{unused[1]}"},
	{"lost word", "start-post at (1, 2, 3 mm) {\n  half a\n}\nsection b", "no-word at start-post", "point[start-post] at[(1, 2, 3 mm)]!{half[a]}; section[b]"},
	{"lost word as above", "break a at (1, 2, 3 mm)\nb at (1, 2, 3 mm) key X", "no-word at b", "break[a] at[(1, 2, 3 mm)]; break[b] at[(1, 2, 3 mm)] key[X]!"},
	{"lost word in a block", "device x {\n  main stud M10\n}", "no-word at main", "device[x]{pin[main] stud[M10]!}"},
	{"lost name", "break at (1, 2, 3 mm) key X {\n  half a\n}", "no-value at break", "break[?] at[(1, 2, 3 mm)] key[X]!{half[a]}"},
	{"lost ( ", "hazard x between 1, 2, 3 mm), (4, 5, 6 mm)", "unmatched-paren at )", "hazard[x] between[(1, 2, 3 mm)|(4, 5, 6 mm)]!"},
	{"lost option word", "zone b 110 C with wet", "no-option-word at 110 C", "zone[b] air[110 C] with[wet]!"},
	{"lost option word in a block", "device x {\n  supply 12 V 5 mohm from 1 to 2\n}", "no-option-word at 5 mohm", "device[x]{supply[12 V] inside[5 mohm] from[1] to[2]!}"},
	{"lost subject", "template takes a, b {\n  section [a]\n}", "no-value at template", "template[?] takes[a|b]!{section[[a]]}"},
	{"lost word before a place", "device x (1, 2, 3 mm) class y", "no-option-word at (", "device[x] class[y]!"},
	{"lost { on one line", "device x like y draw 4 A from 1 to 2 }\nsection b", "unmatched-brace at }", "device[x] like[y]{draw[4 A] from[1] to[2]}; section[b]"},
	{"lost { on its line", "device x like y\n  draw 4 A from 1 to 2\n  unused 3\n}\nsection b", "indented-line at draw", "device[x] like[y]{draw[4 A] from[1] to[2]; unused[3]}; section[b]"},
	{"forgotten }", "device x {\n  draw 1 A from 1 to 2\ndevice y\n", "unclosed-brace at {", "device[x]{draw[1 A] from[1] to[2]}; device[y]"},
	{"forgotten } at the end", "device x {\n  draw 1 A from 1 to 2\n", "unclosed-brace at {", "device[x]{draw[1 A] from[1] to[2]}"},
	{"block not indented", "device x {\nhousing y\n}\nsection z", "unclosed-brace at {", "device[x]{}; housing[y]; section[z]"},
	{"} too many", "device x {\n  draw 1 A from 1 to 2\n}\n}\nsection y", "unmatched-brace at }", "device[x]{draw[1 A] from[1] to[2]}; section[y]"},
	{"inner } forgotten", "template t takes a {\n  device x {\n    draw 1 A from 1 to 2\n}\nsection q\n", "unclosed-brace at {", "template[t] takes[a]{device[x]{draw[1 A] from[1] to[2]}}; section[q]"},
	{"{ on its own line", "device x\n{\n  draw 1 A from 1 to 2\n}\n", "brace-alone at {", "device[x]{draw[1 A] from[1] to[2]}"},
	{"statement behind }", "device x { unused 1 } section y\n", "after-brace at section", "device[x]{unused[1]}; section[y]"},
	{"option behind }", "device x { unused 1 } class y\nsection z", "after-brace at class", "device[x]{unused[1]}; section[z]"},
	{"indented under a line without block", "harness \"x\" revision A\n  datum \"d\"\n  date x\nsection y", "indented-line at datum", "harness[x] revision[A]{datum[d]; date[x]}; section[y]"},
	{"indented inside a block", "circuit x {\n  from a to b\n    size 5 mm2\n  from b to c\n}", "indented-line at size", "circuit[x]{from[a] to[b]{size[5 mm2]}; from[b] to[c]}"},
	{"indented below a closed block", "device x { unused 1 }\n  fuse b from 1 to 2\nsection a", "indented-line at fuse", "device[x]{unused[1]; fuse[b] from[1] to[2]}; section[a]"},
	{"tabs and blanks mixed", "device x {\n\tunused 1\n    unused 2\n}", "", "device[x]{unused[1]; unused[2]}"},

	{"six in one file", "section a,\nzone b 110 C\npoint c at (1, 2\ncircuit d from e -> f\ndevice \"g\" {\n  draw\n}\nset h to 5 Volts\nsection i\n",
		"open-list at ,, no-option-word at 110 C, unclosed-paren at (, arrow at ->, no-value at draw, unknown-unit at Volts",
		"section[a]!; zone[b] air[110 C]!; point[c] at[(1, 2)]!; circuit[d] from[e] to[f]!; device[g]{draw[?]!}; set[h] to[?]; section[i]"},
}

func TestMistakes(t *testing.T) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			file, msgs := Parse("a", []byte(c.text))
			var got []string
			for _, m := range msgs {
				got = append(got, m.Code+" at "+c.text[m.Span.Start:m.Span.End])
				if m.Title == "" || m.Detail == "" || m.Severity != diag.Mistake {
					t.Errorf("%+v", m)
				}
			}
			if s := strings.Join(got, ", "); s != c.mistakes {
				t.Errorf("mistakes %q, want %q", s, c.mistakes)
			}
			if s := shape(file.Lines); s != c.tree {
				t.Errorf("tree %s\nwant %s", s, c.tree)
			}
		})
	}
}

func TestInnerBraceIsPointedAt(t *testing.T) {
	text := "template t takes a {\n  device x {\n    draw 1 A from 1 to 2\n}\nsection q\n"
	_, msgs := Parse("a", []byte(text))
	if len(msgs) != 1 || int(msgs[0].Span.Start) != strings.Index(text, "x {")+2 || len(msgs[0].Related) != 1 || int(msgs[0].Related[0].Span.Start) != strings.Index(text, "}") {
		t.Errorf("%+v", msgs)
	}
}

func TestSpans(t *testing.T) {
	text := "\ufeffdevice pump at (1, 2, 3 mm) {\r\n  draw 4 A from 1 to 2\r\n} # x\r\n"
	f, msgs := Parse("a", []byte(text))
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	cut := func(s diag.Span) string { return text[s.Start:s.End] }
	l := f.Lines[0]
	for got, want := range map[string]string{
		cut(l.Word.Span): "device", cut(l.Head): "device pump at (1, 2, 3 mm)", cut(l.Span): "device pump at (1, 2, 3 mm) {\r\n  draw 4 A from 1 to 2\r\n}",
		cut(l.Options[0].Span): "at (1, 2, 3 mm)", cut(l.Options[0].Values[0].Items[2].Span): "3 mm", cut(l.Block[0].Span): "draw 4 A from 1 to 2", cut(f.Comments[0].Span): "# x",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestHugeInputsEndSoon(t *testing.T) {
	const n = 50_000
	for name, text := range map[string]string{
		"open blocks":   strings.Repeat("a b {\n", n),
		"braces":        strings.Repeat("{", n),
		"closing":       strings.Repeat("}", n),
		"parens":        "a b at " + strings.Repeat("(", n),
		"brackets":      "a " + strings.Repeat("[", n),
		"one long line": "a " + strings.Repeat("b, ", n) + "c",
		"long name":     "a " + strings.Repeat("b", n),
		"long range":    "a [" + strings.Repeat("b,", n) + "c]",
		"wrong lines":   strings.Repeat("set a b to c\n", n/20),
		"indented ever deeper": func() string {
			var b strings.Builder
			for i := range 2000 {
				fmt.Fprintf(&b, "%sa b\n", strings.Repeat(" ", i))
			}
			return b.String()
		}(),
		"nearly too long": "a " + strings.Repeat("b c ", maxTokens/2-2) + "5",
		"texts":           "a " + strings.Repeat("\"b\", ", n) + "c",
		"bent quotes":     strings.Repeat("“", n),
		"open texts":      strings.Repeat("a \"b {\n", n/20),
		"digits":          "a " + strings.Repeat("1", n),
		"decimal commas":  "a " + strings.Repeat("1,", n) + "1",
	} {
		start := time.Now()
		Parse(name, []byte(text))
		if d := time.Since(start); d > 10*time.Second {
			t.Errorf("%s took %v", name, d)
		}
	}
}

// checkTree demands what every reader of the tree relies on.
func checkTree(t interface{ Fatalf(string, ...any) }, text string) {
	file, msgs := Parse("a", []byte(text))
	if file.Broken != (len(msgs) > 0) {
		t.Fatalf("broken %v with %d messages", file.Broken, len(msgs))
	}
	inside := func(s diag.Span) {
		if s.File.String() != "a" || s.Start < 0 || s.Start > s.End || int(s.End) > len(text) {
			t.Fatalf("span %v of %d bytes in %q", s, len(text), text)
		}
	}
	for i, m := range msgs {
		inside(m.Span)
		for _, r := range m.Related {
			inside(r.Span)
		}
		if i > 0 && msgs[i-1].Span.Start > m.Span.Start {
			t.Fatalf("messages out of order in %q", text)
		}
	}
	var walk func(lines []*Line, depth int)
	walk = func(lines []*Line, depth int) {
		if depth > maxDepth+1 {
			t.Fatalf("too deep in %q", text)
		}
		for _, l := range lines {
			inside(l.Span)
			inside(l.Head)
			if l.Word.Text == "" || !l.Broken && token.Composed(text[l.Word.Span.Start:l.Word.Span.End]) != l.Word.Text {
				t.Fatalf("word %+v in %q", l.Word, text)
			}
			if len(l.About) == 0 && !l.Broken {
				t.Fatalf("whole line without subject in %q", text)
			}
			for _, o := range l.Options {
				inside(o.Span)
				if len(o.Values) == 0 {
					t.Fatalf("option without value in %q", text)
				}
			}
			walk(l.Block, depth+1)
		}
	}
	walk(file.Lines, 0)
}

func TestAnyTextIsReadWithoutHarm(t *testing.T) {
	pieces := []string{"device", "from", "x", "a.1", "[1..3]", "[", "]", "(1, 2, 3 mm)", "(", ")", ",", "{", "}", "\n", "\r\n", " ", "  ", "\t", "\"", "\"x\"", "#", "2,5", "5 mm2",
		"12 Volts", "-", "→", "\u200b", "\x00", "\xff", ";", "=", "section", ".", "..", "87a", "“", "\ufeff"}
	rapid.Check(t, func(t *rapid.T) {
		checkTree(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 60).Draw(t, "pieces"), rapid.SampledFrom([]string{"", " "}).Draw(t, "between")))
	})
}

// One token lost from a file without mistakes or remarks gives one message at most from the shape, never a flood.
func TestOneLostTokenGivesFewMessages(t *testing.T) {
	text, err := os.ReadFile("../../testdata/scenarios/tern.loom")
	if err != nil {
		t.Fatal(err)
	}
	text = regexp.MustCompile(`#.*`).ReplaceAll(text, nil)
	marks := regexp.MustCompile(`[{}(),"\[\]]|\S+`).FindAllIndex(text, -1)
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(marks).Draw(t, "token")
		rest := string(text[m[1]:])
		if before := text[:m[0]]; len(bytes.TrimSpace(before[bytes.LastIndexByte(before, '\n')+1:])) == 0 {
			rest = strings.TrimLeft(rest, " ")
		}
		cut := string(text[:m[0]]) + rest
		_, msgs := Parse("a", []byte(cut))
		most := 1
		if text[m[0]] == '"' {
			most = 2 // what was text is read as statements, and the other quote stands alone
		}
		if len(msgs) > most {
			t.Fatalf("%q lost: %d messages: %v", text[m[0]:m[1]], len(msgs), msgs)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, c := range cases {
		f.Add(c.text)
	}
	for _, c := range Codes {
		if len(c.Text) < 500 {
			f.Add(c.Text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) { checkTree(t, text) })
}
