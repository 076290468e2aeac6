// Package benchbook makes the book that a section is built from on the bench: what to cut, what goes into which cavity,
// what is joined in which splice. It prints what the plan holds and decides nothing.
package benchbook

import (
	"fmt"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/render/board"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

// Title is the name of the book.
const Title = "Bench book"

// Make is the book of one section of a compiled job. Errors: the plan has no such section, or a text of the job holds a
// character that cannot be printed; the error names the thing it belongs to.
func Make(in export.Input, section string) (*page.Doc, error) {
	if in.Result == nil || in.Plan == nil {
		return nil, fmt.Errorf("there is no plan to print for section %s", section)
	}
	for i := range in.Plan.Sections {
		if s := &in.Plan.Sections[i]; s.Name == section {
			return compose(common.HeadOf(in), s, in.Result)
		}
	}
	return nil, fmt.Errorf("the plan has no section %s", section)
}

// compose is the book in working order. Of what follows from the whole job (boards, lay-up, reels, what stays live) an empty result has nothing.
func compose(h common.Head, s *bench.SectionPlan, r *harness.Result) (*page.Doc, error) {
	if err := printable(h, s); err != nil {
		return nil, err
	}
	title := common.Title(Title, s.Name)
	return common.Drawn(common.Settle(h, title, func(contents *common.Contents) (*page.Flow, error) {
		frame := h.Frame(Title, s.Name)
		fl := page.NewFlow(frame)
		cover(fl, h, s, toolsOf(s, r), contents)
		start(fl)
		body := frame.Body()
		order := orderOf(r.Assembly, s.Name)
		pick(fl, s, r.Reels)
		cutList(fl, s, body)
		markers(fl, s, body)
		pairs(fl, s)
		crimps(fl, s, body)
		board.Add(fl, frame, r.Boards, s)
		layUp(fl, r.Layup, s.Name, body)
		splices(fl, s, body)
		things(fl, order, body)
		lugs(fl, r.Assembly, s.Name, body)
		steps(fl, order)
		connectors(fl, s, body)
		inspection(fl, s)
		takeOut(fl, r.Free, s.Name)
		stillLive(fl, r.Live, s.Name, body)
		lengths(fl, s)
		common.SignOff(fl, "Cut and labelled", "Crimped, pulls noted", "Pinned, blanks plugged", "Splices", "Lengths against the board", "Buzzed out from paper")
		return fl, nil
	}))
}

// printable holds each text of the section against the faces.
func printable(h common.Head, s *bench.SectionPlan) error {
	var g common.Gate
	h.Gate(&g)
	g.Text("section "+s.Name, s.Name, s.Note)
	ends := func(where string, es [2]bench.CutEnd) {
		for _, e := range es {
			g.Text(where, e.Text, e.Contact, e.Tool)
		}
	}
	for _, c := range s.Sleeves {
		g.Text("sleeve of run "+c.Run, c.Part, c.Run, c.From, c.To)
	}
	for _, c := range s.Cuts {
		where := "wire " + c.Name
		g.Text(where, c.Name, c.Label, c.Family, c.Colour, c.Code, c.Cable, c.Note)
		ends(where, c.Ends)
		for _, t := range c.Terms.All() {
			g.Text(where, t.What)
		}
		for _, k := range c.Cores {
			g.Text("core "+k.Name, k.Name, k.Label, k.Colour, k.Code)
			ends("core "+k.Name, k.Ends)
		}
	}
	for _, c := range s.Connectors {
		where := "connector " + c.Title
		g.Text(where, c.Title, c.Housing, c.Contacts, c.Key, c.Mount, c.Panel)
		for _, r := range c.Rows {
			g.Text(where+", cavity "+r.Cavity, r.Cavity, r.Pin, r.Label, r.Name, r.Colour, r.Code, r.Cable, r.GoesTo, r.Contact, r.Blank)
		}
	}
	for _, p := range s.Splices {
		g.Text("splice "+p.Name, p.Name, p.Where, p.Sleeve)
		for _, w := range p.Wires {
			g.Text("splice "+p.Name, w.Label, w.Name, w.Code, w.To, w.Leaves)
		}
	}
	for _, r := range s.Inspection.Rings {
		for _, e := range append([]bench.RingEnd{r.From}, r.To...) {
			g.Text("wire "+e.Label, e.Text, e.Label)
		}
	}
	return g.Err()
}
