package syntax

import (
	"os"
	"path/filepath"
	"testing"
)

func scenarios(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../../testdata/scenarios/*.loom")
	if err != nil || len(files) < 4 {
		t.Fatalf("scenarios: %v %v", files, err)
	}
	return files
}

func TestScenariosReadWithoutMessage(t *testing.T) {
	for _, f := range scenarios(t) {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		file, msgs := Parse(filepath.Base(f), text)
		for _, m := range msgs {
			t.Errorf("%s: %d %s: %s (%s)", f, m.Span.Start, m.Code, m.Title, text[m.Span.Start:m.Span.End])
		}
		if file.Broken || len(file.Lines) == 0 {
			t.Errorf("%s: broken %v, %d lines", f, file.Broken, len(file.Lines))
		}
	}
}
