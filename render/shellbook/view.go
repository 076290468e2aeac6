package shellbook

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// sheet is one page of the views, with one or two of them.
type sheet struct {
	level       int // of its heading
	title, text string
	shots       []shot
}

// shot is a view with what stands above it; laid out for its place on a page.
type shot struct {
	level       int
	title, text string
	drawing     *drawing.Drawing
	lay         *drawing.Layout
}

// How many labels of clips, breaks and devices one view bears. A job with more gets a view of each section besides, and the marks of
// clips and devices stand on those; a section with more has them on two.
const (
	fewMarks = 60
	small2   = 14 // so few that two views share a page
)

var flatKinds = []drawing.Kind{drawing.Plan, drawing.Side, drawing.Front}

// views lays out the pages of views: of the whole job, an isometric, and where there is much, of each section.
func views(h common.Head, job *design.Job, plan *body) []sheet {
	if len(plan.Runs) == 0 {
		return nil
	}
	up := drawing.AxisOf(job.Up)
	all := scene{job: job, plan: plan}
	split := all.marks() > fewMarks
	all.clips, all.devices = !split, !split
	var shots []shot
	for _, k := range append(slices.Clone(flatKinds), drawing.Isometric) {
		v := drawing.View{Kind: k, Up: up}
		d := all.draw(v)
		if _, _, ok := d.Bounds(); !ok {
			continue
		}
		text := v.Note()
		if split {
			text += " The marks of clips and devices stand on the views of the sections."
		}
		shots = append(shots, shot{level: 2, title: v.Name(), text: text, drawing: d})
	}
	if split {
		for _, name := range sectionsOf(plan) {
			shots = append(shots, sectionShots(scene{job: job, plan: plan, section: name}, up)...)
		}
	}
	return pages(h, shots)
}

// sectionShots are the views of one section: all its marks on one, or clips and devices apart.
func sectionShots(s scene, up drawing.Axis) []shot {
	s.clips, s.devices = true, true
	v, d := s.widest(up)
	title := "Section " + s.section
	if len(d.Labels) == 0 {
		return nil
	}
	if len(d.Labels) <= fewMarks {
		return []shot{{level: 3, title: title + ": " + lower(v.Name()), text: v.Note(), drawing: d}}
	}
	s.devices = false
	clips := s.draw(v)
	s.clips, s.devices = false, true
	return []shot{{level: 3, title: title + ", clips: " + lower(v.Name()), text: v.Note(), drawing: clips}, {level: 3, title: title + ", devices: " + lower(v.Name()), text: v.Note(), drawing: s.draw(v)}}
}

// widest is the flat view in which a scene takes most room.
func (s *scene) widest(up drawing.Axis) (drawing.View, *drawing.Drawing) {
	best, most := drawing.View{Up: up}, (*drawing.Drawing)(nil)
	area := unit.Area(-1)
	for _, k := range flatKinds {
		v := drawing.View{Kind: k, Up: up}
		d := s.draw(v)
		low, high, _ := d.Bounds()
		if a := unit.Area(float64(high.X-low.X) * float64(high.Y-low.Y)); most == nil || a > area {
			best, most, area = v, d, a
		}
	}
	return best, most
}

// Room on a page of views, above what is drawn.
const (
	viewHead  page.MM = 27
	firstHead page.MM = 9
	shotHead  page.MM = 14 // of each of two
	shotGap   page.MM = 8
)

// pages puts views on pages, two of the small ones on one.
func pages(h common.Head, shots []shot) []sheet {
	var out []sheet
	for i := 0; i < len(shots); i++ {
		room := landscape(h).Body()
		room.H -= viewHead
		if len(out) == 0 {
			room.H -= firstHead
		}
		if i+1 < len(shots) && len(shots[i].drawing.Labels) <= small2 && len(shots[i+1].drawing.Labels) <= small2 {
			pair := sheet{level: 3, title: shots[i].title + "; " + lower(shots[i+1].title), text: "Two views, each at its own scale.", shots: slices.Clone(shots[i : i+2])}
			for k := range pair.shots {
				pair.shots[k].lay = pair.shots[k].drawing.Lay((room.W-shotGap)/2, room.H-shotHead, 0)
			}
			out = append(out, pair)
			i++
			continue
		}
		one := shots[i]
		one.lay = one.drawing.Lay(room.W, room.H, 0)
		out = append(out, sheet{one.level, one.title, "Scale " + one.lay.Scale.String() + ". " + one.text, []shot{one}})
	}
	return out
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func landscape(h common.Head) page.Frame {
	f := h.Frame(Title, "")
	if f.Size == (page.Size{}) {
		f.Size = page.A4
	}
	f.Size = f.Size.Landscape()
	return f
}

// addViews puts the pages of views into the book.
func addViews(fl *page.Flow, h common.Head, list []sheet) {
	if len(list) == 0 {
		return
	}
	fl.SetFrame(landscape(h))
	fl.Heading(1, "Views")
	for i, s := range list {
		if i > 0 {
			fl.NewPage()
		}
		fl.Heading(s.level, s.title)
		common.Intro(fl, s.text+" A square is a connector or a stud post, a dot a device, a circle a clip; dashes are what to keep away from.")
		s.add(fl)
	}
	fl.SetFrame(h.Frame(Title, ""))
}

func (s sheet) add(fl *page.Flow) {
	if len(s.shots) == 1 {
		fl.Figure(s.shots[0].lay.H, s.shots[0].lay.Draw)
	} else {
		high := page.MM(0)
		for _, o := range s.shots {
			high = max(high, o.lay.H)
		}
		fl.Figure(high+shotHead, func(c *page.Canvas) {
			x := page.MM(0)
			for _, o := range s.shots {
				t := page.Strong
				c.Lines(page.Box{X: x, Y: 0, W: o.lay.W, H: shotHead}, t, page.Left, capped(t, o.title+". Scale "+o.lay.Scale.String(), o.lay.W))
				o.lay.Draw(c.Sub(page.Box{X: x, Y: shotHead, W: o.lay.W, H: o.lay.H}))
				x += o.lay.W + shotGap
			}
		})
	}
	for _, o := range s.shots {
		rest(fl, o.lay)
	}
}
