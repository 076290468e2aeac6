package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// any drawing: lines, rings, spots, and more labels than may fit.
func anyDrawing(t *rapid.T) *Drawing {
	size := rapid.SampledFrom([]float64{1, 60, 400, 4500}).Draw(t, "size")
	at := rapid.Custom(func(t *rapid.T) Place {
		return Place{unit.Length(rapid.Float64Range(0, size).Draw(t, "x")), unit.Length(rapid.Float64Range(-size/2, size/2).Draw(t, "y"))}
	})
	layer := rapid.SampledFrom([]Layer{Cut, Outline, Run, Mark, Dim, Keep})
	d := &Drawing{Title: "any"}
	for range rapid.IntRange(0, 12).Draw(t, "strokes") {
		d.Strokes = append(d.Strokes, Stroke{layer.Draw(t, "layer"), rapid.SliceOfN(at, 1, 6).Draw(t, "places"), rapid.Bool().Draw(t, "closed")})
	}
	for range rapid.IntRange(0, 6).Draw(t, "rings") {
		d.Rings = append(d.Rings, Ring{layer.Draw(t, "layer"), at.Draw(t, "middle"), unit.Length(rapid.Float64Range(0, size/3).Draw(t, "radius")),
			unit.Angle(rapid.Float64Range(-400, 400).Draw(t, "from")), unit.Angle(rapid.Float64Range(-400, 400).Draw(t, "to"))})
	}
	for range rapid.IntRange(0, 20).Draw(t, "spots") {
		d.Spots = append(d.Spots, Spot{Layer: Mark, At: at.Draw(t, "at"), Sign: Sign(rapid.IntRange(0, 5).Draw(t, "sign"))})
	}
	for range rapid.IntRange(0, 70).Draw(t, "labels") {
		l := Label{At: at.Draw(t, "at"), Text: rapid.StringMatching(`[a-z]{1,9}( [A-Z0-9-]{1,14}){0,3}`).Draw(t, "text"), Free: rapid.IntRange(0, 9).Draw(t, "free") > 0,
			Small: rapid.Bool().Draw(t, "small"), Align: page.Align(rapid.IntRange(0, 2).Draw(t, "align"))}
		if rapid.IntRange(0, 60).Draw(t, "nowhere") == 0 {
			l.At.X = unit.Length(math.NaN())
		}
		d.Labels = append(d.Labels, l)
	}
	return d
}

// TestNothingMeets: on any sheet no two texts share ink, none leaves the paper, no label lies on a line or a sign, no leader runs through a
// label, and each label stands on the drawing or in the key, under a number that stands on the drawing.
func TestNothingMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDrawing(t)
		w, h := page.MM(rapid.Float64Range(60, 200).Draw(t, "w")), page.MM(rapid.Float64Range(50, 270).Draw(t, "h"))
		l := d.Lay(w, h, Scale(rapid.SampledFrom([]float64{0, 1, 10}).Draw(t, "scale")))
		if rapid.Bool().Draw(t, "file") {
			l = d.sheetFor()
		}
		holds(t, l)
	})
}

func holds(t interface{ Fatalf(string, ...any) }, l *Layout) {
	sheet := page.Box{W: l.W, H: l.H}
	var boxes []page.Box
	for _, x := range l.words() {
		b := x.box()
		if !sheet.Holds(b) {
			t.Fatalf("%q leaves the sheet: %v", x.s, b)
		}
		for i, o := range boxes {
			if o.Meets(b) {
				t.Fatalf("%q meets %q", x.s, l.words()[i].s)
			}
		}
		boxes = append(boxes, b)
	}
	for i, a := range l.tags {
		for _, b := range l.tags[i+1:] {
			if a.Meets(b) {
				t.Fatalf("two numbers meet at %v", a)
			}
		}
	}
	for _, x := range l.texts {
		for _, p := range l.leaders {
			if p.meets(x.box().Inset(0.05)) {
				t.Fatalf("a leader runs through %q", x.s)
			}
		}
	}
	free := map[string]int{}
	for _, s := range l.d.Labels {
		if s.Free && s.At.finite() {
			free[s.Text]++
		}
	}
	for _, x := range l.texts {
		if free[x.s] == 0 {
			continue // fixed, or a number, which may cover a line where nothing else is left
		}
		for _, p := range l.pieces(nil) {
			if isFree(l.d, x.s) && p.meets(x.box()) {
				t.Fatalf("%q lies on a line", x.s)
			}
		}
	}
	complete(t, l)
}

func isFree(d *Drawing, s string) bool {
	return !slices.ContainsFunc(d.Labels, func(l Label) bool { return l.Text == s && !l.Free })
}

// complete demands each label by its words, as often as it was given.
func complete(t interface{ Fatalf(string, ...any) }, l *Layout) {
	count := map[string]int{}
	for _, x := range l.texts {
		count[x.s]++
	}
	key, spent := map[string]int{}, map[string]bool{}
	row := func(number, said string) {
		if number != "–" && !spent[number] {
			if count[number] == 0 {
				t.Fatalf("number %s of the key is not on the drawing", number)
			}
			count[number]--
			spent[number] = true
		}
		for _, note := range []string{" (no room", " (within"} {
			said, _, _ = strings.Cut(said, note)
		}
		key[squeezed(said)]++
	}
	for _, r := range l.key {
		said := ""
		for _, x := range r.lines[1:] {
			said += " " + x.s
		}
		row(r.lines[0].s, said)
	}
	for _, e := range l.Rest {
		row(mark(e.Number), e.Text)
	}
	for _, s := range l.d.Labels {
		if count[s.Text] > 0 {
			count[s.Text]--
		} else if k := squeezed(s.Text); key[k] > 0 {
			key[k]--
		} else {
			t.Fatalf("label %q is neither on the drawing nor in the key", s.Text)
		}
	}
}

func squeezed(s string) string { return strings.ReplaceAll(s, " ", "") }

func TestScaleBar(t *testing.T) {
	for _, c := range []struct {
		size  unit.Length
		w, h  page.MM
		scale Scale
	}{{100, 178, 200, 1}, {300, 178, 200, 2}, {400, 178, 200, 2.5}, {4400, 178, 200, 50}, {4000, 178, 240, 25}, {1700, 178, 200, 10}, {20000, 178, 200, 200}} {
		d := &Drawing{Strokes: []Stroke{{Run, []Place{{0, 0}, {c.size, 0}}, false}}}
		l := d.Lay(c.w, c.h, 0)
		if l.Scale != c.scale {
			t.Errorf("%v: %v, want %v", c.size, l.Scale, c.scale)
		}
		// The bar is as long, in the thing, as it says, measured against a line of known length on the same paper.
		a, b := l.Paper(Place{0, 0}), l.Paper(Place{c.size, 0})
		perMM := float64(c.size) / float64(b.X-a.X)
		var said float64
		fmt.Sscanf(l.bar.words.s, "%g mm", &said)
		if got := float64(l.bar.line.b.X-l.bar.line.a.X) * perMM; math.Abs(got-said) > 1e-6*said || said == 0 {
			t.Errorf("a bar of %v for %q", got, l.bar.words.s)
		}
	}
}

func TestProofBar(t *testing.T) {
	d := &Drawing{Rings: []Ring{{Layer: Cut, Radius: 10}}, Proof: true}
	for w, want := range map[page.MM]page.MM{178: 100, 103: 100, 80: 50, 40: 20} {
		l := d.Lay(w, 120, 1)
		if got := l.bar.line.b.X - l.bar.line.a.X; math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("on %v a bar of %v", w, got)
		}
	}
	if got := d.Lay(178, 120, 1).bar.words.s; got != "100 mm; measure: must be 100 mm; print at 100 %" {
		t.Error(got)
	}
}

// A label that fits is on the drawing itself, near its place.
func TestPlainLabelsStay(t *testing.T) {
	d := &Drawing{}
	for i := range 20 {
		p := Place{unit.Length(i%5) * 30, unit.Length(i/5) * 20}
		d.Spots = append(d.Spots, Spot{Mark, p, Circle, 0})
		d.Labels = append(d.Labels, Label{At: p, Text: fmt.Sprintf("tunnel-%d", i+1), Free: true})
	}
	l := d.Lay(178, 150, 0)
	if len(l.key)+len(l.Rest)+len(l.leaders) != 0 || len(l.texts) != 20 {
		t.Errorf("%d on the drawing, %d in the key, %d leaders", len(l.texts), len(l.key)+len(l.Rest), len(l.leaders))
	}
}

func TestSameTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := anyDrawing(t)
		if string(d.SVG()) != string(d.SVG()) || string(d.DXF()) != string(d.DXF()) {
			t.Fatal("two ways to write one drawing")
		}
	})
}
