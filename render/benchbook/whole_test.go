package benchbook

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/assembly"
	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/harness/design"
	"loomsheet/harness/face"
	"loomsheet/harness/free"
	"loomsheet/harness/live"
	"loomsheet/harness/reel"
	"loomsheet/harness/rule"
	"loomsheet/harness/unit"
	library "loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render/export"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
	"loomsheet/render/table"
)

// whole is the section of the fixture with all that a section can have, and what else is known of its job.
func whole() (*bench.SectionPlan, *harness.Result) {
	s := engine()
	red := "thin-wall 2.5 mm2 red/white"
	s.Picks = []bench.PartCount{{Kind: "wire", Name: red, Count: 12, Samples: 5, Length: 18400}, {Kind: "wire", Name: "thin-wall 1 mm2 blue", Count: 3, Length: 900, Unknown: 1},
		{Kind: "contact", Name: "size-20 pin", Count: 31, Samples: 5, Scrap: 2}, {Kind: "contact", Name: longName, Count: 4}, {Kind: "sleeve", Name: "shrink 6.35 mm", Count: 2, Length: 70}}
	cuts := []reel.Cut{{Section: "engine", Count: 9, Length: 1800}, {Section: "tub", Count: 1, Length: 700}}
	r := &harness.Result{Reels: &reel.Plan{Wires: []reel.Wire{
		{Name: red, Reels: []reel.Reel{{Name: "stock 37 m", Cuts: cuts, Rest: 1200, Kept: true}, {Name: "new reel 1 of 100 m", Cuts: cuts, Rest: 90}}},
		{Name: "wire of another name", Reels: []reel.Reel{{Name: "stock 9 m", Cuts: cuts[:1], Rest: 400}}},
		{Name: "of no use here", Reels: []reel.Reel{{Name: "stock 8 m", Cuts: cuts[1:], Rest: 400}}}}}}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		for e := range c.Ends {
			s.Markers = append(s.Markers, bench.Marker{Marked: &bench.Marked{Cut: i, Wire: c.Wire, Text: c.Label, Size: c.Size, Code: c.Code, Outside: 2.4}, Place: c.Ends[e].Text, At: "60 mm from the end", Count: 1})
		}
		if i%2 == 0 {
			s.Markers = append(s.Markers, bench.Marker{Marked: &bench.Marked{Cut: i, Wire: c.Wire, Text: c.Label, Size: c.Size, Code: c.Code, Outside: 2.4}, Place: bench.AlongWire, At: "every 280 mm between the ends", Count: 3})
		}
	}
	s.Pairs = []bench.Pair{{Cable: "bus", Lay: 30, Turns: 40, Twisted: 1200, Untwisted: 40, Steps: []string{"Twist the two wires, one turn every 30 mm.", "Leave 40 mm untwisted."},
		Members: []bench.PairMember{{Label: "bus-h", Code: "WH", Colour: "white", Size: unit.Metric(0.5), Length: 1340, Ends: [2]string{"ecu a, cavity 3", "splice s-bus"}},
			{Label: "bus-l", Code: "BU", Colour: "blue", Size: unit.Metric(0.5), Length: 1340, Ends: [2]string{"ecu a, cavity 4", "splice s-bus"}}},
		Screen: &bench.PairScreen{Length: 1250, Ends: [2]string{"ecu a, cavity 5", "cut back beside A"}}}}
	ends := []bench.CrimpEnd{{Label: "inj-feed", Where: "A, cavity 10"}, {Label: "fan", Where: "A, cavity 9"}, {Label: "fan.2", Where: "stud main of block"}}
	s.Crimps = []bench.Crimp{
		{Kind: "contact", Contact: "size-20 pin", Part: "size-20", Wire: "thin-wall 1 mm2", Ends: ends[:2], Count: 2, Samples: 5, Scrap: 1, Strip: "4.5 mm", Height: "1.35 mm", Tool: "four-indent", Setting: "4",
			Gap: "0.25 to 0.75 mm (a standard)", Pull: []bench.Pull{{Force: 81.6}}, PullText: "at least 81.6 N (a table)"},
		{Kind: "contact", Contact: "size-20 socket", Part: "size-20", Wire: "thin-wall 1 mm2", Ends: ends[:1], Count: 1, SameAs: "size-20 pin", Strip: "4.5 mm", Height: bench.NotStated, Tool: bench.NotStated, Setting: bench.NotStated,
			Pull: []bench.Pull{{Force: 81.6}}, PullText: "at least 81.6 N (a table)"},
		{Kind: "lug", Contact: "M8 lug", Wire: "thin-wall 6 mm2", Ends: ends[2:], Count: 1, Samples: 5, Strip: bench.NotStated, Height: bench.NotStated, Tool: "a tool with a name much longer than its column", Setting: "B",
			PullText: "no figure is published for a screen"}}
	s.Inspection = bench.Inspection{Rings: []bench.Ring{{From: bench.RingEnd{Text: "box, cavity f1", Label: "inj-feed.1"}, To: []bench.RingEnd{{Text: "A, cavity 1", Label: "inj-feed.1", Most: 0.012, Known: true}, {Text: longName, Label: "x"}}}},
		Isolation: []bench.Isolation{{Title: "A, engine half", Ends: []string{"1", "2", "3"}, Joined: [][]string{{"1", "3"}}}, {Title: "ecu, housing a", Ends: []string{"a1", "a2"}}}}
	h := &design.Housing{}
	for i := range 24 {
		h.Cavities = append(h.Cavities, design.HousingCavity{Name: fmt.Sprint(i + 1), At: [2]unit.Length{unit.Length(6 * (i % 7)), unit.Length(-6 * (i / 7))}, Placed: true})
	}
	s.Connectors[0].Wire, s.Connectors[0].Mating = face.Of(h, true, face.WireSide), face.Of(h, true, face.MatingSide)
	few := bench.Connector{Title: "kill", Device: "kill", Housing: "plain-2", Contacts: "as the device has it", Cavities: 2}
	h = &design.Housing{Cavities: h.Cavities[:2]}
	few.Wire, few.Mating = face.Of(h, false, face.WireSide), face.Of(h, false, face.MatingSide)
	few.Rows = []bench.PinRow{row("1", "in", &s.Cuts[1], longName, "size-16", design.Stated), row("2", "", &s.Cuts[2], "A, cavity 3", "size-16, seal-2", design.Frozen)}
	s.Connectors = append(s.Connectors, few)
	for i := range s.Splices[0].Wires {
		s.Splices[0].Wires[i].Side = []string{"left", "right"}[i%2]
	}
	r.Boards = []board.Board{{Section: "engine", Number: 1, Of: 1, Width: 2400, Height: 1200, Pegs: []board.Peg{{Number: 1, At: board.At{X: 100, Y: 600}, Kind: "end", Text: "holder of A, engine half"}, {Number: 2, At: board.At{X: 900, Y: 600}, Kind: "end", Text: "ecu"}},
		Pieces: []board.Piece{{Name: "A to ecu", Limbs: []board.Limb{{Name: "A to ecu", From: "A", To: "ecu", Parent: -1, Length: 800, Drawn: 800, Line: []board.At{{X: 100, Y: 600}, {X: 900, Y: 600}},
			Spans: []board.Span{{From: "A", To: "ecu", Run: "rail", Length: 800, Drawn: 800, Outside: 14, Wires: 12, Line: []board.At{{X: 100, Y: 600}, {X: 900, Y: 600}}}}}}}}}}
	step := func(n int, do, with, after string) assembly.Step {
		return assembly.Step{Number: n, Do: do, With: []assembly.Each{{What: with, Ends: "cavities 1 to 6", N: 6}}, After: after}
	}
	var many []string
	for i := range 9 {
		many = append(many, fmt.Sprintf("run rail, node %d to %s", i, longName[:30]))
	}
	r.Assembly = &assembly.Plan{
		Sections: []assembly.Section{{Name: "engine",
			Things: []assembly.Thing{{Kind: "sleeve over a run", Part: "shrink", Size: 12.7, Length: 350, Count: 1, Where: "run rail", From: "from A", Before: "the first contact is crimped at A", Over: 11, Grips: 6, Heat: true, Note: "in two pieces"},
				{Kind: "boot", Count: 1, Where: longName}},
			Places: []assembly.Place{{Title: "A, engine half", Titles: []string{"A, engine half"}, Steps: []assembly.Step{step(1, "slide on the marks", "marker 2.4 mm", ""), step(2, "strip and crimp", "size-20 pin, strip 4.5 mm", "sleeve shrink is on run rail")}},
				{Title: "horn, lamp", Titles: []string{"horn", "lamp"}, Steps: []assembly.Step{step(1, "slide on the marks", "marker", ""), step(2, "strip and crimp", "size-16", "")}},
				{Title: strings.Join(many, "; "), Titles: many, Steps: []assembly.Step{step(1, "lay up", "", "")}}},
			Order: []assembly.Round{{Do: "slide on the marks", Where: "A, engine half; horn; lamp", Turns: make([]assembly.Turn, 3)}, {Do: "lay up", Where: "everywhere", Turns: make([]assembly.Turn, 13)}}}},
		Stacks: []assembly.Stack{{Title: "stud main of block", Sections: []string{"engine", "tub"}, Thread: "M8", Torque: 12, Source: "a standard", Room: true, Nut: "lock washer, nut", Lugs: []assembly.Lug{
			{Order: 1, Label: "fan.23", Name: "fan box.f23 - A", Section: "engine", Size: unit.Metric(6), Hole: "M8", Palm: 16, Turned: true, Clock: 30, Direction: "rail towards inj2"},
			{Order: 2, Label: "earth", Section: "tub", Size: unit.Metric(10), Hole: "M8", Stated: true, Angle: 45}}}}}
	half := func(title, section string, n int) live.Half {
		h := live.Half{Title: title, Section: section, Exposed: true, Earths: []live.Cavity{{Name: "9"}}, Dead: make([]live.Cavity, 4)}
		for i := range n {
			h.Live = append(h.Live, live.Cavity{Name: fmt.Sprint(i + 1), Label: fmt.Sprintf("live.%d", i+1), Contact: "pin", Exposed: true, Counts: i != 1, Volts: 14.2, Amps: 456,
				Feeds: []live.Feed{{Behind: "fuse box live - inj, 7.5 A", State: live.State{Words: "isolator on; relay " + longName + " pulled in"}, Volts: 14.2, Amps: 456}}})
		}
		return h
	}
	r.Live = &live.Result{Sources: "battery, alternator", Breaks: []live.Unplugged{
		{Title: "break A", Halves: [2]live.Half{half("A, half tub (sockets)", "tub", 2), half("A, half engine (pins)", "engine", 90)}, Cautions: []string{"The bare stud can be live. Cover it."}},
		{Title: "break quiet", Halves: [2]live.Half{{Section: "engine"}, {Section: "tub"}}}, {Title: "break of others", Halves: [2]live.Half{half("x", "tub", 1), half("y", "nose", 1)}}}}
	r.Free = &free.Proof{Removals: []free.Part{{Name: "engine-out", Sections: []string{"engine"}, Verdict: "Something still ties it.", Assumed: []string{"The bonnet is off."},
		Ties: []free.Tie{{Text: "Wire x ties it at stud y.", Mend: "Undo stud y."}}, Clips: []free.Clips{{Text: "Run rail: take off rail-1."}},
		Steps: []free.Step{{Number: 1, Title: "Pull the engine half of break A off the tub half", Place: "panel firewall", Size: "nut M8, 13 mm across", First: []string{"Take off clip rail-2."}, After: []string{"Put the lug back."},
			Cautions: []string{"Switch everything off first."}, Losses: []free.Loss{{Text: "Fan loses its feed."}}, Pulled: 8, Why: "It is not on the border."}}}}}
	return s, r
}

// composed is the whole fixture as a book.
func composed(t *testing.T) (*page.Doc, *bench.SectionPlan) {
	t.Helper()
	s, r := whole()
	d, err := compose(head(), s, r)
	if err != nil {
		t.Fatal(err)
	}
	return d, s
}

// dense is a compiled job with everything that follows from its text.
func dense(t *testing.T) []*page.Doc {
	t.Helper()
	load := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join("../../testdata/dense", name)) }
	job, sources, text := resolve.Job("dense.loom", load, library.Files(), rule.Keys())
	if text.HasMistakes() {
		t.Fatal(text)
	}
	in := export.Input{Result: harness.Compile(job), Digest: sources.Digest()[:12]}
	var out []*page.Doc
	for _, name := range []string{"loom", "far"} {
		d, err := Make(in, name)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, d)
	}
	return out
}

// strip is what stands between two rules across a column of a page: a row of a table.
type strip struct {
	chapter string
	page    int
	box     page.Box
	text    string // without blanks
	ticks   int
	write   int // lines to write on
}

// strips are the rows of all tables: each ends at a hair line as wide as the page or half of it, and begins at the rule above.
func strips(d *page.Doc) []strip {
	var out []strip
	chapter := "cover"
	for n, p := range d.Pages {
		var rules []page.Line
		for _, i := range p.Items {
			if l, ok := i.(page.Line); ok && l.A.Y == l.B.Y && math.Abs(float64(l.B.X-l.A.X)) > 60 && (l.Style.Width == page.Hair.Width || l.Style.Width == page.Firm.Width) {
				rules = append(rules, l)
			}
		}
		for _, l := range rules {
			if l.Style.Width != page.Hair.Width {
				continue
			}
			top := page.MM(0)
			for _, o := range rules {
				if o.A.X == l.A.X && o.B.X == l.B.X && o.A.Y < l.A.Y {
					top = max(top, o.A.Y)
				}
			}
			s := strip{page: n, box: page.Box{X: l.A.X, Y: top, W: l.B.X - l.A.X, H: l.A.Y - top}}
			for _, b := range d.Bookmarks {
				if b.Level == 1 && (b.Page < n || b.Page == n && b.Y <= l.A.Y) {
					chapter = b.Title
				}
			}
			s.chapter = chapter
			for _, i := range p.Items {
				b := i.Bounds()
				if mid := b.Y + b.H/2; mid < top || mid > l.A.Y || b.X < l.A.X-0.01 || b.X+b.W > l.B.X+0.01 {
					continue
				}
				switch x := i.(type) {
				case page.Text:
					s.text += squeeze(x.S)
				case page.Rect:
					if x.Box.W == page.TickSize && x.Box.H == page.TickSize {
						s.ticks++
					}
				}
			}
			out = append(out, s)
		}
	}
	return out
}

// unticked are the chapters whose tables hold nothing to be done.
var unticked = []string{"Before you start", "Sums of the lengths", "Sign-off"}

func TestEveryRowHasATick(t *testing.T) {
	d, _ := composed(t)
	seen := map[string]bool{}
	for _, d := range append(dense(t), d) {
		for _, s := range strips(d) {
			seen[s.chapter] = true
			if s.ticks == 0 && !slices.Contains(unticked, s.chapter) {
				t.Errorf("%s, page %d: no tick in %q", s.chapter, s.page+1, s.text)
			}
		}
	}
	for _, c := range []string{"Materials to pick", "Cut list", "Markers", "Pairs and cables made up here", "Crimps by set-up", "Board", "Lay-up", "Splices", "Sleeves and boots", "Lugs on studs", "Order of assembly", "Pin tables", "Inspection",
		"Taking it out", "Pulled: what is still live"} {
		if !seen[c] {
			t.Errorf("no row in chapter %s", c)
		}
	}
}

// What belongs to one row stands between the same two rules on one page.
func TestNoRowIsBroken(t *testing.T) {
	d, s := composed(t)
	rows := strips(d)
	one := func(chapter string, words ...string) {
		t.Helper()
		for _, r := range rows {
			found := r.chapter == chapter
			for _, w := range words {
				found = found && strings.Contains(r.text, squeeze(w))
			}
			if found {
				return
			}
		}
		t.Errorf("%s: %q do not stand in one row", chapter, words)
	}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		length := "notknown"
		if c.Length > 0 {
			length = fmt.Sprint(float64(c.Length))
		}
		if len(c.Cores) == 0 {
			one("Cut list", length, c.Label, c.Ends[0].Text, c.Ends[1].Text, c.Note)
		}
		for _, k := range c.Cores {
			one("Cut list", k.Label, k.Ends[0].Text, k.Ends[1].Text)
		}
		one("Markers", c.Label, c.Ends[0].Text, c.Ends[1].Text)
	}
	for i := range s.Connectors {
		for _, r := range s.Connectors[i].Rows {
			one("Pin tables", r.Cavity, r.Label, r.GoesTo, strings.Split(r.Blank, ";")[0])
		}
	}
	for _, w := range s.Splices[0].Wires {
		one("Splices", w.Label, strings.ToUpper(w.Side)+": "+w.Leaves, w.To)
	}
	one("Sleeves and boots", "shrink, sleeve over a run", "350", "from A", "11, 6", "heat")
	one("Lugs on studs", "1", "fan.23", "M8 lug, 16", "rail towards inj2")
	one("Materials to pick", "size-20 pin", "31", "5 + 2")
	one("Crimps by set-up", "size-20 pin", "2 + 5 + 1", "four-indent, 4", "81.6 a", "A 9, 10")
	one("Crimps by set-up", "size-20 socket", "Sampled with size-20 pin")
	one("Taking it out", "CAUTION: Switch everything off first.", "First: Take off clip rail-2.", "Then: Put the lug back.", "Lost: Fan loses its feed.", "Not needed: It is not on the border.", "8 A")
}

// Colours never carry meaning alone: beside each swatch, and within each cavity of a face, stand letters.
func TestLettersBesideEachSwatch(t *testing.T) {
	letters := regexp.MustCompile(`^\(?[A-Z]{2}`)
	swatches := 0
	d, _ := composed(t)
	for _, d := range append(dense(t), d) {
		for n, p := range d.Pages {
			for _, i := range p.Items {
				r, ok := i.(page.Rect)
				if !ok || r.Box.W != table.SwatchWidth || !r.Style.Line.On {
					continue
				}
				swatches++
				found := slices.ContainsFunc(p.Items, func(o page.Item) bool {
					x, ok := o.(page.Text)
					b := o.Bounds()
					return ok && letters.MatchString(x.S) && b.X > r.Box.X+r.Box.W && b.X < r.Box.X+r.Box.W+3 && b.Y < r.Box.Y+r.Box.H && b.Y+b.H > r.Box.Y
				})
				if !found {
					t.Errorf("page %d: no letters beside the swatch at %v", n+1, r.Box)
				}
			}
		}
	}
	if swatches < 300 {
		t.Errorf("%d swatches", swatches)
	}
}

// Each connector with known places is drawn from both sides, each view under its own title.
func TestBothFaces(t *testing.T) {
	d, s := composed(t)
	text := d.Text()
	faces := 0
	for i := range s.Connectors {
		if len(s.Connectors[i].Wire.Cavities) > 0 {
			faces++
		}
	}
	if faces != 2 {
		t.Fatal(faces)
	}
	if a, b := strings.Count(text, "WIRE SIDE"), strings.Count(text, "MATING SIDE"); a != faces || b != faces {
		t.Errorf("%d views of the wire side, %d of the mating side, for %d connectors", a, b, faces)
	}
}

// What is still live of one connector is one page at most, however much it is.
func TestLiveListsFitAPage(t *testing.T) {
	d, _ := composed(t)
	for i, b := range d.Bookmarks {
		if b.Title == "Break A" && d.Bookmarks[i+1].Page > b.Page+1 {
			t.Errorf("the list of break A goes from page %d to %d", b.Page+1, d.Bookmarks[i+1].Page)
		}
	}
	for _, p := range d.Pages {
		for _, l := range p.Lines() {
			if strings.Contains(l, "Break A, continued") {
				t.Error("the list of break A is continued")
			}
		}
	}
	text := squeezed(d)
	for _, want := range []string{"live.90", "(notcounted)", "Thebarestudcanbelive.Coverit.", "Nothingliveoneitherhalf,whateverisswitchedon:breakquiet.", "earth:9;4dead"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	if strings.Contains(text, "Breakofothers") {
		t.Error("a break of other sections is listed")
	}
}

func TestWholeBookIsTheSameTwice(t *testing.T) {
	a, _ := composed(t)
	b, _ := composed(t)
	first, err := pdf.Write(a)
	if err != nil {
		t.Fatal(err)
	}
	second, err := pdf.Write(b)
	if err != nil {
		t.Fatal(err)
	}
	if string(first) != string(second) {
		t.Error("two books of one plan differ")
	}
}

func TestCoverNamesTheTools(t *testing.T) {
	d, _ := composed(t)
	text := squeeze(strings.Join(d.Pages[0].Lines(), " "))
	for _, want := range []string{"Tools", "crimp tool: four-indent, set to 4", "pull tester 81.6 N", "heat gun", "torque wrench 12 Nm", "forming board 2400 x 1200 mm, 2 pegs", "meter that rings and reads milliohms"} {
		if !strings.Contains(text, squeeze(want)) {
			t.Errorf("the cover does not say %q", want)
		}
	}
}

// No page is left nearly empty but the last of what ends before a large sheet, and no heading stands at a foot without what follows it.
func TestNoLonelyHeadings(t *testing.T) {
	d, _ := composed(t)
	for _, d := range append(dense(t), d) {
		for _, b := range d.Bookmarks {
			below := false
			for _, i := range d.Pages[b.Page].Items {
				if x, ok := i.(page.Text); ok && x.At.Y > b.Y+8 && x.At.Y < d.Pages[b.Page].Size.H-24 {
					below = true
				}
			}
			if !below {
				t.Errorf("nothing stands below %q on page %d", b.Title, b.Page+1)
			}
		}
	}
}
