package reference

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/word"
)

var update = flag.Bool("update", false, "write lang/REFERENCE.md")

// read compiles one text with the built-in library, every part of it included if whole is set.
func read(t *testing.T, text string) (*design.Job, diag.List) {
	t.Helper()
	job, _, msgs := resolve.Job("job.loom", func(name string) ([]byte, error) {
		if name == "job.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}, parts.Files(), nil)
	return job, msgs
}

// whole is the library as a job of its own.
func whole(t *testing.T) design.Parts {
	t.Helper()
	var b strings.Builder
	b.WriteString("harness \"library\" revision A\n")
	for _, f := range parts.Files() {
		if f.Name != "library/devices.loom" { // patterns that a job is like
			b.WriteString(f.Text + "\n")
		}
	}
	job, msgs := read(t, b.String())
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s %s", m.Code, m.Title, m.Detail)
		}
	}
	return job.Parts
}

// TestReferenceGolden keeps lang/REFERENCE.md to what the tables say.
func TestReferenceGolden(t *testing.T) {
	path := filepath.Join("..", "REFERENCE.md")
	want := Text(whole(t))
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("lang/REFERENCE.md is not what the tables say (%v); run go test ./lang/reference -update", err)
	}
}

// TestNothingMissing demands that every word, option, setting, unit and part name stands in the reference.
func TestNothingMissing(t *testing.T) {
	p := whole(t)
	text := Text(p)
	has := func(s string) {
		t.Helper()
		if !strings.Contains(text, s) {
			t.Errorf("the reference does not say %s", s)
		}
	}
	for _, w := range word.All() {
		if w.In == "" {
			has("\n### " + w.Name + "\n")
		} else {
			has("\n#### " + w.Name + ", in " + w.In + "\n")
		}
		if w.Doc == "" || w.Example == "" {
			t.Errorf("%s in %q has no sentence or no example", w.Name, w.In)
		}
		for _, o := range w.Options {
			has("| `" + o.Name + "` |")
			if o.Doc == "" {
				t.Errorf("%s %s has no sentence", w.Name, o.Name)
			}
		}
	}
	for _, s := range design.SettingDefs {
		has("| `" + s.Name + "`")
		if s.Source == "" || s.Doc == "" {
			t.Errorf("setting %s has no source or no sentence", s.Name)
		}
	}
	for _, x := range p.Housings {
		has(x.Name)
	}
	for _, x := range p.Fuses {
		has(x.Name)
	}
	for _, head := range regexp.MustCompile(`\]\(#([a-z-]+)\)`).FindAllStringSubmatch(text, -1) {
		if !strings.Contains(strings.NewReplacer(" ", "-", ",", "").Replace(strings.ToLower(text)), "#-"+head[1]+"\n") {
			t.Errorf("link to #%s leads nowhere", head[1])
		}
	}
}

var block = regexp.MustCompile("(?s)```loom\n(.*?)\n```")

// TestIntroCompiles compiles the whole jobs of the introduction.
func TestIntroCompiles(t *testing.T) {
	n := 0
	for _, m := range block.FindAllStringSubmatch(intro, -1) {
		n++
		_, msgs := read(t, m[1])
		for _, d := range msgs {
			t.Errorf("%s: %s %s", d.Code, d.Title, d.Detail)
		}
	}
	if n == 0 {
		t.Error("the introduction has no example")
	}
}
