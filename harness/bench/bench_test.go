package bench

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// terms is a cut's sum on one line.
func terms(c *Cut) string {
	var out []string
	for _, t := range c.Terms.All() {
		out = append(out, fmt.Sprintf("%s %g", t.What, float64(t.Length)))
	}
	return fmt.Sprintf("%g = %s", float64(c.Length), strings.Join(out, " + "))
}

func TestCutLengths(t *testing.T) {
	job, nt, sizes := smallJob()
	p := made(job, nt, sizes)
	// Worked by hand: take-up 2 % of 1490 + 20 is 30.2; the tub's string counts and not the 1600 mm of the coordinates. A finished branch of 1510 mm
	// may come out 100 mm longer, of which 2 % are taken up as well; one of 60 mm 25 mm. Beside the splice lies a bundle of 2.4, 1.6 and 1.6 mm:
	// half of 1.2 sqrt(2.4^2 + 2 x 1.6^2) is 2.0.
	for name, want := range map[string]string{
		"feed box.f1 - A": "1815 = tunnel 0 to 1490 1490 + slack of tunnel 20 + take-up 2 % 30 + tail at box.f1 50 + loop at box.f1 25 + crimp waste at box.f1 10 + tail at A 50 + loop at A 25 + crimp waste at A 10 + tolerance of a finished branch, A-620 102 + rounding up 3",
		"feed A - s-feed": "235 = rail 0 to 60 60 + take-up 3 % 2 + breakout at s-feed 2 + tail at A 50 + loop at A 25 + crimp waste at A 10 + tail at s-feed 50 + crimp waste at s-feed 10 + tolerance of a finished branch, A-620 26",
		// A pair of 1.6 mm wires with a lay of 25 mm needs sqrt(1 + (pi 1.6 / 25)^2) - 1 = 2.0 % more.
		"q lamp2.2 - A":            "960 = rail 700 to 0 700 + take-up 3 % 21 + twist of twins 2 % 14 + tail at lamp2.2 50 + loop at lamp2.2 25 + crimp waste at lamp2.2 10 + tail at A 50 + loop at A 25 + crimp waste at A 10 + tolerance of a finished branch, A-620 53 + rounding up 2",
		"strap box.x - block.main": "570 = loose lead 350 + tail at box.x 50 + loop at box.x 25 + crimp waste at box.x 10 + tail at block.main 50 + loop at block.main 25 + crimp waste at block.main 10 + tolerance of a finished branch, A-620 50",
		"lead box - A":             "1815 = tunnel 0 to 1490 1490 + slack of tunnel 20 + take-up 2 % 30 + tail at box.h 50 + loop at box.h 25 + crimp waste at box.h 10 + tail at A 50 + loop at A 25 + crimp waste at A 10 + tolerance of a finished branch, A-620 102 + rounding up 3",
	} {
		c := cutOf(p, name)
		if c == nil {
			t.Errorf("%s is not cut", name)
			continue
		}
		if got := terms(c); got != want {
			t.Errorf("%s\n got %s\nwant %s", name, got, want)
		}
	}
}

// A layer of six around a core at a lay of 8 times its outside diameter takes up 3.4 %, at 10 times 2.2 %, at 12 times 1.5 %: the
// figures of the trade for equal wires, sqrt(1 + (pi Dp/L)^2) - 1.
func TestTwistOfASixLayer(t *testing.T) {
	for ratio, want := range map[unit.Length]float64{8: 3.4, 10: 2.2, 12: 1.5} {
		const d = 2.0
		cable := &design.Cable{Name: "c", Holds: []string{"1", "2", "3", "4", "5", "6"}, Twist: ratio * 3 * d}
		nt := &net.Net{Wires: []net.Wire{{Cable: "c"}}}
		m := newMaker(&design.Job{Cables: []*design.Cable{cable}}, nt, size.Sizes{{Outside: d}})
		if got := float64(m.twist(&nt.Wires[0])) * 100; math.Abs(got-want) > 0.05 {
			t.Errorf("lay %g times the outside: %.2f %%, want %.1f %%", float64(ratio), got, want)
		}
	}
}

func TestCuttingOrder(t *testing.T) {
	p := made(smallJob())
	var got []string
	for _, s := range p.Sections {
		for _, c := range s.Cuts {
			got = append(got, s.Name+": "+c.Name)
		}
	}
	want := []string{
		"engine: feed A - s-feed", "engine: q lamp2.2 - A", "engine: feed s-feed - lamp2.1", "engine: p lamp1.2 - A", "engine: feed s-feed - lamp1.1",
		"tub: lead box - A", "tub: strap box.x - block.main", "tub: feed box.f1 - A",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestBoughtCableIsCutOnce(t *testing.T) {
	c := cutOf(made(smallJob()), "lead box - A")
	var got []string
	for _, k := range c.Cores {
		got = append(got, fmt.Sprintf("%s|%s|%s|%s|%v", k.Name, k.Colour, k.Ends[0].Text, k.Ends[1].Text, k.Screen))
	}
	want := []string{ // the cable's own colours, whatever the circuit says
		"h box.h - A|white|box, cavity 2 (h)|A, cavity 2|false",
		"l box.l - A|blue|box, cavity 3 (l)|A, cavity 3|false",
		"lead screen|bare|box, cavity 4 (s)|cut back beside A|true",
	}
	if k := c.Cores[2].Ends[0].Contact; k != "size-20" {
		t.Errorf("the screen's contact is %q, want the only one of its cavity", k)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// A screen that reaches on to the pin that earths it lies in its cable all the same, and does not make the cable longer.
func TestScreenWithALead(t *testing.T) {
	job, nt, sizes := smallJob()
	s := &nt.Wires[6]
	s.Path = append([]net.Step{}, nt.Wires[4].Path...)
	s.Path = append(s.Path, net.Step{Edge: edge(nt.Space, "rail", 0)})
	s.Ends[1].Node = nt.Space.Find("s-feed")
	c := cutOf(made(job, nt, sizes), "lead box - A")
	// 60 mm more and 3 % of them, 2 mm to come out beside the splice and 1 mm more of tolerance; a screen has a tail but neither service loop nor
	// crimp where it is cut back: 35 mm less
	if c == nil || len(c.Cores) != 3 || c.Length != 1820 || !strings.HasSuffix(c.Note, "the screen needs a lead of 30 mm more") {
		t.Errorf("%+v", c)
	}
}

// The same core twice between the same places is two pieces of cable.
func TestTwoPiecesOfACable(t *testing.T) {
	job, nt, sizes := smallJob()
	for _, i := range []int{4, 5} {
		w := nt.Wires[i]
		w.Name += " 2"
		nt.Wires, sizes = append(nt.Wires, w), append(sizes, sizes[i])
	}
	n := 0
	for _, c := range section(made(job, nt, sizes), "tub").Cuts {
		if c.Cable == "lead" {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d pieces, want 2", n)
	}
}

func TestUnknownLengthIsNotGuessed(t *testing.T) {
	for what, spoil := range map[string]func(*net.Net){
		"edge of unknown length": func(n *net.Net) {
			e := n.Space.Stretch("tunnel", 0)[0]
			n.Space.Edges[e].Unknown, n.Space.Edges[e].Length = true, 0
		},
		"edge not finite": func(n *net.Net) { n.Space.Edges[n.Space.Stretch("tunnel", 0)[0]].Length = unit.Length(math.Inf(1)) },
		"no way": func(n *net.Net) {
			for i := range n.Wires {
				n.Wires[i].Path = nil
			}
		},
	} {
		job, nt, sizes := smallJob()
		spoil(nt)
		p := made(job, nt, sizes)
		for _, name := range []string{"feed box.f1 - A", "lead box - A"} {
			if c := cutOf(p, name); c == nil || c.Length != 0 || c.Terms.Len() != 0 || !strings.Contains(c.Note, "length not known") {
				t.Errorf("%s: %s has %+v", what, name, c)
			}
		}
	}
}

func TestCutEnds(t *testing.T) {
	p := made(smallJob())
	for _, x := range []struct {
		wire string
		end  int
		want CutEnd
	}{
		{"feed A - s-feed", 0, CutEnd{"A, cavity 1", "size-20 pin", "", 5, "four-indent"}},
		{"feed A - s-feed", 1, CutEnd{"splice s-feed", "barrel", "", 0, ""}},
		{"feed s-feed - lamp1.1", 1, CutEnd{"lamp1, cavity 1", "size-20", "seal-2", 5, "four-indent"}},
		{"feed box.f1 - A", 0, CutEnd{"box, cavity 1 (f1)", "size-20", "", 5, "four-indent"}},
		{"feed box.f1 - A", 1, CutEnd{"A, cavity 1", "size-20 socket", "", 5, "four-indent"}},
		{"strap box.x - block.main", 1, CutEnd{"stud main of block", "M10 lug", "", 0, ""}},
		{"lead box - A", 1, CutEnd{"A", "", "", 0, ""}},
	} {
		if got := cutOf(p, x.wire).Ends[x.end]; got != x.want {
			t.Errorf("%s end %d: %+v, want %+v", x.wire, x.end+1, got, x.want)
		}
	}
}

func TestEndsInWords(t *testing.T) {
	job := &design.Job{
		Devices: []*design.Device{{Name: "ecu", Housings: []design.DeviceHousing{{Part: "x", As: "a"}, {Part: "x", As: "b"}}}},
		Breaks: []*design.Break{{Name: "post", Halves: [2]design.Half{{Section: "tub"}, {Section: "rear"}}},
			{Name: "inline", Halves: [2]design.Half{{Section: "tub", Contacts: "pins"}, {Section: "tub", Contacts: "sockets"}}}},
	}
	m := newMaker(job, &net.Net{}, nil)
	for want, end := range map[string]net.Termination{
		"ecu b, cavity 4 (inj1)":                 {Kind: net.InCavity, Device: "ecu", Housing: 1, Cavity: "4", Pin: "inj1"},
		"ecu a, cavity 19":                       {Kind: net.InCavity, Device: "ecu", Housing: 0, Cavity: "19", Pin: "a.19"},
		"stud post post":                         {Kind: net.OnPost, Break: "post", Half: 1, Cavity: "1"},
		"inline, half with sockets, cavity 2":    {Kind: net.InHalf, Break: "inline", Half: 1, Cavity: "2"},
		"inline, half with pins, no cavity left": {Kind: net.InHalf, Break: "inline"},
		"cut back":                               {Kind: net.CutBack},
		"cut back beside crank.1":                {Kind: net.CutBack, Near: "crank.1"},
	} {
		if got := m.endText(&end); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestColour(t *testing.T) {
	job := &design.Job{Parts: design.Parts{Wires: []*design.Wire{{Part: design.Part{Name: "screened-2"}, Cores: []design.WireCore{{Colour: "white"}, {Colour: "blue"}}}}}}
	for _, x := range []struct {
		wire         net.Wire
		colour, code string
		status       design.Status
	}{
		{net.Wire{Core: -1, Colour: "red/white"}, "red/white", "RD/WH", design.Stated},
		{net.Wire{Core: -1}, "white", "WH", design.Computed},
		{net.Wire{Core: -1, Colour: "puce"}, "puce", "", design.Stated},
		{net.Wire{Cable: "c", Core: 0, Family: "thin"}, "white", "WH", design.Computed},
		{net.Wire{Cable: "c", Core: 1, Family: "thin"}, "blue", "BU", design.Computed},
		{net.Wire{Cable: "c", Core: 99, Family: "thin"}, "white", "WH", design.Computed},
		{net.Wire{Cable: "c", Core: 1, Family: "screened-2", Colour: "red"}, "blue", "BU", design.Stated},
		{net.Wire{Cable: "c", Core: 9, Family: "screened-2"}, "white", "WH", design.Computed},
		{net.Wire{Cable: "c", Core: -1, Kind: net.Screen, Colour: "black"}, "bare", "", design.Computed},
	} {
		if c, k, s := Colour(job, &x.wire); c != x.colour || k != x.code || s != x.status {
			t.Errorf("%+v: %q %q %s, want %q %q %s", x.wire, c, k, s, x.colour, x.code, x.status)
		}
	}
}

func rows(c *Connector) []string {
	var out []string
	for _, r := range c.Rows {
		out = append(out, strings.TrimRight(fmt.Sprintf("%s|%s|%s|%s|%s|%s", r.Cavity, r.Pin, r.Name, r.GoesTo, r.Contact, r.Blank), "|"))
	}
	return out
}

func TestConnectors(t *testing.T) {
	p := made(smallJob())
	want := map[string][]string{
		"engine: A, engine half": {"1||feed A - s-feed|splice s-feed|size-20 pin", "2||p lamp1.2 - A|lamp1, cavity 2|size-20 pin",
			"3||q lamp2.2 - A|lamp2, cavity 2|size-20 pin", "4|||||blank: plug it", "5|||||blank: plug it", "6|||||blank: plug it"},
		"engine: lamp1": {"1||feed s-feed - lamp1.1|splice s-feed|size-20", "2||p lamp1.2 - A|A, cavity 2|size-20"},
		"engine: lamp2": {"1||feed s-feed - lamp2.1|splice s-feed|size-20", "2||q lamp2.2 - A|A, cavity 3|size-20", "3|||||blank: plug it"},
		"tub: A, tub half": {"1||feed box.f1 - A|box, cavity 1 (f1)|size-20 socket", "2||h box.h - A|box, cavity 2 (h)|size-20 socket",
			"3||l box.l - A|box, cavity 3 (l)|size-20 socket", "4|||||blank: plug it", "5|||||blank: plug it", "6|||||blank: plug it"},
		"tub: block, studs": {"main||strap box.x - block.main|box, cavity 5 (x)|M10 lug"},
		"tub: box": {"1|f1|feed box.f1 - A|A, cavity 1|size-20", "2|h|h box.h - A|A, cavity 2|size-20", "3|l|l box.l - A|A, cavity 3|size-20",
			"4|s|lead screen|cut back beside A|size-20", "5|x|strap box.x - block.main|stud main of block|size-20", "6|||||left empty on purpose"},
	}
	got := map[string][]string{}
	for _, s := range p.Sections {
		for _, c := range s.Connectors {
			got[s.Name+": "+c.Title] = rows(&c)
			if c.Break != "" && (c.Cavities != 6 || c.Free != 3 || c.SpareShare != 0.5) {
				t.Errorf("%s: %d of %d free, %s", c.Title, c.Free, c.Cavities, c.SpareShare)
			}
		}
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// Whatever has an end in a cavity or on a stud stands in exactly one pin table there, and every wire is cut exactly once.
func TestNothingIsLostOrTwice(t *testing.T) {
	job, nt, sizes := smallJob()
	p := made(job, nt, sizes)
	cut, rows, want := map[int]int{}, map[[2]int]int{}, 0
	for _, s := range p.Sections {
		for _, c := range s.Cuts {
			if len(c.Cores) == 0 {
				cut[c.Wire]++
			}
			for _, k := range c.Cores {
				cut[k.Wire]++
			}
		}
		for i, c := range s.Connectors {
			for _, r := range c.Rows {
				for _, w := range r.Wires {
					rows[[2]int{w, i}]++
				}
			}
		}
	}
	for i := range nt.Wires {
		if cut[i] != 1 {
			t.Errorf("%s is cut %d times", nt.Wires[i].Name, cut[i])
		}
		for _, e := range nt.Wires[i].Ends {
			if e.Kind != net.InSplice && e.Kind != net.CutBack {
				want++
			}
		}
	}
	for k, n := range rows {
		if n != 1 {
			t.Errorf("%s stands %d times in one table", nt.Wires[k[0]].Name, n)
		}
	}
	if len(rows) != want {
		t.Errorf("%d ends in the tables, the net has %d", len(rows), want)
	}
}

// Two lugs on a stud are two rows, the lowest of the stack first; a stud of the device that another section wires is not in the list.
func TestStudStack(t *testing.T) {
	job := &design.Job{Sections: []*design.Section{{Name: "nose"}, {Name: "tub"}}, Devices: []*design.Device{{Name: "shell", Pins: []design.Pin{
		{Name: "cabin", Housing: -1, Stud: "M8"}, {Name: "free", Housing: -1, Stud: "M6"}, {Name: "nose", Housing: -1, Stud: "M6"}}}}}
	on := func(pin string, order int) net.Termination {
		return net.Termination{Kind: net.OnStud, Device: "shell", Pin: pin, Order: order, Node: -1}
	}
	cut := net.Termination{Kind: net.CutBack, Node: -1}
	nt := &net.Net{Wires: []net.Wire{
		{Name: "a", Section: "tub", Ends: [2]net.Termination{on("cabin", 0), cut}}, {Name: "b", Section: "tub", Ends: [2]net.Termination{cut, on("cabin", 2)}},
		{Name: "c", Section: "tub", Ends: [2]net.Termination{on("cabin", 1), cut}}, {Name: "d", Section: "nose", Ends: [2]net.Termination{on("nose", 0), cut}}}}
	p := made(job, nt, nil)
	want := []string{"cabin||c|cut back|M8 lug", "cabin||b|cut back|M8 lug", "cabin||a|cut back|M8 lug", "free|||||no wire"}
	if d := cmp.Diff(want, rows(&section(p, "tub").Connectors[0])); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"free|||||no wire", "nose||d|cut back|M6 lug"}, rows(&section(p, "nose").Connectors[0])); d != "" {
		t.Error(d)
	}
}

func TestWiresWithoutACavityStayListed(t *testing.T) {
	job, nt, sizes := smallJob()
	nt.Wires[0].Ends[0].Cavity = ""
	nt.Wires[7].Ends[1].Cavity = "77"
	c := &section(made(job, nt, sizes), "engine").Connectors[0]
	got := strings.Join(rows(c), "\n")
	for _, want := range []string{"||feed A - s-feed|splice s-feed", "77||p lamp1.2 - A"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is lost:\n%s", want, got)
		}
	}
	if c.Cavities != 6 || c.Free != 5 {
		t.Errorf("%d of %d free, want 5 of 6", c.Free, c.Cavities)
	}
}

func TestSplices(t *testing.T) {
	s := section(made(smallJob()), "engine").Splices
	if len(s) != 1 || s[0].Where != "rail, 60 mm from A" || s[0].Area != 2.5 || s[0].Sleeve != "shrink" || s[0].Status != design.Stated {
		t.Fatalf("%+v", s)
	}
	var got []string
	for _, w := range s[0].Wires {
		got = append(got, w.Name+"|"+w.To+"|"+w.Leaves+"|"+w.Code)
	}
	want := []string{"feed A - s-feed|A, cavity 1|rail towards A|RD/WH", "feed s-feed - lamp1.1|lamp1, cavity 1|rail towards lamp1|WH",
		"feed s-feed - lamp2.1|lamp2, cavity 1|rail towards lamp1|WH"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestSplicePlaces(t *testing.T) {
	job, nt, _ := smallJob()
	m := newMaker(job, nt, nil)
	for want, j := range map[string]net.Joint{
		"rail, 60 mm from A":             {Splice: "s-feed", Run: "rail", After: 60, Node: nt.Space.Find("s-feed")},
		"at lamp2":                       {Splice: "s", Run: "rail", After: 0, Node: nt.Space.Find("lamp2")},
		"at lamp1 (rail, 400 mm from A)": {Splice: "s", Run: "rail", After: 400, Node: nt.Space.Find("lamp1")},
		"rail, 61 mm from A":             {Splice: "s", Run: "rail", After: 60.6, Node: nt.Space.Find("s-feed")}, // shares the node of another splice
		"at A":                           {Splice: "s", Node: nt.Space.Find("A")},
		"at (940, 0, 500 mm)":            {Splice: "s-feed", Node: nt.Space.Find("s-feed")},
		"place not known":                {Splice: "s", Node: -1},
	} {
		if got := m.jointPlace(&j); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Nine contacts stay, in five set-ups, each with five samples and one for scrap, as a screen is not pulled: 9 + 4 x 5 + 5. The 3 white wires come with 5
// pieces of 150 mm for the contacts, whose pins share the set-up, and 10 for the barrel, which holds two of them.
func TestParts(t *testing.T) {
	var got []string
	for _, p := range made(smallJob()).Parts {
		got = append(got, fmt.Sprintf("%s|%s|%d|%g|%v", p.Kind, p.Name, p.Count, float64(p.Length), p.Own))
	}
	want := []string{
		"wire|thin 0.5 mm2 blue|1|960|false", "wire|thin 0.5 mm2 white|18|4310|false", "wire|thin 1.5 mm2 red/white|17|4300|false", "wire|thin 25 mm2 black|11|2070|false",
		"cable|screened-2|6|2565|false",
		"contact|size-20|34|0|true", "contact|size-20 pin|10|0|true", "contact|size-20 socket|5|0|true",
		"lug|M10 lug for 25 mm2|7|0|false", "splice|barrel for 2.5 mm2 in all|7|0|false",
		"housing|plain-6 for a device|1|0|false", "housing|round-6 for pins, key N|1|0|false", "housing|round-6 for sockets, key N|1|0|false",
		"housing|sealed-2 for a device|1|0|false", "housing|sealed-3 for a device|1|0|false",
		"seal|seal-2|4|0|false",
		"plug|for an empty cavity of round-6|6|0|false", "plug|for an empty cavity of sealed-3|1|0|false", "fuse|blade-10|1|0|false",
		"clip|p-clip 5 mm|4|0|false", "clip|p-clip 8 mm|6|0|false", "fastener|rivet-nut-m5|9|0|false", "fastener|stud|1|0|false",
		"sleeve|braid over 7 mm|1|1510|false", "sleeve|shrink over a splice, size open|1|0|false", "tie|for bundles without a sleeve|13|0|false",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestInputsAreLeftAlone(t *testing.T) {
	job, nt, sizes := smallJob()
	print := func() string {
		b, err := json.Marshal([]any{job, nt, sizes})
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	before := print()
	a := made(job, nt, sizes)
	if print() != before {
		t.Error("Make changed its input")
	}
	if d := cmp.Diff(a, made(job, nt, sizes)); d != "" {
		t.Error("two plans of one job differ: " + d)
	}
}

// Whatever is missing, the plan is made.
func TestIncompleteInputs(t *testing.T) {
	for what, spoil := range map[string]func(*design.Job, *net.Net, *size.Sizes){
		"nothing":  func(j *design.Job, n *net.Net, s *size.Sizes) { *j, *n, *s = design.Job{}, net.Net{}, nil },
		"no parts": func(j *design.Job, _ *net.Net, _ *size.Sizes) { j.Parts = design.Parts{} },
		"no sizes": func(_ *design.Job, _ *net.Net, s *size.Sizes) { *s = nil },
		"no things": func(j *design.Job, _ *net.Net, _ *size.Sizes) {
			j.Devices, j.Breaks, j.Splices, j.Cables, j.Runs = nil, nil, nil, nil, nil
		},
		"no sections": func(j *design.Job, n *net.Net, _ *size.Sizes) {
			j.Sections = nil
			for i := range n.Wires {
				n.Wires[i].Section = ""
			}
		},
	} {
		job, nt, sizes := smallJob()
		spoil(job, nt, &sizes)
		p := made(job, nt, sizes)
		cut := 0
		for _, s := range p.Sections {
			for _, c := range s.Cuts {
				cut += max(1, len(c.Cores))
			}
		}
		if cut != len(nt.Wires) {
			t.Errorf("%s: %d wires cut of %d", what, cut, len(nt.Wires))
		}
	}
}
