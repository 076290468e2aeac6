package pdf

import (
	"flag"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// The demo book as its primitives and as a reader meets it. PDF bytes are no golden: they change with the Go release.
func TestGolden(t *testing.T) {
	doc := demoDoc(t)
	for file, got := range map[string]string{"testdata/demo.txt": doc.Text(), "testdata/demo.dump": doc.Dump()} {
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s (-want +got):\n%s", file, d)
		}
	}
}
