package main

import (
	"testing"

	"loomsheet/render/benchbook"
)

// densePages is the most that the book of a section of 60 circuits may have; less than 30 is asked for, and some room is kept for what is still to be printed.
const densePages = 28

// The bench book of a dense section stays short enough to be carried to the bench, and its job meets every limit.
func TestDenseSection(t *testing.T) {
	j, err := open("../../testdata/dense/dense.loom", t.Output())
	if err != nil || j.Result == nil {
		t.Fatal(err, j)
	}
	for _, d := range j.messages() {
		t.Errorf("%s: %s", d.Code, d.Title)
	}
	for _, name := range []string{"loom", "far"} {
		d, err := benchbook.Make(j.input(), name)
		if err != nil {
			t.Fatal(err)
		}
		circuits := map[string]bool{}
		for _, w := range j.Net.Wires {
			if w.Section == name {
				circuits[w.Circuit] = true
			}
		}
		if len(circuits) < 60 {
			t.Errorf("section %s has %d circuits: it is not dense", name, len(circuits))
		}
		if n := len(d.Pages); n > densePages {
			t.Errorf("the bench book of section %s has %d pages, at most %d are asked for", name, n, densePages)
		}
	}
}
