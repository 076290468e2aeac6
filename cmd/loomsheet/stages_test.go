package main

import (
	"io"
	"path"
	"path/filepath"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render"
)

func read(t testing.TB, name string) *design.Job {
	t.Helper()
	declared, _, said := resolve.Job(path.Base(exampleFiles[name]), func(p string) ([]byte, error) {
		return readFile(filepath.Join(filepath.Dir(exampleFiles[name]), p))
	}, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatal(said)
	}
	return declared
}

// BenchmarkStages times each stage on the car: reading its text, each stage of the compiler by its name, and the books.
func BenchmarkStages(b *testing.B) {
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			read(b, "rook")
		}
	})
	r := &harness.Result{Declared: read(b, "rook")}
	for _, s := range harness.Stages {
		b.Run(s.Name, func(b *testing.B) {
			for b.Loop() {
				s.Run(r)
			}
		})
		s.Run(r)
	}
	j, err := open(exampleFiles["rook"], io.Discard)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("books", func(b *testing.B) {
		for b.Loop() {
			if _, err := render.Books(j.input()); err != nil {
				b.Fatal(err)
			}
		}
	})
}
