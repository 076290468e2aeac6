// Package shellbook makes the book for the bare shell, in the order it is used: what is drilled and set before paint, what the painter
// keeps bare, the connectors on panels, where each clip goes along each run, views to scale, and drill templates at full size. It prints
// what the plan holds and decides nothing.
package shellbook

import (
	"errors"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/route"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

// Title is the name of the book.
const Title = "Shell book"

// Make is the shell book of a compiled job. Errors: there is no plan, or a text of the job holds a character that cannot
// be printed; the error names the thing it belongs to.
func Make(in export.Input) (*page.Doc, error) { return common.Drawn(Open(in)) }

// Open is the book laid out and not yet drawn.
func Open(in export.Input) (*common.Book, error) {
	if in.Result == nil || in.Fixed == nil || in.Shell == nil {
		return nil, errors.New("there is no plan to print for the shell")
	}
	b := &body{Runs: in.Fixed.Runs, Shell: *in.Shell}
	if in.Route != nil {
		b.Route = *in.Route
	}
	for i := range b.Runs {
		var way solid.Way
		if in.Space != nil {
			way, _ = in.Space.Way(b.Runs[i].Run, b.Runs[i].Stretch)
		}
		b.Ways = append(b.Ways, way)
		tape, measured := export.TapeOf(in.Job, in.Space, b.Runs[i].Run, b.Runs[i].Stretch)
		if measured {
			b.tape(i, tape)
		}
	}
	return open(common.HeadOf(in), in.Job, b)
}

// body is what the book prints.
type body struct {
	Runs []fix.RunPlan
	Ways []solid.Way // of each stretch as it lies, with its bends; shorter, or empty: straight from node to node
	// Tapes says of each stretch, by its place in Runs, how it was measured by string; shorter, or empty: it was not.
	Tapes    []string
	measured map[stretch]string // the same by stretch
	Shell    shell.Shell
	Route    route.Result
}

// tape notes what a string gave beside the coordinates.
func (b *body) tape(run int, t export.Tape) {
	for len(b.Tapes) < len(b.Runs) {
		b.Tapes = append(b.Tapes, "")
	}
	s := "by string"
	if t.Date != "" {
		s += " of " + t.Date
	}
	if t.Slack > 0 {
		s += ", " + common.Whole(t.Slack) + " mm slack besides"
	}
	if d := t.Length - t.Coordinates; t.Coordinates > 0 && unit.Finite(d) {
		switch whole := common.Whole(max(d, -d)); {
		case whole == "0":
			s += ", as by the coordinates"
		case d > 0:
			s += ", " + whole + " mm longer than by the coordinates"
		default:
			s += ", " + whole + " mm shorter than by the coordinates"
		}
	}
	b.Tapes[run] = s
}

// taped is how a stretch was measured by string; empty if it was not.
func (b *body) taped(r *fix.RunPlan) string {
	if len(b.Tapes) == 0 {
		return ""
	}
	if b.measured == nil {
		b.measured = map[stretch]string{}
		for i := len(b.Tapes) - 1; i >= 0; i-- {
			b.measured[stretch{b.Runs[i].Run, b.Runs[i].Stretch}] = b.Tapes[i]
		}
	}
	return b.measured[stretch{r.Run, r.Stretch}]
}

// stretch of a run.
type stretch struct {
	run string
	n   int
}

func compose(h common.Head, job *design.Job, plan *body) (*page.Doc, error) {
	return common.Drawn(open(h, job, plan))
}

func open(h common.Head, job *design.Job, plan *body) (*common.Book, error) {
	if err := printable(h, job, plan); err != nil {
		return nil, err
	}
	drawn, seen := maps(plan, h.Frame(Title, "").Body().W), views(h, job, plan)
	cut := fulls(h, &plan.Shell)
	return common.Settle(h, Title, func(contents *common.Contents) (*page.Flow, error) {
		fl := page.NewFlow(h.Frame(Title, ""))
		cover(fl, h, job, plan, contents)
		start(fl, h, job, plan)
		holes(fl, h, job, plan, drawn)
		masks(fl, plan)
		mounts(fl, job, plan)
		runs(fl, plan)
		ways(fl, plan)
		addViews(fl, h, seen)
		addTemplates(fl, cut)
		common.SignOff(fl, "Marked out and checked", "Drilled and deburred", "Studs and rivet nuts set", "Primed, masked", "Painted, unmasked, plugs in", "Clips fitted")
		return fl, nil
	})
}
