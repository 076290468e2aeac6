package main

import (
	"io"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
	"weak"

	"loomsheet/render"
)

// While boards are drawn, what was solved and the net are in use no more: they are held for the books that need them only.
func TestBooksLetGoOfTheResult(t *testing.T) {
	j, err := open(exampleFiles["rook"], io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	before := j.verdict()
	in := j.input()
	gone := map[string]func() bool{
		"a case": held(in.Cases[0]), "heat": held(in.Heat), "protection": held(in.Protect), "the net": held(in.Net), "the shell": held(in.Shell),
		"the geometry": held(in.Space), "fixed ways": held(in.Fixed),
	}
	runtime.GC()
	for what, held := range gone {
		if !held() {
			t.Fatalf("%s is gone before the books", what)
		}
	}
	j.letGo()
	var wait sync.WaitGroup // for the books of the whole job
	wait.Add(len(early))
	looked := 0
	names, err := render.Each(in, func(f render.File) error {
		for _, name := range early {
			if f.Name == name {
				wait.Done()
			}
		}
		if !strings.HasPrefix(f.Name, "boards/") {
			return nil
		}
		wait.Wait()
		for what, held := range gone {
			for end := time.Now().Add(time.Minute); held() && time.Now().Before(end); runtime.GC() {
			}
			if held() {
				t.Errorf("%s: %s is held", f.Name, what)
			}
		}
		looked++
		return nil
	})
	if err != nil || looked == 0 || len(names) == 0 {
		t.Errorf("%v, %d boards of %d files", err, looked, len(names))
	}
	if got := j.verdict(); got != before {
		t.Errorf("%q is told after the books, %q before", got, before)
	}
}

// build itself holds no more of the result than what it tells at the end.
func TestBuildLetsGo(t *testing.T) {
	j, err := open(exampleFiles["mended"], io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	said, findings := j.verdict(), len(j.Findings)
	cases := held(j.Cases[0])
	if _, err := j.write(filepath.Join(t.TempDir(), "books"), io.Discard); err != nil {
		t.Fatal(err)
	}
	for end := time.Now().Add(time.Minute); cases() && time.Now().Before(end); runtime.GC() {
	}
	if cases() || j.Net != nil || len(j.Findings) != findings || j.verdict() != said {
		t.Errorf("cases %v, %d findings, %q", cases(), len(j.Findings), j.verdict())
	}
}

// early are files of the steps that need the whole result or what is known of the shell.
var early = []string{"review.pdf", "harness.json", "tables/wires.csv", "shell.pdf", "lid.pdf"}

// held tells whether a value is still in use.
func held[T any](x *T) func() bool {
	w := weak.Make(x)
	return func() bool { return w.Value() != nil }
}
