package benchbook

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func book(t *testing.T, h common.Head, s *bench.SectionPlan) *page.Doc {
	t.Helper()
	d, err := compose(h, s, &harness.Result{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// few is a small part of the fixture, so that its primitives can be read.
func few() *bench.SectionPlan {
	s := engine()
	s.Cuts = append(append([]bench.Cut{}, s.Cuts[3:6]...), s.Cuts[20], s.Cuts[60])
	s.Connectors[0].Rows = s.Connectors[0].Rows[3:8]
	s.Connectors = s.Connectors[:1]
	s.Splices = s.Splices[1:]
	return s
}

func TestGolden(t *testing.T) {
	all, _ := composed(t)
	for file, got := range map[string]string{"engine.txt": all.Text(), "few.dump": book(t, head(), few()).Dump()} {
		file = "testdata/" + file
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s (-want +got):\n%s", file, d)
		}
	}
}

// squeezed is the text of a book in the order it was drawn, cell by cell, without blanks: a wrapped name is found in it.
func squeezed(d *page.Doc) string {
	var b strings.Builder
	for _, p := range d.Pages {
		for _, i := range p.Items {
			if x, ok := i.(page.Text); ok {
				b.WriteString(x.S)
			}
		}
	}
	return squeeze(b.String())
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), "") }

// large lists what is set in a size that is read across the bench.
func large(d *page.Doc, size page.Pt) []string {
	var out []string
	for _, p := range d.Pages {
		for _, i := range p.Items {
			if x, ok := i.(page.Text); ok && x.Size == size {
				out = append(out, x.S)
			}
		}
	}
	return out
}

func TestEverythingIsPrinted(t *testing.T) {
	s := engine()
	d := book(t, head(), s)
	text := squeezed(d)
	var lengths []string
	for _, c := range s.Cuts {
		if c.Length > 0 {
			lengths = append(lengths, fmt.Sprint(float64(c.Length)))
		}
		for _, want := range []string{c.Label, c.Ends[0].Text, c.Ends[1].Text, c.Note} {
			if !strings.Contains(text, squeeze(want)) {
				t.Errorf("%s: no %q", c.Name, want)
			}
		}
		for _, term := range c.Terms.All() {
			if want := squeeze(fmt.Sprintf("%s: %g", term.What, float64(term.Length))); !strings.Contains(text, want) {
				t.Errorf("%s: no term %q", c.Name, want)
			}
		}
	}
	got := large(d, figure.Size)
	if len(got) < len(lengths) || !reflect.DeepEqual(got[:len(lengths)], lengths) {
		t.Errorf("the large figures are %v, want first %v", got, lengths)
	}
	var cavities []string
	for _, c := range s.Connectors {
		for _, r := range c.Rows {
			if len(r.Cavity) <= 4 && c.Title != "block, studs" { // small ones are set smaller
				cavities = append(cavities, r.Cavity)
			}
		}
	}
	got = slices.Sorted(slices.Values(got[len(lengths):])) // the tables stand in the order that fills the pages
	slices.Sort(cavities)
	if !reflect.DeepEqual(got, cavities) {
		t.Errorf("the large cavities are %v, want %v", got, cavities)
	}
}

// An unknown length is said in words, never as a figure.
func TestUnknownLength(t *testing.T) {
	s := engine()
	s.Cuts = s.Cuts[20:21]
	s.Cuts[0].Note = ""
	d := book(t, head(), s)
	if n := strings.Count(squeezed(d), "notknown"); n < 2 {
		t.Errorf("%d times not known", n)
	}
	for _, x := range large(d, figure.Size)[:1] {
		if x != "1" { // a cavity of the first pin table
			t.Errorf("a figure %q", x)
		}
	}
}

func TestFrameOfEachPage(t *testing.T) {
	number := regexp.MustCompile(`page (\d+) of (\d+)`)
	for _, why := range []string{"2 findings are open", ""} {
		h := head()
		h.NotForBuild = why
		d := book(t, h, engine())
		for i, p := range d.Pages {
			text := strings.Join(p.Lines(), "\n")
			for _, want := range []string{"Heron hill tractor", "Bench book – engine", "Revision C", "Source 3f9ac201d4e7"} {
				if !strings.Contains(text, want) {
					t.Errorf("page %d does not say %q", i+1, want)
				}
			}
			if m := number.FindStringSubmatch(text); m == nil || m[1] != fmt.Sprint(i+1) || m[2] != fmt.Sprint(len(d.Pages)) {
				t.Errorf("page %d is numbered %v", i+1, m)
			}
			if strings.Contains(text, "NOT FOR BUILD") != (why != "") || why != "" && !strings.Contains(text, why) {
				t.Errorf("page %d: not for build", i+1)
			}
		}
	}
}

// On the tables of the bench no row is set smaller than 10 pt; heads and the frame may be.
func TestBenchTypeIsLegible(t *testing.T) {
	h := head()
	h.NotForBuild = ""
	body := h.Frame(Title, "engine").Body()
	d := book(t, h, engine())
	sums := slices.IndexFunc(d.Bookmarks, func(b page.Bookmark) bool { return b.Title == "Sums of the lengths" })
	for i, p := range d.Pages[:d.Bookmarks[sums].Page] {
		for _, item := range p.Items {
			if x, ok := item.(page.Text); ok && x.Size < 9.5 && body.Holds(x.Bounds()) {
				t.Errorf("page %d: %q in %g pt", i+1, x.S, float64(x.Size))
			}
		}
	}
}

func TestBookmarks(t *testing.T) {
	var got []string
	d := book(t, head(), engine())
	for _, b := range d.Bookmarks {
		got = append(got, fmt.Sprint(b.Level, " ", b.Title))
	}
	want := []string{"1 Before you start", "2 Marks and words", "1 Cut list", "1 Splices", "2 Splice s-inj", "2 Splice s-earth", "1 Pin tables", "2 A, engine half", "2 ecu, housing a", "2 block, studs",
		"1 Inspection", "1 Sums of the lengths", "1 Sign-off"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestSameInputSameBytes(t *testing.T) {
	a, b := engine(), engine()
	first, err := pdf.Write(book(t, head(), a))
	if err != nil {
		t.Fatal(err)
	}
	second, err := pdf.Write(book(t, head(), b))
	if err != nil {
		t.Fatal(err)
	}
	if string(first) != string(second) {
		t.Error("two books of one plan differ")
	}
	if diff := cmp.Diff(engine(), a); diff != "" {
		t.Errorf("the plan was changed: %s", diff)
	}
}

func TestCharacterThatCannotBePrinted(t *testing.T) {
	for want, spoil := range map[string]func(*bench.SectionPlan){
		"wire inj-feed box.f1 - A cannot be printed: character 日":    func(s *bench.SectionPlan) { s.Cuts[0].Label = "日" },
		"core crank-h ecu.crank-h - crank.1 cannot be printed":       func(s *bench.SectionPlan) { s.Cuts[60].Cores[0].Ends[1].Text = "a\tb" },
		"connector A, engine half, cavity 2 cannot be printed":       func(s *bench.SectionPlan) { s.Connectors[0].Rows[1].GoesTo = "😀" },
		"splice s-inj cannot be printed: character 日":                func(s *bench.SectionPlan) { s.Splices[0].Where = "日" },
		"section engine cannot be printed: byte 0xE9 is not valid U": func(s *bench.SectionPlan) { s.Note = "caf\xe9" },
	} {
		s := engine()
		spoil(s)
		if _, err := compose(head(), s, &harness.Result{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

func TestMakeOfAJob(t *testing.T) {
	in := export.Input{Result: &harness.Result{Job: &design.Job{Title: "Heron", Revision: "C", Common: design.Common{Note: "invented demo job"}}, Plan: &bench.Plan{Sections: []bench.SectionPlan{*few()}}}, Digest: "3f9a"}
	d, err := Make(in, "engine")
	if err != nil {
		t.Fatal(err)
	}
	if d.Title != "Bench book: engine" || !strings.Contains(d.Text(), "Invented demonstration job") {
		t.Errorf("%s\n%s", d.Title, strings.Join(d.Pages[0].Lines(), "\n"))
	}
	if _, err := Make(in, "tub"); err == nil {
		t.Error("a section that is not there has a book")
	}
	if _, err := Make(export.Input{}, "engine"); err == nil {
		t.Error("no plan has a book")
	}
}

func TestEmptySection(t *testing.T) {
	if d := book(t, common.Head{}, &bench.SectionPlan{Name: "engine"}); !strings.Contains(d.Text(), "Nothing is cut for this section.") {
		t.Error(d.Text())
	}
}

// names are short ones, long ones, ones without a place to break, with spaces, with tall letters.
func names() *rapid.Generator[string] {
	return rapid.OneOf(rapid.StringMatching(`[a-z]{1,6}(-[a-z0-9]{1,5}){0,3}`), rapid.StringMatching(`[A-ZÄÖÜ]{0,90}`), rapid.StringMatching(`[a-zÅ./_ -]{0,160}`), rapid.StringMatching(`(W\.){0,200}`))
}

// Whatever the names: nothing prints over anything, and nothing leaves its place or the page (compose checks the latter).
func TestNamesOfAnyLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := names()
		name := func(what string) string { return g.Draw(t, what) }
		length := rapid.Custom(func(t *rapid.T) unit.Length { return unit.Length(rapid.Float64Range(-1, 1e7).Draw(t, "length")) })
		size := rapid.SampledFrom([]unit.Size{{}, unit.Metric(0.5), unit.Metric(120), unit.AWG(-3), unit.AWG(20)})
		code := rapid.SampledFrom([]string{"", "RD", "GN/YE/BK", "GNYE"})
		ends := func() [2]bench.CutEnd {
			return [2]bench.CutEnd{{Text: name("end"), Contact: name("contact"), Strip: length.Draw(t, "strip"), Tool: name("tool")}, {Text: name("end"), Contact: name("contact")}}
		}
		s := &bench.SectionPlan{Name: name("section"), Note: name("note")}
		for range rapid.IntRange(0, 12).Draw(t, "cuts") {
			c := bench.Cut{Name: name("wire"), Label: name("label"), Family: name("family"), Size: size.Draw(t, "size"), Colour: name("colour"), Code: code.Draw(t, "code"), Length: length.Draw(t, "cut"), Ends: ends(), Note: name("note")}
			var terms []bench.Term
			for range rapid.IntRange(0, 8).Draw(t, "terms") {
				terms = append(terms, bench.Term{What: name("term"), Length: length.Draw(t, "term")})
			}
			c.Terms = bench.TermsOf(terms...)
			for range rapid.IntRange(0, 2).Draw(t, "cores") {
				c.Cores = append(c.Cores, bench.Core{Name: name("core"), Label: name("label"), Colour: name("colour"), Ends: ends(), Size: size.Draw(t, "size")})
			}
			s.Cuts = append(s.Cuts, c)
		}
		for range rapid.IntRange(0, 3).Draw(t, "connectors") {
			c := bench.Connector{Title: name("title"), Break: name("break"), Device: name("device"), Housing: name("housing"), Contacts: name("contacts"), Key: name("key"), Mount: name("mount"), Panel: name("panel"), Cavities: 9}
			for range rapid.IntRange(0, 9).Draw(t, "rows") {
				r := bench.PinRow{Cavity: name("cavity"), Pin: name("pin"), Label: name("label"), Name: name("wire"), Code: code.Draw(t, "code"), Cable: name("cable"), GoesTo: name("to"), Contact: name("contact"), Size: size.Draw(t, "size")}
				if rapid.Bool().Draw(t, "blank") {
					r = bench.PinRow{Cavity: r.Cavity, Blank: bench.PlugIt}
				}
				c.Rows = append(c.Rows, r)
			}
			s.Connectors = append(s.Connectors, c)
		}
		for range rapid.IntRange(0, 2).Draw(t, "splices") {
			p := bench.Splice{Name: name("splice"), Where: name("where"), Sleeve: name("sleeve"), Area: 3}
			for range rapid.IntRange(0, 4).Draw(t, "wires") {
				p.Wires = append(p.Wires, bench.SpliceWire{Label: name("label"), Name: name("wire"), To: name("to"), Leaves: name("leaves"), Size: size.Draw(t, "size")})
			}
			s.Splices = append(s.Splices, p)
		}
		h := common.Head{Job: name("job"), Revision: name("revision"), Digest: name("digest"), NotForBuild: name("why"), Size: rapid.SampledFrom([]page.Size{page.A4, page.A3, page.Letter}).Draw(t, "sheet")}
		d, err := compose(h, s, &harness.Result{})
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range d.Pages {
			if o := p.Overlaps(); len(o) > 0 {
				t.Fatalf("page %d: %q over %q", i+1, o[0][0].S, o[0][1].S)
			}
		}
	})
}

// The tables fill the pages: each is there once, the first that waits opens the next page, and no page has room left for one
// that comes later.
func TestFilled(t *testing.T) {
	whole := func(heights ...page.MM) (out []need) {
		for _, h := range heights {
			out = append(out, need{h, h})
		}
		return out
	}
	if got, want := filled(whole(100, 120, 60, 30, 90, 200), 200, 30), []int{0, 2, 1, 3, 4, 5}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got, want := filled([]need{{300, 100}, {90, 90}, {300, 60}}, 200, 30), []int{0, 2, 1}; !reflect.DeepEqual(got, want) { // 70 are left: the second waits
		t.Errorf("%v, want %v", got, want)
	}
	rapid.Check(t, func(t *rapid.T) {
		const room = 240
		var list []need
		for range rapid.IntRange(0, 30).Draw(t, "tables") {
			all := page.MM(rapid.IntRange(10, 600).Draw(t, "height"))
			list = append(list, need{all, min(all, page.MM(rapid.IntRange(10, 600).Draw(t, "start")))})
		}
		order := filled(list, room, 30)
		if got := slices.Sorted(slices.Values(order)); len(got) != len(list) || len(got) > 0 && (got[0] != 0 || got[len(got)-1] != len(got)-1 || len(slices.Compact(got)) != len(list)) {
			t.Fatalf("%v of %d tables", order, len(list))
		}
		used := page.MM(30)
		for n, i := range order {
			if used+list[i].start > room {
				for _, later := range order[n:] {
					if used+list[later].start <= room {
						t.Fatalf("table %d would still go before %d: %v", later, i, order)
					}
				}
				for _, later := range order[n:] {
					if later < i {
						t.Fatalf("table %d waits for longer than %d: %v", later, i, order)
					}
				}
				used = 0
			}
			for used += list[i].all; used > room; {
				used -= room
			}
		}
	})
}

// A seal and a label that does not say its circuit are printed, what is stated is marked, and what is not known is a line to
// write on.
func TestSealsMarksAndBlanks(t *testing.T) {
	s := engine()
	s.Cuts = s.Cuts[:2]
	s.Cuts[0].Label, s.Cuts[0].Ends[0].Seal = "104", "seal-2"
	s.Cuts[1].Ends[0].Strip = 0
	s.Connectors[0].Rows = s.Connectors[0].Rows[:3]
	s.Connectors[0].Rows[1].Seal = bench.NoSeal
	s.Connectors, s.Splices = s.Connectors[:1], nil
	d := book(t, head(), s)
	text := squeezed(d)
	for _, want := range []string{"104 (inj-feed)", "size-20 socket, seal-2", "no seal yet", "frozen"} {
		if !strings.Contains(text, squeeze(want)) {
			t.Errorf("no %q", want)
		}
	}
	lines := func(s *bench.SectionPlan) int {
		n := 0
		for _, p := range book(t, head(), s).Pages {
			for _, i := range p.Items {
				if l, ok := i.(page.Line); ok && l.Style.Width == page.Thin.Width && l.A.Y == l.B.Y {
					n++
				}
			}
		}
		return n
	}
	before := lines(s)
	s.Cuts[1].Ends[0].Strip = 4.5
	if after := lines(s); after >= before {
		t.Errorf("%d lines to write on with a strip that is not known, %d with all known", before, after)
	}
}
