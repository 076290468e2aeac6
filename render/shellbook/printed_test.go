package shellbook

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

// demand looks for texts in a book, cell by cell in the order they were drawn.
func demand(t *testing.T, text string, wants ...string) {
	t.Helper()
	for _, w := range wants {
		if !strings.Contains(text, squeeze(w)) {
			t.Errorf("no %q", w)
		}
	}
}

func TestEveryHoleIsPrinted(t *testing.T) {
	_, plan := invented()
	text := drawn(wholeBook())
	_, left := apart(plan)
	var loose []string
	for _, l := range left {
		loose = append(loose, l.marks...)
		demand(t, text, l.run+strings.Join(series(l.marks), ", "))
	}
	for _, h := range plan.Shell.Holes {
		if slices.Contains(loose, h.Mark) {
			if h.Panel != "" || !strings.HasPrefix(h.What, "clip ") {
				t.Errorf("%s is not a clip on no panel", h.Mark)
			}
			continue // its place stands in the list of its run
		}
		d := decimals(h.Status)
		want := h.Mark + "x " + coordinate(h.At.X, d)
		if !h.Known {
			want = h.Mark + "x –"
		}
		for i, r := range h.Refs {
			if i == 0 {
				want += coordinate(r.Distance, 0) + r.To
			}
		}
		if h.Known && len(h.Refs) == 0 {
			want += "nothing to measure from"
		}
		switch {
		case h.Drill > 0:
			want += sizeText(h.Drill, h.High)
		case h.Fastener != "":
			want += "no hole"
		default:
			want += "not known"
		}
		want += fixing(h.Fastener, h.Drill)
		demand(t, text, want)
		if len(h.Refs) > 1 {
			demand(t, text, "y "+coordinate(h.At.Y, d)+coordinate(h.Refs[1].Distance, 0)+h.Refs[1].To)
		}
		if h.Known {
			demand(t, text, "z "+coordinate(h.At.Z, d))
		}
		demand(t, text, h.DrillSum, h.Note[min(1, len(h.Note)):], h.Which) // a note may begin a sentence
	}
}

func TestEveryClipIsPrinted(t *testing.T) {
	_, plan := invented()
	text := drawn(wholeBook())
	why := whys(plan.Runs)
	for i := range plan.Runs {
		r := &plan.Runs[i]
		for _, c := range r.Clips {
			want := c.Mark + coordinate(c.After, 0) + placeText(c.At, c.Known, 0) + c.Part
			if c.Wrap() > 0 {
				want += ", wrap " + common.Tenths(c.Wrap())
			}
			if c.ClipSize > 0 {
				want += common.Tenths(c.ClipSize)
			} else {
				want += "none fits"
			}
			switch {
			case c.Drill > 0:
				want += common.Tenths(c.Drill)
			case c.Fastener != "":
				want += "no hole"
			default:
				want += "not known"
			}
			demand(t, text, want, after("hole ", c.Hole), after("shared with ", c.With), after("tube ", c.Tube), c.KindWhy, c.ScrewSum, span(c.Least.Length(), c.Bundle))
			if c.ScrewSum != "" {
				n := why.number(&c)
				if n == 0 || !slices.Contains(why.marks[n-1], c.Mark) {
					t.Errorf("clip %s has no note", c.Mark)
				}
				demand(t, text, fmt.Sprintf("%s, note %d", c.Fastener, n), "× "+common.Tenths(c.Screw))
			}
		}
		for _, b := range r.Bends {
			demand(t, text, "bend "+bendText(b))
		}
		if len(r.Clips) > 0 {
			for _, d := range r.Diameters {
				demand(t, text, bandText(d.Least.Length(), d.Most))
			}
		}
	}
	demand(t, text, "131.4120, hazard exhaust", "steering, full lock left (moving)4440, set clear-moving", "191.2210181 + 19 + 10", "Tied in between by rail-7")
}

func TestEveryMaskPlugLateThingAndMountIsPrinted(t *testing.T) {
	_, plan := invented()
	text := drawn(wholeBook())
	for _, m := range plan.Shell.Masks {
		size := "–"
		if m.Size > 0 {
			size = common.Tenths(m.Size)
		}
		if m.Panel != "" {
			want := m.Mark + m.What + size
			demand(t, text, want)
		} else {
			demand(t, text, m.What+size)
		}
		if m.Torque > 0 {
			demand(t, text, m.Torque.String())
		}
		demand(t, text, m.Note)
	}
	demand(t, text, "plugs-1 to 3thread M6 of stud", "shell-nosebare earth pad24", "earth-leftbare earth pad, and the thread of the stud M825.5bay9.5 Nm")
	for _, p := range plan.Shell.Plugs {
		want := p.Mark + p.Panel + placeText(p.At, p.Known, 1)
		if p.Drill > 0 {
			want += common.Tenths(p.Drill)
		}
		demand(t, text, want)
	}
	demand(t, text, "tunnel-2floorfloor-3181312", "of 151", "Bfirewall-highnone–", "A new hole after paint (2): tunnel-2, B")
	demand(t, text, "A28.21180, 120, 600key Nconnector, round-24roundflange Ø 36.5; nut 32 across; keep Ø 60 free; 31 deep behind; for panels of 0.8 to 4.5turned 30° from upFlange on the side of cabin (half tub is fixed), mated from bay.",
		"1 screw hole: A-screw-1 Ø 4.3 at 1180, 137, 600.", "A screen is earthed through its shell", "section tub, fixed, sockets: round-24; section engine, free, pins: round-24",
		"ecu-plug84.2 × 36.21180, -100, 640.5", "flange 110 × 60", "return-holenot known", "bore Ø 20.5", "start-postnot known")
}

// "Nothing left to drill after paint." is said only when the shell says that nothing is open and nothing comes too late, and it is the last
// line of the list.
func TestLastLine(t *testing.T) {
	done := func() *body {
		return &body{Shell: shell.Shell{Holes: []shell.Hole{{Mark: "A", What: "break A", Panel: "p", Known: true, Drill: 28}}}, Runs: []fix.RunPlan{{Run: "r", Length: 100, Wires: 2}}}
	}
	for name, c := range map[string]struct {
		spoil func(*shell.Shell)
		want  string
	}{
		"all settled":    {func(*shell.Shell) {}, nothingLeft},
		"no coordinates": {func(s *shell.Shell) { s.Open = []shell.Open{{Why: "no coordinates", Marks: []string{"A"}}} }, "No coordinates (1): A"},
		"too late":       {func(s *shell.Shell) { s.Late = []shell.Late{{Mark: "A", Limit: 200}} }, "A new hole after paint (1): A"},
	} {
		p := done()
		c.spoil(&p.Shell)
		lines := strings.Split(book(t, &design.Job{}, p).Text(), "\n")
		n := slices.Index(lines, c.want)
		if n < 0 {
			t.Errorf("%s: no line %q", name, c.want)
		}
		if said := slices.Contains(lines, nothingLeft); said != (c.want == nothingLeft) {
			t.Errorf("%s: says that nothing is left: %v", name, said)
		}
		// what follows on the page is its foot, or the next chapter
		for n++; c.want == nothingLeft && n < len(lines) && !strings.HasPrefix(lines[n], "Revision"); n++ {
			t.Errorf("%s: %q after the last line", name, lines[n])
		}
	}
}

// Panels come in the order of the walk, and on each the map stands before its rows.
func TestPanelsInOrderWithTheirMaps(t *testing.T) {
	text := wholeBook().Text()
	last := 0
	for _, want := range []string{"Panel firewall-high", "Map 1:10, right is greater y, up is greater z, seen from cabin", "keep out", "Panel floor", "not flat: it stands up to 4.5 mm off", "Clips on no panel", "Nothing is drilled in: scuttle.", "What would need a new hole", "Blanking plugs", "The last line", "Masking sheet", "Connectors on panels", "Runs and clips", "Views", "Drill templates", "Sign-off"} {
		n := strings.Index(text[last:], want)
		if n < 0 {
			t.Fatalf("no %q after what comes before it", want)
		}
		last += n
	}
}

// On a panel's map the holes stand to the scale that is printed: two holes are as far apart on paper as on the panel.
func TestMapIsToScale(t *testing.T) {
	p := firewall()
	list := []shell.Hole{{Mark: "a", Known: true, Flat: solid.Flat{U: 100, V: 100}, Drill: 40}, {Mark: "b", Known: true, Flat: solid.Flat{U: 700, V: 250}, Drill: 60}}
	l := fitted(panelDrawing(&p, list), 178)
	var sheet page.Page
	l.Draw(page.NewCanvas(&sheet, page.Box{W: l.W, H: l.H}))
	var rings []page.Arc
	for _, i := range sheet.Items {
		if a, ok := i.(page.Arc); ok && a.RX*2*page.MM(l.Scale) > 30 {
			rings = append(rings, a)
		}
	}
	if len(rings) != 2 {
		t.Fatalf("%d circles", len(rings))
	}
	scale := page.MM(l.Scale)
	dx, dy := (rings[1].At.X-rings[0].At.X)*scale, (rings[0].At.Y-rings[1].At.Y)*scale
	if abs(unit.Length(dx)-600) > 0.01 || abs(unit.Length(dy)-150) > 0.01 || abs(unit.Length(rings[1].RX*2*scale)-60) > 0.01 {
		t.Errorf("%v across, %v up at %s", dx, dy, l.Scale)
	}
}

func TestHowAMapIsHeld(t *testing.T) {
	for want, v := range map[string]solid.Vector{"greater x": {X: 1}, "smaller z": {Z: -1}, "mostly smaller y": {X: 0.6, Y: -0.8}, "nowhere": {}} {
		if got := axisText(v); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
	p := firewall()
	p.Sides[0].Known = false
	if s := holdText(&p); strings.Contains(s, "seen from") {
		t.Errorf("%q although it is not known which side is which", s)
	}
}

// A template is drawn at full size: the circle of a hole of 28.2 mm has that diameter on paper.
func TestTemplateIsFullSize(t *testing.T) {
	d := wholeBook()
	at := slices.IndexFunc(d.Bookmarks, func(b page.Bookmark) bool { return b.Title == "Drill templates" })
	if at < 0 {
		t.Fatal("no templates")
	}
	found := map[string]bool{}
	for _, i := range d.Pages[d.Bookmarks[at].Page].Items {
		if a, ok := i.(page.Arc); ok {
			found[unit.Number(float64(2*a.RX), 3)] = true
		}
	}
	for _, want := range []string{"28.2", "4.3", "36.5"} {
		if !found[want] {
			t.Errorf("no circle of %s mm among %v", want, found)
		}
	}
}

// Each hole has six boxes of at least 4 mm, and no page more than twenty holes.
func TestBoxesAndRowsOfHoles(t *testing.T) {
	plan := &body{Shell: shell.Shell{Panels: []shell.Panel{{Name: "p"}}}}
	for i := range 47 {
		plan.Shell.Holes = append(plan.Shell.Holes, shell.Hole{Mark: fmt.Sprintf("hole-%d", i+1), What: "hole", Panel: "p", Known: true, Drill: 7})
	}
	rows, boxes := 0, 0
	for n, p := range book(t, &design.Job{}, plan).Pages {
		onPage := 0
		for _, i := range p.Items {
			switch x := i.(type) {
			case page.Text:
				if strings.HasPrefix(x.S, "hole-") && x.Size == 11 {
					onPage++
				}
			case page.Rect:
				if x.Box.W >= 4 && x.Box.W == x.Box.H && onPage > 0 {
					boxes++
				}
			}
		}
		if onPage > rowsOnPage {
			t.Errorf("page %d has %d rows", n+1, onPage)
		}
		rows += onPage
	}
	if rows != 47 || boxes != 47*6 {
		t.Errorf("%d rows with %d boxes", rows, boxes)
	}
}

// A job with much in it gets views of its sections, on which all its clips are named; nothing on them meets.
func TestViewsNameAllClips(t *testing.T) {
	for _, more := range []int{0, 40} {
		job, plan := invented()
		for i := range more {
			job.Devices = append(job.Devices, &design.Device{Name: fmt.Sprintf("lamp-%d", i+1), Spot: design.Spot{At: at(2600, 60, 250), Known: true}})
		}
		named := map[string]bool{}
		for _, s := range views(head(), job, plan) {
			for _, o := range s.shots {
				for _, l := range o.drawing.Labels {
					for _, name := range strings.Split(l.Text, ", ") {
						named[name] = true
					}
				}
			}
		}
		for _, r := range plan.Runs {
			for _, c := range r.Clips {
				if c.Known && !named[c.Mark] {
					t.Errorf("%d more: clip %s stands on no view", more, c.Mark)
				}
			}
		}
		if !named["A"] || !named["ecu, lamp-1 to 40"] && !named["ecu"] {
			t.Errorf("%d more: %v", more, named)
		}
	}
}

// A bundle is drawn as it lies: round its bends, through places on its way.
func TestViewDrawsBends(t *testing.T) {
	way, bends := solid.Round([]solid.Point{at(0, 0, 0), at(500, 0, 0), at(500, 400, 0)}, func(int) unit.Length { return 60 })
	if len(bends) != 1 {
		t.Fatalf("%d bends", len(bends))
	}
	b := &body{Ways: []solid.Way{way}}
	ps := b.laid(0)
	if len(ps) < 10 || ps[0] != at(0, 0, 0) || ps[len(ps)-1] != at(500, 400, 0) {
		t.Errorf("%v", ps)
	}
	for _, p := range ps {
		if _, off := way.Near(p); off > 1e-6 {
			t.Errorf("%v lies %v off the way", p, off)
		}
		if p == at(500, 0, 0) {
			t.Error("it goes through the corner")
		}
	}
	if b.laid(1) != nil {
		t.Error("a way that is not known")
	}
}

// A painted body is said to be painted wherever somebody might drill.
func TestPaintedBody(t *testing.T) {
	job, plan := invented()
	bare := squeeze(drawn(wholeBook()))
	job.Painted = "B"
	painted := drawn(book(t, job, plan))
	for _, want := range []string{"since revision B: nothing is drilled or welded any more", "Since revision B it counts as painted", "This list serves to find the holes that are there"} {
		if strings.Contains(bare, squeeze(want)) || !strings.Contains(painted, squeeze(want)) {
			t.Errorf("%q", want)
		}
	}
	fresh := 0
	for _, h := range plan.Shell.Holes {
		if h.New {
			fresh++
		}
	}
	if n := strings.Count(painted, squeeze("Not there yet, and the body is painted: do not drill.")); n != fresh || n == 0 {
		t.Errorf("said of %d holes of %d", n, fresh)
	}
}

var figures = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// TestEveryNumberIsExported takes each number of more than two digits, or with a decimal, from the pages between the cover and the views, and
// looks for it in the export, rounded as for paper. Distances on strips are between stations that are exported.
func TestEveryNumberIsExported(t *testing.T) {
	job, plan := invented()
	in := export.Input{Result: &harness.Result{Job: job, Fixed: &fix.Plan{Runs: plan.Runs}, Shell: &plan.Shell, Route: &plan.Route, Net: &net.Net{Space: &space.Geometry{}}, Plan: &bench.Plan{}}}
	data, err := export.Make(in).JSON()
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, s := range figures.FindAllString(string(data), -1) {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		known[s], known[unit.Number(x, 0)], known[unit.Number(x, 1)] = true, true, true
	}
	for i := range plan.Runs {
		for _, d := range distances(&plan.Runs[i]) {
			known[d] = true
		}
	}
	d, looked := wholeBook(), 0
	var from, to int
	for _, b := range d.Bookmarks {
		switch b.Title {
		case "Before paint":
			from = b.Page
		case "Views":
			to = b.Page
		}
	}
	frame := []string{"3f9ac201d4e7", "scale 1:"} // the foot, and the bar of a map
	for n := from; n < to; n++ {
		for _, i := range d.Pages[n].Items {
			x, ok := i.(page.Text)
			if !ok || slices.ContainsFunc(frame, func(f string) bool { return strings.Contains(x.S, f) }) {
				continue
			}
			for _, s := range figures.FindAllString(x.S, -1) {
				if len(s) < 3 {
					continue // counts, ordinals, pages
				}
				looked++
				if !known[s] {
					t.Errorf("page %d: %s in %q is not in the export", n+1, s, x.S)
				}
			}
		}
	}
	if looked < 300 {
		t.Errorf("only %d numbers", looked)
	}
}

// A panel with more holes than its map has room for names for names them all: on the map, in its key, or below it.
func TestMapOfManyHolesNamesThemAll(t *testing.T) {
	plan := &body{Shell: shell.Shell{Panels: []shell.Panel{firewall()}}}
	for i := range 150 {
		plan.Shell.Holes = append(plan.Shell.Holes, shell.Hole{Mark: fmt.Sprintf("many-%dx", i+1), What: "hole", Panel: "firewall-high", Known: true, Drill: 7, Flat: solid.Flat{U: unit.Length(i * 37 % 1200), V: unit.Length(i * 53 % 350)}})
	}
	text := drawn(book(t, &design.Job{}, plan))
	for _, h := range plan.Shell.Holes {
		if n := strings.Count(text, h.Mark); n < 2 {
			t.Errorf("%s stands %d times in the book", h.Mark, n)
		}
	}
}

// A crowded job's views lose next to nothing, and stand on one page each.
func TestCrowdedViewsAreLegible(t *testing.T) {
	job, plan := invented()
	for k := range 5 {
		for _, r := range plan.Runs[:len(plan.Runs):len(plan.Runs)] {
			if k == 0 || r.Section == "" {
				continue
			}
			r.Run = fmt.Sprintf("%s-%d", r.Run, k)
			r.Clips = slices.Clone(r.Clips)
			for i := range r.Clips {
				r.Clips[i].Mark = fmt.Sprintf("%s-%d", r.Clips[i].Mark, k)
				r.Clips[i].At.Z += unit.Length(3 * k)
			}
			plan.Runs = append(plan.Runs, r)
		}
		if len(plan.Runs) > 40 {
			break
		}
	}
	list := views(head(), job, plan)
	if len(list) < 5 {
		t.Fatalf("%d pages of views", len(list))
	}
	for _, s := range list {
		for _, o := range s.shots {
			if len(o.lay.Rest) > 6 {
				t.Errorf("%s: %d labels found no room", o.title, len(o.lay.Rest))
			}
		}
	}
}

// A length by string stands in the heading of its stretch with its date, its slack and what the coordinates give.
func TestStringInTheHeading(t *testing.T) {
	b := &body{Runs: []fix.RunPlan{{Run: "r", Length: 1020}, {Run: "s", Length: 500}}}
	b.tape(0, export.Tape{Length: 1020, Slack: 30, Date: "2026-03-04", Coordinates: 1008})
	if got, want := stretchText(&b.Runs[0], "", b.taped(&b.Runs[0])), "1020 mm by string of 2026-03-04, 30 mm slack besides, 12 mm longer than by the coordinates"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := stretchText(&b.Runs[1], "", b.taped(&b.Runs[1])); got != "500 mm" {
		t.Errorf("%q", got)
	}
}
