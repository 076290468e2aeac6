package main

import (
	"fmt"
	"math/rand/v2"
	"path"
	"path/filepath"
	"reflect"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/syntax"
	"loomsheet/render"
)

// spread is an example whose statements lie in several files, in any order, the lines that include these among them in any order and in any of
// those read before; but its spans are as if they were where they had been.
func spread(t *testing.T, file string, seed uint64) *job {
	t.Helper()
	text := contents(t, file)
	main := path.Base(filepath.ToSlash(file))
	shape, msgs := syntax.Parse(main, text)
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	r := rand.New(rand.NewPCG(2, seed))
	names := []string{main, "zz.loom", "parts/of it.loom", "a.loom"}
	r.Shuffle(len(names)-1, func(i, k int) { names[i+1], names[k+1] = names[k+1], names[i+1] })
	lines := make([][]*syntax.Line, len(names))
	for _, l := range shape.Lines {
		if l.Word.Text == "include" {
			t.Fatal("the example has files of its own")
		}
		k := r.IntN(len(names))
		lines[k] = append(lines[k], l)
	}
	files, moved := map[string][]byte{}, map[string]*shuffler{}
	for k, name := range names {
		s := &shuffler{r: r, text: string(text), into: main}
		var include []string
		for n := 1; n < len(names); n++ { // each is asked for by the one before it, and maybe by others
			if n == k+1 || n != k && r.IntN(3) == 0 {
				include = append(include, names[n])
			}
		}
		r.Shuffle(len(include), func(i, k int) { include[i], include[k] = include[k], include[i] })
		half := len(lines[k]) / 2
		s.lines(lines[k][:half], false, "")
		for _, n := range include {
			fmt.Fprintf(&s.out, "include %q\n", n)
		}
		s.lines(lines[k][half:], false, "")
		files[name], moved[name] = []byte(s.out.String()), s
	}
	load := func(p string) ([]byte, error) {
		if files[p] == nil {
			return nil, fmt.Errorf("%s is asked for", p)
		}
		return files[p], nil
	}
	declared, sources, said := resolve.Job(main, load, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatalf("%s: %+v", file, said)
	}
	for _, name := range names { // the main file first: what comes back from the others is in it
		seen := map[uintptr]bool{}
		moved[name].back(reflect.ValueOf(&declared).Elem(), name, seen)
		moved[name].back(reflect.ValueOf(&said).Elem(), name, seen)
	}
	said.Sort()
	kept := sources.Files[:0]
	for _, f := range sources.Files {
		switch {
		case f.Name == main:
			kept = append(kept, resolve.Source{Name: main, Text: string(text)})
		case f.Library:
			kept = append(kept, f)
		}
	}
	if len(kept) != len(sources.Files)-len(names)+1 {
		t.Fatalf("%d files were read, %d are kept", len(sources.Files), len(kept))
	}
	sources.Files = kept
	return &job{Sources: sources, Text: said, Result: harness.Compile(declared)}
}

// In which files the statements stand, and in which order these are included, shows nowhere but in file and line and in the digest of the text.
func TestFilesShowNowhere(t *testing.T) {
	want := example(t, "mended")
	for seed := range uint64(2) {
		j := spread(t, exampleFiles["mended"], seed)
		files, err := render.Books(j.input())
		if err != nil {
			t.Fatal(err)
		}
		says(t, want, j, files, fmt.Sprint(seed))
	}
}
