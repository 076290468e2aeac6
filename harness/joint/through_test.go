package joint

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestCurrentOfALink: in a circuit from a box over two splices to three loads of 1, 2 and 4 A each link carries what lies beyond it, whichever way round it is
// written; where both sides draw, or none feeds, the greater side counts.
func TestCurrentOfALink(t *testing.T) {
	pin := func(d, p string) design.End { return design.End{Kind: design.AtPin, Name: d, Pin: p} }
	splice := func(n string) design.End { return design.End{Kind: design.AtSplice, Name: n} }
	c := &design.Circuit{Name: "feed", Links: []design.Link{
		{From: pin("box", "1"), To: splice("s")},
		{From: splice("s"), To: pin("a", "1")},
		{From: pin("b", "1"), To: splice("u")}, // written towards the splice
		{From: splice("s"), To: splice("u")},
		{From: splice("u"), To: pin("c", "1")},
	}}
	draws := map[design.PinRef]unit.Current{{Device: "a", Pin: "1"}: 1, {Device: "b", Pin: "1"}: 2, {Device: "c", Pin: "1"}: 4}
	want := []unit.Current{7, 1, 2, 6, 4}
	for i := range c.Links {
		if got := through(draws, c, i); got != want[i] {
			t.Errorf("link %d carries %v, want %v", i, got, want[i])
		}
		turned := *c
		turned.Links = append([]design.Link(nil), c.Links...)
		for k := range turned.Links {
			turned.Links[k].From, turned.Links[k].To = turned.Links[k].To, turned.Links[k].From
		}
		if got := through(draws, &turned, i); got != want[i] {
			t.Errorf("turned, link %d carries %v, want %v", i, got, want[i])
		}
	}
	// nothing feeds: what was the box draws as well, so the greater of both sides
	draws[design.PinRef{Device: "box", Pin: "1"}] = 3
	for i, want := range []unit.Current{7, 9, 8, 6, 6} {
		if got := through(draws, c, i); got != want {
			t.Errorf("with a box that draws, link %d carries %v, want %v", i, got, want)
		}
	}
	// a link with the same thing at both ends, or a ring, is not followed for ever
	ring := &design.Circuit{Links: []design.Link{{From: pin("box", "1"), To: splice("s")}, {From: splice("s"), To: splice("s")}, {From: splice("s"), To: pin("a", "1")}, {From: pin("a", "1"), To: splice("s")}}}
	if got := through(map[design.PinRef]unit.Current{{Device: "a", Pin: "1"}: 1}, ring, 0); got != 1 {
		t.Errorf("a ring: %v", got)
	}
}
