package page

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"loomsheet/render/font"
	"pgregory.net/rapid"
)

var plain = Frame{Job: "boat", Book: "Bench book", Section: "stern", Revision: "B", Digest: "0a1b2c3d"}

func lay(t *testing.T, fl *Flow) *Doc {
	t.Helper()
	doc, err := fl.Doc("boat", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// where is the page, counted from 1, on which a run begins with s; 0 if on none.
func where(d *Doc, s string) int {
	for i, p := range d.Pages {
		for _, item := range p.Items {
			if t, ok := item.(Text); ok && strings.HasPrefix(t.S, s) {
				return i + 1
			}
		}
	}
	return 0
}

func bar(c *Canvas) { c.Rect(Box{0, 0, c.W(), c.H()}, Thin) }

func TestFrameStandsOnEveryPage(t *testing.T) {
	f := plain
	f.NotForBuild = "one finding is open"
	fl := NewFlow(f)
	for range 3 {
		fl.Para("text")
		fl.NewPage()
	}
	d := lay(t, fl)
	if len(d.Pages) != 3 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	for i, p := range d.Pages {
		text := strings.Join(p.Lines(), "\n")
		for _, want := range []string{"boat", "Bench book – stern", "Revision B", "Source 0a1b2c3d", fmt.Sprintf("page %d of 3", i+1),
			"NOT FOR BUILD", "one finding is open", destroyLine} {
			if !strings.Contains(text, want) {
				t.Errorf("page %d lacks %q:\n%s", i+1, want, text)
			}
		}
		framed := false
		for _, item := range p.Items {
			if tx, ok := item.(Text); ok && tx.At.X < 20 {
				t.Errorf("%q is printed in the punch margin", tx.S)
			}
			if r, ok := item.(Rect); ok && r.Style.Line == Black && r.Style.Width >= 1 {
				framed = true
			}
		}
		if !framed {
			t.Error("the band has no thick black frame")
		}
	}
	if text := lay(t, onePage()).Text(); strings.Contains(text, "NOT FOR BUILD") {
		t.Error("the band stands on a sheet that may be built")
	}
}

func onePage() *Flow {
	fl := NewFlow(plain)
	fl.Para("text")
	return fl
}

func TestHeadingStaysWithWhatFollows(t *testing.T) {
	h := plain.Body().H
	for left := MM(1); left < 60; left++ {
		fl := NewFlow(plain)
		fl.Figure(h-left, bar)
		fl.Heading(1, "Splices")
		fl.Heading(2, "Splice one")
		fl.Figure(30, func(c *Canvas) { c.Text(0, 5, Body, "picture"); bar(c) })
		d := lay(t, fl)
		if a, b, c := where(d, "Splices"), where(d, "Splice one"), where(d, "picture"); a != b || b != c {
			t.Errorf("%v left: heads on %d and %d, figure on %d", left, a, b, c)
		}
		if n := d.Bookmarks[1]; n.Level != 2 || n.Page != where(d, "picture")-1 || n.Title != "Splice one" {
			t.Errorf("bookmark %+v", n)
		}
	}
	fl := NewFlow(plain)
	fl.Para("before")
	fl.Heading(1, "Holes")
	fl.NewPage()
	fl.Para("after")
	if d := lay(t, fl); where(d, "Holes") != 2 || len(d.Pages) != 2 {
		t.Error("a new page parts a heading from what follows")
	}
}

func TestTogether(t *testing.T) {
	h := plain.Body().H
	build := func(rows int) *Doc {
		fl := NewFlow(plain)
		fl.Figure(h/2, bar)
		fl.Together(func() {
			fl.Figure(20, func(c *Canvas) { c.Text(0, 5, Body, "face"); bar(c) })
			for i := range rows {
				fl.Figure(10, func(c *Canvas) { c.Text(0, 5, Body, fmt.Sprint("row ", i)) })
			}
		})
		return lay(t, fl)
	}
	if d := build(10); len(d.Pages) != 2 || where(d, "face") != 2 || where(d, "row 9") != 2 {
		t.Error("a group that fits on a page is divided")
	}
	if d := build(40); where(d, "face") != 1 {
		t.Error("a group longer than a page leaves a page half empty")
	}
}

func TestNoEmptyPages(t *testing.T) {
	h := plain.Body().H
	fl := NewFlow(plain)
	fl.NewPage()
	fl.NewPage()
	fl.Space(10)
	fl.NewPage()
	fl.SetFrame(Frame{Size: A3.Landscape(), Job: "boat"})
	fl.SetFrame(plain)
	fl.Figure(h, bar)
	fl.Space(50)
	fl.NewPage()
	fl.Para("last")
	fl.Space(h * 2)
	fl.NewPage()
	fl.Space(3)
	if d := lay(t, fl); len(d.Pages) != 2 || d.Pages[0].Size != A4 {
		t.Errorf("%d pages:\n%s", len(d.Pages), d.Text())
	}
	if _, err := NewFlow(plain).Doc("", time.Time{}); err == nil {
		t.Error("a book without pages passes")
	}
}

func TestFigureTooTall(t *testing.T) {
	fl := NewFlow(plain)
	fl.Figure(plain.Body().H+1, bar)
	if _, err := fl.Doc("", time.Time{}); err == nil || !strings.Contains(err.Error(), "does not fit") {
		t.Errorf("error %v", err)
	}
}

func TestFigureRestFillsThePage(t *testing.T) {
	fl := NewFlow(plain)
	fl.Heading(1, "Plan")
	var got, at MM
	fl.FigureRest(50, func(c *Canvas) { got, at = c.H(), c.At(0, 0).Y; bar(c) })
	lay(t, fl)
	if body := plain.Body(); at+got < body.Bottom()-0.1 || at+got > body.Bottom()+0.1 {
		t.Errorf("from %v, %v high, body ends at %v", at, got, body.Bottom())
	}
}

func TestCheckRefuses(t *testing.T) {
	one := func(items ...Item) *Doc { return &Doc{Pages: []Page{{Size: A4, Items: items}}} }
	text := func(s string, x, y MM) Text { return Text{At: Point{x, y}, Size: 10, S: s} }
	nan := MM(0)
	nan /= nan
	for name, d := range map[string]*Doc{
		"missing character": one(text("日", 20, 20)),
		"tab":               one(text("a\tb", 20, 20)),
		"off the page":      one(text("far", 208, 20)),
		"leaves its place":  one(Text{At: Point{20, 20}, Size: 10, S: "wide", Cell: Box{20, 10, 3, 20}}),
		"line":              one(Line{A: Point{0, 0}, B: Point{300, 0}}),
		"nowhere":           one(Line{A: Point{nan, 0}, B: Point{30, 0}}),
		"no text":           one(text("", 20, 20)),
		"no size":           one(Text{At: Point{20, 20}, S: "a"}),
		"arc":               one(Arc{At: Point{50, 50}, RX: 5, RY: 5, To: Degrees(nan)}),
		"empty":             one(),
		"no pages":          {},
		"title":             {Title: "日", Pages: one(text("a", 20, 20)).Pages},
		"bookmark page":     {Pages: one(text("a", 20, 20)).Pages, Bookmarks: []Bookmark{{Title: "a", Level: 1, Page: 1}}},
		"bookmark level":    {Pages: one(text("a", 20, 20)).Pages, Bookmarks: []Bookmark{{Title: "a", Level: 2}}},
	} {
		if d.Check() == nil {
			t.Errorf("%s passes", name)
		}
	}
	if err := one(text("a", 20, 20)).Check(); err != nil {
		t.Error(err)
	}
	err := one(text("日", 20, 20), text("日", 20, 40)).Check()
	var fault *font.Fault
	if !errors.As(err, &fault) || strings.Count(err.Error(), "U+65E5") != 1 {
		t.Errorf("not named once: %v", err)
	}
}

func TestTurnedBounds(t *testing.T) {
	level := Text{At: Point{50, 50}, Size: 10, S: "pump"}
	up, down := level, level
	up.Turn, down.Turn = Up, Down
	l, u, d := level.Bounds(), up.Bounds(), down.Bounds()
	if u.H != l.W || u.W != l.H || u.Bottom() != 50 || d.Y != 50 || u.Right() <= 50 || d.X >= 50 {
		t.Errorf("level %v, up %v, down %v", l, u, d)
	}
}

// anyText draws a text of no, few or very many letters; plain string generators seldom leave the short ones.
func anyText(letters []rune, lengths ...int) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		n := rapid.SampledFrom(lengths).Draw(t, "letters")
		return rapid.StringOfN(rapid.SampledFrom(letters), n, n, -1).Draw(t, "text")
	})
}

// Whatever the words, no run leaves its page or its place, none covers another, each heading is followed on its page,
// no page is empty.
func TestFlowHoldsAnyText(t *testing.T) {
	letters := []rune("ab -._/WMil1Ωµ²äéß\u0301\n")
	rapid.Check(t, func(t *rapid.T) {
		text := anyText(letters, 0, 1, 6, 20, 60, 400)
		f := Frame{Size: rapid.SampledFrom([]Size{A4, A4.Landscape(), A3, Letter}).Draw(t, "size"), Job: text.Draw(t, "job"), Book: text.Draw(t, "book"),
			Section: text.Draw(t, "section"), Revision: text.Draw(t, "revision"), Digest: "12345678", NotForBuild: text.Draw(t, "reason")}
		fl := NewFlow(f)
		fl.Para("start")
		for range rapid.SampledFrom([]int{0, 3, 10, 30}).Draw(t, "blocks") {
			s := text.Draw(t, "text")
			switch rapid.IntRange(0, 7).Draw(t, "kind") {
			case 0:
				fl.Heading(rapid.IntRange(0, 4).Draw(t, "level"), "H"+s)
				fl.Figure(rapid.Custom(func(t *rapid.T) MM { return MM(rapid.IntRange(1, 30).Draw(t, "mm")) }).Draw(t, "high"), bar)
			case 1:
				fl.Checklist(s, "x"+s)
			case 2:
				fl.Facts(Fact{s, s}, Fact{"name", s}, Fact{s, ""})
			case 3:
				fl.Caution(s, s, "then")
			case 4:
				fl.NewPage()
			case 5:
				fl.Space(MM(rapid.IntRange(0, 400).Draw(t, "space")))
			default:
				fl.Para(s)
			}
		}
		d, err := fl.Doc("t", time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range d.Pages {
			for _, o := range p.Overlaps() {
				t.Fatalf("page %d: %q over %q", i+1, o[0].S, o[1].S)
			}
			body := f.Body()
			inside := 0
			for _, item := range p.Items {
				if body.Holds(item.Bounds()) {
					inside++
				}
			}
			if inside == 0 {
				t.Fatalf("page %d is empty", i+1)
			}
		}
		for _, m := range d.Bookmarks {
			// The figure after it begins below the heading on the same page.
			followed := false
			for _, item := range d.Pages[m.Page].Items {
				if r, ok := item.(Rect); ok && r.Box.Y > m.Y && f.Body().Holds(r.Box) {
					followed = true
				}
			}
			if !followed {
				t.Fatalf("heading %q alone at the foot of page %d", m.Title, m.Page+1)
			}
		}
	})
}

// A paragraph over many pages is whole, and neither its first nor its last line stands alone.
func TestParagraphIsWhole(t *testing.T) {
	for lead := MM(0); lead < 40; lead += 3 {
		var words []string
		for i := range 1200 {
			words = append(words, fmt.Sprint("word", i))
		}
		fl := NewFlow(plain)
		fl.Figure(plain.Body().H-45+lead, bar)
		fl.Para(strings.Join(words, " "))
		d := lay(t, fl)
		var got []string
		for i, p := range d.Pages {
			n := 0
			for _, item := range p.Items {
				if tx, ok := item.(Text); ok && strings.HasPrefix(tx.S, "word") {
					got = append(got, strings.Fields(tx.S)...)
					n++
				}
			}
			if n == 1 {
				t.Errorf("one line alone on page %d", i+1)
			}
		}
		if strings.Join(got, " ") != strings.Join(words, " ") {
			t.Fatalf("%d words came out as %d", len(words), len(got))
		}
	}
}
