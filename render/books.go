// Package render prints a compiled job: books as PDF, drill templates as SVG and DXF, tables as CSV, and every number as JSON.
package render

import (
	"strconv"

	"loomsheet/harness/bench"
	layout "loomsheet/harness/board"
	"loomsheet/render/benchbook"
	"loomsheet/render/board"
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
	for i, name := range bookNames(sections) {
		files, err := boards(in, &in.Plan.Sections[i], name)
		if err != nil {
			return nil, err
		}
		out = append(out, files...)
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

// boards is the book of a section's board at full size, and a file for a plotter of each; none where nothing is laid.
func boards(in export.Input, sec *bench.SectionPlan, name string) ([]File, error) {
	var mine []layout.Board
	for _, b := range in.Boards {
		if b.Section == sec.Name && len(b.Pieces) > 0 {
			mine = append(mine, b)
		}
	}
	if len(mine) == 0 {
		return nil, nil
	}
	h := common.HeadOf(in)
	doc, err := board.Book(h.Frame(board.BookTitle, sec.Name), mine, sec).Doc(common.Title(board.BookTitle, sec.Name), h.Day())
	if err != nil {
		return nil, err
	}
	data, err := pdf.Write(doc)
	if err != nil {
		return nil, err
	}
	out := []File{{"board-" + name + ".pdf", data}}
	for i := range mine {
		file := "boards/" + name
		if len(mine) > 1 {
			file += "." + strconv.Itoa(i+1)
		}
		out = append(out, File{file + ".svg", board.SVG(&mine[i], sec, h.Stamp()...)})
	}
	return out, nil
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
	stamp := h.Stamp()
	var out []File
	for i, name := range FileNames(marks) {
		d := sheets[i].Stamped(stamp...).Drawing
		out = append(out, File{"templates/" + name + ".svg", d.SVG()}, File{"templates/" + name + ".dxf", d.DXF()})
	}
	return out
}
