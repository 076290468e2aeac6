package shellbook

import (
	"loomsheet/harness/shell"
	"loomsheet/render/common"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
	"loomsheet/render/template"
)

// full is a template laid out at full size; small ones share a page.
type full struct {
	title string
	lays  []*drawing.Layout // none: it is too large for sheets
}

const (
	titleRoom page.MM = 22 // kept for the title of a template, which may take two lines
	leastFull page.MM = 60
	fullStep  page.MM = 6
)

// fulls lays out the templates of a shell.
func fulls(h common.Head, s *shell.Shell) []full {
	room := h.Frame(Title, "").Body()
	most := room.H - titleRoom
	var out []full
	for _, t := range template.Make(s) {
		f := full{title: t.Title}
		sheets := t.Sheets(room.W, most)
		for _, d := range sheets {
			f.lays = append(f.lays, trimmed(d, room.W, most))
		}
		out = append(out, f)
	}
	return out
}

// trimmed lays a drawing out at full size on the least height that loses nothing of it.
func trimmed(d *drawing.Drawing, w, most page.MM) *drawing.Layout {
	for h := leastFull; h < most; h += fullStep {
		if l := d.Lay(w, h, 1); l.Scale == 1 && len(l.Rest) == 0 {
			return l
		}
	}
	return d.Lay(w, most, 1)
}

// addTemplates puts the templates into the book, after a word on how to use them.
func addTemplates(fl *page.Flow, list []full) {
	if len(list) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Drill templates")
	common.Intro(fl, "At full size. Print without fitting to the page, and measure the bar of each with a steel rule before it is used: if it is off, the print is off. "+
		"Cut out, lay on the side that is named, the arrow up as told, and check two centres by tape against the list before paint. Heavy lines are cut, chains are centres, long dashes the flange.")
	for _, f := range list {
		if len(f.lays) == 0 {
			fl.Heading(3, f.title)
			fl.Para("It is too large for sheets of this size; use its SVG or DXF file.")
		}
		for i, l := range f.lays {
			fl.Together(func() {
				if i == 0 {
					fl.Heading(3, f.title)
				}
				fl.Figure(l.H, l.Draw)
				rest(fl, l)
			})
		}
	}
}
