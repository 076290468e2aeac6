package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/assembly"
	"loomsheet/harness/unit"
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
func things(fl *page.Flow, s *assembly.Section, body page.Box) {
	if s == nil || len(s.Things) == 0 {
		return
	}
	fl.Heading(1, "Sleeves and boots")
	common.Intro(fl, "In the order in which they go on; those with the word heat are shrunk. What stands under Before is done only once the piece is on: nothing passes it afterwards.")
	t := table.New(
		table.Column{Title: "Piece", Type: page.Strong.Faced(label.Face), Weight: 5, Min: 34},
		table.Column{Title: "Size mm", Align: page.Right, Whole: true},
		table.Column{Title: "Cut mm", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Count", Align: page.Right, Whole: true},
		table.Column{Title: "Where", Weight: 6, Min: 36, Type: page.Tight},
		table.Column{Title: "Before", Weight: 5, Min: 30, Type: page.Tight},
		table.Column{Title: "Over, grips mm", Align: page.Right, Min: 18, Type: page.Tight},
		table.Column{Title: "Heat", Type: page.Tight, Whole: true},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad, t.GroupEvery = "Sleeves and boots", 5, 0.3, 0
	for i := range s.Things {
		k := &s.Things[i]
		where := k.Where
		if k.From != "" {
			where += ", " + k.From
		}
		piece := k.Kind
		if k.Part != "" && k.Part != k.Kind {
			piece = k.Part + ", " + k.Kind
		}
		var over []string
		for _, l := range []unit.Length{k.Over, k.Grips} {
			if l > 0 {
				over = append(over, common.Tenths(l))
			}
		}
		size, length, heat := "", "", ""
		if k.Size > 0 {
			size = common.Tenths(k.Size)
		}
		if k.Length > 0 {
			length = common.Whole(k.Length)
		}
		if k.Heat {
			heat = "heat"
		}
		t.Row(table.T(piece), table.T(size), table.T(length), table.T(strconv.Itoa(k.Count)), table.T(where), table.T(or(k.Before, "at any time")),
			table.T(strings.Join(over, ", ")), table.T(heat), table.Tick())
		t.Note(k.Note)
	}
	settle(t, body.W, 0, 4, 5)
	fl.Add(t)
}

// steps is what is done at each place, one act after the other.
func steps(fl *page.Flow, s *assembly.Section) {
	if s == nil || len(s.Places) == 0 {
		return
	}
	fl.Heading(1, "Order of assembly")
	rounds(fl, s)
	fl.Heading(2, "At each place")
	common.Intro(fl, "From the first act to the last. What is slid on stands before the act that would keep it off. An act that waits for another place says so. "+
		"Places at which just the same is done share one list: up to "+strconv.Itoa(mostBoxes)+" of them with a box for each, more with one box, ticked when it is done at all of them.")
	t := table.New(
		table.Column{Title: "Place", Weight: 1, Min: 34, Type: page.Strong.Faced(label.Face)},
		table.Column{Title: "No.", Align: page.Right, Whole: true},
		table.Column{Title: "Do", Weight: 20, Min: 90, Type: page.Tight},
		table.Column{Title: "Done", Whole: true},
	)
	t.Later, t.RowHeight, t.Pad, t.GroupEvery = "Order of assembly, at each place", 4.7, 0.2, 0
	for i := range s.Places {
		p := &s.Places[i]
		titles, boxes, all := p.Titles, max(len(p.Titles), 1), ""
		switch {
		case len(titles) == 0:
			titles = []string{p.Title}
		case len(titles) > mostBoxes || len(titles) > len(p.Steps):
			titles, boxes, all = []string{strconv.Itoa(len(titles)) + " places"}, 1, "These places: "+p.Title
		}
		for n, k := range p.Steps {
			title := table.T("")
			if n < len(titles) {
				title = table.T(common.Sentence(titles[n]))
			}
			cells := []table.Cell{title, table.T(strconv.Itoa(k.Number)), table.T(stepText(&k)), table.Ticks(boxes)}
			if n == 0 {
				t.Row(cells...)
				continue
			}
			t.Tied(cells...)
		}
		t.Note(all)
	}
	fl.Add(t)
}

// mostBoxes stand side by side in a row.
const mostBoxes = 3

// stepText is a step with what it is done to, and what it waits for.
func stepText(k *assembly.Step) string {
	s := k.Do
	var to []string
	for _, e := range k.With {
		to = append(to, strings.TrimPrefix(strings.TrimSuffix(e.What+": "+e.Ends, ": "), ": "))
	}
	if len(to) > 0 {
		s += " – " + strings.Join(to, "; ")
	}
	if k.After != "" {
		s += ". ONLY AFTER " + k.After
	}
	return s
}

// mostNamed places of a round are named; of more the lists of the places tell.
const mostNamed = 12

// rounds is the whole section in working order.
func rounds(fl *page.Flow, s *assembly.Section) {
	if len(s.Order) == 0 {
		return
	}
	fl.Heading(2, "The whole section")
	common.Intro(fl, "In this order nothing has to be taken off again. What each act is done with stands below, at its place.")
	t := table.New(
		table.Column{Title: "No.", Align: page.Right, Whole: true},
		table.Column{Title: "Do", Weight: 3, Min: 40, Type: page.Tight},
		table.Column{Title: "Where", Weight: 9, Min: 90, Type: page.Tight.Sized(9.5)},
		table.Column{Title: "Done", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Order of assembly, the whole section", 4.8, 0.2
	t.GroupEvery = 0
	for i, r := range s.Order {
		where := r.Where
		if n := len(r.Turns); n > mostNamed {
			where = "at all " + strconv.Itoa(n) + " places whose list below has it as the next act"
		}
		t.Row(table.T(strconv.Itoa(i+1)), table.T(r.Do), table.T(where), table.Tick())
	}
	fl.Add(t)
}

// lugs is the stack of each stud, in the order in which the lugs are laid on.
func lugs(fl *page.Flow, p *assembly.Plan, section string, body page.Box) {
	if p == nil {
		return
	}
	var why sources
	t := table.New(
		table.Column{Title: "No.", Align: page.Right, Whole: true},
		table.Column{Title: "Label", Weight: 4, Min: 26},
		table.Column{Title: "Size", Whole: true, Type: page.Tight},
		table.Column{Title: "Lug, across mm", Weight: 4, Min: 22, Type: page.Tight},
		table.Column{Title: "Angle", Weight: 4, Min: 26, Type: page.Tight},
		table.Column{Title: "Leaves by", Weight: 8, Min: 40, Type: page.Tight},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.Later, t.GroupEvery, t.Pad, t.RowHeight, t.GroupsTogether = "Lugs on studs", 0, 0.4, 5.4, true
	for i := range p.Stacks {
		k := &p.Stacks[i]
		here := false
		for _, l := range k.Lugs {
			here = here || l.Section == section
		}
		if !here {
			continue
		}
		t.Sub(stackText(k, &why))
		for _, l := range k.Lugs {
			mark := markCell(l.Label, l.Name)
			size := common.SizeText(l.Size)
			if l.Section != section {
				mark = table.T(mark.Text + ", section " + l.Section)
			}
			hole := or(l.Part, l.Hole+" lug")
			if l.Palm > 0 {
				hole += ", " + common.Tenths(l.Palm)
			}
			t.Row(table.T(strconv.Itoa(l.Order)), mark, table.T(size), table.T(hole), table.T(angle(&l)), table.T(l.Direction), table.Tick())
		}
	}
	if t.Len() == 0 {
		return
	}
	fl.Heading(1, "Lugs on studs")
	common.Intro(fl, "Each stud from its foot upwards; the nut last, with the torque that stands beside it, and a mark of paint over nut and thread once it is tight. A letter behind a torque names its source, below the table. A lug of another section is no bold one: it is put on in the vehicle.")
	settle(t, body.W, 1, 3, 4, 5)
	fl.Add(t)
	why.print(fl)
}

func stackText(k *assembly.Stack, why *sources) string {
	s := common.Sentence(k.Title) + ": " + k.Thread
	switch {
	case k.Torque > 0 && k.Source == "":
		s += ", " + k.Torque.String() + " (stated)"
	case k.Torque > 0:
		s += ", " + k.Torque.String() + " " + why.mark("Torque", torqueSource(k))
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

// torqueSource is where a torque that nobody stated comes from.
func torqueSource(k *assembly.Stack) string {
	if !k.Verified && !strings.Contains(k.Source, "from memory") {
		return k.Source + ", from memory"
	}
	return k.Source
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
