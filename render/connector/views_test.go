package connector

import (
	"strconv"
	"testing"
	"time"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/face"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// connector of n cavities in rows of four, every fourth blank; its last row is short, so that no view can be taken for the other.
func connector(n int, pins bool) *bench.Connector {
	h := &design.Housing{}
	c := &bench.Connector{Title: "A, tub half", Key: "N"}
	codes := []string{"RD/WH", "BK", "GNYE", "BN/YE", "BU"}
	for i := range n {
		name := strconv.Itoa(i + 1)
		h.Cavities = append(h.Cavities, design.HousingCavity{Name: name, At: [2]unit.Length{unit.Length(6 * (i % 4)), unit.Length(-6 * (i / 4))}, Placed: true})
		r := bench.PinRow{Cavity: name, Code: codes[i%len(codes)], Label: "feed." + name, Wires: []int{i}}
		if i%4 == 3 {
			r = bench.PinRow{Cavity: name, Blank: bench.PlugIt}
		}
		c.Rows = append(c.Rows, r)
	}
	c.Wire, c.Mating = face.Of(h, pins, face.WireSide), face.Of(h, pins, face.MatingSide)
	return c
}

func drawn(t *testing.T, c *bench.Connector) *page.Doc {
	t.Helper()
	fl := page.NewFlow(page.Frame{Size: page.A4, Job: "Heron hill tractor", Book: "Bench book", Revision: "A", Digest: "0"})
	fl.Heading(2, c.Title)
	fl.Add(Views(c))
	fl.Para("what follows")
	d, err := fl.Doc("views", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// places of each text on the first page, in reading order of the items.
func places(d *page.Doc) map[string][]page.Box {
	out := map[string][]page.Box{}
	for _, i := range d.Pages[0].Items {
		if x, ok := i.(page.Text); ok {
			out[x.S] = append(out[x.S], x.Bounds())
		}
	}
	return out
}

func TestTheTwoViewsAreMirrorImages(t *testing.T) {
	for _, pins := range []bool{false, true} {
		at := places(drawn(t, connector(7, pins)))
		one, three := at["1"], at["3"]
		if len(one) != 2 || len(three) != 2 {
			t.Fatalf("pins %v: cavity 1 at %v, cavity 3 at %v", pins, one, three)
		}
		rises := [2]bool{one[0].X < three[0].X, one[1].X < three[1].X}
		if want := [2]bool{!pins, pins}; rises != want {
			t.Errorf("pins %v: from 1 to 3 one goes to the right in wire and mating side: %v, want %v", pins, rises, want)
		}
		if len(at["WIRE SIDE: where the wires go in"]) != 1 || len(at["MATING SIDE: where the halves meet"]) != 1 || len(at["top, key N (where: not stated by the part)"]) != 2 {
			t.Errorf("pins %v: titles or keys are missing: %v", pins, at)
		}
		if wire, mate := at["WIRE SIDE: where the wires go in"][0], at["MATING SIDE: where the halves meet"][0]; !(wire.X < one[0].X && one[0].X < mate.X && mate.X < one[1].X) {
			t.Errorf("pins %v: a view does not stand under its title", pins)
		}
	}
}

func TestWhatStandsInACavity(t *testing.T) {
	d := drawn(t, connector(7, false))
	at := places(d)
	if len(at["RD/WH"]) != 4 || len(at["feed.1"]) != 2 || len(at["feed.4"]) != 0 {
		t.Errorf("letters and labels: %v, %v, %v", at["RD/WH"], at["feed.1"], at["feed.4"])
	}
	crosses := 0
	for _, i := range d.Pages[0].Items {
		if l, ok := i.(page.Line); ok && l.Style.Width == crossed.Width && l.A.X != l.B.X && l.A.Y != l.B.Y {
			crosses++
		}
	}
	if crosses != 4 { // two strokes in each view for the blank cavity 4
		t.Errorf("%d strokes of crosses", crosses)
	}
}

// Every text inside a view stands within the circle of its cavity or the band of its title, and no two meet.
func TestNothingMeets(t *testing.T) {
	for _, n := range []int{1, 2, 7, 12, 31, 60, 104} {
		d := drawn(t, connector(n, false))
		for _, p := range d.Pages {
			var texts []page.Text
			for _, i := range p.Items {
				if x, ok := i.(page.Text); ok {
					texts = append(texts, x)
				}
			}
			for i, a := range texts {
				for _, b := range texts[:i] {
					x, y := a.Bounds().Inset(0.35), b.Bounds().Inset(0.35)
					if x.Meets(y) {
						t.Errorf("%d cavities: %q meets %q", n, a.S, b.S)
					}
				}
			}
		}
	}
}

func TestNoPlacesNoPicture(t *testing.T) {
	c := connector(2, false)
	c.Wire, c.Mating = face.Face{}, face.Face{}
	if parts, err := Views(c).Parts(180, 250); err != nil || parts != nil {
		t.Errorf("%v, %v", parts, err)
	}
}
