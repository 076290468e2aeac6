package format

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"loomsheet/harness/diag"
	"loomsheet/lang/syntax"
	"loomsheet/lang/word"
)

var update = flag.Bool("update", false, "rewrite the expected layouts")

// meaning is the tree without places; options that a block line goes on with are put back to the line they belong to, and several
// statements of the block keep their order.
func meaning(lines []*syntax.Line, outer string) []*syntax.Line {
	var out []*syntax.Line
	for _, l := range lines {
		m := &syntax.Line{Word: l.Word, About: l.About, Options: append([]syntax.Option(nil), l.Options...)}
		w := word.Find(outer, l.Word.Text)
		for _, b := range l.Block {
			o := (*word.Option)(nil)
			if w != nil && (outer == "" || outer == "template") && l.Word.Text != "template" && word.Find(w.Name, b.Word.Text) == nil {
				o = w.Option(b.Word.Text)
			}
			if o == nil || b.HasBlock {
				m.Block = append(m.Block, meaning([]*syntax.Line{b}, l.Word.Text)...)
				continue
			}
			m.Options = append(m.Options, syntax.Option{Word: b.Word, Values: b.About})
			m.Options = append(m.Options, b.Options...)
		}
		out = append(out, m)
	}
	return out
}

var noPlaces = cmp.Options{cmpopts.IgnoreTypes(diag.Span{}), cmpopts.EquateEmpty()}

// comments in alphabetical order: one between coordinates moves before its line.
func comments(f *syntax.File) []string {
	var out []string
	for _, c := range f.Comments {
		out = append(out, strings.TrimSpace(c.Text))
	}
	slices.Sort(out)
	return out
}

// check demands that the layout of a text keeps its meaning and its comments and is settled.
func check(t interface {
	Fatalf(string, ...any)
	Helper()
}, text []byte) []byte {
	t.Helper()
	f, msgs := syntax.Parse("a.loom", text)
	if f.Broken != (len(msgs) > 0) {
		t.Fatalf("broken %v with %d messages", f.Broken, len(msgs))
	}
	got := Format(f, text)
	if f.Broken {
		if !bytes.Equal(got, text) {
			t.Fatalf("a file with mistakes was changed:\n%s", got)
		}
		return got
	}
	g, msgs := syntax.Parse("a.loom", got)
	if len(msgs) > 0 {
		t.Fatalf("%s: %s\nin\n%s\nfrom\n%s", msgs[0].Code, msgs[0].Title, got, text)
	}
	if d := cmp.Diff(meaning(f.Lines, ""), meaning(g.Lines, ""), noPlaces); d != "" {
		t.Fatalf("meaning changed:\n%s\nfrom\n%s\nto\n%s", d, text, got)
	}
	before, after := comments(f), comments(g)
	if d := cmp.Diff(before, after); d != "" {
		t.Fatalf("comments changed:\n%s\nfrom\n%s\nto\n%s", d, text, got)
	}
	if again := Format(g, got); !bytes.Equal(again, got) {
		t.Fatalf("not settled:\n%s\nthen\n%s\nfrom\n%s", got, again, text)
	}
	return got
}

func TestScenariosKeepTheirMeaning(t *testing.T) {
	files, _ := filepath.Glob("../../testdata/scenarios/*.loom")
	if len(files) < 4 {
		t.Fatal(files)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		got := check(t, text)
		for i, l := range strings.Split(string(got), "\n") {
			if len([]rune(strings.SplitN(l, "  #", 2)[0])) > Width {
				t.Errorf("%s:%d is %d long", name, i+1, len([]rune(l)))
			}
		}
		check(t, []byte("\ufeff"+strings.ReplaceAll(string(text), "\n", "\r\n")))
	}
}

// Each file of testdata holds a text, a line of dashes, and its layout.
func TestLayouts(t *testing.T) {
	files, _ := filepath.Glob("testdata/*.txt")
	if len(files) < 5 {
		t.Fatal(files)
	}
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		in, want, ok := strings.Cut(string(text), "\n----\n")
		if !ok {
			t.Fatalf("%s: no ----", name)
		}
		got := check(t, []byte(in+"\n"))
		if string(got) != want {
			if *update {
				if err := os.WriteFile(name, []byte(in+"\n----\n"+string(got)), 0o644); err != nil {
					t.Fatal(err)
				}
				continue
			}
			t.Errorf("%s: got\n%swant\n%s", name, got, want)
		}
	}
}

func TestLineEndsAndByteOrderMark(t *testing.T) {
	text := []byte("\ufeffsection   a\r\n\r\n\r\n# x \r\nsection b\r\n")
	f, _ := syntax.Parse("a", text)
	if got := string(Format(f, text)); got != "section a\n\n# x\nsection b\n" {
		t.Errorf("%q", got)
	}
}

func TestGeneratedFilesKeepTheirMeaning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(file(t))
		if _, msgs := syntax.Parse("a.loom", text); len(msgs) > 0 {
			t.Fatalf("a generated file should read: %s: %s at %q in\n%s", msgs[0].Code, msgs[0].Title, text[msgs[0].Span.Start:msgs[0].Span.End], text)
		}
		check(t, text)
	})
}

func FuzzFormat(f *testing.F) {
	files, _ := filepath.Glob("../../testdata/scenarios/*.loom")
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	for _, s := range []string{"a b, # c\n # d\n e {\n\n f g }\n", "a (1, # x\n 2 mm) # y\n", "a { }\n# z", "point x at (1, 2, 3mm) note \"x\"{}"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) { check(t, text) })
}
