package mate_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/mate"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// A wall with two plugs 60 mm apart, whose loose tails hang free for want of clips.
const wall = `harness "Example" revision B
section body, nose
zone cabin air 40 C
panel wall thickness 1.5 mm zone cabin, cabin {
  corners (400, -300, -300 mm), (400, 300, -300 mm), (400, 300, 300 mm), (400, -300, 300 mm)
}
break P at (400, 30, 0 mm) panel wall housing sealed-4 key A {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
break Q at (400, -30, 0 mm) panel wall housing sealed-4 key A class q {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
run rear from battery to P, Q section body zone cabin
run front-p from P to lamp section nose zone cabin
run front-q from Q to horn section nose zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg, bare stud M8
  inner cell
  fuse blade-10 from cell to pos
  joins cell, bare
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (900, 100, 0 mm) { 
  housing sealed-2 key C
  draw 2 A at 12 V as resistance from 1 to 2
}
device horn at (900, -100, 0 mm) {
  housing sealed-2 key D
  draw 4 A at 12 V from 1 to 2
}
cavity P.1 circuit feed
cavity P.2 circuit back
cavity Q.1 circuit horn-feed
cavity Q.2 circuit horn-back
circuit feed from battery.pos to lamp.1 colour red
circuit back from battery.neg to lamp.2 colour black
circuit horn-feed from battery.pos to horn.1 colour brown class q
circuit horn-back from battery.neg to horn.2 colour black class q
case on { supply battery }
`

func find(t *testing.T, text string) (*harness.Result, *mate.Result) {
	t.Helper()
	load := func(string) ([]byte, error) { return []byte(text), nil }
	if text == "" {
		load = func(string) ([]byte, error) { return nil, errors.New("nothing") }
	}
	job, _, msgs := resolve.Job("example.loom", load, parts.Files(), rule.Keys())
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s %s", m.Code, m.Title, m.Detail)
		}
	}
	r := harness.Compile(job)
	return r, r.Mate
}

func swap(text string, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			panic(pairs[i])
		}
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	return text
}

// worst is the worst of what two breaks' halves make of each other, of one key.
func worst(m *mate.Result, a, b string) (harms []string) {
	for _, p := range m.Pairs {
		if x, y := m.Halves[p.First], m.Halves[p.Second]; x.Break == a && y.Break == b && p.SameKey {
			harms = append(harms, p.Worst.String())
		}
	}
	return harms
}

func TestWhatWouldMeet(t *testing.T) {
	for _, c := range []struct {
		name string
		swap []string
		want string
	}{
		{"loads change places", nil, "[load on the wrong feed]"},
		{"turned about: a fused feed on nothing but loads", []string{"Q.1 circuit horn-feed", "Q.2 circuit horn-feed", "Q.2 circuit horn-back", "Q.1 circuit horn-back"}, "[load on the wrong feed]"},
		{"an earth that the nose brings by itself", []string{"P.2 circuit back", "P.3 circuit back",
			"circuit horn-back from battery.neg to horn.2", "device frame at (700, -60, 0 mm) section nose { pin e stud M6 }\ncircuit frame-earth from battery.neg to frame.e colour black class q\ncircuit horn-back from frame.e to horn.2",
			"cavity Q.2 circuit horn-back\n", "cavity Q.2 circuit frame-earth\n", "run front-q from Q to horn", "run front-q from Q to frame to horn"}, "[load on the wrong feed]"},
		{"a feed that does not end at its plug", []string{"Q.1 circuit horn-feed", "Q.2 circuit horn-feed", "Q.2 circuit horn-back", "Q.1 circuit horn-back",
			"half nose contacts pins mount free\n}\nrun", "half nose contacts pins mount free\n}\ndevice cell at (800, -60, 0 mm) section nose {\n  pin a, b stud M6\n  supply 12 V inside 10 mohm from a to b\n}\nrun",
			"circuit horn-back from battery.neg to horn.2", "circuit cell-plus from cell.a to horn.1 class q colour red\ncircuit cell-minus from cell.b to horn.2 class q colour black\ncircuit horn-back from battery.neg to horn.2",
			"run front-q from Q to horn", "run front-q from Q to cell to horn", "supply battery }", "supply battery, cell }"}, "[dead short with no fuse]"},
		{"other keys", []string{"panel wall housing sealed-4 key A class q", "panel wall housing sealed-4 key B class q"}, "[]"},
		{"another shell", []string{"panel wall housing sealed-4 key A class q", "panel wall housing sealed-6 key A class q"}, "[]"},
		{"too far apart", []string{"Q at (400, -30", "Q at (400, -280", "P at (400, 30", "P at (400, 280"}, "[]"},
	} {
		_, m := find(t, swap(wall, c.swap...))
		got := fmt.Sprint(worst(m, "Q", "P"))
		if got != c.want {
			t.Errorf("%s: %s, want %s: %+v", c.name, got, c.want, m.Pairs)
		}
		if c.want == "[]" {
			for _, k := range m.Keys.Changes {
				t.Errorf("%s: change %v", c.name, k)
			}
			continue
		}
		if len(m.Keys.Changes) != 1 || !m.Keys.Proved || len(m.Keys.Left) > 0 || !strings.HasPrefix(m.Keys.Text, "Give ") {
			t.Errorf("%s: %+v", c.name, m.Keys)
		}
	}
}

func TestOtherHousingItGoesInto(t *testing.T) {
	_, m := find(t, swap(wall, "break P at", "housing own-4 keys A mates sealed-4 { cavity [1..4] takes size-16 }\nbreak P at", "(400, 30, 0 mm) panel wall housing sealed-4", "(400, 30, 0 mm) panel wall housing own-4"))
	if got := fmt.Sprint(worst(m, "Q", "P"), worst(m, "P", "Q")); got != "[load on the wrong feed] [load on the wrong feed]" {
		t.Error(got)
	}
}

// Where keys run out the pair is left, and the text says so.
func TestNoKeyHelps(t *testing.T) {
	_, m := find(t, swap(wall, "break P at", "housing own-4 keys A { cavity [1..4] takes size-16 }\nbreak P at", "panel wall housing sealed-4", "panel wall housing own-4"))
	if len(m.Keys.Changes) != 0 || len(m.Keys.Left) == 0 || len(m.Keys.Remedy) != len(m.Keys.Left) || !strings.Contains(m.Keys.Text, "No change of key helps") {
		t.Errorf("%+v", m.Keys)
	}
}

func TestPlugsOfDevices(t *testing.T) {
	job := swap(wall, "lamp at (900, 100", "lamp at (900, 20", "horn at (900, -100", "horn at (900, -20", "key D", "key C")
	_, m := find(t, job)
	n := 0
	for _, p := range m.Pairs {
		if a, b := m.Halves[p.First], m.Halves[p.Second]; a.Device == "lamp" && b.Device == "horn" {
			n++
			if !p.Alike || p.Harmful() || p.Worst != mate.WrongFeed {
				t.Errorf("plugs of two loads wired alike: %+v", p)
			}
		}
	}
	if n != 1 {
		t.Errorf("%d pairs", n)
	}
	_, m = find(t, swap(job, "draw 4 A at 12 V from 1 to 2", "draw 4 A at 12 V from 2 to 1", "to horn.1", "to horn.9", "to horn.2", "to horn.1", "to horn.9", "to horn.2"))
	harm := false
	for _, p := range m.Pairs {
		harm = harm || p.Harmful()
	}
	if !harm {
		t.Error("feed and earth have changed places, and nothing is said")
	}
}

func TestTurnedOver(t *testing.T) {
	own := "housing own-4 { cavity [1..4] takes size-16 at (0, 0 mm) step (6, 0 mm) }\nbreak P at"
	for _, c := range []struct {
		name, housing, want string
	}{
		{"no key, and alike when turned", own, "[P, nose half load on the wrong feed]"},
		{"with a keyway", strings.Replace(own, "own-4", "own-4 keyway (0, 5 mm)", 1), "[]"},
		{"not alike when turned", strings.Replace(own, "}", "\n  cavity 5 takes size-16 at (0, -6 mm)\n}", 1), "[]"},
		{"other contacts at the other end", strings.Replace(own, "[1..4] takes size-16 at (0, 0 mm) step (6, 0 mm)", "[1..3] takes size-16 at (0, 0 mm) step (6, 0 mm)\n cavity 4 takes size-12 at (18, 0 mm)\n", 1), "[]"},
		{"no places", strings.Replace(own, " at (0, 0 mm) step (6, 0 mm)", "", 1), "[]"},
	} {
		_, m := find(t, swap(wall, "break P at", c.housing, "P at (400, 30, 0 mm) panel wall housing sealed-4 key A", "P at (400, 30, 0 mm) panel wall housing own-4",
			"cavity P.2 circuit back", "cavity P.4 circuit back"))
		got := []string{}
		for _, x := range m.Turned {
			got = append(got, m.Halves[x.Half].Title+" "+x.Worst.String())
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%s: %v, want %s", c.name, got, c.want)
		}
	}
}
