package shellbook

import (
	"strings"

	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// loose is the clips of a run that lie on no panel and want the same fixing.
type loose struct {
	run, fastener string
	drill         unit.Length
	marks         []string
}

// apart parts the clips that lie on no panel from the holes that can be drilled by this book. Each of those clips stands with its place
// in the list of its run.
func apart(plan *body) (list []*shell.Hole, left []loose) {
	runOf := map[string]string{}
	for _, r := range plan.Runs {
		for _, c := range r.Clips {
			runOf["clip "+c.Mark] = r.Run
		}
	}
	type kind struct {
		run, fastener string
		drill         unit.Length
	}
	of := map[kind]int{}
	for i := range plan.Shell.Holes {
		h := &plan.Shell.Holes[i]
		run, ok := runOf[h.What]
		if h.Panel != "" || !ok {
			list = append(list, h)
			continue
		}
		k := kind{run, h.Fastener, h.Drill}
		n, ok := of[k]
		if !ok {
			n, left = len(left), append(left, loose{run: run, fastener: h.Fastener, drill: h.Drill})
			of[k] = n
		}
		left[n].marks = append(left[n].marks, h.Mark)
	}
	return list, left
}

// looseClips says of the clips on no panel that each wants a decision.
func looseClips(fl *page.Flow, list []loose) {
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "Clips on no panel")
	common.Intro(fl, "The job names no panel for these: they lie on a frame, an engine, a bracket or in the air, and nothing is drilled for them from this list. "+
		"Go to each with the list of its run, see what is there, decide by hand what it is fixed to and how, and write that down before paint. The fixing named is what the job would use on a panel.")
	t := table.New(
		table.Column{Title: "Run", Type: page.Strong, Weight: 2, Min: 24},
		table.Column{Title: "Clips", Weight: 3, Min: 30, Type: page.Tight},
		table.Column{Title: "Fixing named", Weight: 2, Min: 26, Type: page.Tight},
		table.Column{Title: "Drill mm", Align: page.Right, Min: 21, Whole: true},
		table.Column{Title: "Decided by hand", Weight: 4, Min: 44},
		table.Column{Title: "Done", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later = rowsOnPage, "Clips on no panel"
	for _, l := range list {
		d := drillCell(l.drill, 0, l.fastener)
		d.Type = page.Strong
		t.Row(table.T(l.run), table.T(strings.Join(series(l.marks), ", ")), table.T(fixing(l.fastener, l.drill)), d, table.Write(), table.Tick())
	}
	fl.Add(t)
}
