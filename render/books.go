// Package render prints a compiled job: books as PDF, drill templates as SVG and DXF, tables as CSV, and every number as JSON.
package render

import (
	"errors"
	"io"
	"strconv"
	"sync"
	"sync/atomic"

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

// steps is the work on each file, in the order in which they are named.
func steps(in export.Input) (out []step) {
	book := func(name string, make func() (*page.Doc, error)) {
		out = append(out, step{do: func(give func(File) error) error {
			doc, err := make()
			if doc == nil || err != nil {
				return err
			}
			data, err := pdf.Write(doc)
			if err != nil {
				return err
			}
			return give(File{Name: name, Data: data})
		}})
	}
	var sections []string
	for _, s := range in.Plan.Sections {
		sections = append(sections, s.Name)
	}
	names := bookNames(sections)
	for i, name := range names {
		book("bench-"+name+".pdf", func() (*page.Doc, error) { return benchbook.Make(in, sections[i]) })
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
			out = append(out, step{do: func(give func(File) error) error { return boards(in, mine, sec, name, give) }})
		}
	}
	volumes := func(name string, open func(export.Input) (*common.Book, error)) { // of the whole job: each is let go before the next is drawn
		out = append(out, step{first: true, do: func(give func(File) error) error {
			b, err := open(in)
			if err != nil {
				return err
			}
			return pdf.Volumes(b.Flow, b.Title, b.Day, b.Marks, b.Volumes, func(n int, data []byte) error {
				return give(File{Name: common.VolumeName(name, n) + ".pdf", Data: data})
			})
		}})
	}
	volumes("shell", shellbook.Open)
	book("lid.pdf", func() (*page.Doc, error) { return lidchart.Make(in) }) // nil without fuses
	review := len(out)
	volumes("review", reviewbook.Open)
	out = append(out, templates(in), tables(in), numbers(in))
	// The review book and the numbers ask how every load stands while any other starts; the others do not.
	var asking atomic.Int32
	for _, s := range []*step{&out[review], &out[len(out)-1]} {
		asking.Add(1)
		do := s.do
		s.do = func(give func(File) error) error {
			defer func() {
				if asking.Add(-1) == 0 {
					in.Forget()
				}
			}()
			return do(give)
		}
	}
	return out
}

// tables is the tables as CSV.
func tables(in export.Input) step {
	return step{do: func(give func(File) error) error {
		return export.EachTable(in, func(name string, pieces [][]byte) error {
			return give(File{Name: "tables/" + name + ".csv", put: func(w io.Writer) error {
				for _, p := range pieces {
					if _, err := w.Write(p); err != nil {
						return err
					}
				}
				return nil
			}})
		})
	}}
}

// numbers is harness.json, which is put together while it is written.
func numbers(in export.Input) step {
	return step{first: true, do: func(give func(File) error) error {
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
	return step{do: func(give func(File) error) error {
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
