package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// reason is why a fixing is what it is, and how long its screw.
type reason struct {
	part, chosen, fastener, kind, why, sum string
	screw                                  unit.Length
}

// reasons are those of a book, each once, in the order in which clips give them.
type reasons struct {
	list  []reason
	marks [][]string
	index map[reason]int
}

func reasonOf(c *fix.Clip) reason {
	r := reason{c.Part, c.ClipWhy, c.Fastener, c.Kind, c.KindWhy, c.ScrewSum, c.Screw}
	if !unit.Finite(r.screw) {
		r.screw = 0
	}
	return r
}

func (r reason) empty() bool { return r.chosen == "" && r.why == "" && r.sum == "" }

func whys(runs []fix.RunPlan) *reasons {
	w := &reasons{index: map[reason]int{}}
	for i := range runs {
		for k := range runs[i].Clips {
			c := &runs[i].Clips[k]
			r := reasonOf(c)
			if r.empty() {
				continue
			}
			n, ok := w.index[r]
			if !ok {
				n = len(w.list)
				w.index[r], w.list, w.marks = n, append(w.list, r), append(w.marks, nil)
			}
			w.marks[n] = append(w.marks[n], c.Mark)
		}
	}
	return w
}

// number of the note of a clip, from 1; 0: none.
func (w *reasons) number(c *fix.Clip) int {
	n, ok := w.index[reasonOf(c)]
	if !ok {
		return 0
	}
	return n + 1
}

// whyTable prints each reason once, with the clips that have it.
func whyTable(fl *page.Flow, w *reasons) {
	if len(w.list) == 0 {
		return
	}
	fl.Heading(2, "Why these fixings and screws")
	common.Intro(fl, "The notes of the lists above. A screw's length is what lies under its head, and what must be in the thread.")
	t := table.New(
		table.Column{Title: "Note", Align: page.Right, Type: page.Strong, Whole: true},
		table.Column{Title: "Clip, fixing, why", Weight: 4, Min: 40},
		table.Column{Title: "Screw mm", Align: page.Right, Type: page.Strong, Whole: true},
		table.Column{Title: "How its length came about", Weight: 3, Min: 40, Type: page.Tight},
		table.Column{Title: "Clips", Weight: 5, Min: 44, Type: page.Tight},
	)
	t.Later, t.Close = "Why these fixings and screws", true
	for i, r := range w.list {
		screw := "–"
		if r.screw > 0 {
			screw = common.Tenths(r.screw)
		}
		fixed, clip := joined(", ", r.fastener, kindText(r.kind)), joined(": ", r.part, r.chosen)
		t.Row(table.T(strconv.Itoa(i+1)), table.T(joined("\n", clip, joined(": ", fixed, r.why))), table.T(screw), table.T(r.sum), table.T(strings.Join(series(w.marks[i]), ", ")))
	}
	fl.Add(t)
}
