// Package shellbook makes the book for the bare shell: what is drilled and set before paint, and where each clip goes along
// each run. It prints what the plan holds and decides nothing.
package shellbook

import (
	"errors"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/shell"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

// Title is the name of the book.
const Title = "Shell book"

// Make is the shell book of a compiled job. Errors: there is no plan, or a text of the job holds a character that cannot
// be printed; the error names the thing it belongs to.
func Make(in export.Input) (*page.Doc, error) {
	if in.Result == nil || in.Fixed == nil || in.Shell == nil {
		return nil, errors.New("there is no plan to print for the shell")
	}
	return compose(common.HeadOf(in), in.Job, &body{in.Fixed.Runs, in.Shell.Holes})
}

// body is what the book prints.
type body struct {
	Runs  []fix.RunPlan
	Holes []shell.Hole
}

func compose(h common.Head, job *design.Job, plan *body) (*page.Doc, error) {
	if err := printable(h, job, plan); err != nil {
		return nil, err
	}
	return common.Settle(h, Title, func(contents []common.Entry) (*page.Flow, error) {
		fl := page.NewFlow(h.Frame(Title, ""))
		left := open(plan)
		cover(fl, h, plan, left, contents)
		start(fl, h)
		holes(fl, h, job, plan, left)
		panelConnectors(fl, job, plan)
		runs(fl, plan)
		common.SignOff(fl, "Marked out and checked", "Drilled and deburred", "Studs and rivet nuts set", "Primed, threads masked", "Clips fitted")
		return fl, nil
	})
}

// printable holds each text of the book against the faces.
func printable(h common.Head, job *design.Job, plan *body) error {
	var g common.Gate
	h.Gate(&g)
	for _, x := range plan.Holes {
		g.Text("hole "+x.Mark, x.Mark, x.What, x.Panel, x.Fastener, x.Note)
	}
	for _, r := range plan.Runs {
		g.Text("run "+r.Run, r.Run, r.Section, r.Zone, r.Panel, r.SpanSource, r.Note)
		for _, n := range r.Nodes {
			g.Text("run "+r.Run, n.What)
		}
		for _, c := range r.Clips {
			g.Text("clip "+c.Mark, c.Mark, c.Part, c.Fastener, c.Panel, c.Hole, c.Why)
		}
	}
	for _, b := range job.Breaks {
		g.Text("break "+b.Name, b.Name, b.Panel, b.Key)
		for _, half := range b.Halves {
			g.Text("break "+b.Name, half.Section, half.Contacts, half.Mount, half.Housing)
		}
	}
	for _, p := range job.Panels {
		g.Text("panel "+p.Name, append(append([]string{p.Name, p.Note}, p.Zones...), p.Seen...)...)
	}
	return g.Err()
}
