package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"loomsheet/render/page"
)

// A book in one volume is the file that Write makes of it; in several, each page is in one of them and says which.
func TestVolumes(t *testing.T) {
	doc := demoDoc(t)
	whole, err := Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	for _, most := range []int{1000, 3} {
		fl := demo()
		marks, err := fl.Marks()
		if err != nil {
			t.Fatal(err)
		}
		volumes := page.Volumes(marks, len(fl.Sheets()), most)
		var files [][]byte
		err = Volumes(fl, "Roadster: demo", time.Time{}, marks, volumes, func(n int, data []byte) error {
			if n != len(files) {
				t.Errorf("volume %d comes after %d", n, len(files))
			}
			files = append(files, data)
			return nil
		})
		if err != nil || len(files) != len(volumes) {
			t.Fatalf("%v, %d files for %v", err, len(files), volumes)
		}
		if most == 1000 {
			if len(files) != 1 || !bytes.Equal(files[0], whole) {
				t.Error("one volume is not the book")
			}
			continue
		}
		if len(files) < 2 {
			t.Fatalf("%d pages make no volumes", len(doc.Pages))
		}
		for i, v := range volumes {
			if want := fmt.Sprintf("/Count %d\n", v.To-v.From); !bytes.Contains(files[i], []byte(want)) {
				t.Errorf("volume %d of %v has no %q", i+1, v, want)
			}
		}
		tool := need(t, "pdftotext")
		for i, v := range volumes {
			text := run(t, tool, save(t, files[i]), "-")
			for n := v.From; n < v.To; n++ {
				for _, want := range []string{fmt.Sprintf("page %d of %d", n+1, len(doc.Pages)), fmt.Sprintf("volume %d of %d", i+1, len(volumes))} {
					if !strings.Contains(text, want) {
						t.Errorf("volume %d says nowhere %q", i+1, want)
					}
				}
			}
		}
	}
}
