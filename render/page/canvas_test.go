package page

import (
	"strings"
	"testing"
	"time"
)

func sheet() (*Page, *Canvas) {
	p := &Page{Size: A4}
	return p, NewCanvas(p, Box{20, 20, 100, 100})
}

func runs(p *Page) []Text {
	var out []Text
	for _, i := range p.Items {
		if t, ok := i.(Text); ok {
			out = append(out, t)
		}
	}
	return out
}

func TestSubCanvasMovesWithItsPlace(t *testing.T) {
	p, c := sheet()
	c.Sub(Box{10, 30, 50, 50}).Line(0, 0, 5, 0, Thin)
	if l := p.Items[0].(Line); l.A != (Point{30, 50}) || l.B != (Point{35, 50}) {
		t.Errorf("%v to %v", l.A, l.B)
	}
}

func TestAlignment(t *testing.T) {
	p, c := sheet()
	b := Box{10, 10, 40, 20}
	for _, a := range []Align{Left, Centre, Right} {
		c.TextIn(b, Body, a, "pump")
	}
	w := Body.Width("pump")
	for i, want := range []MM{30, 30 + (40-w)/2, 70 - w} {
		if x := runs(p)[i].At.X; x < want-0.001 || x > want+0.001 {
			t.Errorf("alignment %d starts at %v, want %v", i, x, want)
		}
	}
}

func TestMiddleShrinksAndStaysInside(t *testing.T) {
	for _, s := range []string{"1", "12", "A12", "cavity twelve", strings.Repeat("long", 20)} {
		p, c := sheet()
		b := Box{10, 10, 7, 7}
		c.Middle(b, Body, s)
		for _, r := range runs(p) {
			if !c.place(b).Holds(r.Bounds()) {
				t.Errorf("%q: %q stands out: %v", s, r.S, r.Bounds())
			}
		}
		if got := runs(p)[0]; s == "1" && got.Size != 10 {
			t.Errorf("shrunk to %v without need", got.Size)
		}
	}
}

func TestPlaceTakesTheHeightOfABlock(t *testing.T) {
	block := measured(func(w, _ MM) []Part {
		return []Part{{Height: 10, Gap: 4, Draw: bar}, {Height: 5, Gap: 3, Draw: bar}}
	})
	p, c := sheet()
	h, err := Place(c, block)
	if err != nil || h != 18 {
		t.Errorf("%v %v", h, err)
	}
	if r := p.Items[1].(Rect); r.Box != (Box{20, 33, 100, 5}) {
		t.Errorf("second part at %v", r.Box)
	}
	if h, err := Height(block, 100); err != nil || h != 18 {
		t.Errorf("height %v %v", h, err)
	}
}

// A sheet too small for its frame is an error, never a hang or a panic.
func TestTinySheet(t *testing.T) {
	for _, s := range []Size{{20, 20}, {1, 1}, {-5, 300}, {300, 30}, {60, 60}} {
		f := plain
		f.Size, f.NotForBuild = s, "because"
		fl := NewFlow(f)
		fl.Heading(1, "head")
		fl.Para("some words to wrap")
		fl.Checklist("one", "two")
		fl.Figure(10, bar)
		if _, err := fl.Doc("", time.Time{}); err == nil {
			t.Errorf("%v passes", s)
		}
	}
}

func TestDump(t *testing.T) {
	p, c := sheet()
	c.Text(0, 10, Strong, "a")
	c.TurnedText(5, 10, Up, Small, "b")
	c.Line(0, 0, 10, 0, Style{Line: Black, Width: 0.2, Dash: []MM{1}})
	c.Rect(Box{0, 0, 10, 5}, Style{Fill: Pale})
	c.Arc(50, 50, 5, 0, 90, Thin)
	c.Polyline(Hair, Point{0, 0}, Point{1, 2})
	d := Doc{Pages: []Page{*p}, Bookmarks: []Bookmark{{"head", 1, 0, 30}}}
	const want = `page 1 210.00 x 297.00
  text 20.00,30.00 Bold 10 000000 "a"
  text 25.00,30.00 Sans 8 464646 up "b"
  line 20.00,20.00 30.00,20.00 line 000000 0.20 fill none dash 1.00
  rect 20.00,20.00 10.00x5.00 line none 0.00 fill e4e4e4
  arc 70.00,70.00 5.00 5.00 0.00..90.00 line 000000 0.20 fill none
  polygon [20.00,20.00 21.00,22.00] open=true line 8c8c8c 0.10 fill none
bookmark 1 page 1 30.00 "head"
`
	if got := d.Dump(); got != want {
		t.Errorf("%s", got)
	}
	if got := d.Text(); got != "---- 1\na\nb\n" {
		t.Errorf("%q", got)
	}
}
