package shellbook

import (
	"strconv"

	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
)

func cover(fl *page.Flow, h common.Head, plan *body, left []string, contents []common.Entry) {
	clips := 0
	for _, r := range plan.Runs {
		clips += len(r.Clips)
	}
	loose := 0
	for _, x := range plan.Holes {
		if x.Panel == "" {
			loose++
		}
	}
	state := "nothing is left open on the list of this book"
	if len(left) > 0 {
		state = "some of it has no fixing or no place yet; named at the end of the list"
	}
	h.Cover(fl, common.Cover{Book: Title,
		What: "What the bare shell needs before it is painted: each hole, cut-out and stud with its place and its drill, by panel; then each run with its clips. " +
			"After paint nobody drills. What holds the devices themselves is their makers' affair and not listed here.",
		Facts: []page.Fact{
			{Name: "Holes, studs", Value: strconv.Itoa(len(plan.Holes)-loose) + " on panels before paint" + others(loose)},
			{Name: "Clips", Value: common.Count(clips, "clip", "clips") + " along " + common.Count(len(plan.Runs), "stretch", "stretches") + " of run"},
			{Name: "Still open", Value: state},
			{Name: "Datum", Value: datum(h)},
		}}, contents)
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

func start(fl *page.Flow, h common.Head) {
	fl.NewPage()
	fl.Heading(1, "Before you start")
	fl.Para("Coordinates are x, y, z in millimetres from the datum: " + datum(h) + ".")
	fl.Checklist(
		"Compare revision and source on this book with those on the board. Destroy the book if either differs.",
		"Mark the datum on the shell and measure two holes that exist already. If they do not agree with the list, stop.",
		"Look behind each place before it is drilled: tanks, pipes, wiring, double skins.",
		"Fit what sits on both sides of a panel loosely first; a place on paper does not know about a bracket.",
		"Mark out everything on a panel, have it checked, then drill. Pilot first.",
		"Deburr both sides, prime the bare edge. Mask threads and the pads of earth studs: they want bare metal.",
		"Allow for paint: it narrows a hole.",
		"When the list is ticked, read its last line. If it names something, that is settled before paint.",
	)
	common.Legend(fl,
		page.Fact{Name: "station", Value: "distance along the run from its beginning, in millimetres on the centre line"},
		page.Fact{Name: "no hole", Value: "the fixing named needs none: a welded stud, a tie"},
		page.Fact{Name: "line", Value: "to write on: what is decided by hand on the shell"},
		page.Fact{Name: "why", Value: "what a clip is there for: an end, a breakout, a bend, the largest span, or fixed by hand"})
}

// coordinate is one figure of a place in millimetres.
func coordinate(l unit.Length, decimals int) string {
	if !unit.Finite(l) {
		return "?"
	}
	return unit.Number(float64(l), decimals)
}
