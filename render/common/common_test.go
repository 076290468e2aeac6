package common

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// Every colour that has letters has a swatch, and no two colours look alike.
func TestEveryColourHasInks(t *testing.T) {
	seen := map[page.Ink]string{}
	for _, c := range data.Colours {
		ink := Inks(c.Code)
		if len(ink) == 0 {
			t.Errorf("%s has no ink", c.Code)
			continue
		}
		if c.Code == "GNYE" {
			if len(ink) != 2 {
				t.Errorf("GNYE has %d inks", len(ink))
			}
			continue
		}
		if o := seen[ink[0]]; o != "" {
			t.Errorf("%s looks like %s", c.Code, o)
		}
		seen[ink[0]] = c.Code
	}
	if n := len(Inks("RD/WH/BK")); n != 3 {
		t.Errorf("RD/WH/BK has %d inks", n)
	}
	for _, code := range []string{"", "XX", "RD/XX"} {
		if Inks(code) != nil {
			t.Errorf("%q has inks", code)
		}
	}
}

func TestColourCell(t *testing.T) {
	for _, c := range []struct{ code, colour, want string }{{"RD", "red", "RD"}, {"", "tartan", "tartan"}, {"", "", "not stated"}} {
		if got := ColourCell(c.code, c.colour).Text; got != c.want {
			t.Errorf("%q, %q: %q", c.code, c.colour, got)
		}
	}
}

func TestFiguresInWords(t *testing.T) {
	bad := []unit.Length{0, -3, unit.Length(nan()), unit.Length(inf())}
	for _, l := range bad {
		if Whole(l) != "not known" || Tenths(l) != "not known" {
			t.Errorf("%v prints as %s", float64(l), Whole(l))
		}
	}
	for _, c := range [][2]string{{Whole(1490.4), "1490"}, {Tenths(4.5), "4.5"}, {Tenths(5), "5"}, {Metres(4000), "4.0 m"}, {SizeText(unit.Metric(2.5)), "2.5 mm²"}, {SizeText(unit.AWG(20)), "20 AWG"},
		{Sentence("äber"), "Äber"}, {Sentence(""), ""}, {Count(1, "wire", "wires"), "1 wire"}, {Count(0, "wire", "wires"), "0 wires"}, {Short("3f9ac201d4e7aa"), "3f9ac201d4e7"}, {Short("3f9"), "3f9"}} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}

func nan() float64 { z := 0.0; return z / z }
func inf() float64 { z := 0.0; return 1 / z }

func TestSaysInvented(t *testing.T) {
	for s, want := range map[string]bool{"Invented demo job": true, "a demo": true, "Rook, invented.": true, "demonstrator of 1931": false, "inventory": false, "": false} {
		if saysInvented(s) != want {
			t.Errorf("%q: %t", s, !want)
		}
	}
}

func TestDay(t *testing.T) {
	for s, want := range map[string]time.Time{"2026-03-02": time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), "spring": {}, "": {}, "0001-01-01": {}, "2026-13-01": {}} {
		if got := (Head{Date: s}).Day(); !got.Equal(want) {
			t.Errorf("%q: %v", s, got)
		}
	}
}

func TestSheetSize(t *testing.T) {
	if SheetSize("A3") != page.A3 || SheetSize("letter") != page.Letter || SheetSize("") != page.A4 {
		t.Error("wrong sheet")
	}
}

// The contents name each heading with the page it stands on, however many pages they take themselves.
func TestContentsAgree(t *testing.T) {
	for _, headings := range []int{1, 7, 80, 400} {
		h := Head{Job: "boat", Revision: "B", Digest: "0a1b"}
		var printed *Contents
		d, err := Settle(h, "t", func(contents *Contents) (*page.Flow, error) {
			printed = contents
			fl := page.NewFlow(h.Frame("Book", ""))
			h.Cover(fl, Cover{Book: "Book", What: "what it is"}, contents)
			for i := range headings {
				fl.Heading(1+i%2, "Part "+strings.Repeat("x", i%9))
				fl.Space(40)
				fl.Para("text")
			}
			return fl, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if len(printed.all) != headings || !slices.Equal(printed.all, entries(d.Marks)) {
			t.Errorf("%d headings: %d lines of contents", headings, len(printed.all))
		}
	}
}

func TestGateNamesTheThing(t *testing.T) {
	var g Gate
	g.Text("wire a - b", "fine", "Größe Ω µ ² ° Ø ☐ ✓")
	if g.Err() != nil {
		t.Fatal(g.Err())
	}
	g.Text("wire c - d", "pump 日")
	g.Text("splice s", "a\tb")
	err := g.Err()
	var fault *font.Fault
	if !errors.As(err, &fault) || fault.Char != '日' {
		t.Fatalf("%v", err)
	}
	for _, want := range []string{"wire c - d cannot be printed: character 日 (U+65E5)", "splice s cannot be printed: character U+0009 is a tab"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not in %q", want, err)
		}
	}
}

func TestCoverCarriesTheCautions(t *testing.T) {
	h := Head{Job: "boat", Invented: true, Digest: "3f9ac201d4e7aabbccdd"}
	fl := page.NewFlow(h.Frame("Shell book", ""))
	h.Cover(fl, Cover{Book: "Shell book", What: "what it is"}, nil)
	d, err := fl.Doc("t", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(d.Text()), " ")
	for _, want := range []string{"Disconnect the battery first", "Fuse at the source", "Fire:", "Hot work:", "Support the engine", "Verify with a meter", "Local codes, the vehicle maker's instructions",
		"licensed or competent person", "Invented demonstration job", "3f9ac201d4e7 aabbccdd", "Source 3f9ac201d4e7 page"} {
		if !strings.Contains(text, want) {
			t.Errorf("the cover does not say %q:\n%s", want, text)
		}
	}
}
