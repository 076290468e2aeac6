// Package render prints a compiled job: books as PDF, drill templates as SVG and DXF, tables as CSV, and every number as JSON.
package render

import (
	"errors"
	"io"
	"strconv"
	"sync"

	"loomsheet/harness"
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

// errQuit ends a step whose files nobody takes any more.
var errQuit = errors.New("the books are not wanted any more")

// Books makes every file of a job and holds them all in memory; Each does not.
func Books(in export.Input) ([]File, error) {
	var lock sync.Mutex
	made := map[string]File{}
	names, err := Each(in, func(f File) error {
		f, err := f.held()
		lock.Lock()
		defer lock.Unlock()
		made[f.Name] = f
		return err
	})
	if err != nil {
		return nil, err
	}
	var out []File
	for _, n := range names {
		out = append(out, made[n])
	}
	return out, nil
}

// Each makes the files of a job, two at a time, hands each over as soon as it is there, two at once if it so happens, and then lets it go. The names that it
// gives are always in the same order, and the same input gives the same bytes. The bench book of a section is bench-SECTION.pdf, its name spelt so that it
// can be a file's name and no two books share a file. Errors: what to returned; a character that no face can draw, named.
func Each(in export.Input, to func(File) error) (names []string, err error) {
	return atOnce(steps(in), to)
}

// What needs the whole result is begun first, and what needs least of it last, so that most of a large job can be let go of on the way.
const (
	ofBench = iota
	ofShell
	ofAll
)

// steps is the work on each file, in the order in which they are named.
func steps(in export.Input) (out []step) {
	book := func(soon int, name string, make func() (*page.Doc, error)) step {
		return step{soon: soon, do: func(give func(File) error) error {
			doc, err := make()
			if doc == nil || err != nil {
				return err
			}
			data, err := pdf.Write(doc)
			if err != nil {
				return err
			}
			return give(File{Name: name, Data: data})
		}}
	}
	shop := only(in, harness.Result{Job: in.Job, Plan: in.Plan, Layup: in.Layup, Free: in.Free, Live: in.Live, Reels: in.Reels, Boards: in.Boards, Assembly: in.Assembly})
	var sections []string
	for _, s := range in.Plan.Sections {
		sections = append(sections, s.Name)
	}
	names := bookNames(sections)
	for i, name := range names {
		out = append(out, book(ofBench, "bench-"+name+".pdf", func() (*page.Doc, error) { return benchbook.Make(shop, sections[i]) }))
	}
	of := map[string][]layout.Board{}
	for _, b := range in.Boards {
		if len(b.Pieces) > 0 {
			of[b.Section] = append(of[b.Section], b)
		}
	}
	for i, name := range names {
		sec := &in.Plan.Sections[i]
		if mine := of[sec.Name]; len(mine) > 0 {
			out = append(out, step{soon: ofBench, do: func(give func(File) error) error { return boards(shop, mine, sec, name, give) }})
		}
	}
	volumes := func(soon int, name string, in export.Input, open func(export.Input) (*common.Book, error)) step { // of the whole job: each is let go before the next is drawn
		return step{soon: soon, do: func(give func(File) error) error {
			b, err := open(in)
			if err != nil {
				return err
			}
			return pdf.Volumes(b.Flow, b.Title, b.Day, b.Marks, b.Volumes, func(n int, data []byte) error {
				return give(File{Name: common.VolumeName(name, n) + ".pdf", Data: data})
			})
		}}
	}
	out = append(out, volumes(ofShell, "shell", only(in, harness.Result{Job: in.Job, Space: in.Space, Fixed: in.Fixed, Route: in.Route, Shell: in.Shell}), shellbook.Open))
	lid := only(in, harness.Result{Job: in.Job, Net: in.Net, Sizes: in.Sizes, Protect: in.Protect})
	out = append(out, book(ofShell, "lid.pdf", func() (*page.Doc, error) { return lidchart.Make(lid) })) // nil without fuses
	out = append(out, volumes(ofAll, "review", in, reviewbook.Open))
	return append(out, templates(only(in, harness.Result{Job: in.Job, Shell: in.Shell})), tables(in), numbers(in))
}

// only is a job with nothing but what a group of books is made from: the rest can be let go of before they are.
func only(in export.Input, r harness.Result) export.Input {
	r.Findings = in.Findings
	in.Result = &r
	return in
}

// tables is the tables as CSV.
func tables(in export.Input) step {
	return step{soon: ofAll, do: func(give func(File) error) error {
		return export.EachTable(in, func(name string, write func(io.Writer) error) error {
			return give(File{Name: "tables/" + name + ".csv", put: write})
		})
	}}
}

// numbers is harness.json, which is put together while it is written.
func numbers(in export.Input) step {
	return step{soon: ofAll, do: func(give func(File) error) error {
		return give(File{Name: "harness.json", put: func(w io.Writer) error { return export.Write(in, w) }})
	}}
}

// boards is the book of a section's board at full size, and a file for a plotter of each.
func boards(in export.Input, mine []layout.Board, sec *bench.SectionPlan, name string, give func(File) error) error {
	h := common.HeadOf(in)
	doc, err := board.Book(h.Frame(board.BookTitle, sec.Name), mine, sec).Doc(common.Title(board.BookTitle, sec.Name), h.Day())
	if err != nil {
		return err
	}
	data, err := pdf.Write(doc)
	if err != nil {
		return err
	}
	if err := give(File{Name: "board-" + name + ".pdf", Data: data}); err != nil {
		return err
	}
	for i := range mine {
		file := "boards/" + name
		if len(mine) > 1 {
			file += "." + strconv.Itoa(i+1)
		}
		if err := give(File{Name: file + ".svg", Data: board.SVG(&mine[i], sec, h.Stamp()...)}); err != nil {
			return err
		}
	}
	return nil
}

// templates is each drill template as SVG and as DXF. These files go about without a book, so each says what it was made from and whether
// it may be built from.
func templates(in export.Input) step {
	return step{soon: ofShell, do: func(give func(File) error) error {
		sheets := template.Make(in.Shell)
		var marks []string
		for _, t := range sheets {
			marks = append(marks, t.Mark)
		}
		stamp := common.HeadOf(in).Stamp()
		for i, name := range FileNames(marks) {
			d := sheets[i].Stamped(stamp...).Drawing
			if err := give(File{Name: "templates/" + name + ".svg", Data: d.SVG()}); err != nil {
				return err
			}
			if err := give(File{Name: "templates/" + name + ".dxf", Data: d.DXF()}); err != nil {
				return err
			}
		}
		return nil
	}}
}
