package reviewbook

import (
	"math"

	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

const chartHeight page.MM = 82

// chartMarks is what is marked on a chart besides the fuse and the wire.
type chartMarks struct {
	steady, short unit.Current
	start         *protect.Hold
}

// The scales of every chart: currents from half to 25 times the rating, times from 10 ms to 200 hours.
const (
	chartLeast, chartMost = 0.5, 25.0
	chartSoon, chartLate  = 0.01, 720000.0
)

// scale maps a chart's values to its paper.
type scale struct {
	box    page.Box
	rating float64
}

func (s scale) x(amps float64) page.MM {
	f := math.Log(amps/s.rating/chartLeast) / math.Log(chartMost/chartLeast)
	return s.box.X + page.MM(min(max(f, 0), 1)*float64(s.box.W))
}

func (s scale) y(t float64) page.MM {
	f := math.Log(t/chartSoon) / math.Log(chartLate/chartSoon)
	return s.box.Bottom() - page.MM(min(max(f, 0), 1)*float64(s.box.H))
}

var chartType = page.Tight.Sized(8.5)

func drawChart(c *page.Canvas, title, wire string, f *protect.FuseResult, curve *protect.Curve, m chartMarks) {
	box := page.Box{X: 14, Y: 14, W: c.W() - 16, H: c.H() - 27}
	s := scale{box, math.Max(float64(f.Rating), 1e-3)}
	c.Text(0, 4.2, chartType.Faced(bold.Face), chartType.Faced(bold.Face).Fit(title, c.W()))
	c.Text(0, 8.4, chartType, chartType.Fit("wire "+wire, c.W()))
	s.grid(c, f)
	s.gate(c, f)
	var line []page.Point
	for _, p := range curve.Points {
		if float64(p.Lasts) > chartLate || float64(p.Lasts) < chartSoon {
			continue
		}
		line = append(line, page.Point{X: s.x(float64(p.Amps)), Y: s.y(float64(p.Lasts))})
	}
	if len(line) > 1 {
		c.Polyline(page.Style{Line: page.Black, Width: 0.7}, line...)
	}
	if curve.Rest > 0 {
		x := s.x(float64(curve.Rest))
		c.Line(x, box.Y, x, box.Bottom(), page.Style{Line: page.Black, Width: 0.35, Dash: []page.MM{1.6, 1}})
	}
	if h := m.start; h != nil && h.For > 0 && h.Amps > 0 {
		c.Circle(s.x(float64(h.Amps)), s.y(float64(h.For)), 1, page.Style{Line: page.Black, Width: 0.4})
	}
	for _, a := range []unit.Current{m.steady, m.short} {
		if a > 0 {
			x := s.x(float64(a))
			c.Polygon(page.Style{Fill: page.Black}, page.Point{X: x, Y: box.Bottom() - 2.2}, page.Point{X: x - 0.9, Y: box.Bottom()}, page.Point{X: x + 0.9, Y: box.Bottom()})
		}
	}
	foot := "steady " + amps(m.steady) + " A"
	if m.short > 0 {
		foot += "; weakest short " + unit.Number(float64(m.short), 0) + " A"
	}
	if curve.Rest > 0 {
		foot += "; for ever " + unit.Number(float64(curve.Rest), 1) + " A"
	}
	c.Text(0, c.H()-1.6, chartType, chartType.Fit(foot, c.W()))
}

func (s scale) grid(c *page.Canvas, f *protect.FuseResult) {
	hair := page.Style{Line: page.RGB(205, 205, 205), Width: 0.12}
	for _, t := range []struct {
		at   float64
		name string
	}{{0.01, "10 ms"}, {0.1, "0.1 s"}, {1, "1 s"}, {10, "10 s"}, {60, "1 min"}, {600, "10 min"}, {3600, "1 h"}, {36000, "10 h"}, {360000, "100 h"}} {
		c.Line(s.box.X, s.y(t.at), s.box.Right(), s.y(t.at), hair)
		c.TextAt(s.box.X-1, s.y(t.at)+1, chartType, page.Right, t.name)
	}
	for _, m := range []float64{0.5, 1, 2, 5, 10, 20} {
		x := s.x(m * s.rating)
		c.Line(x, s.box.Y, x, s.box.Bottom(), hair)
		c.TextAt(x, s.box.Bottom()+3.4, chartType, page.Centre, unit.Number(m*s.rating, 1))
	}
	c.TextAt(s.box.Right(), s.box.Bottom()+7, chartType, page.Right, "A")
	c.Rect(s.box, page.Style{Line: page.Middle, Width: 0.2})
}

// gate hatches the field between the earliest and the latest time, in steps: from one listed multiple to the next a fuse may take as long as at the
// lower and open as soon as at the higher.
func (s scale) gate(c *page.Canvas, f *protect.FuseResult) {
	stroke := page.Style{Line: page.Dark, Width: 0.18}
	edge := page.Style{Line: page.Dark, Width: 0.4}
	for i, g := range f.Gate {
		x := s.x(float64(g.Times) * s.rating)
		late, soon := s.box.Y, s.box.Bottom()
		if g.Most > 0 {
			late = s.y(float64(g.Most))
		}
		if g.Least > 0 {
			soon = s.y(float64(g.Least))
		}
		c.Line(x-1.2, late, x+1.2, late, edge)
		c.Line(x-1.2, soon, x+1.2, soon, edge)
		c.Line(x, late, x, soon, edge)
		if i+1 == len(f.Gate) {
			break
		}
		n := f.Gate[i+1]
		right := s.x(float64(n.Times) * s.rating)
		bottom := s.box.Bottom()
		if n.Least > 0 {
			bottom = s.y(float64(n.Least))
		}
		for h := x + 0.9; h < right; h += 1.1 {
			c.Line(h, late, h, bottom, stroke)
		}
		c.Line(x, late, right, late, edge)
	}
}
