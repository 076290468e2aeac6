package net

import (
	"reflect"
	"testing"

	"loomsheet/harness/design"
)

func TestPartedBreak(t *testing.T) {
	n := built(posted(circ("feed", link("box.f1", "inj.1")), circ("other", link("box.f2", "tps.1", via("break", "post")))))
	whole := built(posted(circ("feed", link("box.f1", "inj.1")), circ("other", link("box.f2", "tps.1", via("break", "post")))))
	p := Parted(n, []design.Undo{{Kind: "break", Name: "A"}})
	if len(p.Crossings) != 1 || p.Crossings[0].Break != "post" || len(n.Crossings) != 2 {
		t.Errorf("%+v of %+v", p.Crossings, n.Crossings)
	}
	if !reflect.DeepEqual(p.Wires, n.Wires) || !reflect.DeepEqual(p.Uses, n.Uses) {
		t.Error("a pulled plug changed the wires")
	}
	p = Parted(n, []design.Undo{{Kind: "break", Name: "post"}, {Kind: "break", Name: "nope"}})
	if len(p.Crossings) != 1 || p.Crossings[0].Break != "A" {
		t.Errorf("%+v", p.Crossings)
	}
	if a, b := wire(t, p, "other box.f2 - post"), wire(t, p, "other post - tps.1"); a.Ends[1].Cavity != "1" || b.Ends[0].Cavity != "1 off" {
		t.Errorf("%+v and %+v", a.Ends[1], b.Ends[0])
	}
	for i := range n.Wires { // spans are lines of a clock
		whole.Wires[i].Span = n.Wires[i].Span
	}
	if !reflect.DeepEqual(whole.Wires, n.Wires) || len(whole.Crossings) != len(n.Crossings) {
		t.Error("the net itself was changed")
	}
	if Parted(nil, nil) != nil {
		t.Error("of no net a net")
	}
}

func TestPartedDeviceAndStud(t *testing.T) {
	n := built(car(circ("feed", link("box.f1", "inj.1"), link("box.f1", "tps.1")), circ("earth", link("box.e", "inj.2"))))
	for _, c := range []struct {
		undo design.Undo
		want map[string]TermKind // of the end at the box
	}{
		{design.Undo{Kind: "device", Name: "box"}, map[string]TermKind{"feed": InSplice, "earth": CutBack}},
		{design.Undo{Kind: "stud", Name: "box", Pin: "e"}, map[string]TermKind{"feed": InCavity, "earth": CutBack}},
		{design.Undo{Kind: "device", Name: "nope"}, map[string]TermKind{"feed": InCavity, "earth": OnStud}},
	} {
		p := Parted(n, []design.Undo{c.undo})
		for i := range p.Wires {
			for k, e := range n.Wires[i].Ends {
				if e.Device != "box" {
					continue
				}
				if got := p.Wires[i].Ends[k]; got.Kind != c.want[n.Wires[i].Circuit] || got.Kind == CutBack && got.Near != "box."+e.Pin || got.Kind == InSplice && got.Splice != "box.f1 off" {
					t.Errorf("%+v: %s ends %+v", c.undo, p.Wires[i].Name, got)
				}
			}
		}
		for _, u := range p.Uses {
			if u.Device == c.undo.Name && (c.undo.Kind == "device" || u.Pin == c.undo.Pin) {
				t.Errorf("%+v: %+v is still in use", c.undo, u)
			}
		}
		if len(p.Crossings) != len(n.Crossings) {
			t.Errorf("%+v: crossings %+v", c.undo, p.Crossings)
		}
	}
}
