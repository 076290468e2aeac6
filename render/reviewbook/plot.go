package reviewbook

import (
	"strconv"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

const (
	plotHeight page.MM = 44
	plotLeft   page.MM = 20 // room for the volts at the left
	plotTop    page.MM = 5
	plotFoot   page.MM = 9
)

var plotType = page.Tight.Sized(8.5)

// drawPlot is the volts left along the way, a step for each joint in the order of the table: wires on pale ground, a broken line where
// the load stands, another at the limit if it is near enough to be seen.
func drawPlot(c *page.Canvas, name string, l *ladder) {
	steps, left := l.steps(), l.left()
	if len(steps) == 0 {
		return
	}
	top, low := left[0], left[0]
	for _, v := range left {
		top, low = max(top, v), min(low, v)
	}
	limit, shown := plotLimit(l)
	if shown = shown && limit < top && top-limit < 2.5*max(top-low, 1e-6); shown {
		low = min(low, limit)
	}
	if !unit.Finite(top) || !unit.Finite(low) {
		return
	}
	span := max(float64(top-low), 1e-4)
	box := page.Box{X: plotLeft, Y: plotTop, W: c.W() - plotLeft - 2, H: c.H() - plotTop - plotFoot}
	x := func(i int) page.MM { return box.X + page.MM(float64(box.W)*float64(i)/float64(len(steps))) }
	y := func(v unit.Voltage) page.MM {
		return box.Y + page.MM((0.06+0.88*float64(top-v)/span)*float64(box.H))
	}
	for i, s := range steps {
		if s.Element >= 0 && s.Element < len(l.net.Elements) && l.net.Elements[s.Element].Kind == solve.Wire {
			c.Rect(page.Box{X: x(i), Y: box.Y, W: x(i+1) - x(i), H: box.H}, page.Style{Fill: page.RGB(238, 238, 238)})
		}
	}
	c.Rect(box, page.Style{Line: page.Middle, Width: 0.15})
	axis := func(v unit.Voltage, text string) {
		c.Line(box.X-1.2, y(v), box.X, y(v), page.Thin)
		c.TextAt(box.X-1.8, y(v)+1.1, plotType, page.Right, text)
	}
	axis(top, volts(top)+" V")
	if y(low)-y(top) > plotType.Leading() {
		axis(low, volts(low)+" V")
	}
	if shown {
		c.Line(box.X, y(limit), box.Right(), y(limit), page.Style{Line: page.Black, Width: 0.3, Dash: []page.MM{2, 1.2}})
	}
	at := x(len(l.load.Feed))
	c.Line(at, box.Y, at, box.Bottom(), page.Style{Line: page.Dark, Width: 0.25, Dash: []page.MM{0.6, 0.9}})
	label := plotType.Fit(name, box.W*0.5)
	place := min(max(at-plotType.Width(label)/2, box.X), box.Right()-plotType.Width(label))
	c.Text(place, box.Y-1.4, plotType, label)
	var line []page.Point
	for i, v := range left {
		line = append(line, page.Point{X: x(i), Y: y(v)})
	}
	c.Polyline(page.Style{Line: page.Black, Width: 0.5}, line...)
	every := 1
	for float64(every)*float64(box.W)/float64(len(steps)) < 5 {
		every++
	}
	for i := range steps {
		if (i+1)%every == 0 || every == 1 {
			c.TextAt((x(i)+x(i+1))/2, box.Bottom()+3.4, plotType, page.Centre, strconv.Itoa(i+1))
		}
	}
	foot := "Volts left after each line of the table; pale ground: wires; dotted: the load"
	if shown {
		foot += "; dashed: the limit, " + volts(limit) + " V"
	}
	c.Text(box.X, box.Bottom()+7.4, plotType, plotType.Fit(foot+".", box.W))
}

// plotLimit is the least volts that may be left at the end of the way by the limit of the ladder.
func plotLimit(l *ladder) (unit.Voltage, bool) {
	if !l.has {
		return 0, false
	}
	switch l.limit.Name {
	case "drop", "feed-return-drop":
		return l.load.SupplyVolts - l.limit.Value, true
	case "least", "least-volts", "least-start-volts":
		return l.limit.Value, true
	}
	return 0, false
}
