package board

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"loomsheet/harness"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
)

func compiled(t testing.TB, path string) *harness.Result {
	t.Helper()
	dir := filepath.Dir(path)
	job, _, text := resolve.Job(filepath.Base(path), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }, parts.Files(), rule.Keys())
	if text.HasMistakes() {
		t.Fatal(text)
	}
	return harness.Compile(job)
}

// With LOOMSHEET_LOOK set to a folder, the pages of a real job are left there to be looked at.
func TestLook(t *testing.T) {
	folder, job := os.Getenv("LOOMSHEET_LOOK"), os.Getenv("LOOMSHEET_JOB")
	if folder == "" || job == "" {
		t.Skip()
	}
	r := compiled(t, job)
	frame := page.Frame{Job: r.Job.Title, Revision: r.Job.Revision, Digest: "0123456789ab"}
	for i := range r.Plan.Sections {
		sec := &r.Plan.Sections[i]
		fl := page.NewFlow(frame)
		fl.Para("bench book")
		Add(fl, frame, r.Boards, sec)
		doc, err := fl.Doc("look", time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		data, err := pdf.Write(doc)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, "over-"+sec.Name+".pdf"), data, 0o644); err != nil {
			t.Fatal(err)
		}
		doc, err = Book(frame, r.Boards, sec).Doc("look", time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		if data, err = pdf.Write(doc); err != nil {
			t.Fatal(err)
		}
		t.Log(sec.Name, len(doc.Pages), "pages at full size")
		if err := os.WriteFile(filepath.Join(folder, "full-"+sec.Name+".pdf"), data, 0o644); err != nil {
			t.Fatal(err)
		}
		for k := range r.Boards {
			if b := &r.Boards[k]; b.Section == sec.Name {
				if err := os.WriteFile(filepath.Join(folder, b.Section+".svg"), SVG(b, sec, "look"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}
