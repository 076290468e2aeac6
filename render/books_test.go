package render

import (
	"bytes"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
	"loomsheet/render/benchbook"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/lidchart"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
	"loomsheet/render/shellbook"
)

// A book that is made from part of the result is what it would be from all of it.
func TestBooksNeedNoMoreThanTheyGet(t *testing.T) {
	text := trial.Text(7, 60)
	job, read, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatal(said)
	}
	in := export.Input{Result: harness.Compile(job), Digest: read.Digest()[:12], Locate: func(diag.Span) string { return "here" }}
	in.Messages = in.Findings
	files, err := Books(in)
	if err != nil {
		t.Fatal(err)
	}
	made := map[string][]byte{}
	for _, f := range files {
		made[f.Name] = f.Data
	}
	compared := 0
	same := func(name string, want []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if compared++; !bytes.Equal(made[name], want) {
			t.Errorf("%s is another from the whole result: %d bytes, %d", name, len(made[name]), len(want))
		}
	}
	written := func(name string, doc *page.Doc, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		data, err := pdf.Write(doc)
		same(name, data, err)
	}
	for i := range in.Plan.Sections {
		s := &in.Plan.Sections[i]
		doc, err := benchbook.Make(in, s.Name)
		written("bench-"+bookNames([]string{s.Name})[0]+".pdf", doc, err)
	}
	doc, err := lidchart.Make(in)
	written("lid.pdf", doc, err)
	b, err := shellbook.Open(in)
	if err != nil {
		t.Fatal(err)
	}
	err = pdf.Volumes(b.Flow, b.Title, b.Day, b.Marks, b.Volumes, func(n int, data []byte) error {
		same(common.VolumeName("shell", n)+".pdf", data, nil)
		return nil
	})
	if err != nil || compared < 4 {
		t.Errorf("%v, %d books compared", err, compared)
	}
}
