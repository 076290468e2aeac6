package free_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/free"
	"loomsheet/harness/net"
)

// A battery that stays, a lamp and a horn on the nose, a connector between them.
const nose = `harness "Example" revision B
section body, nose
zone cabin air 40 C
zone bay air 40 C
panel wall thickness 1.5 mm zone cabin, bay {
  corners (400, -300, -300 mm), (400, 300, -300 mm), (400, 300, 300 mm), (400, -300, 300 mm)
}
panel floor thickness 1.5 mm zone bay, bay {
  corners (400, -300, -20 mm), (1000, -300, -20 mm), (1000, 300, -20 mm), (400, 300, -20 mm)
}
break P at (400, 0, 0 mm) panel wall housing sealed-12 {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
point fork at (700, 0, 0 mm)
run rear from battery to P section body zone cabin
run front from P to fork section nose zone bay
run tails from fork to lamp, horn section nose zone bay
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device lamp at (900, 100, 0 mm) housing sealed-2 { draw 6 ohm from 1 to 2 }
device horn at (900, -100, 0 mm) housing sealed-2 { draw 3 ohm from 1 to 2 }
circuit feed from battery.pos to lamp.1
circuit back from battery.neg to lamp.2
circuit horn-feed from battery.pos to horn.1
circuit horn-back from battery.neg to horn.2
case on { supply battery }
removal off section nose undo battery.neg, P
`

// change exchanges pieces of a text, old and new in turn.
func change(t *testing.T, s string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(s, pairs[i]) {
			t.Fatalf("the text does not contain %s", pairs[i])
		}
		s = strings.Replace(s, pairs[i], pairs[i+1], 1)
	}
	return s
}

func TestTies(t *testing.T) {
	pair := change(t, nose, "case on", "cable twin holds feed, back as pair wire screened-2 screen lamp.2\ncase on")
	earth := change(t, nose, "circuit back from battery.neg to lamp.2", "device shell at (700, -200, 0 mm) {\n  pin e stud M6\n  pin b at (100, 0, 0 mm) stud M6\n  joins e, b\n}\nrun earth from fork to shell section nose zone bay\nrun bond from battery to shell.b section body zone cabin\ncircuit bond from battery.neg to shell.b\ncircuit back from shell.e to lamp.2",
		"device shell at", "device shell section body at")
	loose := change(t, nose, "circuit horn-back from battery.neg to horn.2", "circuit horn-back from battery.neg to horn.2 length 1500 mm section nose zone bay")
	for _, c := range []struct {
		name, text string
		kinds      []free.TieKind
		group      string
		names      string
	}{
		{"free", nose, nil, "", ""},
		{"wires", change(t, nose, "undo battery.neg, P", "undo battery.neg"), []free.TieKind{free.ByWire, free.ByWire, free.ByWire, free.ByWire}, "break P",
			"back P - lamp.2|feed P - lamp.1|horn-back P - horn.2|horn-feed P - horn.1"},
		{"pair and screen", change(t, pair, "undo battery.neg, P", "undo battery.neg"), []free.TieKind{free.ByWire, free.ByWire, free.ByCore, free.ByCore, free.ByScreen}, "break P", ""},
		{"pair undone", pair, nil, "", ""},
		{"earth", earth, []free.TieKind{free.ByEarth}, "stud shell.e", "back shell.e - lamp.2"},
		{"earth undone", change(t, earth, "battery.neg, P", "battery.neg, P, shell.e"), nil, "", ""},
		{"loose lead", change(t, loose, "undo battery.neg, P", "undo P"), []free.TieKind{free.ByLead}, "stud battery.neg", "horn-back battery.neg - horn.2"},
		{"loose lead undone", loose, nil, "", ""},
		{"lead of the other side in its plug", change(t, loose, "section nose zone bay\ncase", "section body zone bay\ncase"), []free.TieKind{free.ByWire, free.ByLead}, "", "horn-back battery.neg - horn.2|horn-feed P - horn.1"},
		{"device of the other side", change(t, nose, "device horn at", "device horn section body at"), []free.TieKind{free.ByWire, free.ByWire}, "device horn", "horn-back P - horn.2|horn-feed P - horn.1"},
		{"device undone", change(t, nose, "device horn at", "device horn section body at", "neg, P", "neg, P, horn"), nil, "", ""},
		{"shared hole", change(t, nose, "case on", "hole h at (560, -8, 0 mm) drill 7 mm\nrun by from battery to (400, -40, 0 mm) to (700, -20, 0 mm) section body zone bay\nfixing f run front after 160 mm hole h\nfixing g run by after 560 mm hole h\ncase on"),
			[]free.TieKind{free.ByClip}, "clip f", "f"},
		{"half from behind", change(t, nose, "sealed-12 {", "sealed-12 flange cabin {", "sockets mount fixed", "sockets mount free", "pins mount free", "pins mount fixed"), []free.TieKind{free.ByHalf}, "break P", "P"},
		{"half from before", change(t, nose, "sealed-12 {", "sealed-12 flange bay {", "sockets mount fixed", "sockets mount free", "pins mount free", "pins mount fixed"), nil, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := text(t, c.text).proof().Removals[0]
			var kinds []free.TieKind
			var names []string
			for _, x := range p.Ties {
				kinds, names = append(kinds, x.Kind), append(names, x.Name)
				if c.group != "" && x.Group != c.group {
					t.Errorf("%s is told at %s", x.Name, x.Group)
				}
				if x.Text == "" || x.Mend == "" {
					t.Errorf("%+v says too little", x)
				}
			}
			slices.Sort(kinds)
			slices.Sort(names)
			if !reflect.DeepEqual(kinds, c.kinds) || c.names != "" && strings.Join(names, "|") != c.names || p.Free != (len(c.kinds) == 0) {
				t.Errorf("free %v, ties %+v", p.Free, p.Ties)
			}
		})
	}
}

// TestSpliceTies: the language puts no wire of one section into a splice of another; a net that does is tied by it all the same.
func TestSpliceTies(t *testing.T) {
	r := text(t, change(t, nose, "circuit horn-back from battery.neg to horn.2", "splice s at fork section nose\ncircuit horn-back {\n  from battery.neg to s\n  from s to horn.2\n}"))
	if p := r.proof().Removals[0]; !p.Free {
		t.Fatalf("%+v", p.Ties)
	}
	for i := range r.nt.Wires {
		if w := &r.nt.Wires[i]; w.To == "horn.2" {
			w.Section = "body"
			w.Path = nil
			w.Ends[1] = net.Termination{Kind: net.CutBack}
		}
	}
	p := r.proof().Removals[0]
	if len(p.Ties) != 1 || p.Ties[0].Kind != free.BySplice || p.Ties[0].Group != "splice s" {
		t.Errorf("%+v", p.Ties)
	}
}

// TestLayTies: a wire that lies in a run of the other section.
func TestLayTies(t *testing.T) {
	r := text(t, nose)
	for i := range r.nt.Wires {
		if w := &r.nt.Wires[i]; w.From == "P" && w.To == "lamp.1" {
			w.Path = append([]net.Step{{Edge: r.nt.Space.Around(r.nt.Space.Find("battery"))[0]}}, w.Path...)
		}
	}
	p := r.proof().Removals[0]
	if len(p.Ties) != 1 || p.Ties[0].Kind != free.ByLay || p.Ties[0].Group != "run rear" {
		t.Errorf("%+v", p.Ties)
	}
}

// Bushes: the nose's lead to a lamp on the far side of a panel of its own.
func TestBushes(t *testing.T) {
	through := func(bore string, more ...string) string {
		s := change(t, nose, "point fork", "panel front thickness 1 mm zone bay, cabin {\n  corners (800, -300, -300 mm), (800, 300, -300 mm), (800, 300, 300 mm), (800, -300, 300 mm)\n}\npoint grommet at (800, 100, 0 mm) panel front bush "+bore+"\npoint fork",
			"run tails from fork to lamp, horn section nose zone bay", "run tails from fork to horn, grommet section nose zone bay\nrun beyond from grommet to lamp section nose zone cabin")
		return change(t, s, more...)
	}
	p := text(t, through("10 mm")).proof()
	if v := p.Removals[0].Verdict; v != "Not free: still tied at bush grommet." {
		t.Error(v)
	}
	if x := p.Removals[0].Ties; len(x) != 1 || x[0].Kind != free.ByBush || !strings.Contains(x[0].Text, "plug of lamp") {
		t.Errorf("%+v", x)
	}
	for _, s := range p.Sections { // by itself it can be unpinned
		if s.Name == "nose" && (!s.Free || !strings.Contains(strings.Join(s.Assumed, " "), "unpin the plug of lamp first")) {
			t.Errorf("%+v %v", s.Ties, s.Assumed)
		}
	}
	if x := text(t, through("60 mm")).proof().Removals[0].Ties; len(x) != 0 {
		t.Errorf("%+v", x)
	}
	// A housing without any measure: said, not passed over.
	x := text(t, through("10 mm", "panel wall housing sealed-12 {", "panel wall housing bare {", "point fork", "housing bare { cavity [1..4] takes size-16 }\npoint fork")).proof().Removals[0]
	if len(x.Ties) != 0 || !strings.Contains(strings.Join(x.Assumed, " "), "How large the half of P is, is not known: see that it passes bush grommet.") {
		t.Errorf("%+v %v", x.Ties, x.Assumed)
	}
	// Lugs on both sides: no unpinning helps.
	lugs := through("6 mm", "device lamp at (900, 100, 0 mm) housing sealed-2 {", "device lamp at (900, 100, 0 mm) {\n  pin 1, 2 stud M8\n ")
	lugs = change(t, lugs, "break P at (400, 0, 0 mm) panel wall housing sealed-12 {", "break P at (400, 0, 0 mm) panel wall housing stud-post-m8 {", "circuit feed from battery.pos to lamp.1", "circuit feed from battery.pos to P to lamp.1",
		"contacts sockets mount fixed", "mount fixed", "contacts pins mount free", "mount free", "circuit back from battery.neg to lamp.2\n", "", "circuit horn-feed from battery.pos to horn.1\n", "", "circuit horn-back from battery.neg to horn.2\n", "")
	for _, s := range text(t, lugs).proof().Sections {
		if s.Name == "nose" && (len(s.Ties) != 1 || s.Ties[0].Kind != free.ByBush) {
			t.Errorf("%+v", s.Ties)
		}
	}
}

// TestNothingChanged: the same answer twice, and what went in stays as it was.
func TestNothingChanged(t *testing.T) {
	r, again := text(t, nose), text(t, nose)
	first := r.proof()
	if !reflect.DeepEqual(first, r.proof()) {
		t.Error("two answers")
	}
	if !reflect.DeepEqual(r.job, again.job) || !reflect.DeepEqual(r.nt.Wires, again.nt.Wires) || !reflect.DeepEqual(r.nt.Crossings, again.nt.Crossings) || !reflect.DeepEqual(r.held, again.held) {
		t.Error("the input was changed")
	}
	if p := free.Find(nil, nil, nil, nil, nil); len(p.Removals) != 0 {
		t.Error("something of nothing")
	}
	if p := free.Find(&design.Job{Removals: []*design.Removal{{Name: "x", Undo: []design.Undo{{Kind: "break", Name: "gone"}}}}}, &net.Net{}, nil, nil, nil); len(p.Removals) != 1 || p.Removals[0].Steps[0].Needed {
		t.Errorf("%+v", p)
	}
}
