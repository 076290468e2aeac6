package pdf

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// Each common letter has the outline and the advance in the cut face that it has in the whole one, as another reader of faces finds them.
func TestCutFacesHaveTheSameLetters(t *testing.T) {
	for _, f := range font.Faces() {
		whole, err := sfnt.Parse(f.TTF())
		if err != nil {
			t.Fatal(err)
		}
		cut, err := sfnt.Parse(embedded{Face: f}.data())
		if err != nil {
			t.Fatal(err)
		}
		em := fixed.I(int(whole.UnitsPerEm()))
		letter := func(file *sfnt.Font, r rune) (sfnt.Segments, fixed.Int26_6) {
			var b sfnt.Buffer
			g, err := file.GlyphIndex(&b, r)
			if err != nil || g == 0 {
				return nil, -1
			}
			advance, err := file.GlyphAdvance(&b, g, em, 0)
			if err != nil {
				t.Fatal(err)
			}
			outline, err := file.LoadGlyph(&b, g, em, nil)
			if err != nil {
				t.Fatalf("%v %q: %v", f, r, err)
			}
			return slices.Clone(outline), advance
		}
		n := 0
		for _, r := range common {
			if font.Check(f, string(r)) != nil {
				continue
			}
			n++
			o, a := letter(whole, r)
			p, b := letter(cut, r)
			if a != b || !cmp.Equal(o, p) {
				t.Errorf("%v %q: advance %v and %d segments, cut %v and %d", f, r, a, len(o), b, len(p))
			}
		}
		if n < 200 {
			t.Errorf("%v: only %d letters compared", f, n)
		}
	}
}

// Words with a rare letter are set in the whole face, all others in the cut one; a book holds either only if it is used.
func TestRareLettersAreSetInTheWholeFace(t *testing.T) {
	for _, k := range []struct {
		words      []string
		cut, whole bool
	}{
		{[]string{"Öse Ø 4 – 2 µΩ"}, true, false},
		{[]string{"Öse", "Жгут"}, true, true},
		{[]string{"Жгут A1"}, false, true},
	} {
		var items []page.Item
		for i, s := range k.words {
			items = append(items, page.Text{At: page.Point{X: 20, Y: page.MM(20 + 10*i)}, Face: font.Sans, Size: 10, S: s, Ink: page.Black})
		}
		data, err := Write(&page.Doc{Title: "t", Date: time.Time{}, Pages: []page.Page{{Size: page.A4, Items: items}}})
		if err != nil {
			t.Fatal(err)
		}
		if got := bytes.Contains(data, []byte("/BaseFont /utf8sans\n")); got != k.cut {
			t.Errorf("%s: the cut face is in the file: %v", strings.Join(k.words, ", "), got)
		}
		if got := bytes.Contains(data, []byte("/BaseFont /utf8sanswhole\n")); got != k.whole {
			t.Errorf("%s: the whole face is in the file: %v", strings.Join(k.words, ", "), got)
		}
	}
}

// Every letter that a face prints is in the face that is taken for it.
func TestEachLetterHasItsFace(t *testing.T) {
	cut := map[rune]bool{}
	for _, r := range common {
		cut[r] = true
	}
	for r := rune(0x20); r < 0xFFFF; r++ {
		if s := string(r); font.Check(font.Sans, s) == nil && faceFor(font.Sans, "a"+s).whole == cut[r] {
			t.Errorf("%q U+%04X: whole face %v", s, r, !cut[r])
		}
	}
}

// The library pads what it is given; the next file gets a face as it was.
func TestFacesComeAsTheyWere(t *testing.T) {
	for _, f := range font.Faces() {
		for _, whole := range []bool{false, true} {
			s := embedded{f, whole}
			before := s.data()
			clear(s.data())
			if !bytes.Equal(before, s.data()) {
				t.Errorf("%v whole %v: not a copy", f, whole)
			}
		}
	}
}
