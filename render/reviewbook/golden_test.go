package reviewbook

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loomsheet/render/page"
)

var update = flag.Bool("update", false, "write the expected files anew")

func make1(t testing.TB) *page.Doc {
	t.Helper()
	doc, err := Make(tractor(same))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func compare(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range g {
		if i >= len(w) || g[i] != w[i] {
			old := "nothing"
			if i < len(w) {
				old = w[i]
			}
			t.Fatalf("%s differs at line %d:\n got %s\nwant %s", name, i+1, g[i], old)
		}
	}
	t.Fatalf("%s ends after %d lines, was %d", name, len(g), len(w))
}

// The words of the chapters that hold the figures, without the frame of their pages.
func TestTextGolden(t *testing.T) {
	doc := make1(t)
	from, to := -1, -1
	for _, m := range doc.Bookmarks {
		switch m.Title {
		case "Volts at the loads":
			from = m.Page
		case "Sources":
			to = m.Page
		}
	}
	if from < 0 || to < from {
		t.Fatalf("chapters on pages %d to %d", from, to)
	}
	var b strings.Builder
	for _, p := range doc.Pages[from:to] {
		lines := p.Lines()
		b.WriteString("----\n" + strings.Join(lines[1:len(lines)-2], "\n") + "\n")
	}
	compare(t, "book.txt", b.String())
}

// The primitives of the first ladder with its plot.
func TestLadderGolden(t *testing.T) {
	doc := make1(t)
	for _, m := range doc.Bookmarks {
		if strings.HasPrefix(m.Title, "Ladder 1:") {
			p := doc.Pages[m.Page]
			body := page.Page{Size: p.Size}
			for _, item := range p.Items {
				if b := item.Bounds(); b.Y > 20 && b.Bottom() < 275 {
					body.Items = append(body.Items, item)
				}
			}
			compare(t, "ladder.txt", (&page.Doc{Pages: []page.Page{body}}).Dump())
			return
		}
	}
	t.Fatal("there is no ladder")
}
