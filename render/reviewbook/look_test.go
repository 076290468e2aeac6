package reviewbook

import (
	"os"
	"testing"

	"loomsheet/render/pdf"
)

// With LOOMSHEET_LOOK set to a file, the book of the fixture is left there to be looked at.
func TestLook(t *testing.T) {
	doc, err := Make(tractor(same))
	if err != nil {
		t.Fatal(err)
	}
	out, err := pdf.Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	if file := os.Getenv("LOOMSHEET_LOOK"); file != "" {
		if err := os.WriteFile(file, out, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
