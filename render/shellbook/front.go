package shellbook

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
)

func cover(fl *page.Flow, h common.Head, job *design.Job, plan *body, contents *common.Contents) {
	s := &plan.Shell
	clips := 0
	for _, r := range plan.Runs {
		clips += len(r.Clips)
	}
	loose := 0
	for _, x := range s.Holes {
		if x.Panel == "" {
			loose++
		}
	}
	state := "nothing: see the last line of the list before paint"
	if n := len(s.Open) + len(s.Late); n > 0 {
		state = "some of it; named in the last line of the list before paint"
	}
	facts := []page.Fact{
		{Name: "Holes, studs", Value: strconv.Itoa(len(s.Holes)-loose) + " on panels" + others(loose)},
		{Name: "Drills", Value: drills(plan)},
		{Name: "Tools", Value: tools(plan)},
		{Name: "Clips", Value: common.Count(clips, "clip", "clips") + " along " + common.Count(len(plan.Runs), "stretch", "stretches") + " of run"},
		{Name: "Still open", Value: state},
		{Name: "Datum", Value: datum(h)},
	}
	if job.Painted != "" {
		facts = append(facts, page.Fact{Name: "Painted", Value: "since revision " + job.Painted + ": nothing is drilled or welded any more; only holes that are frozen may be used"})
	}
	h.Cover(fl, common.Cover{Book: Title,
		What: "What the bare shell needs before it is painted: holes, cut-outs and studs by panel; what the painter keeps bare; each run with its clips; views to scale; drill templates. " +
			"After paint nobody drills. What holds the devices themselves is their makers' affair and not listed here.",
		Facts: facts}, contents)
}

// others says how many fixings lie on no panel.
func others(n int) string {
	if n == 0 {
		return ""
	}
	return "; " + strconv.Itoa(n) + " on no panel, to be decided by hand"
}

func datum(h common.Head) string {
	if h.Datum == "" {
		return "not stated in the job: find out before marking anything"
	}
	return h.Datum
}

// drills lists the sizes that are drilled on panels, each with how many.
func drills(plan *body) string {
	type size struct{ drill, high unit.Length }
	count := map[size]int{}
	for _, x := range plan.Shell.Holes {
		if x.Drill > 0 && unit.Finite(x.Drill) && x.Panel != "" {
			count[size{x.Drill, x.High}]++
		}
	}
	var sizes []size
	for s := range count {
		sizes = append(sizes, s)
	}
	slices.SortFunc(sizes, func(a, b size) int { return cmp.Or(cmp.Compare(a.drill, b.drill), cmp.Compare(a.high, b.high)) })
	var out []string
	for _, s := range sizes {
		out = append(out, sizeText(s.drill, s.high)+" ("+strconv.Itoa(count[s])+")")
	}
	if len(out) == 0 {
		return "none"
	}
	return strings.Join(out, ", ") + " mm, as drilled"
}

// tools are those that the fixings of the book ask for.
func tools(plan *body) string {
	kinds := map[string]bool{}
	round, square := false, false
	for _, x := range plan.Shell.Holes {
		kinds[x.FastenerKind] = true
		round, square = round || x.Drill > 0 && x.High == 0, square || x.High > 0
	}
	out := []string{"tape, square, scriber, punch, deburrer, primer"}
	for _, k := range []struct {
		need bool
		tool string
	}{
		{round, "drills and hole saws"}, {square, "nibbler, file"},
		{kinds["rivet-nut"], "setting tool for rivet nuts"}, {kinds["stud"], "stud welder, or what the maker of the studs names"},
		{kinds["adhesive"], "solvent and abrasive for bonded bases"}, {len(plan.Shell.Masks) > 0, "masking plugs and tape"},
	} {
		if k.need {
			out = append(out, k.tool)
		}
	}
	return strings.Join(out, ", ")
}

func start(fl *page.Flow, h common.Head, job *design.Job, plan *body) {
	fl.NewPage()
	fl.Heading(1, "Before you start")
	fl.Para("Coordinates are x, y, z in millimetres from the datum: " + datum(h) + ".")
	if job.Painted != "" {
		fl.Caution("The body is painted",
			"Since revision "+job.Painted+" it counts as painted: nothing is drilled, cut or welded any more. Holes that are frozen are there; they are listed so that they can be found and used.",
			"What this revision would need beyond them stands under \"What would need a new hole\", with the nearest hole that could serve. Holes that nothing uses any more want a blanking plug.")
	}
	fl.Checklist(
		"Compare revision and source on this book with those on the board. Destroy the book if either differs.",
		"Mark the datum on the shell and measure two holes that exist already. If they do not agree with the list, stop.",
		"Each place is given twice: in coordinates, and by tape from two things that are on the bare body. Mark it out by tape, check it by coordinates; if the two do not agree, stop.",
		"Look behind each place before it is drilled: tanks, pipes, wiring, double skins.",
		"Fit what sits on both sides of a panel loosely first; a place on paper does not know about a bracket.",
		"Mark out everything on a panel, have it checked, then drill. Pilot first. The drill size already holds the allowance for paint.",
		"Before a template is used, measure its bar with a steel rule. If it is off, the print is off: print again without fitting to the page.",
		"Deburr both sides, prime the bare edge. The masking sheet goes to the painter.",
		"When the list is ticked, read its last line. If it names something, that is settled before paint.",
	)
	common.Legend(fl,
		page.Fact{Name: "by tape", Value: "straight from the middle of the hole to the thing named, as a tape lies, in millimetres"},
		page.Fact{Name: "two boxes", Value: "under drilled, deburred, primed: the upper for who did it, the lower for who checked it"},
		page.Fact{Name: "no hole", Value: "the fixing named needs none: a welded stud, a tie"},
		page.Fact{Name: "station", Value: "distance along the run from its beginning, in millimetres on the centre line"},
		page.Fact{Name: "Ø 9.8–12.1", Value: "a bundle: from the closest its wires can lie to the trade's figure for one laid by hand"},
		page.Fact{Name: "90° R 40", Value: "a bend: by how much the bundle turns, and the radius of its middle line"},
		page.Fact{Name: "line", Value: "to write on: what is decided by hand on the shell"},
		page.Fact{Name: "why", Value: "what a clip is there for: an end, a breakout, a bend, the largest span, or fixed by hand"})
}
