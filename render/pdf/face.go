package pdf

import (
	"slices"
	"strings"
	"sync"

	"github.com/jung-kurt/gofpdf"

	"loomsheet/render/font"
)

// The library reads and cuts a whole face of thousands of letters anew for each file. Nearly all words need few of them: so each face is cut once to the
// common letters, and only words with a letter beside these are set in the whole face, as a second one in the file.

// common are the letters that a face is cut to: many of Europe and the signs of the trade.
var common = func() string {
	var b strings.Builder
	for r := ' '; r <= '~'; r++ {
		b.WriteRune(r)
	}
	for r := '\u00a0'; r <= 'ÿ'; r++ {
		b.WriteRune(r)
	}
	b.WriteString("ĲĳŒœŠšŽžŁłŐőŰűĄąĆćĘęŃńŚśŹźŻżČčĎďĚěŇňŘřŤťŮůĞğİıŞşΔΩμπ–—‘’‚“”„…•′″→←↑↓≤≥≠≈−√∞☐✓⌀€™")
	return b.String()
}()

// isCommon tells whether a face cut to the common letters has all of those of s.
func isCommon(s string) bool {
	for _, r := range s {
		if (r < ' ' || r > '~') && !strings.ContainsRune(common, r) {
			return false
		}
	}
	return true
}

// embedded is how a face stands in a file.
type embedded struct {
	font.Face
	whole bool // not cut to the common letters
}

// faceFor is the face that has the letters of s.
func faceFor(f font.Face, s string) embedded { return embedded{f, !isCommon(s)} }

// family is the name of the face inside the file.
func (f embedded) family() string {
	if f.whole {
		return f.String() + "Whole"
	}
	return f.String()
}

// data is a copy of its TrueType file: the library pads tables in place.
func (f embedded) data() []byte {
	if f.whole {
		return f.TTF()
	}
	return slices.Clone(cuts[f.Face]())
}

// cuts cuts each face, once.
var cuts = func() map[font.Face]func() []byte {
	out := map[font.Face]func() []byte{}
	for _, f := range font.Faces() {
		out[f] = sync.OnceValue(func() []byte { return gofpdf.UTF8CutFont(f.TTF(), common) })
	}
	return out
}()
