package reviewbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

var (
	powerText = page.Tight.Sized(8.5)
	powerBold = page.Strong.Sized(8.5)
	powerHead = page.Small.Sized(8.5)
)

const (
	powerKeyHeight page.MM = 12
	powerRow       page.MM = 5.4
	powerLead      page.MM = 3 // line before the first symbol
	symbolW        page.MM = 5.6
	symbolGap      page.MM = 1.2
	figureW        page.MM = 15 // each column of figures
	dotR           page.MM = 0.75
)

// powerTree is the lines behind one supply as a block: a part a line, so that a page may end after any.
type powerTree struct {
	b    *book
	p    *power
	root *line
	over string // the heading over it
}

// ContinueAs names its later pages.
func (t *powerTree) ContinueAs(heading string) { t.over = "Power distribution: " + heading }

// row is a line with where it is drawn: the lines of those before it that go on to others below.
type row struct {
	*line
	at    page.MM   // x of the upright it starts from
	last  bool      // of that upright
	pass  []page.MM // uprights that go on beside it
	end   page.MM
	lines []string
}

// Parts lays the tree out.
func (t *powerTree) Parts(width, _ page.MM) ([]page.Part, error) {
	head := page.Part{Height: powerHead.Leading() + 1, Gap: 3, Keep: page.Firmly, Draw: func(c *page.Canvas) {
		y := powerHead.Baseline()
		for k, s := range []string{"Volts", "Lost V", "Amps"} {
			c.TextAt(c.W()-page.MM(k)*figureW, y, powerHead, page.Right, s)
		}
		c.Line(0, c.H(), c.W(), c.H(), page.Hair)
	}}
	again := table.Later(t.over, width, head)
	parts := []page.Part{head}
	minus := t.minus()
	var lay func(l *line, at page.MM, last bool, pass []page.MM)
	lay = func(l *line, at page.MM, last bool, pass []page.MM) {
		r := row{line: l, at: at, last: last, pass: pass}
		lead := powerLead
		if at > width*0.4 { // deep: short leads keep room for the words
			lead = 1.6
		}
		r.end = at + lead + page.MM(float64(len(l.through))*float64(symbolW+symbolGap))
		if l.source >= 0 && l == t.root {
			r.end = at + 7
		}
		r.lines = powerText.Wrap(t.words(l), max(width-3*figureW-r.end-3, 30))
		keep := page.Free
		if len(l.next) > 0 {
			keep = page.Firmly
		}
		h := max(powerRow, powerText.Height(len(r.lines))+1.6)
		parts = append(parts, page.Part{Height: h, Keep: keep, Again: &again, Draw: func(c *page.Canvas) { t.draw(c, &r, minus) }})
		beside := pass
		if !last {
			beside = append(append([]page.MM{}, pass...), at)
		}
		for k, n := range l.next {
			lay(n, r.end, k == len(l.next)-1, beside)
		}
	}
	lay(t.root, 0, true, nil)
	return parts, nil
}

// minus is the volts of the minus terminal of the tree's supply.
func (t *powerTree) minus() unit.Voltage {
	k := 0
	for i := range t.p.c.Net.Elements {
		if e := &t.p.c.Net.Elements[i]; e.Kind == solve.Supply {
			if k == t.root.source {
				return t.p.c.Point.Volts[e.To]
			}
			k++
		}
	}
	return 0
}

// words names what a line leads through and where it ends.
func (t *powerTree) words(l *line) string {
	nw := t.p.c.Net
	if l.source >= 0 {
		s := &t.p.c.Supplies[l.source]
		word := t.b.supplyName(s)
		if l != t.root {
			return word + " gives here too"
		}
		if s.Limited {
			word += ", at its limit"
		}
		return word + ", plus terminal " + nw.Nodes[l.to] + t.loadWords(l, ": ")
	}
	var parts []string
	device := ""
	for _, i := range l.through { // a device is named once
		e := &nw.Elements[i]
		s := t.throughWords(e)
		if short, same := strings.CutPrefix(s, device+" "); same && device != "" {
			s = short
		}
		parts, device = append(parts, s), e.Device
	}
	switch {
	case l.joins:
		parts = append(parts, "joins "+nw.Nodes[l.to])
	case len(l.next) > 0:
		parts = append(parts, "to "+nw.Nodes[l.to])
	}
	return list(parts) + t.loadWords(l, map[bool]string{true: ": ", false: ""}[len(parts) > 0])
}

func (t *powerTree) throughWords(e *solve.Element) string {
	d := t.b.device(e.Device)
	switch {
	case e.Kind == solve.Fuse && d != nil && e.Index >= 0 && e.Index < len(d.Fuses):
		f := &d.Fuses[e.Index]
		s := e.Device + " " + f.From + " - " + f.To
		for _, part := range t.b.in.Job.Parts.Fuses {
			if part.Name == f.Part && part.Rating > 0 {
				return s + " " + strconv.FormatFloat(float64(part.Rating), 'f', -1, 64) + "\u00a0A"
			}
		}
		return s + ", rating not known"
	case e.Kind == solve.Switch && d != nil && e.Index >= 0 && e.Index < len(d.States):
		return e.Device + " " + d.States[e.Index].StateRef.String()
	case e.Kind == solve.Post:
		return "post " + e.Name
	}
	return e.Kind.String() + " " + e.Device
}

// mostNamed loads are named in a line.
const mostNamed = 6

// loadWords names the loads at the end of a line, with the least volts across any of them.
func (t *powerTree) loadWords(l *line, before string) string {
	if len(l.loads) == 0 {
		return ""
	}
	nw, pt := t.p.c.Net, t.p.c.Point
	var names []string
	times := map[string]int{}
	var least unit.Voltage
	for k, i := range l.loads {
		e := &nw.Elements[i]
		v := pt.Volts[e.From] - pt.Volts[e.To]
		if v < 0 {
			v = -v
		}
		if k == 0 || v < least {
			least = v
		}
		name := e.Device
		if e.Kind == solve.Coil {
			name += " coil"
		}
		if times[name]++; times[name] == 1 {
			names = append(names, name)
		}
	}
	for k, n := range names {
		if times[n] > 1 {
			names[k] += " (" + strconv.Itoa(times[n]) + ")"
		}
	}
	if more := len(names) - mostNamed; more > 1 {
		names = append(names[:mostNamed:mostNamed], "and "+strconv.Itoa(more)+" more")
	}
	s := before
	if len(l.loads) > 1 {
		s += strconv.Itoa(len(l.loads)) + " loads, "
	}
	return s + list(names) + " at " + volts(least) + "\u00a0V"
}

func weight(a unit.Current) page.Style {
	switch {
	case a >= 50:
		return page.Style{Line: page.Black, Width: 0.9}
	case a >= ownLine:
		return page.Style{Line: page.Black, Width: 0.5}
	}
	return page.Style{Line: page.Black, Width: 0.2}
}

func (t *powerTree) draw(c *page.Canvas, r *row, minus unit.Voltage) {
	mid := powerRow / 2
	for _, x := range r.pass {
		c.Line(x, 0, x, c.H(), page.Thin)
	}
	root := r.line == t.root
	if !root {
		to := mid
		if !r.last {
			to = c.H()
		}
		c.Line(r.at, 0, r.at, to, page.Thin)
	}
	s := weight(r.amps)
	x := r.at
	switch {
	case root:
		drawCell(c, 1.2, mid)
		c.Line(2.2, mid, r.end, mid, s)
	case r.source >= 0:
		c.Line(x, mid, r.end, mid, s)
		drawCell(c, r.end-1, mid)
	default:
		lead := r.end - r.at - page.MM(len(r.through))*(symbolW+symbolGap)
		c.Line(x, mid, x+lead, mid, s)
		x += lead
		for _, i := range r.through {
			drawSymbol(c, x, mid, t.p.c.Net.Elements[i].Kind, s)
			c.Line(x+symbolW, mid, x+symbolW+symbolGap, mid, s)
			x += symbolW + symbolGap
		}
	}
	switch {
	case len(r.next) > 0:
		c.Circle(r.end, mid, dotR, page.Solid)
		c.Line(r.end, mid, r.end, c.H(), page.Thin)
	case r.joins:
		c.Circle(r.end, mid, dotR, page.Style{Line: page.Black, Width: 0.2, Fill: page.White})
	case r.source < 0 || root:
		c.Polygon(page.Solid, page.Point{X: r.end + 1.6, Y: mid}, page.Point{X: r.end - 0.2, Y: mid - 0.9}, page.Point{X: r.end - 0.2, Y: mid + 0.9})
	}
	top := mid - powerText.Leading()/2
	c.Lines(page.Box{X: r.end + 2.6, Y: top, W: c.W() - 3*figureW - r.end - 2.6, H: c.H() - top}, powerText, page.Left, r.lines)
	base := top + powerText.Baseline()
	pt := t.p.c.Point
	c.TextAt(c.W()-2*figureW, base, powerBold, page.Right, amps(r.amps))
	if r.from != r.to {
		c.TextAt(c.W()-figureW, base, powerText, page.Right, volts(pt.Volts[r.from]-pt.Volts[r.to]))
	}
	if r.source < 0 || root {
		c.TextAt(c.W(), base, powerText, page.Right, volts(pt.Volts[r.to]-minus))
	}
}

// drawCell is a supply: the long thin stroke is its plus.
func drawCell(c *page.Canvas, x, mid page.MM) {
	c.Line(x+1, mid-2.1, x+1, mid+2.1, page.Style{Line: page.Black, Width: 0.25})
	c.Line(x, mid-1.1, x, mid+1.1, page.Style{Line: page.Black, Width: 0.7})
}

// drawSymbol is what a line leads through, after IEC 60617: fuse, contact, terminal, diode.
func drawSymbol(c *page.Canvas, x, mid page.MM, k solve.ElementKind, s page.Style) {
	thin := page.Style{Line: page.Black, Width: 0.25}
	a, z := x+0.6, x+symbolW-0.6
	switch k {
	case solve.Fuse:
		c.Line(x, mid, x+symbolW, mid, thin)
		c.Rect(page.Box{X: a, Y: mid - 1, W: z - a, H: 2}, thin)
	case solve.Switch:
		c.Line(x, mid, a+0.8, mid, s)
		c.Line(z-0.8, mid, x+symbolW, mid, s)
		c.Line(a+0.8, mid, z-0.6, mid-1.7, thin)
	case solve.Post:
		c.Line(x, mid, x+symbolW/2-1, mid, s)
		c.Circle(x+symbolW/2, mid, 1, thin)
		c.Line(x+symbolW/2+1, mid, x+symbolW, mid, s)
	default: // a diode
		c.Line(x, mid, x+symbolW, mid, thin)
		c.Polygon(page.Style{Line: page.Black, Width: 0.25, Fill: page.White}, page.Point{X: a + 0.8, Y: mid - 1.3}, page.Point{X: a + 0.8, Y: mid + 1.3}, page.Point{X: z - 0.8, Y: mid})
		c.Line(z-0.8, mid-1.3, z-0.8, mid+1.3, thin)
	}
}

func drawPowerKey(c *page.Canvas) {
	x, mid := page.MM(1), page.MM(3)
	say := func(draw func(x page.MM), w page.MM, s string) {
		if x+w+1.5+powerText.Width(s) > c.W() {
			x, mid = 1, mid+5
		}
		draw(x)
		x += w + 1.5
		c.Text(x, mid-powerText.Leading()/2+powerText.Baseline(), powerText, s)
		x += powerText.Width(s) + 5
	}
	say(func(x page.MM) { drawCell(c, x, mid) }, 1, "supply")
	for _, k := range []solve.ElementKind{solve.Fuse, solve.Switch, solve.Post, solve.Diode} {
		word := map[solve.ElementKind]string{solve.Fuse: "fuse", solve.Switch: "contact of a switch or relay, closed in this case", solve.Post: "stud post", solve.Diode: "diode"}[k]
		say(func(x page.MM) { drawSymbol(c, x, mid, k, page.Thin) }, symbolW, word)
	}
	say(func(x page.MM) { c.Circle(x, mid, dotR, page.Solid) }, 1, "branch")
	say(func(x page.MM) {
		c.Circle(x, mid, dotR, page.Style{Line: page.Black, Width: 0.2, Fill: page.White})
	}, 1, "drawn at another line")
}
