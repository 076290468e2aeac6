package live

import (
	"fmt"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// TestCount: sets of states, one each whatever they hold; a set that a coil moves is a relay; a pattern and a second device of a name do not count.
func TestCount(t *testing.T) {
	state := func(group, state string) design.State {
		return design.State{StateRef: design.StateRef{Group: group, State: state}}
	}
	job := &design.Job{Devices: []*design.Device{
		{Name: "key", States: []design.State{state("", "off"), state("", "on"), state("", "start")}},
		{Name: "stalk", States: []design.State{state("left", "on"), state("right", "on"), state("left", "far")}},
		{Name: "relay", States: []design.State{state("", "off"), state("", "on")}, Coils: []design.Coil{{Moves: design.StateRef{State: "on"}}}},
		{Name: "pattern", Pattern: true, States: []design.State{state("", "on")}},
		{Name: "key", States: []design.State{state("more", "on")}},
		{Name: "lamp"},
	}}
	if switches, relays := attach(job).count(); switches != 3 || relays != 1 {
		t.Errorf("%d switches, %d relays", switches, relays)
	}
}

// TestWorstFeed: the most amperes, of equals the most volts, of those the first, which has the fewest things switched.
func TestWorstFeed(t *testing.T) {
	f := func(name string, a unit.Current, v unit.Voltage) Feed {
		return Feed{Behind: name, Amps: a, Volts: v}
	}
	for _, c := range []struct {
		feeds []Feed
		want  string
	}{
		{[]Feed{f("a", 5, 12)}, "a"},
		{[]Feed{f("a", 5, 12), f("b", 6, 1)}, "b"},
		{[]Feed{f("a", 6, 1), f("b", 5, 12)}, "a"},
		{[]Feed{f("a", 5, 12), f("b", 5, 13)}, "b"},
		{[]Feed{f("a", 5, 13), f("b", 5, 12)}, "a"},
		{[]Feed{f("a", 5, 12), f("b", 5, 12)}, "a"},
		{[]Feed{f("a", 0, 0), f("b", 0.5, 0)}, "b"},
	} {
		x := Cavity{Feeds: c.feeds}
		if got := x.Worst(); got.Behind != c.want {
			t.Errorf("%+v: %s", c.feeds, got.Behind)
		}
	}
	if (&Cavity{}).Worst() != nil {
		t.Error("of no feed one is worst")
	}
}

// TestRating: a fuse whose part is not in the library, and what is no fuse, has none.
func TestRating(t *testing.T) {
	job := &design.Job{Devices: []*design.Device{{Name: "box", Fuses: []design.DeviceFuse{{Part: "ten"}, {Part: "gone"}}}},
		Parts: design.Parts{Fuses: []*design.Fuse{{Part: design.Part{Name: "five"}, Rating: 5}, {Part: design.Part{Name: "ten"}, Rating: 10}}}}
	f := &finder{supplies: attach(job)}
	for r, want := range map[protect.FuseRef]unit.Current{{Device: "box", Index: 0}: 10, {Device: "box", Index: 1}: 0, {Device: "box", Index: 2}: 0, {Device: "box", Index: -1}: 0, {Device: "lamp"}: 0} {
		if got := f.rating(r); got != want {
			t.Errorf("%+v: %v", r, got)
		}
	}
}

// TestSeatsOfABreak: the cavities of either half in the order of the housing, two wires in one of them together; ends without a cavity each for themselves.
func TestSeatsOfABreak(t *testing.T) {
	in := func(half int, cavity string) [2]net.Termination {
		return [2]net.Termination{{Kind: net.OnStud, Device: "d", Pin: "1"}, {Kind: net.InHalf, Break: "A", Half: half, Cavity: cavity}}
	}
	nt := &net.Net{Wires: []net.Wire{
		{Name: "w0", Ends: in(0, "c1")}, {Name: "w1", Ends: in(0, "c1")}, {Name: "w2", Ends: in(0, "b2")}, {Name: "w3", Ends: in(1, "b2")},
		{Name: "w4", Ends: in(1, "c1")}, {Name: "w5", Ends: in(1, "z9")}, {Name: "w6", Ends: in(1, "z10")}, {Name: "w7", Ends: in(0, "")}, {Name: "w8", Ends: in(0, "")},
		{Name: "w9", Ends: [2]net.Termination{{Kind: net.OnStud, Device: "d", Pin: "1"}, {Kind: net.InHalf, Break: "B", Cavity: "c1"}}},
	}}
	job := &design.Job{Parts: design.Parts{Housings: []*design.Housing{{Part: design.Part{Name: "shell"}, Cavities: []design.HousingCavity{{Name: "b2"}, {Name: "c1"}}}}}}
	b := &design.Break{Name: "A", Halves: [2]design.Half{{Section: "nose", Housing: "shell", Contacts: "pins"}, {Section: "tub", Housing: "shell", Contacts: "sockets"}}}
	job.Breaks = []*design.Break{b}
	un, seats := sides(job, newWhole(job, nt, nil, nil), design.Undo{Kind: "break", Name: "A"})
	got := ""
	for side := range seats {
		got += un.Halves[side].Title + ":"
		for _, s := range seats[side] {
			got += fmt.Sprintf(" %s", s.Name)
			for _, w := range s.wires {
				got += fmt.Sprintf(" w%d.%d", w.wire, w.k)
			}
			got += fmt.Sprintf(" %s %v,", s.Contact, s.Exposed)
		}
		got += "; "
	}
	want := "A, half nose (pins): b2 w2.1 pin true, c1 w0.1 w1.1 pin true,  w7.1 pin true,  w8.1 pin true,; A, half tub (sockets): b2 w3.1 socket false, c1 w4.1 socket false, z9 w5.1 socket false, z10 w6.1 socket false,; "
	if got != want {
		t.Errorf("got  %q\nwant %q", got, want)
	}
}
