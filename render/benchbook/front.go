package benchbook

import (
	"slices"
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/font"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

func cover(fl *page.Flow, h common.Head, s *bench.SectionPlan, contents []common.Entry) {
	pieces, cables, cores := len(s.Cuts), 0, 0
	var total unit.Length
	unknown := 0
	for _, c := range s.Cuts {
		if len(c.Cores) > 0 {
			cables++
			cores += len(c.Cores)
		}
		if c.Length > 0 {
			total += c.Length
		} else {
			unknown++
		}
	}
	wired, blank := 0, 0
	for _, c := range s.Connectors {
		for _, r := range c.Rows {
			if r.Blank == "" {
				wired++
			} else {
				blank++
			}
		}
	}
	cut := common.Count(pieces-cables, "wire", "wires")
	if cables > 0 {
		cut += ", " + common.Count(cables, "bought cable", "bought cables") + " of " + common.Count(cores, "core or screen", "cores and screens")
	}
	cut += "; " + common.Metres(total) + " together"
	if unknown > 0 {
		cut += ", and " + strconv.Itoa(unknown) + " of no known length"
	}
	facts := []page.Fact{{Name: "To cut", Value: cut},
		{Name: "To pin", Value: common.Count(len(s.Connectors), "connector or stud list", "connectors and stud lists") + "; " +
			common.Count(wired, "place with a wire", "places with a wire") + ", " + common.Count(blank, "blank", "blanks")},
		{Name: "To join", Value: common.Count(len(s.Splices), "splice", "splices")}}
	if s.Note != "" {
		facts = append(facts, page.Fact{Name: "Note", Value: s.Note})
	}
	h.Cover(fl, common.Cover{Book: Title, Section: s.Name, Facts: facts,
		What: "All that is needed to build section " + s.Name + " as one piece on the bench: what to cut, what goes into which cavity, what is joined where. " +
			"Where a sheet and the vehicle differ, stop and ask: a mistake on paper becomes a mistake in copper."}, contents)
}

// start is what comes before the first cut.
func start(fl *page.Flow, s *bench.SectionPlan) {
	fl.NewPage()
	fl.Heading(1, "Before you start")
	fl.Checklist(
		"Compare revision and source on this book with those on the board. Destroy the book if either differs.",
		"Lay out the reels and contacts listed below. A reel that is short is replaced before the first cut, not after.",
		"For each contact with each wire: choose tool, locator and setting, make five crimps, pull them. The lowest pull counts; write it into the table.",
		"Measure the first wire of each reel twice. The tape and the bench stop must agree.",
		"Before each end is made, slide on what can only go on now: sleeve, boot, seal, label.",
		"Mark both ends before the wire leaves the bench. A wire without a mark is scrap.",
		"Tick as you go, never afterwards. The second box is for another pair of eyes.",
	)
	reels(fl, s)
	sleeves(fl, s)
	contacts(fl, s)
	common.Legend(fl,
		page.Fact{Name: "RD/WH", Value: "colours by the letters of IEC 60757: ground, then stripe. The letters rule; the swatch beside them is only help"},
		page.Fact{Name: "strip", Value: "bare copper in millimetres, from the contact's own data; a line to write on where that is not known: try it out and write it down"},
		page.Fact{Name: bench.NoSeal, Value: "the cavity wants a seal and none is chosen: find one before the contact goes on"},
		page.Fact{Name: "shaded", Value: "a cavity that gets no wire; the words say whether it is plugged"})
}

// reel is one sort of wire to have at hand.
type reel struct {
	family, colour, code string
	size                 unit.Size
	count, unknown       int
	length               unit.Length
}

func reels(fl *page.Flow, s *bench.SectionPlan) {
	var list []reel
	for _, c := range s.Cuts {
		r := reel{family: c.Family, colour: c.Colour, code: c.Code, size: c.Size}
		n := slices.IndexFunc(list, func(o reel) bool {
			return o.family == r.family && o.colour == r.colour && o.code == r.code && o.size == r.size
		})
		if n < 0 {
			n, list = len(list), append(list, r)
		}
		list[n].count++
		if c.Length > 0 {
			list[n].length += c.Length
		} else {
			list[n].unknown++
		}
	}
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "Reels")
	t := table.New(table.Column{Title: "Wire", Type: page.Strong}, table.Column{Title: "Size"}, table.Column{Title: "Colour"}, table.Column{Title: "Pieces", Align: page.Right, Whole: true},
		table.Column{Title: "Together", Align: page.Right, Whole: true}, table.Column{Title: "At hand", Align: page.Centre, Whole: true})
	t.Later, t.RowHeight, t.Pad = "Reels", 6, 0.6
	for _, r := range list {
		colour, size := common.ColourCell(r.code, r.colour), common.SizeText(r.size)
		if r.code == "" && r.colour == "" {
			colour = table.T("bought cable")
		}
		sum := common.Metres(r.length)
		if r.unknown > 0 {
			sum += ", " + strconv.Itoa(r.unknown) + " not known"
		}
		t.Row(table.T(r.family), table.T(size), colour, table.T(strconv.Itoa(r.count)), table.T(sum), table.Tick())
	}
	fl.Add(t)
}

// fitting is one sort of contact with how it is made.
type fitting struct {
	contact, tool string
	size          unit.Size
	strip         unit.Length
	count         int
}

func contacts(fl *page.Flow, s *bench.SectionPlan) {
	var list []fitting
	add := func(e bench.CutEnd, size unit.Size) {
		f := fitting{contact: e.Contact, tool: e.Tool, strip: e.Strip, size: size}
		if f.contact == "" || f.contact == "cut back" {
			return
		}
		n := slices.IndexFunc(list, func(o fitting) bool {
			return o.contact == f.contact && o.tool == f.tool && o.strip == f.strip && o.size == f.size
		})
		if n < 0 {
			n, list = len(list), append(list, f)
		}
		list[n].count++
	}
	for _, c := range s.Cuts {
		for _, e := range c.Ends {
			if len(c.Cores) == 0 {
				add(e, c.Size)
			}
		}
		for _, k := range c.Cores {
			for _, e := range k.Ends {
				add(e, k.Size)
			}
		}
	}
	if len(list) == 0 {
		return
	}
	slices.SortStableFunc(list, func(a, b fitting) int { return design.Natural(a.contact, b.contact) })
	fl.Heading(2, "Contacts and crimps")
	t := table.New(table.Column{Title: "Contact", Type: page.Tight.Faced(font.NarrowBold), Min: 31}, table.Column{Title: "On wire"}, table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Strip mm", Align: page.Right, Whole: true}, table.Column{Title: "Tool by its data"}, table.Column{Title: "Tool and setting used", Min: 34}, table.Column{Title: "Lowest pull N", Min: 20})
	t.Later = "Contacts and crimps"
	for _, f := range list {
		tool := table.T(f.tool)
		if f.tool == "" {
			tool = table.Write()
		}
		t.Row(table.T(f.contact), table.T(common.SizeText(f.size)), table.T(strconv.Itoa(f.count)), stripOrLine(f.strip), tool, table.Write(), table.Write())
	}
	fl.Add(t)
}

// sleeves is what goes over the bundles of the section's runs. It goes on before what would not pass through it.
func sleeves(fl *page.Flow, s *bench.SectionPlan) {
	if len(s.Sleeves) == 0 {
		return
	}
	t := table.New(table.Column{Title: "Sleeve", Type: page.Strong}, table.Column{Title: "Run"}, table.Column{Title: "From, to", Weight: 1},
		table.Column{Title: "Over mm", Align: page.Right, Whole: true}, table.Column{Title: "Length mm", Align: page.Right, Whole: true}, table.Column{Title: "On", Align: page.Centre, Whole: true})
	t.Later, t.RowHeight, t.Pad = "Sleeves", 6, 0.6
	for _, c := range s.Sleeves {
		t.Row(table.T(c.Part), table.T(c.Run), table.T(c.From+" to "+c.To), table.T(common.Tenths(c.Over)), table.T(common.Whole(c.Length)), table.Tick())
	}
	fl.Heading(2, "Sleeves over the runs")
	fl.Add(t)
}
