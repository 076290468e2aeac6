package benchbook

import (
	"fmt"

	"loomsheet/harness/bench"
	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
)

func head() common.Head {
	return common.Head{Job: "Heron hill tractor", Revision: "C", Date: "2026-02-11", Datum: "front axle centre at ground", Digest: "3f9ac201d4e7",
		NotForBuild: "2 findings are open; 3 checks are not run (listed in the review book)", Invented: true}
}

const longName = "injector-driver-bank-two-cylinder-four-return_with_a_name.that/never-ends-because-somebody-liked-it-so"

func end(text, contact string, strip unit.Length) bench.CutEnd {
	e := bench.CutEnd{Text: text, Contact: contact, Strip: strip}
	if strip > 0 {
		e.Tool = "four-indent, size 20"
	}
	return e
}

// engine is a section of an invented job with one of everything: sixty-odd cuts of several reels, a bought cable, a length
// that is not known, a name that never ends, three connectors and two splices.
func engine() *bench.SectionPlan {
	s := &bench.SectionPlan{Name: "engine", Note: "lifts out between events"}
	colours := []string{"red/white", "blue", "brown", "green/yellow", "black", "orange/black", "grey", "violet", "pink", "white"}
	for i := range 60 {
		size := unit.Metric([]unit.Area{6, 2.5, 1, 0.75}[i/15])
		circuit := []string{"inj-feed", "coil-drive", "fan", "oil-press", "ecu-power"}[i%5]
		colour := colours[i%len(colours)]
		code, _ := data.ColourCode(colour)
		c := bench.Cut{Wire: i, Name: fmt.Sprintf("%s box.f%d - A", circuit, i+1), Label: fmt.Sprintf("%s.%d", circuit, i+1), Family: "thin-wall", Size: size,
			Colour: colour, Code: code, ColourStatus: design.Stated,
			Ends: [2]bench.CutEnd{end(fmt.Sprintf("box, cavity f%d", i+1), "size-20 socket", 4.5), end(fmt.Sprintf("A, cavity %d", i%24+1), "size-20 pin", 4.5)},
			Terms: bench.TermsOf([]bench.Term{{What: "tunnel 0 to 1490", Length: 1490}, {What: "slack of tunnel", Length: 20}, {What: "rail (A to lamp2) 0 to 400", Length: unit.Length(400 - 5*i)},
				{What: "take-up 2 %", Length: 38}, {What: fmt.Sprintf("tail at box.f%d", i+1), Length: 60}, {What: "loop at A", Length: 50}, {What: "rounding up", Length: 2}}...)}
		for _, t := range c.Terms.All() {
			c.Length += t.Length
		}
		switch i {
		case 4:
			c.Ends[1] = end("splice s-inj", "barrel", 0)
			c.Note = "twist with crank-l, lay 25 mm: crank-lead"
		case 7:
			c.Name, c.Label = longName+" box.f8 - A", longName
		case 20:
			c.Length, c.Terms, c.Note = 0, bench.Terms{}, "length not known"
		case 21:
			c.ColourStatus = design.Computed
			c.Ends[0] = end("stud main of block", "M8 lug", 0)
		case 22:
			c.Colour, c.Code = "tartan", ""
		}
		s.Cuts = append(s.Cuts, c)
	}
	s.Cuts = append(s.Cuts, bench.Cut{Wire: 61, Name: "crank-lead ecu - crank", Cable: "crank-lead", Family: "screened-2", Size: unit.AWG(20), Length: 1180,
		Terms: bench.TermsOf([]bench.Term{{What: "rail 0 to 1000", Length: 1000}, {What: "tail at ecu.crank-h", Length: 100}, {What: "tail at crank.1", Length: 80}}...),
		Ends:  [2]bench.CutEnd{{Text: "ecu a"}, {Text: "crank"}}, Note: "the screen needs a lead of 40 mm more",
		Cores: []bench.Core{
			{Wire: 61, Name: "crank-h ecu.crank-h - crank.1", Label: "crank-h", Colour: "white", Code: "WH", Size: unit.AWG(20), Ends: [2]bench.CutEnd{end("ecu a, cavity 7 (crank-h)", "size-22 socket", 3), end("crank, cavity 1", "size-20 socket", 4.5)}},
			{Wire: 62, Name: "crank-l ecu.crank-l - crank.2", Label: "crank-l", Colour: "blue", Code: "BU", Size: unit.AWG(20), Ends: [2]bench.CutEnd{end("ecu a, cavity 8 (crank-l)", "size-22 socket", 3), end("crank, cavity 2", "size-20 socket", 4.5)}},
			{Wire: 63, Name: "crank-lead screen ecu.crank-s - crank", Label: "crank-lead.s", Colour: bench.Bare, Size: unit.AWG(20), Screen: true, Ends: [2]bench.CutEnd{end("ecu a, cavity 9 (crank-s)", "size-22 socket", 3), end("cut back beside crank.1", "cut back", 0)}},
		}})
	half := bench.Connector{Title: "A, engine half", Break: "A", Half: 1, Housing: "round-24", Contacts: "pins", Key: "N", Mount: "free", Panel: "firewall-high", Cavities: 24, Free: 3, SpareShare: 3.0 / 24}
	for i := range 24 {
		if i == 5 || i == 11 || i == 23 {
			half.Rows = append(half.Rows, bench.PinRow{Cavity: fmt.Sprint(i + 1), Blank: bench.PlugIt})
			continue
		}
		c := &s.Cuts[i]
		half.Rows = append(half.Rows, row(fmt.Sprint(i+1), "", c, fmt.Sprintf("box, cavity f%d", i+1), "size-20 pin", []design.Status{design.Computed, design.Frozen, design.Stated}[i%3]))
	}
	ecu := bench.Connector{Title: "ecu, housing a", Device: "ecu", Housing: "sealed-26", Contacts: "as the device has it"}
	for i := range 12 {
		ecu.Rows = append(ecu.Rows, row(fmt.Sprint("a", i+1), fmt.Sprint("inj", i+1), &s.Cuts[30+i], "A, cavity "+fmt.Sprint(i+1), "size-22 socket", design.Stated))
	}
	ecu.Rows = append(ecu.Rows, bench.PinRow{Cavity: "a13", Pin: "can-h", Blank: bench.LeftEmpty + "; plug it", Status: design.Stated}, bench.PinRow{Cavity: "a14", Blank: "wired in section tub"})
	studs := bench.Connector{Title: "block, studs", Device: "block", Contacts: "lugs"}
	for i := range 3 {
		studs.Rows = append(studs.Rows, row("main", "", &s.Cuts[21+i], "A, cavity 3", "M8 lug", design.Frozen))
	}
	s.Connectors = []bench.Connector{half, ecu, studs}
	s.Splices = []bench.Splice{
		{Name: "s-inj", Where: "rail, 60 mm from valley", Status: design.Stated, Area: 7.5, Sleeve: "shrink-6"},
		{Name: "s-earth", Where: "at dash-hub", Status: design.Frozen, Area: 4},
	}
	for i := range 5 {
		c := &s.Cuts[4+i]
		s.Splices[0].Wires = append(s.Splices[0].Wires, bench.SpliceWire{Wire: c.Wire, Label: c.Label, Name: c.Name, Code: c.Code, Size: c.Size, To: fmt.Sprintf("inj%d, cavity 1", i), Leaves: "rail towards inj2"})
	}
	s.Splices[1].Wires = []bench.SpliceWire{{Wire: 22, Label: "fan.23", Name: "fan box.f23 - A", Size: unit.Metric(1), To: "stud rear of body"}}
	return s
}

func row(cavity, pin string, c *bench.Cut, to, contact string, s design.Status) bench.PinRow {
	return bench.PinRow{Cavity: cavity, Pin: pin, Wires: []int{c.Wire}, Label: c.Label, Name: c.Name, Colour: c.Colour, Code: c.Code, ColourStatus: c.ColourStatus, Size: c.Size,
		GoesTo: to, Contact: contact, Status: s}
}
