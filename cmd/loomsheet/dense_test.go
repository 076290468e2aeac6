package main

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/unit"
	"loomsheet/render/benchbook"
	"loomsheet/render/export"
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
		// what is measured and how the layers lie stand on paper as in harness.json
		paper, doc := strings.Split(d.Text(), "\n"), export.Make(j.input())
		holds := func(words ...string) {
			t.Helper()
			if !slices.ContainsFunc(paper, func(l string) bool {
				return !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(strings.Fields(l), w) })
			}) {
				t.Errorf("bench book of %s: no line with %q", name, words)
			}
		}
		rings, layers, pegs := 0, 0, 0
		for _, r := range doc.Bench.Rings {
			if r.Section == name {
				rings++
				holds(unit.Number(float64(r.MostMOhm), 1))
			}
		}
		for _, l := range doc.Bench.Layers {
			if l.Section == name && l.LayMM > 0 {
				layers++
				holds(unit.Number(float64(l.LayMM), 0), l.Hand)
			}
		}
		for _, p := range doc.Bench.Pegs {
			if p.Section == name {
				pegs++
				holds(unit.Number(float64(p.XMM), 0), unit.Number(float64(p.YMM), 0))
			}
		}
		if rings < 60 || layers == 0 || pegs == 0 {
			t.Errorf("section %s: %d rings, %d layers, %d pegs in harness.json", name, rings, layers, pegs)
		}
		if n := len(d.Pages); n > densePages {
			t.Errorf("the bench book of section %s has %d pages, at most %d are asked for", name, n, densePages)
		}
	}
}
