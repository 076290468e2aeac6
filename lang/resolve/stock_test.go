package resolve

import (
	"fmt"
	"strings"
	"testing"
)

// Reels in stock come in natural order whatever the order of the lines, the longest reel of a line first.
func TestStock(t *testing.T) {
	lines := []string{"stock thin-wall size 1 mm2 colour black length 12.5 m", "stock thin-wall size 0.5 mm2 colour red/white length 37 m, 100 m note \"shelf 2\"",
		"stock two-core length 8 m", "stock own size 20 AWG colour red length 3 m"}
	parts := "wire two-core heat 105 C outside 5 mm bend 30 mm {\n  core white, blue size 0.75 mm2 resistance 24.7 mohm/m\n}\nwire own heat 105 C {\n  size 20 AWG resistance 34 mohm/m outside 1.6 mm\n}\n"
	want := "own 20 AWG red [3000 mm]; thin-wall 0.5 mm2 red/white [100000 mm 37000 mm]; thin-wall 1 mm2 black [12500 mm]; two-core no size  [8000 mm]"
	for turn := range lines {
		var got []string
		for _, k := range clean(t, base+parts+strings.Join(append(lines[turn:len(lines):len(lines)], lines[:turn]...), "\n")+"\n").Stocks {
			got = append(got, fmt.Sprintf("%s %s %s %v", k.Wire, k.Size, k.Colour, k.Lengths))
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("got  %s\nwant %s", s, want)
		}
	}
}

func TestStockMistakes(t *testing.T) {
	for line, want := range map[string]string{
		"stock thin-wall size 0.5 mm2 length 3 m":             "option-missing",
		"stock thin-wall colour red length 3 m":               "option-missing",
		"stock thin-wall size 0.5 mm2 colour red":             "option-missing",
		"stock thin-wall size 0.5 mm2 colour rad length 3 m":  "no-such-colour",
		"stock thin-wall size 0.6 mm2 colour red length 3 m":  "no-such-size",
		"stock thin-wall size 0.5 mm2 colour red length 0 mm": "zero",
		"stock thin-wal size 0.5 mm2 colour red length 3 m":   "no-such-wire",
		"stock thin-wall size 0.5 mm2 colour red length 3 kg": "wrong-unit",
		"stock screened-2 size 0.5 mm2 length 3 m":            "stock-of-cable",
	} {
		_, src, ds := text(t, "harness \"Test\"\n"+base+line+"\n")
		if codes(ds) != want {
			t.Errorf("%s: %s", line, show(src, ds))
		}
	}
}

// A line about several sizes is one entry for each; sizes come smallest first, and a wire of another size has none.
func TestCrimpHeights(t *testing.T) {
	j := clean(t, base+"contact own-tab rating 8 A takes 0.5 mm2, 1.5 mm2 strip 5 mm {\n  crimp 1.5 mm2 height 1.6 mm\n  crimp 0.75 mm2, 0.5 mm2 height 1.1 mm, 1.2 mm setting \"3\" source \"sheet 7\"\n}\n")
	var got []string
	for _, c := range j.Parts.Contacts {
		if c.Name != "own-tab" {
			continue
		}
		for _, k := range c.Crimps {
			got = append(got, fmt.Sprintf("%s %v %q %q", k.Size, k.Height, k.Setting, k.Source))
		}
		if c.Crimp(c.Crimps[0].Size) != &c.Crimps[0] || c.Crimp(c.WireMost) == nil || c.Crimp(c.Crimps[0].Size) == c.Crimp(c.WireMost) {
			t.Error("a crimp is not found by its size")
		}
	}
	want := `0.5 mm2 [1.1 mm 1.2 mm] "3" "sheet 7"; 0.75 mm2 [1.1 mm 1.2 mm] "3" "sheet 7"; 1.5 mm2 [0 mm 1.6 mm] "" ""`
	if s := strings.Join(got, "; "); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
	for line, want := range map[string]string{
		"crimp 0.5 mm2 height 1.2 mm, 1.1 mm":                      "least-above-most",
		"crimp 0.5 mm2 height 0 mm":                                "zero",
		"crimp 0.5 mm2 height 1 mm\n  crimp 0.5 mm2 setting \"3\"": "name-twice",
		"crimp 0.5 mm2":                         "option-missing",
		"crimp 0.5 mm2, 0.25 mm2 height 1.1 mm": "crimp-beyond",
		"crimp 0.5 A height 1.1 mm":             "wrong-unit",
	} {
		_, src, ds := text(t, "harness \"Test\"\n"+base+"contact own-tab rating 8 A takes 0.5 mm2, 1.5 mm2 {\n  "+line+"\n}\n")
		if codes(ds) != want {
			t.Errorf("%s: %s", line, show(src, ds))
		}
	}
}
