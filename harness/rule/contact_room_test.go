package rule_test

import (
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
)

// A wire in a cavity that does not take it is told of those that would, and what fills them.
func TestContactRoom(t *testing.T) {
	house := func(cavities string) []string {
		return []string{"break P at (400, 0, 0 mm) panel wall housing sealed-4 {", "housing own cut-out 20 mm flange 30 mm {\n" + cavities + "\n}\nbreak P at (400, 0, 0 mm) panel wall housing own {"}
	}
	const small, large = "  cavity 1 takes size-16", "  cavity [2..4] takes size-8"
	sized := []string{"horn-feed from battery.pos to horn.1", "horn-feed from battery.pos to horn.1 size 1 mm2", "horn-back from battery.neg to horn.2", "horn-back from battery.neg to horn.2 size 1 mm2",
		"feed from battery.pos to lamp.1", "feed from battery.pos to lamp.1 size 1 mm2", "back from battery.neg to lamp.2", "back from battery.neg to lamp.2 size 1 mm2"}
	for _, tt := range []struct {
		name, cavities, more, want string
	}{
		{"full", small + "\n" + large, "cavity P.1 circuit back\ncavity P.2 circuit feed\n",
			"The only cavity of break P that takes it, 1, is taken by other wires or kept spare by hand: take a larger housing than own"},
		{"kept spare", small + "\n" + large, "cavity P.1 spare light\ncavity P.2 circuit feed\n", "The only cavity of break P that takes it, 1, is taken by other wires or kept spare by hand"},
		{"two full", "  cavity 1, 2 takes size-16\n  cavity 3, 4 takes size-8", "cavity P.1 circuit back\ncavity P.2 circuit horn-feed\ncavity P.3 circuit feed\n", "All 2 cavities of break P that take it are taken by other wires"},
		{"none", "  cavity [1..4] takes size-8", "cavity P.1 circuit feed\n", "No cavity of own takes it on both halves: take another housing, or another size."},
		{"stated", "  cavity 1, 2, 5, 6 takes size-16\n  cavity 3, 4 takes size-8", "cavity P.3 circuit feed\n", "The cavity is stated; free, and of a contact that takes it: 6."},
		{"another break", small + "\n" + large, "cavity P.1 circuit back\ncavity P.2 circuit feed\nbreak Q at (400, 100, 0 mm) panel wall housing sealed-4 class light {\n  half body contacts sockets mount fixed\n  half nose contacts pins mount free\n}\n",
			"Break Q has room for it and is kept for class light."},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := rule.Find("no-cavity-left").Silent
			text = strings.NewReplacer(append(house(tt.cavities), sized...)...).Replace(text) + tt.more
			for _, f := range compile(t, text).Findings {
				if f.Code == "contact-gauge" && strings.Contains(f.Detail, tt.want) {
					return
				}
			}
			for _, f := range compile(t, text).Findings {
				t.Logf("%s: %s. %s", f.Code, f.Title, f.Detail)
			}
			t.Errorf("nothing says %q", tt.want)
		})
	}
}

// A cavity that the program chose, while smaller ones are free.
func TestContactRoomChosen(t *testing.T) {
	text := strings.NewReplacer("break P at (400, 0, 0 mm) panel wall housing sealed-4 {", "housing own cut-out 20 mm flange 30 mm {\n  cavity [1..5] takes size-16\n  cavity 6 takes size-8\n}\nbreak P at (400, 0, 0 mm) panel wall housing own {",
		"feed from battery.pos to lamp.1", "feed from battery.pos to lamp.1 size 1 mm2").Replace(rule.Find("no-cavity-left").Silent) + "cavity P.6 circuit feed\n"
	r := compile(t, text)
	for i := range r.Net.Wires {
		for k := range r.Net.Wires[i].Ends {
			r.Net.Wires[i].Ends[k].Status = design.Computed
		}
	}
	var out diag.List
	rule.Find("contact-gauge").Check(&rule.Model{Job: r.Job, Net: r.Net, Sizes: r.Sizes}, &out)
	if len(out) != 2 || !strings.Contains(out[0].Detail, "Free, and of a contact that takes it: 4; 5. The program took a larger contact for the current, or a size tried before, and the wire cannot grow to suit that (its other end takes size-16: ") {
		t.Errorf("%+v", out)
	}
}

// What a tight bend turns is named: at a branching not every wire of the run does.
func TestBendNamesWires(t *testing.T) {
	text := rule.Find("bend-too-tight").Fires
	for _, f := range compile(t, text).Findings {
		if f.Code == "bend-too-tight" {
			if !strings.Contains(f.Detail, "What turns there: back battery.neg - lamp.2; feed battery.pos - lamp.1.") {
				t.Errorf("%s", f.Detail)
			}
			return
		}
	}
	t.Error("nothing bends too tightly")
}
