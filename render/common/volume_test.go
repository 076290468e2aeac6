package common

import (
	"fmt"
	"strings"
	"testing"

	"loomsheet/render/page"
)

// The cover of a long book lists its volumes by the pages that they hold; that of a short one has no such list.
func TestCoverListsVolumes(t *testing.T) {
	defer func(n int) { mostPages = n }(mostPages)
	for _, mostPages = range []int{1000, 7} {
		h := Head{Job: "boat", Revision: "B", Digest: "0a1b"}
		b, err := Settle(h, "t", func(contents *Contents) (*page.Flow, error) {
			fl := page.NewFlow(h.Frame("Book", ""))
			h.Cover(fl, Cover{Book: "Book", What: "what it is", Chapters: true}, contents)
			for i := range 60 {
				if i%5 == 0 {
					fl.NewPage()
				}
				fl.Heading(1+i%2, fmt.Sprintf("Part %d", i))
				fl.Space(60)
				fl.Para("text")
			}
			return fl, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		d, err := b.Doc()
		if err != nil {
			t.Fatal(err)
		}
		text := d.Text()
		if mostPages == 1000 {
			if len(b.Volumes) != 1 || strings.Contains(text, "volumes") {
				t.Errorf("a short book has %v", b.Volumes)
			}
			continue
		}
		if len(b.Volumes) < 3 || b.Volumes[len(b.Volumes)-1].To != len(d.Pages) {
			t.Fatalf("%d pages, volumes %v", len(d.Pages), b.Volumes)
		}
		for _, v := range b.Volumes {
			if want := fmt.Sprintf("%d to %d", v.From+1, v.To); !strings.Contains(text, want) {
				t.Errorf("the cover has no %q:\n%.3000s", want, text)
			}
		}
	}
	if VolumeName("review", 0) != "review" || VolumeName("review", 2) != "review-3" {
		t.Error("names of volumes")
	}
}
