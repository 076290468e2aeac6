package benchbook

import (
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
)

func cover(fl *page.Flow, h common.Head, s *bench.SectionPlan, tools []bench.Tool, contents *common.Contents) {
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
	if len(tools) > 0 {
		facts = append(facts, page.Fact{Name: "Tools", Value: toolsText(tools)})
	}
	if s.Note != "" {
		facts = append(facts, page.Fact{Name: "Note", Value: s.Note})
	}
	h.Cover(fl, common.Cover{Book: Title, Section: s.Name, Facts: facts,
		What: "All that is needed to build section " + s.Name + " as one piece on the bench: what to cut, what goes into which cavity, what is joined where. " +
			"Where a sheet and the vehicle differ, stop and ask: a mistake on paper becomes a mistake in copper."}, contents)
}

// toolsText is the tools in one sentence.
func toolsText(tools []bench.Tool) string {
	var out []string
	for _, t := range tools {
		if t.For == "" {
			out = append(out, t.Name)
			continue
		}
		sep := " "
		if strings.HasPrefix(t.Name, "crimp") {
			sep = ": "
		}
		out = append(out, t.Name+sep+t.For)
	}
	return common.Squared(common.Sentence(strings.Join(out, "; "))) + "."
}

// toolsOf is the tools of a section, with what the order of assembly and the board ask for.
func toolsOf(s *bench.SectionPlan, r *harness.Result) []bench.Tool {
	var o bench.Others
	if order := orderOf(r.Assembly, s.Name); order != nil {
		for i := range order.Things {
			o.Heat = o.Heat || order.Things[i].Heat
		}
	}
	if r.Assembly != nil {
		for i := range r.Assembly.Stacks {
			if k := &r.Assembly.Stacks[i]; slices.Contains(k.Sections, s.Name) {
				o.Torques = append(o.Torques, k.Torque)
			}
		}
	}
	for i := range r.Boards {
		if b := &r.Boards[i]; b.Section == s.Name {
			o.Width, o.Height, o.Pegs = max(o.Width, b.Width), max(o.Height, b.Height), max(o.Pegs, len(b.Pegs))
		}
	}
	return s.Tools(o)
}

// start is what comes before the first cut.
func start(fl *page.Flow) {
	fl.Together(func() { beforeStart(fl) })
}

func beforeStart(fl *page.Flow) {
	fl.Heading(1, "Before you start")
	fl.Checklist(
		"Compare revision and source on this book with those on the board. Destroy the book if either differs.",
		"Lay out the materials listed on the next pages. A reel that is short is replaced before the first cut, not after.",
		"For each set-up: tool, locator and setting, samples, pulls, before the first end is crimped (see Crimps by set-up).",
		"Measure the first wire of each reel twice. The tape and the bench stop must agree.",
		"Before each end is made, slide on what can only go on now: sleeve, boot, seal, label.",
		"Mark both ends before the wire leaves the bench. A wire without a mark is scrap.",
		"Tick as you go, never afterwards. The second box is for another pair of eyes.",
	)
	common.Legend(fl,
		page.Fact{Name: "RD/WH", Value: "colours by the letters of IEC 60757: ground, then stripe. The letters rule; the swatch beside them is only help"},
		page.Fact{Name: "(WH)", Value: "a colour in brackets was worked out: nobody stated it"},
		page.Fact{Name: "strip", Value: "bare copper in millimetres, from the contact's own data; a line to write on where that is not known: try it out and write it down"},
		page.Fact{Name: bench.NoSeal, Value: "the cavity wants a seal and none is chosen: find one before the contact goes on"},
		page.Fact{Name: "shaded", Value: "a cavity that gets no wire; the words say whether it is plugged"})
}
