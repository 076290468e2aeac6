package shellbook

import (
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// sectionsOf is the sections of the runs, in their order.
func sectionsOf(plan *body) []string {
	var out []string
	seen := map[string]bool{"": true}
	for i := range plan.Runs {
		if s := plan.Runs[i].Section; !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

// scene is what stands in a view.
type scene struct {
	job     *design.Job
	plan    *body
	part    bool   // of the runs listed alone, with the outlines of their panels and without hazards
	section string // of a part
	runs    []int
	whole   bool // only runs, connectors on panels and panels
	near    near // of a part
}

// near is what stands at each place of the job, breaks and devices by their index.
type near struct{ breaks, devices map[design.Point3][]int }

func nearOf(job *design.Job) near {
	n := near{map[design.Point3][]int{}, map[design.Point3][]int{}}
	for i := range job.Breaks {
		n.breaks[job.Breaks[i].At] = append(n.breaks[job.Breaks[i].At], i)
	}
	for i := range job.Devices {
		n.devices[job.Devices[i].At] = append(n.devices[job.Devices[i].At], i)
	}
	return n
}

// standing is what of a list of the job is drawn: all of it, or of a part what stands at the ends of its lines, in the order of the job.
func (s *scene) standing(all int, at map[design.Point3][]int, ends []design.Point3) []int {
	var out []int
	if !s.part {
		for i := range all {
			out = append(out, i)
		}
		return out
	}
	for _, p := range ends {
		out = append(out, at[p]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// marks is how many labels a view of it all would have.
func (s *scene) marks() int {
	n := len(s.job.Breaks) + len(s.job.Devices)
	for i := range s.plan.Runs {
		n += len(s.plan.Runs[i].Clips)
	}
	return n
}

// draw is the scene in a view.
func (s *scene) draw(v drawing.View) *drawing.Drawing {
	d := &drawing.Drawing{}
	at := func(p design.Point3) drawing.Place { return drawing.Project(v, p.X, p.Y, p.Z) }
	s.panels(d, at)
	if !s.part && !s.whole {
		s.hazards(d, at)
	}
	ends := s.lines(d, at)
	for _, i := range s.standing(len(s.job.Breaks), s.near.breaks, ends) {
		if b := s.job.Breaks[i]; b.Known {
			put(d, at(b.At), drawing.Square, b.Name, s.whole)
		}
	}
	for _, i := range s.standing(len(s.job.Devices), s.near.devices, ends) {
		if x := s.job.Devices[i]; x.Known && !x.Pattern && !s.whole {
			put(d, at(x.At), drawing.Dot, x.Name, true)
		}
	}
	d.Labels = together(d.Labels)
	return d
}

// samePlace is how near two places of a view are that bear one label.
const samePlace unit.Length = 1

// together joins the labels of one place, such as things that lie behind one another.
func together(in []drawing.Label) []drawing.Label {
	var out []drawing.Label
	var texts [][]string
	// Which of out lie in each square of samePlace: a label that is as near lies in the same square or beside it.
	type square struct{ x, y float64 }
	of := func(p drawing.Place) square {
		return square{math.Floor(float64(p.X / samePlace)), math.Floor(float64(p.Y / samePlace))}
	}
	squares := map[square][]int{}
	for _, l := range in {
		n, at := -1, of(l.At)
		for dx := -1.0; dx <= 1; dx++ {
			for dy := -1.0; dy <= 1; dy++ {
				for _, o := range squares[square{at.x + dx, at.y + dy}] {
					if (n < 0 || o < n) && abs(out[o].At.X-l.At.X) < samePlace && abs(out[o].At.Y-l.At.Y) < samePlace {
						n = o
					}
				}
			}
		}
		if n < 0 {
			squares[at] = append(squares[at], len(out))
			out, texts = append(out, l), append(texts, []string{l.Text})
			continue
		}
		if !slices.Contains(texts[n], l.Text) {
			texts[n] = append(texts[n], l.Text)
		}
		out[n].Small = out[n].Small && l.Small
	}
	for i := range out {
		out[i].Text = strings.Join(series(texts[i]), ", ")
	}
	return out
}

func put(d *drawing.Drawing, at drawing.Place, sign drawing.Sign, name string, small bool) {
	d.Spots = append(d.Spots, drawing.Spot{Layer: drawing.Mark, At: at, Sign: sign, Size: map[drawing.Sign]page.MM{drawing.Dot: 1.4, drawing.Circle: 1.8, drawing.Square: 3}[sign]})
	if name != "" {
		d.Labels = append(d.Labels, drawing.Label{At: at, Text: name, Free: true, Small: small})
	}
}

// lines draws the bundles with their clips, and tells the places along them.
func (s *scene) lines(d *drawing.Drawing, at func(design.Point3) drawing.Place) (ends []design.Point3) {
	of := s.runs
	if !s.part {
		of = make([]int, len(s.plan.Runs))
		for i := range of {
			of[i] = i
		}
	}
	for _, i := range of {
		r := &s.plan.Runs[i]
		var line []design.Point3
		before := len(d.Strokes)
		flush := func() {
			if len(line) > 1 {
				d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Run, Places: project(line, at)})
			}
			line = nil
		}
		for _, n := range r.Nodes {
			if !n.Known {
				flush()
				continue
			}
			line = append(line, n.At)
			ends = append(ends, n.At)
		}
		flush()
		if laid := s.plan.laid(i); len(laid) > 1 {
			d.Strokes = append(d.Strokes[:before], drawing.Stroke{Layer: drawing.Run, Places: project(laid, at)})
		}
		for k := range r.Clips {
			if c := &r.Clips[k]; c.Known && !s.whole {
				put(d, at(c.At), drawing.Circle, c.Mark, true)
			}
		}
	}
	return ends
}

// chord is the turn that one straight piece of a drawn arc stands for.
const chord unit.Angle = 10

// laid is the places along a stretch as it lies, arcs in chords; empty where its way is not known.
func (b *body) laid(run int) []design.Point3 {
	if run >= len(b.Ways) || len(b.Ways[run]) == 0 {
		return nil
	}
	way, out, station := b.Ways[run], []design.Point3(nil), unit.Length(0)
	for i := range way {
		n := 1
		if way[i].Radius > 0 && unit.Finite(way[i].Turn) {
			n = min(36, 1+int(abs(unit.Length(way[i].Turn))/unit.Length(chord)))
		}
		for k := range n {
			p, _ := way.At(station + way[i].Length*unit.Length(k)/unit.Length(n))
			out = append(out, p)
		}
		station += way[i].Length
	}
	return append(out, way[len(way)-1].To)
}

func project(ps []design.Point3, at func(design.Point3) drawing.Place) []drawing.Place {
	out := make([]drawing.Place, 0, len(ps))
	for _, p := range ps {
		out = append(out, at(p))
	}
	return out
}

// panels draws the sheets by their outlines.
func (s *scene) panels(d *drawing.Drawing, at func(design.Point3) drawing.Place) {
	held := map[string]bool{}
	for _, i := range s.runs {
		held[s.plan.Runs[i].Panel] = true
	}
	for _, p := range s.plan.Shell.Panels {
		if len(p.Outline) < 3 || s.part && (!held[p.Name] || len(held) > 1) {
			continue
		}
		var ps []drawing.Place
		for _, f := range p.Outline {
			ps = append(ps, at(p.Plane.Space(f)))
		}
		d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Outline, Places: ps, Closed: true})
		if s.part {
			continue // its title names it
		}
		m, _ := middle(p.Outline)
		d.Labels = append(d.Labels, drawing.Label{At: at(p.Plane.Space(solid.Flat{U: m.X, V: m.Y})), Text: "panel " + p.Name, Free: true, Small: true})
	}
}

// hazards draws what to keep away from, in each of its positions.
func (s *scene) hazards(d *drawing.Drawing, at func(design.Point3) drawing.Place) {
	for _, h := range s.job.Hazards {
		for k, shape := range h.Shapes {
			if len(shape.Points) == 0 {
				continue
			}
			name := h.Name
			if shape.Position != "" {
				name += ", " + shape.Position
			}
			if k == 0 || shape.Position != "" {
				d.Labels = append(d.Labels, drawing.Label{At: at(shape.Points[0]), Text: name, Free: true, Small: true})
			}
			if shape.Box && len(shape.Points) > 1 {
				for _, e := range boxEdges(shape.Points[0], shape.Points[1]) {
					d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Keep, Places: project(e[:], at)})
				}
				continue
			}
			d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Keep, Places: project(shape.Points, at)})
		}
	}
}

// boxEdges is the twelve edges of a box between two opposite corners.
func boxEdges(a, b design.Point3) [][2]design.Point3 {
	pick := func(i int) design.Point3 {
		p := a
		for bit, set := range []*unit.Length{&p.X, &p.Y, &p.Z} {
			if i>>bit&1 == 1 {
				*set = [3]unit.Length{b.X, b.Y, b.Z}[bit]
			}
		}
		return p
	}
	var out [][2]design.Point3
	for i := range 8 {
		for bit := range 3 {
			if i>>bit&1 == 0 {
				out = append(out, [2]design.Point3{pick(i), pick(i | 1<<bit)})
			}
		}
	}
	return out
}
