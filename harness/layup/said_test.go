package layup_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/layup"
	"loomsheet/harness/unit"
)

// What is said of each kind of lay, with figures by hand. Seven of 2 mm around one find room on a base of 1/sin(pi/7) - 1 = 1.305; a turn is ten times what is
// around it, 66.1 mm, in whole millimetres; hypot(1, pi 4.61/67) - 1 is 2.3 %. Eight of the nine that go round two lie on a pitch of 6: hypot(1, pi 6/80) - 1.
func TestSaid(t *testing.T) {
	layers := set("lay", "layers")
	for _, c := range []struct {
		name     string
		members  []member
		settings []design.Setting
		want     string
		band     string
	}{
		{"alone", equal(1, 2), nil, "1 lies alone.", "2 mm"},
		{"by hand", []member{{d: 2}, {d: 4}, {d: 2}}, nil, "Together in a gentle twist by hand, thickest in the middle: 2, 1, 3.", ""},
		{"flat", equal(3, 2), []design.Setting{set("lay", "flat")}, "Side by side in one row, from left to right and from the lowest row up: 1, 2, 3. Tie, do not twist.", "6 mm wide, 2 mm high; gathered 4.3 mm to 4.3 mm"},
		{"flat in two", equal(12, 2), []design.Setting{set("lay", "flat")}, "Side by side in 2 rows, from left to right and from the lowest row up: 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12. Tie, do not twist.", ""},
		{"two twisted", equal(2, 2), []design.Setting{layers}, "Core: 1, 2, twisted together left-hand, one turn in 40 mm; 4 mm thick, takes up 1.2 %.", "4 mm, within its band 4 mm to 4 mm"},
		{"five in a core", equal(5, 2), []design.Setting{layers}, "Core: 1, 2, 3, 4, 5, twisted together left-hand, one turn in 55 mm; 5.4 mm thick, takes up 1.9 %.", ""},
		{"valleys", append(equal(2, 12), equal(4, 2.4)...), []design.Setting{layers},
			"Core: 1, 2, 3, 4, 5, 6, twisted together left-hand, thin ones in the valleys of the thick ones, one turn in 240 mm; 24 mm thick, takes up 1.2 %.", ""},
		{"built up", equal(8, 2), []design.Setting{layers}, "Core: 1, straight, 2 mm thick.|Build up what is laid to 2.6 mm with tape. Layer 2, left-hand, one turn in 67 mm: 2, 3, 4, 5, 6, 7, 8; 6.6 mm thick, takes up 2.3 %.", ""},
		{"a filler", equal(10, 2), []design.Setting{layers}, "Core: 1, 2, twisted together right-hand, one turn in 40 mm; 4 mm thick, takes up 1.2 %.|" +
			"Layer 2, left-hand, one turn in 80 mm: 3, 4, 5, 6, 7, 8, 9, 10, with 1 filler of 2 mm; 8 mm thick, takes up 2.7 %.", "8 mm, 4.9 % more than the trade's figure 7.6 mm; its band is 7.6 mm to 8 mm"},
		{"two fillers", equal(17, 2), []design.Setting{layers, set("lay-open", "0 %")}, "Core: 1, straight, 2 mm thick.|Layer 2, right-hand, one turn in 60 mm: 2, 3, 4, 5, 6, 7; 6 mm thick, takes up 2.2 %.|" +
			"Layer 3, left-hand, one turn in 100 mm: 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, with 2 fillers of 2 mm between them; 10 mm thick, takes up 3.1 %.", ""},
	} {
		l := rig(1000, 1, c.members, c.settings...).plan.Drawn(0)
		if got := strings.Join(says(l), "|"); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
		if !l.Placed {
			t.Errorf("%s: it has no place", c.name)
		}
		if c.band != "" && l.Band != c.band {
			t.Errorf("%s: %s, want %s", c.name, l.Band, c.band)
		}
	}
}

// says words a lay as a builder would be told.
func says(l *layup.Lay) (out []string) {
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	whole := func(x unit.Length) string { return unit.Number(float64(x), 0) + " mm" }
	tenths := func(x unit.Length) string { return unit.Number(float64(x), 1) + " mm" }
	percent := func(x unit.Ratio) string { return unit.Number(float64(x)*100, 1) + " %" }
	labels := func(pieces []int) string {
		var out []string
		for _, i := range pieces {
			out = append(out, l.Pieces[i].Label)
		}
		return strings.Join(out, ", ")
	}
	var all []int
	for i := range l.Pieces {
		all = append(all, i)
	}
	switch l.Kind {
	case layup.Alone:
		say("%s lies alone.", labels(all))
	case layup.Flat:
		rows := "one row"
		if l.Rows > 1 {
			rows = fmt.Sprintf("%d rows", l.Rows)
		}
		say("Side by side in %s, from left to right and from the lowest row up: %s. Tie, do not twist.", rows, labels(all))
	case layup.ByHand:
		say("Together in a gentle twist by hand, thickest in the middle: %s.", labels(all))
	}
	for n, y := range l.Layers {
		switch {
		case n == 0 && len(y.Pieces) == 1:
			say("Core: %s, straight, %s thick.", labels(y.Pieces), tenths(y.Outside))
			continue
		case n == 0:
			valleys := ""
			if len(y.Pieces) > 5 {
				valleys = ", thin ones in the valleys of the thick ones"
			}
			say("Core: %s, twisted together %s%s, one turn in %s; %s thick, takes up %s.", labels(y.Pieces), y.Hand, valleys, whole(y.Lay), tenths(y.Outside), percent(y.TakeUp))
			continue
		}
		built, fillers := "", ""
		if y.Built > 0 {
			built = "Build up what is laid to " + tenths(y.Built) + " with tape. "
		}
		if k := len(y.Fillers); k == 1 {
			fillers = ", with 1 filler of " + tenths(y.Diameter)
		} else if k > 1 {
			fillers = fmt.Sprintf(", with %d fillers of %s between them", k, tenths(y.Diameter))
		}
		say("%sLayer %d, %s, one turn in %s: %s%s; %s thick, takes up %s.", built, y.Number, y.Hand, whole(y.Lay), labels(y.Pieces), fillers, tenths(y.Outside), percent(y.TakeUp))
	}
	return out
}

// A wire counts as heavy that is half as thick again as the middle one, and no less.
func TestHeavy(t *testing.T) {
	for d, want := range map[unit.Length]string{3: "heavy", 2.99: "goes all the way"} {
		l := rig(1000, 1, append(equal(8, 2), member{d: d}), set("lay", "layers")).plan.Drawn(0)
		for _, p := range l.Pieces {
			if p.Diameter == d && p.Why != want {
				t.Errorf("%v beside 2: %s", d, p.Why)
			}
		}
	}
}

// What joins finds its place in the outermost layer where that has room, and nothing that goes on is moved; what is said at the place names the layers.
func TestJoinsOutermost(t *testing.T) {
	members := append(append(equal(2, 2), member{d: 2, from: 1, until: 1}), member{d: 2, until: 1}, member{d: 2, until: 1}, member{d: 2, until: 1}, member{d: 2, until: 1}, member{d: 2, until: 1})
	r := rig(2000, 2, members, set("lay", "layers"), set("lay-over", "1000 %"), set("lay-fillers", "1000 %"))
	l := r.plan.Drawn(1)
	if l.Kind != layup.Layers || len(l.Layers) != 2 || len(l.Layers[1].Pieces) != 5 {
		t.Fatalf("%v", says(l))
	}
	c := r.plan.Trunks[0].Changes
	if len(c) != 1 || c[0].Relaid || c[0].Station != 2000 || c[0].Edge != 1 || strings.Join(c[0].Join, ", ") != "3 to layer 2" || strings.Join(c[0].Leave, ", ") != "1 from layer 2, 2 from layer 2" {
		t.Errorf("%+v", c)
	}
}

// What leaves on the way lies within the spares though these go on, and each piece says why it lies where it does.
func TestSparesOutsideOfWhatLeaves(t *testing.T) {
	members := append([]member{{d: 2, until: 2}}, equal(12, 2)...)
	for range 6 {
		members = append(members, member{d: 2, until: 2, spare: true})
	}
	r := rig(1000, 3, members, set("lay", "layers"))
	for _, p := range r.plan.Drawn(0).Pieces {
		want := "leaves at n1"
		switch {
		case p.Spare:
			want = "spare"
		case p.Wires[0] == 0:
			want = "goes all the way"
		}
		if p.Why != want || p.Spare && p.Layer != 3 {
			t.Errorf("%s in layer %d: %s, want %s", p.Label, p.Layer, p.Why, want)
		}
	}
	late := rig(1000, 3, append([]member{{d: 2, from: 1, until: 2}, {d: 2, from: 1, until: 1}}, slices.Repeat([]member{{d: 2, until: 2}}, 5)...), set("lay", "layers")).plan.Drawn(1)
	for _, p := range late.Pieces {
		if want := []string{"joins at n1", "leaves at n2"}; p.Wires[0] < 2 && p.Why != want[p.Wires[0]] {
			t.Errorf("%s: %s", p.Label, p.Why)
		}
	}
}
