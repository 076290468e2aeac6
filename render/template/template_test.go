package template

import (
	"math"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
)

// two connectors, round and square, with screws, and a rivet nut between them, seen against the normal.
func invented() *shell.Shell {
	s := &shell.Shell{
		Panels: []shell.Panel{{Name: "firewall", Plane: solid.Plane{Across: solid.Vector{Y: 1}, Up: solid.Vector{Z: 1}}}},
		Mounts: []shell.Mount{
			{Name: "A", Kind: "connector", Panel: "firewall", CutOut: [2]unit.Length{32.2}, Flange: [2]unit.Length{46}, Key: "N", Face: 1},
			{Name: "B", Kind: "connector", Panel: "firewall", CutOut: [2]unit.Length{40.2, 20.2}, Flange: [2]unit.Length{60, 34}},
		},
	}
	f := func(u, v unit.Length) solid.Flat { return solid.Flat{U: u, V: v} }
	s.Templates = []shell.Template{
		{Name: "A", Panel: "firewall", Seen: "engine", Look: "towards greater x", Against: true, Mounts: []int{0}, Seats: []shell.Seat{{Flat: f(-210, 340), Turn: 30}},
			Holes: []shell.TemplateHole{{Mark: "A", Flat: f(-210, 340), Drill: 32.2}, {Mark: "A-screw-1", Flat: f(-190, 360), Drill: 4.3}, {Mark: "A-screw-2", Flat: f(-230, 320), Drill: 4.3}}},
		{Name: "A, B, ns", Panel: "firewall", Seen: "engine", Look: "towards greater x", Against: true, Mounts: []int{0, 1}, Seats: []shell.Seat{{Flat: f(-210, 340), Turn: 30}, {Flat: f(-130, 340), Turn: 90}},
			Holes: []shell.TemplateHole{{Mark: "A", Flat: f(-210, 340), Drill: 32.2}, {Mark: "B", Flat: f(-130, 340), Drill: 40.2, High: 20.2, Turn: 90}, {Mark: "ns", Flat: f(-170, 300), Drill: 9}, {Mark: "ws", Flat: f(-170, 280)}}},
	}
	return s
}

// TestCut holds what is cut against the holes: a circle of the drill's diameter, a rectangle of two lengths turned as told, and nothing more.
func TestCut(t *testing.T) {
	d := Make(invented())[1].Drawing
	var rings []drawing.Ring
	for _, r := range d.Rings {
		if r.Layer == drawing.Cut {
			rings = append(rings, r)
		}
	}
	if len(rings) != 2 || rings[0].Radius != 16.1 || rings[1].Radius != 4.5 || rings[0].Middle != (drawing.Place{X: -210, Y: 340}) {
		t.Errorf("cut rings %v", rings)
	}
	var strokes []drawing.Stroke
	for _, s := range d.Strokes {
		if s.Layer == drawing.Cut {
			strokes = append(strokes, s)
		}
	}
	if len(strokes) != 1 || !strokes[0].Closed || len(strokes[0].Places) != 4 {
		t.Fatalf("cut strokes %v", strokes)
	}
	// Turned a quarter, the width of 40.2 stands upright.
	lo, hi, _ := (&drawing.Drawing{Strokes: strokes}).Bounds()
	if math.Abs(float64(hi.Y-lo.Y-40.2)) > 1e-9 || math.Abs(float64(hi.X-lo.X-20.2)) > 1e-9 || math.Abs(float64(lo.X+hi.X)/2+130) > 1e-9 {
		t.Errorf("cut-out from %v to %v", lo, hi)
	}
}

// The key of a connector turned 30 degrees clockwise points to one o'clock.
func TestKeyArrow(t *testing.T) {
	d := Make(invented())[0].Drawing
	found := false
	for _, s := range d.Strokes {
		if s.Layer != drawing.Dim || len(s.Places) != 2 {
			continue
		}
		dx, dy := float64(s.Places[1].X-s.Places[0].X), float64(s.Places[1].Y-s.Places[0].Y)
		if math.Abs(math.Atan2(dx, dy)*180/math.Pi-30) < 1e-6 {
			found = true
			// It points away from the middle of the connector, on a line with it.
			x, y := float64(s.Places[0].X+210), float64(s.Places[0].Y-340)
			if math.Abs(x*dy-y*dx) > 1e-6 || x*dx+y*dy <= 0 || math.Hypot(x, y) < 23 {
				t.Errorf("it starts at %v, %v from the middle", x, y)
			}
		}
	}
	if !found {
		t.Error("no arrow at 30 degrees")
	}
}

func TestWords(t *testing.T) {
	d := Make(invented())[0].Drawing
	var all []string
	for _, l := range d.Labels {
		all = append(all, l.Text)
	}
	said := strings.Join(all, " ")
	for _, want := range []string{"Template A, panel firewall", "Seen from zone engine, looking towards greater x", "key N of A", "A: 32.2 mm", "A-screw-1: 4.3 mm", "up on the panel: towards greater z"} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in %q", want, said)
		}
	}
}

func TestMarksDiffer(t *testing.T) {
	s := invented()
	s.Templates = append(s.Templates, s.Templates[0], s.Templates[0], s.Templates[0])
	seen := map[string]bool{}
	for _, x := range Make(s) {
		if seen[x.Mark] {
			t.Errorf("two templates %q", x.Mark)
		}
		seen[x.Mark] = true
	}
	if len(Make(nil)) != 0 {
		t.Error("templates of nothing")
	}
}

// inBook prints templates into a book.
func inBook(t interface{ Fatal(...any) }, ts []Template) *page.Doc {
	frame := page.Frame{Job: "j", Book: "b"}
	fl := page.NewFlow(frame)
	for _, x := range ts {
		x.Add(fl, frame)
	}
	doc, err := fl.Doc("b", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// TestProofBarOnPaper measures the bar among the primitives of each page and again in the content stream of the PDF, in its own units: 100 mm
// are 283.465 pt of 1/72 inch.
func TestProofBarOnPaper(t *testing.T) {
	doc := inBook(t, Make(invented()))
	if len(doc.Pages) != 2 {
		t.Fatalf("%d pages", len(doc.Pages))
	}
	for i, p := range doc.Pages {
		bars := 0
		for _, x := range p.Items {
			if l, ok := x.(page.Line); ok && l.A.Y == l.B.Y && l.Style.Width == page.Thin.Width && math.Abs(float64(l.B.X-l.A.X-100)) < 1e-9 {
				bars++
			}
		}
		if bars != 1 || !strings.Contains(strings.Join(p.Lines(), "\n"), "measure: must be 100 mm; print at 100 %") {
			t.Errorf("page %d has %d bars", i+1, bars)
		}
	}
	data, err := pdf.Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	if got := measured(t, data); got != 2 {
		t.Errorf("%d lines of 283.465 pt in the file, want 2", got)
	}
}

// TestHoleOnPaper: a hole of 32.2 mm is 32.2 mm on the page, round the middle of its centre marks.
func TestHoleOnPaper(t *testing.T) {
	for _, p := range inBook(t, Make(invented())).Pages {
		found := false
		for _, x := range p.Items {
			if a, ok := x.(page.Arc); ok && math.Abs(float64(a.RX-16.1)) < 1e-9 && a.RX == a.RY {
				found = true
			}
		}
		if !found {
			t.Error("no circle of 32.2 mm")
		}
	}
}

// Whatever its size, a template is printed at full size on as many sheets as it takes, or not at all.
func TestAnySize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := &shell.Shell{}
		x := shell.Template{Name: "x", Panel: "p", Seen: "z"}
		wide := rapid.SampledFrom([]float64{50, 300, 900, 40000}).Draw(t, "wide")
		for i := range rapid.IntRange(1, 12).Draw(t, "holes") {
			x.Holes = append(x.Holes, shell.TemplateHole{Mark: strings.Repeat("m", 1+i%5), Drill: unit.Length(rapid.Float64Range(0, 60).Draw(t, "drill")), High: unit.Length(rapid.SampledFrom([]float64{0, 0, 20}).Draw(t, "high")),
				Turn: unit.Angle(rapid.Float64Range(-180, 180).Draw(t, "turn")),
				Flat: solid.Flat{U: unit.Length(rapid.Float64Range(0, wide).Draw(t, "u")), V: unit.Length(rapid.Float64Range(0, wide).Draw(t, "v"))}})
		}
		s.Templates = []shell.Template{x}
		made := Make(s)[0]
		frame := page.Frame{Job: "j", Book: "b"}
		b := frame.Body()
		for _, d := range made.Sheets(b.W, b.H-titleRoom) {
			if l := d.Lay(b.W, b.H-titleRoom, 1); l.Scale != 1 {
				t.Fatalf("%s at %v", d.Title, l.Scale)
			}
		}
		inBook(t, []Template{made})
	})
}

// measured counts the level lines of 283.465 pt in the content streams of a PDF.
func measured(t *testing.T, data []byte) int {
	t.Helper()
	n := 0
	for _, s := range streams(data) {
		n += lines(s, 283.465, 0.01)
	}
	return n
}

// TestPlotted draws the SVG with an independent program and measures the bar on the picture.
func TestPlotted(t *testing.T) {
	tool, err := exec.LookPath("rsvg-convert")
	if err != nil {
		if os.Getenv("LOOMSHEET_TOOLS") == "required" {
			t.Fatal("rsvg-convert is not installed")
		}
		t.Skip("rsvg-convert is not installed")
	}
	for _, x := range Make(invented()) {
		cmd := exec.Command(tool, "--dpi-x", "254", "--dpi-y", "254", "-f", "png", "-b", "white")
		cmd.Stdin = strings.NewReader(string(x.Drawing.SVG()))
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		// At 254 dots to the inch a dot is 0.1 mm.
		if got := longestRow(t, out); got < 998 || got > 1003 {
			t.Errorf("%s: the longest level line is %d dots, want 1000", x.Mark, got)
		}
	}
}
