package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/assembly"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// orderOf is the order of assembly of a section; nil if there is none.
func orderOf(p *assembly.Plan, section string) *assembly.Section {
	if p == nil {
		return nil
	}
	for i := range p.Sections {
		if p.Sections[i].Name == section {
			return &p.Sections[i]
		}
	}
	return nil
}

// things is what is slid or put on: sleeves, boots, backshells, in the order in which they go on.
func things(fl *page.Flow, s *assembly.Section) {
	if s == nil || len(s.Things) == 0 {
		return
	}
	fl.Heading(1, "Sleeves and boots")
	common.Intro(fl, "In the order in which they go on. What stands under Before is done only once the piece is on: nothing passes it afterwards.")
	t := table.New(
		table.Column{Title: "Piece", Type: page.Strong, Weight: 4, Min: 30},
		table.Column{Title: "Size mm", Align: page.Right, Whole: true},
		table.Column{Title: "Cut mm", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Where", Weight: 5, Min: 36, Type: page.Tight},
		table.Column{Title: "Before", Weight: 5, Min: 34, Type: page.Tight},
		table.Column{Title: "Over, grips mm", Align: page.Right, Min: 16, Type: page.Tight},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Sleeves and boots", 6, 0.6
	for i := range s.Things {
		k := &s.Things[i]
		where := k.Where
		if k.From != "" {
			where += ", " + k.From
		}
		before := k.Before
		if before == "" {
			before = "at any time"
		}
		over := ""
		if k.Over > 0 {
			over = common.Tenths(k.Over)
		}
		if k.Grips > 0 {
			over += ", " + common.Tenths(k.Grips)
		}
		notes := []string{}
		if k.Note != "" {
			notes = append(notes, k.Note)
		}
		if k.Heat {
			notes = append(notes, "shrink it with heat")
		}
		size, length := "", ""
		if k.Size > 0 {
			size = common.Tenths(k.Size)
		}
		if k.Length > 0 {
			length = common.Whole(k.Length)
		}
		t.Row(table.T(or(k.Part, k.Kind)), table.T(size), table.T(length), table.T(strconv.Itoa(k.Count)), table.T(where), table.T(before), table.T(over), table.Tick())
		if k.Part != "" {
			notes = append([]string{k.Kind}, notes...)
		}
		t.Note(strings.Join(notes, "; "))
	}
	fl.Add(t)
}

// steps is what is done at each place, one act after the other.
func steps(fl *page.Flow, s *assembly.Section) {
	if s == nil || len(s.Places) == 0 {
		return
	}
	fl.Heading(1, "Order of assembly")
	common.Intro(fl, "At each place from the first act to the last. What is slid on stands before the act that would keep it off. An act that waits for another place says so. Places at which the same is done share one list, with a box for each.")
	t := table.New(
		table.Column{Title: "No.", Align: page.Right, Whole: true},
		table.Column{Title: "Do", Weight: 5, Min: 60, Type: page.Tight},
		table.Column{Title: "With", Weight: 6, Min: 60, Type: page.Tight},
		table.Column{Title: "Done", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad, t.GroupEvery = "Order of assembly", 5, 0.35, 0
	for i := range s.Places {
		p := &s.Places[i]
		if alikeBefore(s.Places[:i], p) {
			continue
		}
		titles := []string{common.Sentence(p.Title)}
		for k := range s.Places[i+1:] {
			if o := &s.Places[i+1+k]; stepsText(o) == stepsText(p) {
				titles = append(titles, o.Title)
			}
		}
		t.Sub(strings.Join(titles, "; "))
		for _, k := range p.Steps {
			do := k.Do
			if k.After != "" {
				do += ", only after " + k.After
			}
			t.Row(table.T(strconv.Itoa(k.Number)), table.T(do), table.T(strings.Join(with(&k), "; ")), table.Ticks(min(len(titles), 4)))
		}
	}
	fl.Add(t)
}

// with is what a step is done to.
func with(s *assembly.Step) []string {
	var out []string
	for _, e := range s.With {
		out = append(out, strings.TrimPrefix(strings.TrimSuffix(e.What+": "+e.Ends, ": "), ": "))
	}
	return out
}

// stepsText tells places apart at which something else is done.
func stepsText(p *assembly.Place) string {
	s := p.Kind
	for i := range p.Steps {
		k := &p.Steps[i]
		s += "\x00" + k.Do + "\x00" + k.After + "\x00" + strings.Join(with(k), "\x00")
	}
	return s
}

// alikeBefore tells whether the steps of a place stand already under one before it.
func alikeBefore(before []assembly.Place, p *assembly.Place) bool {
	for i := range before {
		if stepsText(&before[i]) == stepsText(p) {
			return true
		}
	}
	return false
}

// lugs is the stack of each stud, in the order in which the lugs are laid on.
func lugs(fl *page.Flow, p *assembly.Plan, section string) {
	if p == nil {
		return
	}
	t := table.New(
		table.Column{Title: "No.", Align: page.Right, Whole: true},
		table.Column{Title: "Label, size", Weight: 4, Min: 34},
		table.Column{Title: "Lug", Weight: 4, Min: 30, Type: page.Tight},
		table.Column{Title: "Angle", Weight: 4, Min: 30, Type: page.Tight},
		table.Column{Title: "Leaves", Weight: 4, Min: 30, Type: page.Tight},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.Later, t.GroupEvery, t.Pad, t.GroupsTogether = "Lugs on studs", 0, 0.6, true
	for i := range p.Stacks {
		k := &p.Stacks[i]
		here := false
		for _, l := range k.Lugs {
			here = here || l.Section == section
		}
		if !here {
			continue
		}
		t.Sub(stackText(k))
		for _, l := range k.Lugs {
			mark := markCell(l.Label, l.Name)
			size := common.SizeText(l.Size)
			if l.Section != section {
				size += ", section " + l.Section
			}
			hole := or(l.Part, l.Hole+" lug")
			if l.Palm > 0 {
				hole += ", " + common.Tenths(l.Palm) + " mm across"
			}
			t.Row(table.T(strconv.Itoa(l.Order)), mark, table.T(hole), table.T(angle(&l)), table.T(l.Direction), table.Tick())
			t.More(table.T(""), table.Cell{Text: size, Type: page.Tight})
		}
	}
	if t.Len() == 0 {
		return
	}
	fl.Heading(1, "Lugs on studs")
	common.Intro(fl, "Each stud from its foot upwards; the nut last, with the torque that stands beside it, and a mark of paint over nut and thread once it is tight.")
	fl.Add(t)
}

func stackText(k *assembly.Stack) string {
	s := common.Sentence(k.Title) + ": " + k.Thread
	switch {
	case k.Torque > 0 && k.Source == "":
		s += ", " + k.Torque.String() + " (stated)"
	case k.Torque > 0:
		s += ", " + k.Torque.String() + " (" + k.Source + ")"
	default:
		s += ", torque not known: by the maker's sheet"
	}
	if k.Bare {
		s += "; bare bright metal under the lowest"
	}
	if k.Nut != "" {
		s += "; " + k.Nut
	}
	if !k.Room {
		s += "; the barrels lie on one another: bend one clear"
	}
	return s
}

func angle(l *assembly.Lug) string {
	switch {
	case l.Stated:
		return l.Angle.String() + " from its wire"
	case l.Turned:
		return "barrel at " + l.Clock.String()
	}
	return "as its wire leaves"
}
