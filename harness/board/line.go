package board

import "math"

// pt is a place on the board in mm.
type pt struct{ x, y float64 }

func (p pt) along(h int, by float64) pt {
	c, s := heading(h)
	return pt{p.x + float64(c*by), p.y + float64(s*by)}
}

func between(a, b pt) float64 { return math.Hypot(b.x-a.x, b.y-a.y) }

// step is the finest difference of headings, in degrees; headings are counted in steps counterclockwise from level to the right.
const (
	step  = 15
	round = 360 / step
	// chords of a bend turn by half a step each
	chord = step / 2.0
)

// heading is the direction of a heading, exact where it is level or upright.
func heading(h int) (c, s float64) {
	switch h = turned(h); h {
	case 0:
		return 1, 0
	case round / 4:
		return 0, 1
	case round / 2:
		return -1, 0
	case 3 * round / 4:
		return 0, -1
	}
	s, c = math.Sincos(float64(h) * step * math.Pi / 180)
	return c, s
}

func turned(h int) int { return ((h % round) + round) % round }

// apart is the angle between two headings in steps, 0 to half a round.
func apart(a, b int) int {
	d := turned(a - b)
	return min(d, round-d)
}

// line is a limb as drawn: points with their stations along it.
type line struct {
	pts   []pt
	at    []float64
	heads []int // heading of the straight after each point; -1 within a bend
	head  int   // at its end
	bends []bend
}

// bend is a fold of a line.
type bend struct {
	from, to float64 // drawn stations
	turn     int     // in steps, positive to the left
	radius   float64
	middle   pt
}

func startLine(from pt, h int) line { return line{pts: []pt{from}, at: []float64{0}, head: h} }

func (l *line) end() pt       { return l.pts[len(l.pts)-1] }
func (l *line) long() float64 { return l.at[len(l.at)-1] }

// copied is a line that may be drawn on without touching the first.
func (l line) copied() line {
	l.pts, l.at, l.heads, l.bends = l.pts[:len(l.pts):len(l.pts)], l.at[:len(l.at):len(l.at)], l.heads[:len(l.heads):len(l.heads)], l.bends[:len(l.bends):len(l.bends)]
	return l
}

// straight goes on straight.
func (l *line) straight(by float64) {
	if by <= 0 {
		return
	}
	l.pts, l.at, l.heads = append(l.pts, l.end().along(l.head, by)), append(l.at, l.long()+by), append(l.heads, l.head)
}

// arc turns by so many steps, to the left where positive. Its chords are as long as the arc: they lie on a circle a little larger.
func (l *line) arc(steps int, radius float64) {
	if steps == 0 || radius <= 0 {
		l.head = turned(l.head + steps)
		return
	}
	n, side := 2*steps, 1.0
	if steps < 0 {
		n, side = -n, -1
	}
	rad := chord * math.Pi / 180
	long := radius * rad
	c, s := heading(l.head)
	b := bend{from: l.long(), turn: steps, radius: radius, middle: pt{l.end().x - float64(side*radius*s), l.end().y + float64(side*radius*c)}}
	base := float64(l.head) * step
	start, at := l.end(), l.long()
	x, y := start.x, start.y
	for k := range n {
		deg := base + side*chord*(float64(k)+0.5)
		ds, dc := math.Sincos(deg * math.Pi / 180)
		x, y, at = x+float64(long*dc), y+float64(long*ds), at+long
		l.pts, l.at, l.heads = append(l.pts, pt{x, y}), append(l.at, at), append(l.heads, -1)
	}
	b.to = l.long()
	l.bends = append(l.bends, b)
	l.head = turned(l.head + steps)
}

// place is where a drawn station lies, and the heading there.
func (l *line) place(s float64) (pt, int) {
	for i := 1; i < len(l.pts); i++ {
		if s <= l.at[i] || i == len(l.pts)-1 {
			h := l.heads[i-1]
			if h < 0 {
				h = l.headNear(i)
			}
			long := l.at[i] - l.at[i-1]
			if long <= 0 {
				return l.pts[i], h
			}
			k := max(0, min(1, (s-l.at[i-1])/long))
			a, b := l.pts[i-1], l.pts[i]
			return pt{a.x + float64(k*(b.x-a.x)), a.y + float64(k*(b.y-a.y))}, h
		}
	}
	return l.pts[0], l.head
}

// headNear is the nearest heading to that of the piece before point i.
func (l *line) headNear(i int) int {
	a, b := l.pts[i-1], l.pts[i]
	return turned(int(math.Round(math.Atan2(b.y-a.y, b.x-a.x) * 180 / math.Pi / step)))
}

// cut is a piece of the line between two drawn stations.
func (l *line) cut(from, to float64) []pt {
	a, _ := l.place(from)
	out := []pt{a}
	for i := range l.pts {
		if l.at[i] > from+1e-9 && l.at[i] < to-1e-9 {
			out = append(out, l.pts[i])
		}
	}
	b, _ := l.place(to)
	return append(out, b)
}
