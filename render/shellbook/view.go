package shellbook

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/shell"
	"loomsheet/harness/solve"
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
	lay         *drawing.Layout // of a whole page until the pages are made
}

// A job with more marks than this gets views of the whole with runs, connectors and panels alone, and views of parts for the rest.
const (
	fewMarks = 60
	small2   = 14 // so few that two views share a page
)

// A view is legible with no more labels than these in its key and beyond it, at a scale not much smaller than that of its bare lines.
const (
	fewNumbered = 8
	fewLost     = 2
	halfAgain   = 2
)

var flatKinds = []drawing.Kind{drawing.Plan, drawing.Side, drawing.Front}

// views lays out the pages of views: of the whole job, an isometric, and where there is much, of each section in as many parts as make it legible.
func views(h common.Head, job *design.Job, plan *body) []sheet {
	if len(plan.Runs) == 0 {
		return nil
	}
	stand := drawing.View{Up: drawing.AxisOf(job.Up), Along: drawing.AxisOf(shell.Along(job, plan.Shell.Panels))}
	all := scene{job: job, plan: plan}
	split := all.marks() > fewMarks
	all.whole = split
	var shots []shot
	for _, k := range append(slices.Clone(flatKinds), drawing.Isometric) {
		v := stand
		v.Kind = k
		d := all.draw(v)
		if _, _, ok := d.Bounds(); !ok {
			continue
		}
		text := v.Note()
		if split {
			text += " Clips and devices stand on the views of the sections."
		}
		shots = append(shots, shot{level: 2, title: v.Name(), text: text, drawing: d})
	}
	if split {
		room := landscape(h).Body()
		room.H -= viewHead
		names := sectionsOf(plan)
		runs := map[string][]int{}
		for i := range plan.Runs {
			s := plan.Runs[i].Section
			runs[s] = append(runs[s], i)
		}
		parts := make([][]shot, len(names))
		near := nearOf(job)
		solve.Each(len(names), func(i int) {
			s := scene{job: job, plan: plan, near: near, section: names[i], part: true, runs: runs[names[i]]}
			parts[i] = partShots(s, "Section "+names[i], stand, room)
		})
		for _, p := range parts {
			shots = append(shots, p...)
		}
	}
	return pages(h, shots)
}

// partShots are the views of a part of the job: one where that is legible, else those of its own parts.
func partShots(s scene, title string, stand drawing.View, room page.Box) []shot {
	v, d := s.widest(stand)
	if d == nil || len(d.Labels) == 0 {
		return nil
	}
	if lay := legible(d, room); lay != nil {
		return []shot{{level: 3, title: title + ": " + lower(v.Name()), text: v.Note(), drawing: d, lay: lay}}
	}
	parts, names := s.split()
	if len(parts) < 2 {
		return []shot{{level: 3, title: title + ": " + lower(v.Name()), text: v.Note(), drawing: d}}
	}
	var out []shot
	for i := range parts {
		out = append(out, partShots(parts[i], "Section "+s.section+names[i], stand, room)...)
	}
	return out
}

// legible is the layout of a drawing in a room, nil where it is not legible there.
func legible(d *drawing.Drawing, room page.Box) *drawing.Layout {
	bare := *d
	bare.Labels = nil
	l := d.LayWithin(room.W, room.H, drawing.Bounded{Scale: halfAgain * bare.First(room.W, room.H), Rows: fewLost + fewNumbered})
	if l == nil || len(l.Rest) > fewLost || l.Numbered() > fewNumbered {
		return nil
	}
	return l
}

// split parts a scene by what its runs lie on, else into two halves of its runs; nothing to part is one. The names say what each part is.
func (s *scene) split() (parts []scene, names []string) {
	on := func(i int) string {
		switch r := &s.plan.Runs[i]; {
		case r.Panel != "":
			return ", on panel " + r.Panel
		case r.Tube != "":
			return ", on tube " + r.Tube
		}
		return ", on no panel"
	}
	for _, i := range s.runs {
		k := slices.Index(names, on(i))
		if k < 0 {
			k, names = len(names), append(names, on(i))
			parts = append(parts, scene{job: s.job, plan: s.plan, near: s.near, section: s.section, part: true})
		}
		parts[k].runs = append(parts[k].runs, i)
	}
	if len(parts) > 1 || len(s.runs) < 2 {
		return parts, names
	}
	half := len(s.runs) / 2
	parts, names = nil, nil
	for _, runs := range [][]int{s.runs[:half], s.runs[half:]} {
		var said []string
		for _, i := range runs {
			if r := s.plan.Runs[i].Run; !slices.Contains(said, r) {
				said = append(said, r)
			}
		}
		name := on(runs[0]) + ", run " + said[0]
		if n := len(said); n > 1 {
			name = on(runs[0]) + ", runs " + said[0] + " to " + said[n-1]
		}
		parts, names = append(parts, scene{job: s.job, plan: s.plan, near: s.near, section: s.section, part: true, runs: runs}), append(names, name)
	}
	return parts, names
}

// widest is the flat view in which a scene takes most room.
func (s *scene) widest(stand drawing.View) (drawing.View, *drawing.Drawing) {
	best, most := stand, (*drawing.Drawing)(nil)
	area := unit.Area(-1)
	for _, k := range flatKinds {
		v := stand
		v.Kind = k
		d := s.draw(v)
		low, high, _ := d.Bounds()
		if a := unit.Area(float64(high.X-low.X) * float64(high.Y-low.Y)); most == nil || unit.Worse(a, area) {
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

// usualLines are the lines of words above a view that viewHead has room for.
const usualLines = 2

// pages puts views on pages, two of the small ones on one.
func pages(h common.Head, shots []shot) []sheet {
	var out []sheet
	for i := 0; i < len(shots); i++ {
		if i+1 < len(shots) && len(shots[i].drawing.Labels) <= small2 && len(shots[i+1].drawing.Labels) <= small2 {
			out = append(out, sheet{level: 3, title: shots[i].title + "; " + lower(shots[i+1].title), text: "Two views, each at its own scale.", shots: slices.Clone(shots[i : i+2])})
			i++
			continue
		}
		out = append(out, sheet{shots: shots[i : i+1 : i+1]})
	}
	solve.Each(len(out), func(i int) {
		room := landscape(h).Body()
		room.H -= viewHead
		if i == 0 {
			room.H -= firstHead
		}
		s := &out[i]
		if len(s.shots) > 1 {
			for k := range s.shots {
				s.shots[k].lay = s.shots[k].drawing.Lay((room.W-shotGap)/2, room.H-shotHead, 0)
			}
			return
		}
		one := &s.shots[0]
		if n := len(page.Body.Wrap("Scale 1:1000. "+one.text+" "+signText, room.W)); n > usualLines {
			room.H -= page.Body.Height(n - usualLines)
		}
		if one.lay == nil || one.lay.W != room.W || one.lay.H != room.H {
			one.lay = one.drawing.Lay(room.W, room.H, 0)
		}
		if text := restText(one.lay); text != "" { // what found no room stands on the same page
			one.lay = one.drawing.Lay(room.W, max(room.H/2, room.H-page.Body.Height(1+len(page.Body.Wrap(text, room.W)))), 0)
		}
		s.level, s.title, s.text = one.level, one.title, "Scale "+one.lay.Scale.String()+". "+one.text
	})
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
		common.Intro(fl, s.text+" "+signText)
		s.add(fl)
	}
	fl.SetFrame(h.Frame(Title, ""))
}

const signText = "A square is a connector or a stud post, a dot a device, a circle a clip; short dashes are what to keep away from, long ones with dots edges of panels."

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
