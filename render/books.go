// Package render prints a compiled job: books as PDF, drill templates as SVG and DXF, tables as CSV, and every number as JSON.
package render

import (
	"loomsheet/render/benchbook"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/lidchart"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
	"loomsheet/render/reviewbook"
	"loomsheet/render/shellbook"
	"loomsheet/render/template"
)

// File is one printed file, by its name within the folder of the books.
type File struct {
	Name string
	Data []byte
}

// Books makes every file of a job. The same input gives the same bytes. The bench book of a section is
// bench-SECTION.pdf, its name spelt so that it can be a file's name and no two books share a file. A character that no face can draw is an error that names it.
func Books(in export.Input) ([]File, error) {
	var out []File
	add := func(name string, doc *page.Doc, err error) error {
		if err != nil {
			return err
		}
		data, err := pdf.Write(doc)
		out = append(out, File{name, data})
		return err
	}
	var sections []string
	for _, s := range in.Plan.Sections {
		sections = append(sections, s.Name)
	}
	for i, name := range bookNames(sections) {
		doc, err := benchbook.Make(in, sections[i])
		if err := add("bench-"+name+".pdf", doc, err); err != nil {
			return nil, err
		}
	}
	doc, err := shellbook.Make(in)
	if err := add("shell.pdf", doc, err); err != nil {
		return nil, err
	}
	// A job without fuses has no chart.
	if doc, err = lidchart.Make(in); doc != nil || err != nil {
		if err := add("lid.pdf", doc, err); err != nil {
			return nil, err
		}
	}
	doc, err = reviewbook.Make(in)
	if err := add("review.pdf", doc, err); err != nil {
		return nil, err
	}
	out = append(out, templates(in)...)
	d := export.Make(in)
	for _, t := range d.Tables() {
		data, err := t.CSV()
		if err != nil {
			return nil, err
		}
		out = append(out, File{"tables/" + t.Name + ".csv", data})
	}
	data, err := d.JSON()
	return append(out, File{"harness.json", data}), err
}

// templates is each drill template as SVG and as DXF. These files go about without a book, so each says what it was made from and whether
// it may be built from.
func templates(in export.Input) []File {
	sheets := template.Make(in.Shell)
	var marks []string
	for _, t := range sheets {
		marks = append(marks, t.Mark)
	}
	h := common.HeadOf(in)
	frame := h.Frame("", "")
	stamp := []string{frame.Job + ", revision " + frame.Revision + ", source " + frame.Digest}
	if frame.Revision == "" {
		stamp[0] = frame.Job + ", source " + frame.Digest
	}
	if h.NotForBuild != "" {
		stamp = append(stamp, "NOT FOR BUILD: "+h.NotForBuild)
	}
	var out []File
	for i, name := range FileNames(marks) {
		d := sheets[i].Stamped(stamp...).Drawing
		out = append(out, File{"templates/" + name + ".svg", d.SVG()}, File{"templates/" + name + ".dxf", d.DXF()})
	}
	return out
}
