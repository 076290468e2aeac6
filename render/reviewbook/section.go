package reviewbook

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/heat"
	"loomsheet/harness/pack"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

const (
	mostSections         = 12
	mostListed           = 14 // wires in the list beside a drawing
	sectionW     page.MM = 62
	sectionH     page.MM = 66
)

// heatStep is one step of the share that a wire uses of the rise its limit leaves it. Grey and hatch both get denser, so that a print without
// colour reads the same.
type heatStep struct {
	below float64
	words string
	fill  page.Ink
	hatch page.MM // between the lines; 0 none
	cross bool
}

var heatSteps = []heatStep{
	{0.25, "below 25 %", page.RGB(255, 255, 255), 0, false},
	{0.50, "25 to 50 %", page.RGB(255, 238, 180), 2.2, false},
	{0.75, "50 to 75 %", page.RGB(250, 200, 110), 1.3, false},
	{1.0001, "75 to 100 %", page.RGB(232, 140, 80), 1.5, true},
	{math.Inf(1), "above: limit not met", page.RGB(190, 60, 45), 0.8, true},
}

var sectionHatch = page.Style{Line: page.RGB(30, 30, 30), Width: 0.15}

// strand is a wire in a cross-section.
type strand struct {
	wire  int
	amps  unit.Current
	temp  unit.Temperature
	limit unit.Temperature
	share float64 // of the rise from the air to the limit; less than none: not known
}

// section is the worst place of a run over all cases.
type section struct {
	run, place string
	in         *heat.BundleResult
	strands    []strand // most used first
	drawn      []int    // of the strands, those with a diameter
	at         []pack.Circle
	outside    unit.Length
}

// bundleSections is the worst place and case of each run with two or more wires, the most used first.
func (b *book) bundleSections() (out []section) {
	if b.in.Heat == nil || b.in.Space == nil {
		return nil
	}
	at := map[string]int{}
	for _, c := range b.in.Heat.Bundles {
		for i := range c.Bundles {
			r := &c.Bundles[i]
			if r.Edge < 0 || r.Edge >= len(b.in.Space.Edges) || len(r.Wires) < 2 || len(r.Temps) != len(r.Wires) || len(r.Amps) != len(r.Wires) {
				continue
			}
			e := &b.in.Space.Edges[r.Edge]
			s := section{run: e.Run, in: r, place: "case " + c.Case + ", " + metres(e.Station) + " to " + metres(e.Station+e.Length) + " m along"}
			for k, w := range r.Wires {
				s.strands = append(s.strands, b.strand(r, k, w))
			}
			slices.SortStableFunc(s.strands, func(x, y strand) int { return unit.Compare(y.share, x.share) })
			k, seen := at[e.Run]
			switch {
			case !seen:
				at[e.Run] = len(out)
				out = append(out, s)
			case unit.Worse(s.strands[0].share, out[k].strands[0].share):
				out[k] = s
			}
		}
	}
	slices.SortStableFunc(out, func(x, y section) int { return unit.Compare(y.strands[0].share, x.strands[0].share) })
	out = out[:min(len(out), mostSections+1)] // one more, to know that there are more
	for i := range out {
		out[i].pack(b)
	}
	return out
}

func (s *section) pack(b *book) {
	var diameters []unit.Length
	for k := range s.strands {
		if d := b.conductor(s.strands[k].wire).Outside; d > 0 {
			diameters, s.drawn = append(diameters, d), append(s.drawn, k)
		}
	}
	s.at, s.outside = pack.Circles(diameters)
}

func (b *book) strand(r *heat.BundleResult, k, wire int) strand {
	s := strand{wire: wire, amps: r.Amps[k], temp: r.Temps[k], share: -1}
	if wire < 0 || wire >= len(b.in.Heat.Wires) || !b.in.Heat.Wires[wire].Known {
		return s
	}
	s.limit = b.in.Heat.Wires[wire].Limit
	switch room := float64(s.limit - r.Ambient); {
	case room > 0:
		s.share = max(float64(s.temp-r.Ambient)/room, 0)
	case s.temp > s.limit:
		s.share = math.MaxFloat64
	default:
		s.share = 1
	}
	return s
}

func stepOf(share float64) *heatStep {
	for i := range heatSteps {
		if share < heatSteps[i].below {
			return &heatSteps[i]
		}
	}
	return &heatSteps[len(heatSteps)-1]
}

// crossSections draws the hottest bundles.
func (b *book) crossSections(fl *page.Flow) {
	all := b.sections
	if len(all) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Bundle cross-sections")
	s := "Each run at its worst place and case"
	if len(all) > mostSections {
		s += ", the " + strconv.Itoa(mostSections) + " runs that use most"
		all = all[:mostSections]
	}
	fl.Say(prose, s+". Shade and hatch say how much of the rise from the air to its limit a wire uses. Wires are to scale and packed as tightly as they were found to go; "+
		"where each really lies in its bundle is not known, and the heat balance takes each conductor at the middle, in a bundle of the diameter printed below the drawing, its sleeve with it. "+
		"A is the steady current that heats like the wire's duty.")
	fl.Figure(8, drawSectionKey)
	for i := range all {
		x := &all[i]
		fl.Together(func() {
			fl.Heading(3, "Run "+x.run+", "+x.place)
			fl.Figure(sectionH, func(c *page.Canvas) { b.drawSection(c, x) })
		})
	}
}

func drawSectionKey(c *page.Canvas) {
	x := page.MM(3)
	for i := range heatSteps {
		drawStrand(c, x, 4, 2.8, &heatSteps[i])
		x += 4
		c.Text(x, 5.2, powerText, heatSteps[i].words)
		x += powerText.Width(heatSteps[i].words) + 7
	}
}

// drawStrand is a circle with the shade and hatch of its step.
func drawStrand(c *page.Canvas, x, y, r page.MM, s *heatStep) {
	c.Circle(x, y, r, page.Style{Fill: s.fill})
	if s.hatch > 0 {
		hatch(c, x, y, r, s.hatch, 1)
		if s.cross {
			hatch(c, x, y, r, s.hatch, -1)
		}
	}
	c.Circle(x, y, r, page.Style{Line: page.Black, Width: 0.25})
}

// hatch draws lines across a circle, a distance apart, rising to the right, or falling when way is -1.
func hatch(c *page.Canvas, x, y, r, apart page.MM, way float64) {
	const half = 0.7071067811865476
	for n := math.Ceil(float64(-r / apart)); page.MM(n)*apart < r; n++ {
		d := float64(page.MM(n) * apart)
		chord := float64(r*r) - d*d
		if chord <= 0.01 {
			continue
		}
		chord = math.Sqrt(chord)
		// The line's nearest point to the centre lies d off it, square to the line.
		mx, my := float64(half*d), float64(half*d*way)
		dx, dy := float64(half*chord), float64(-half*chord*way)
		c.Line(x+page.MM(mx-dx), y+page.MM(my-dy), x+page.MM(mx+dx), y+page.MM(my+dy), sectionHatch)
	}
}

// scales of drawings, paper to wire.
var scales = []float64{20, 15, 10, 8, 6, 5, 4, 3, 2, 1.5, 1, 0.5, 0.2, 0.1}

func (b *book) drawSection(c *page.Canvas, s *section) {
	at, outside := s.at, s.outside
	room := float64(sectionW - 4)
	scale := scales[len(scales)-1]
	for _, x := range scales {
		if x*float64(outside) <= room {
			scale = x
			break
		}
	}
	mid := page.Point{X: sectionW / 2, Y: (sectionH - 5) / 2}
	if len(at) > 0 && scale*float64(outside) <= room {
		c.Circle(mid.X, mid.Y, page.MM(scale*float64(outside)/2), page.Style{Line: page.Middle, Width: 0.2, Dash: []page.MM{1.2, 0.8}})
		for i, k := range s.drawn {
			x, y, r := mid.X+page.MM(scale*float64(at[i].X)), mid.Y+page.MM(scale*float64(at[i].Y)), page.MM(scale*float64(at[i].Diameter)/2)
			st := &s.strands[k]
			if st.share < 0 {
				c.Circle(x, y, r, page.Style{Line: page.Black, Width: 0.25, Dash: []page.MM{0.5, 0.5}})
			} else {
				drawStrand(c, x, y, r, stepOf(st.share))
			}
			b.markStrand(c, x, y, r, k, st.wire)
		}
		foot := scaleText(scale) + "; packed " + fixed(float64(outside), 1) + " mm, balance " + fixed(float64(s.in.Outside), 1) + " mm"
		c.TextAt(mid.X, sectionH-2, powerText, page.Centre, powerText.Fit(foot, sectionW))
	} else {
		c.TextAt(mid.X, mid.Y, powerText, page.Centre, "no diameter is known")
	}
	b.listStrands(c.Sub(page.Box{X: sectionW + 4, Y: 0, W: c.W() - sectionW - 4, H: c.H()}), s)
}

func scaleText(x float64) string {
	if x >= 1 {
		return strconv.FormatFloat(x, 'g', -1, 64) + " : 1"
	}
	return "1 : " + strconv.FormatFloat(1/x, 'g', -1, 64)
}

// markStrand puts the wire's mark into its circle, or where that is too long its number in the list; nothing where neither fits.
func (b *book) markStrand(c *page.Canvas, x, y, r page.MM, k, wire int) {
	words := []string{strconv.Itoa(k + 1)}
	if w := b.wire(wire); w != nil && w.Label != "" {
		words = []string{w.Label, words[0]}
	}
	h := powerText.Sized(8.5).Leading() * 0.8
	for _, s := range words {
		w := powerText.Sized(8.5).Width(s)
		if page.MM(w*w)+page.MM(h*h) < page.MM(3.2*r*r) {
			c.Rect(page.Box{X: x - w/2 - 0.3, Y: y - h/2, W: w + 0.6, H: h}, page.Style{Fill: page.White})
			c.TextAt(x, y+1, powerText.Sized(8.5), page.Centre, s)
			return
		}
	}
}

// listStrands is the table beside the drawing, the wires that use most first.
func (b *book) listStrands(c *page.Canvas, s *section) {
	t := powerText
	right := []page.MM{c.W(), c.W() - 13, c.W() - 26, c.W() - 37}
	heads := []string{"Used %", "Limit C", "C", "A"}
	y := t.Baseline()
	c.Text(0, y, powerHead, "No.")
	c.Text(8, y, powerHead, "Mark and wire")
	for i, h := range heads {
		c.TextAt(right[i], y, powerHead, page.Right, h)
	}
	y += 1.4
	c.Line(0, y, c.W(), y, page.Hair)
	n := len(s.strands)
	if n > mostListed {
		n = mostListed - 1
	}
	for k := range s.strands[:n] {
		x := &s.strands[k]
		y += t.Leading() + 0.25
		room := right[3] - t.Width(amps(x.amps)) - 2 - 8
		c.Text(0, y, t, strconv.Itoa(k+1))
		c.Text(8, y, t, t.Fit(b.strandName(x.wire, func(s string) bool { return t.Width(s) <= room }), room))
		c.TextAt(right[3], y, t, page.Right, amps(x.amps))
		if x.share < 0 {
			c.TextAt(right[0], y, t, page.Right, "conductor not known")
			continue
		}
		c.TextAt(right[2], y, t, page.Right, degrees(x.temp))
		c.TextAt(right[1], y, t, page.Right, degrees(x.limit))
		used := "over"
		if x.share < 99 {
			used = fixed(x.share*100, 0)
		}
		c.TextAt(right[0], y, t, page.Right, used)
	}
	if more := len(s.strands) - n; more > 0 {
		y += t.Leading() + 0.25
		c.Text(8, y, t, t.Fit("and "+strconv.Itoa(more)+" more, none above "+fixed(max(s.strands[n].share, 0)*100, 0)+" %; air "+degrees(s.in.Ambient)+" C", c.W()-8))
		return
	}
	y += t.Leading() + 0.25
	c.Text(8, y, t, "air "+degrees(s.in.Ambient)+" C, surface "+degrees(s.in.Surface)+" C")
}

// strandName is the mark and the name of a wire; where that finds no room the circuit, which most marks begin with, is said once.
func (b *book) strandName(wire int, fits func(string) bool) string {
	w := b.wire(wire)
	switch {
	case w == nil:
		return "wire " + strconv.Itoa(wire+1)
	case w.Label == "" || w.Label == w.Name:
		return w.Name
	}
	if whole := w.Label + "  " + w.Name; fits(whole) || w.Label != w.Circuit && !strings.HasPrefix(w.Label, w.Circuit+".") {
		return whole
	}
	return w.Label + "  " + strings.TrimPrefix(w.Name, w.Circuit+" ")
}
