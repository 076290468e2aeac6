package board

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"loomsheet/harness"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
)

// job is a section whose trunk is longer than its board, with branches and a splice: it must be folded.
const job = `harness "Invented lighter" revision A
section deck
zone hold air 40 C
point fore at (2500, 0, 0 mm)
point mid at (1500, 0, 0 mm)
point aft at (600, 0, 0 mm)
set board-width to 1400 mm
set board-height to 900 mm
run main from battery to aft to mid to fore to lamp section deck zone hold sleeve braid
run side from mid to horn section deck zone hold
run rear from aft to pump section deck zone hold
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (3000, 0, 0 mm) housing sealed-2 { draw 2 A at 12 V from 1 to 2 }
device horn at (1500, 320, 0 mm) housing sealed-2 { draw 2 A at 12 V from 1 to 2 }
device pump at (600, -450, 0 mm) housing sealed-2 { draw 2 A at 12 V from 1 to 2 }
circuit lamp-feed from battery.pos to lamp.1
circuit lamp-back from battery.neg to lamp.2
circuit horn-feed from battery.pos to horn.1
circuit horn-back from battery.neg to horn.2
circuit pump-feed from battery.pos to pump.1
circuit pump-back from battery.neg to pump.2
case on { supply battery }
`

func made(t *testing.T) *harness.Result {
	t.Helper()
	d, _, text := resolve.Job("job.loom", func(string) ([]byte, error) { return []byte(job), nil }, parts.Files(), nil)
	if text.HasMistakes() {
		t.Fatal(text)
	}
	return harness.Compile(d)
}

// TestMeasured measures every bundle again from the SVG, as a stranger would: a millimetre is a unit, a bundle the sum of its straight pieces.
func TestMeasured(t *testing.T) {
	r := made(t)
	if len(r.Boards) != 1 || len(r.Boards[0].Left) > 0 {
		t.Fatalf("boards %+v", r.Boards)
	}
	b := &r.Boards[0]
	var doc struct {
		Width  string `xml:"width,attr"`
		Box    string `xml:"viewBox,attr"`
		Groups []struct {
			ID    string `xml:"id,attr"`
			Lines []struct {
				Points string `xml:"points,attr"`
			} `xml:"polyline"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(SVG(b, &r.Plan.Sections[0], "stamp"), &doc); err != nil {
		t.Fatal(err)
	}
	if f := strings.Fields(doc.Box); len(f) != 4 || f[2]+"mm" != doc.Width {
		t.Errorf("width %s, view box %s: not one unit a millimetre", doc.Width, doc.Box)
	}
	var measured []float64
	for _, g := range doc.Groups {
		if g.ID != "RUN" {
			continue
		}
		for _, l := range g.Lines {
			sum, have := 0.0, false
			var x, y float64
			for _, p := range strings.Fields(l.Points) {
				a, o, _ := strings.Cut(p, ",")
				px, errX := strconv.ParseFloat(a, 64)
				py, errY := strconv.ParseFloat(o, 64)
				if errX != nil || errY != nil {
					t.Fatalf("point %q", p)
				}
				if have {
					sum += math.Hypot(px-x, py-y)
				}
				x, y, have = px, py, true
			}
			measured = append(measured, sum)
		}
	}
	// The lengths of the geometry, which the board did not make.
	n, folds := 0, 0
	for _, p := range b.Pieces {
		for _, l := range p.Limbs {
			folds += len(l.Bends)
			for _, s := range l.Spans {
				e := &r.Space.Edges[s.Edge]
				if n >= len(measured) {
					t.Fatalf("only %d bundles in the file", len(measured))
				}
				if want := float64(e.Length + e.Slack - (s.Length - s.Drawn)); math.Abs(measured[n]-want) > 0.05 {
					t.Errorf("%s to %s measures %.3f mm, it is %.3f", s.From, s.To, measured[n], want)
				}
				n++
			}
		}
	}
	if n != len(measured) || n != len(r.Space.Edges) {
		t.Errorf("%d bundles measured, %d drawn, %d there", len(measured), n, len(r.Space.Edges))
	}
	if folds == 0 {
		t.Error("nothing was folded")
	}
}

// TestBar finds the bar of 100 mm on each sheet of the book: 283.46 points (1 point is 1/72 inch).
func TestBar(t *testing.T) {
	r := made(t)
	doc, err := Book(page.Frame{Job: "Lighter"}, r.Boards, &r.Plan.Sections[0]).Doc("board", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := pdf.Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	level := regexp.MustCompile(`(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l S`)
	found := 0
	for rest := data; ; {
		i := bytes.Index(rest, []byte("stream\n"))
		if i < 0 {
			break
		}
		rest = rest[i+7:]
		z, err := zlib.NewReader(bytes.NewReader(rest))
		if err != nil {
			continue
		}
		text, _ := io.ReadAll(z)
		for _, m := range level.FindAllStringSubmatch(string(text), -1) {
			a, _ := strconv.ParseFloat(m[1], 64)
			b, _ := strconv.ParseFloat(m[3], 64)
			if m[2] == m[4] && math.Abs(math.Abs(b-a)-100/25.4*72) < 0.02 {
				found++
				break
			}
		}
	}
	if want := len(doc.Pages) - 1; found != want || want < 10 {
		t.Errorf("%d bars of 100 mm on %d sheets", found, want)
	}
}

// TestTiles holds the sheets against the board: each place of each bundle is on one, neighbours share a strip.
func TestTiles(t *testing.T) {
	r := made(t)
	b := &r.Boards[0]
	tiles := Tiles(Full(b, &r.Plan.Sections[0]), b.Width, b.Height, 178, 230)
	if len(tiles) < 10 {
		t.Fatalf("%d sheets", len(tiles))
	}
	for _, p := range b.Pieces {
		for _, l := range p.Limbs {
			for _, at := range l.Line {
				on := 0
				for i := range tiles {
					if tiles[i].holds(place(at)) {
						on++
					}
				}
				if on == 0 {
					t.Errorf("%v is on no sheet", at)
				}
			}
		}
	}
	for i := range tiles {
		if l := tiles[i].Drawing.Lay(178, 230, 1); l.Scale != 1 {
			t.Errorf("sheet %s is not at full size but %s", tiles[i].Name, l.Scale)
		}
	}
	if Tiles(Full(b, nil), 1e9, 1e9, 178, 230) != nil {
		t.Error("a board without end has sheets")
	}
}

// TestPage writes the page and the tables into a book: nothing leaves its place.
func TestPage(t *testing.T) {
	r := made(t)
	frame := page.Frame{Job: "Lighter", NotForBuild: "1 finding is open"}
	fl := page.NewFlow(frame)
	Add(fl, frame, r.Boards, &r.Plan.Sections[0])
	doc, err := fl.Doc("bench", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	if len(doc.Pages) < 2 || doc.Pages[0].Size.W < doc.Pages[0].Size.H || doc.Pages[1].Size.W > doc.Pages[1].Size.H {
		t.Errorf("%d pages, the first of %v", len(doc.Pages), doc.Pages[0].Size)
	}
	said := doc.Text()
	for _, want := range []string{"Board of deck", "scale 1:", "end of the bundle: lamp", "braid of main starts", "breakout"} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q", want)
		}
	}
}
