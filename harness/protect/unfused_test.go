package protect_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// words is a stretch as the tests write it.
func (f found) words(u *protect.Unfused) string {
	var circuits, fuses []string
	for _, w := range u.Wires {
		circuits = append(circuits, f.nt.Wires[w].Circuit)
	}
	for _, r := range u.Fuses {
		fuses = append(fuses, f.fuseName(r))
	}
	s := u.Source.Device + ": " + strings.Join(circuits, " ") + " to"
	if len(fuses) > 0 {
		s += " fuse " + strings.Join(fuses, " ")
	}
	if len(u.Loads) > 0 {
		s += " load " + strings.Join(u.Loads, " ")
	}
	if len(fuses)+len(u.Loads) == 0 {
		s += " " + u.Far
	}
	if u.Sheathed {
		s += ", sheathed"
	}
	if u.Starter {
		s += ", starter"
	}
	return s + map[bool]string{true: ", met", false: ", not met"}[u.Met]
}

const fused = `device f at spot section body {
  pin in, out stud M6
  fuse blade-10 from in to out
}
`

const starter = `device starter at spot section body {
  pin b, e stud M10
  pin s stud M5
  inner m
  coil 9 A at 12 V as resistance from s to e moves on
  state on joins b, m resistance 0.5 mohm
  draw 60 mohm from m to e on 8 s start 420 A for 0.1 s
}
device button at spot section body {
  pin 1, 2 stud M5
  state on joins 1, 2
}
`

// rest of a job whose battery feeds a lamp over the fuse.
const feedBack = `circuit feed from f.out to lamp.1 length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case on { supply bat }
`

// starting is the starter's own circuits, its solenoid over the fuse.
const starting = `circuit main from bat.pos to f.in length 100 mm
circuit drive from f.out to button.1 length 500 mm
circuit pull from button.2 to starter.s length 500 mm
circuit earth from starter.e to bat.neg size 35 mm2 length 500 mm
case crank {
  supply bat
  set button to on
}
`

func TestUnfused(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
		along      []string // circuits of the longest way of the first one
	}{
		{"short", battery + lamp + fused + "circuit a from bat.pos to f.in length 100 mm\n" + feedBack, []string{"bat: a to fuse f, met"}, []string{"a"}},
		{"long", battery + lamp + fused + "circuit a from bat.pos to f.in length 300 mm\n" + feedBack, []string{"bat: a to fuse f, not met"}, []string{"a"}},
		{"long and sheathed", battery + lamp + fused + "circuit a from bat.pos to f.in length 300 mm sleeve braid\n" + feedBack, []string{"bat: a to fuse f, sheathed, met"}, []string{"a"}},
		{"too long for a sheath", battery + lamp + fused + "circuit a from bat.pos to f.in length 1.1 m sleeve braid\n" + feedBack, []string{"bat: a to fuse f, sheathed, not met"}, []string{"a"}},
		{"sheathed in part", battery + lamp + fused + "device post at spot section body { pin 1 stud M6 }\ncircuit a from bat.pos to post.1 length 150 mm sleeve braid\ncircuit b from post.1 to f.in length 150 mm\n" + feedBack,
			[]string{"bat: a b to fuse f, not met"}, []string{"a", "b"}},
		{"two fuses behind one cable", battery + lamp + fused + "device g at spot like f\ndevice post at spot section body { pin 1 stud M6 }\n" +
			"circuit a from bat.pos to post.1 length 100 mm\ncircuit b from post.1 to f.in length 20 mm\ncircuit c from post.1 to g.in length 400 mm\n" + feedBack,
			[]string{"bat: a b c to fuse f g, not met"}, []string{"a", "c"}},
		{"a load taken off before the fuse", battery + lamp + fused + "device horn at spot like lamp\n" +
			"circuit a from bat.pos to f.in length 100 mm\ncircuit bare from f.in to horn.1 length 20 mm\ncircuit horn-back from horn.2 to bat.neg length 500 mm\n" + feedBack,
			[]string{"bat: a to fuse f, met", "bat: bare to load horn, not met"}, []string{"a"}},
		{"one missing fuse, several loads", battery + lamp + "device horn at spot like lamp\ndevice post at spot section body { pin 1 stud M6 }\n" +
			"circuit a from bat.pos to post.1 length 100 mm\ncircuit b from post.1 to lamp.1 length 20 mm\ncircuit c from post.1 to horn.1 length 300 mm\ncircuit back from horn.2, lamp.2 to bat.neg length 500 mm\ncase on { supply bat }\n",
			[]string{"bat: a c b to load horn lamp, not met"}, []string{"a", "c"}},
		{"a load on the long cable's own stud", battery + lamp + fused + "device horn at spot section body {\n  pin 1, 2, 3 stud M6\n  draw 2 A at 12 V as resistance from 1 to 2\n}\n" +
			"circuit a from bat.pos to horn.1 length 300 mm\ncircuit b from horn.1 to f.in length 20 mm\ncircuit horn-back from horn.2 to bat.neg length 500 mm\n" + feedBack,
			[]string{"bat: a b to fuse f load horn, not met"}, []string{"a", "b"}},
		{"two cables side by side", battery + lamp + fused + "circuit a from bat.pos to f.in length 100 mm\ncircuit b from bat.pos to f.in length 300 mm\n" + feedBack,
			[]string{"bat: a b to fuse f, not met"}, []string{"b"}},
		{"a live wire to nothing", battery + lamp + fused + "device post at spot section body { pin 1 stud M6 }\ncircuit a from bat.pos to f.in length 100 mm\ncircuit dead from bat.pos to post.1 length 300 mm\n" + feedBack,
			[]string{"bat: a to fuse f, met", "bat: dead to post.1, not met"}, []string{"a"}},
		{"a charger without a limit", battery + lamp + fused + "device charger at spot section body {\n  pin 1, 2 stud M6\n  supply 14 V inside 50 mohm from 1 to 2\n}\n" +
			"circuit a from bat.pos to f.in length 100 mm\ncircuit charge from charger.1 to f.out length 1 m\ncircuit charge-back from charger.2 to bat.neg length 1 m\n" + strings.Replace(feedBack, "supply bat", "supply bat, charger", 1),
			// the charger's lead meets the battery's fuse, and feeds the lamp besides
			[]string{"bat: a to fuse f, met", "charger: charge to fuse f, not met", "charger: feed to load lamp, not met"}, []string{"a"}},
		{"a charger with a limit", battery + lamp + fused + "device charger at spot section body {\n  pin 1, 2 stud M6\n  supply 14 V inside 50 mohm most 5 A from 1 to 2\n}\n" +
			"circuit a from bat.pos to f.in length 100 mm\ncircuit charge from charger.1 to f.out length 1 m\ncircuit charge-back from charger.2 to bat.neg length 1 m\n" + strings.Replace(feedBack, "supply bat", "supply bat, charger", 1),
			[]string{"bat: a to fuse f, met"}, []string{"a"}},
		{"a starter", battery + fused + starter + "circuit cable from bat.pos to starter.b size 35 mm2 length 1 m\n" + starting,
			[]string{"bat: main to fuse f, met", "bat: cable to load starter, starter, not met"}, []string{"main"}},
		{"two cables to a starter", battery + fused + starter + "circuit cable from bat.pos to starter.b size 35 mm2 length 1 m parallel 2\n" + starting,
			[]string{"bat: main to fuse f, met", "bat: cable cable to load starter, starter, not met"}, []string{"main"}},
		{"a starter with a lead on it", battery + fused + starter + "device post at spot section body { pin 1 stud M6 }\ncircuit cable from bat.pos to starter.b size 35 mm2 length 1 m\ncircuit tap from starter.b to post.1 length 100 mm\n" + starting,
			[]string{"bat: main to fuse f, met", "bat: cable tap to load starter, not met"}, []string{"main"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := find(t, c.text)
			var got []string
			for i := range f.Unfused {
				got = append(got, f.words(&f.Unfused[i]))
			}
			if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Fatalf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
			sum := unit.Length(0)
			for _, name := range c.along {
				for i := range f.nt.Wires {
					if w := &f.nt.Wires[i]; w.Circuit == name {
						sum += max(w.Copper, w.Length)
					}
				}
			}
			if u := f.Unfused[0]; math.Abs(float64(u.Length-sum)) > 1e-9 || sum <= 0 {
				t.Errorf("%v long, want %v", u.Length, sum)
			}
			for i := range f.Wires {
				w := &f.Wires[i]
				if !w.Return && (len(w.Open) > 0) != (w.Unfused != nil) {
					t.Errorf("%s: open to %v, in stretch %v", f.nt.Wires[i].Name, w.Open, w.Unfused)
				}
			}
		})
	}
}

// TestStarterShort: 12.6 V over 10 mohm inside, the cable out and the cable back, all cold and new.
func TestStarterShort(t *testing.T) {
	f := find(t, battery+fused+starter+"circuit cable from bat.pos to starter.b size 35 mm2 length 1 m\n"+starting)
	for i := range f.Unfused {
		if u := &f.Unfused[i]; u.Starter {
			if u.Amps < 600 || u.Amps > 1260 || !u.Loop {
				t.Errorf("%v, over the whole loop %v", u.Amps, u.Loop)
			}
			return
		}
	}
	t.Error("no starter's cable: " + fmt.Sprint(f.Unfused))
}
