package protect_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// found is a job worked through to its protection.
type found struct {
	*protect.Result
	job *design.Job
	nt  *net.Net
	fit *fit.Outcome
}

// find works a job of loose leads between studs. Its text is short: a device is a line of `device`, a wire `circuit`.
func find(t *testing.T, text string) found {
	t.Helper()
	text = "harness \"Example\" revision B\nsection body\nzone cabin air 40 C\npoint spot at (0, 0, 0 mm)\n" + text
	job, _, msgs := resolve.Job("example.loom", func(name string) ([]byte, error) {
		if name == "example.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}, parts.Files(), nil)
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s %s\n%s", m.Code, m.Title, m.Detail, text)
		}
	}
	geo := space.Lay(job)
	l := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
	return found{protect.Find(job, l.Net, l.Sizes, l.Cases, l.Heat, l.Duty), job, l.Net, l}
}

// fuseName is a fuse as the tests write it: its device, and where that has several the pin it leads to.
func (f found) fuseName(r protect.FuseRef) string {
	x := f.Fuse(r)
	for i := range f.Fuses {
		if f.Fuses[i].Device == r.Device && f.Fuses[i].Index != r.Index {
			return r.Device + "." + x.To
		}
	}
	return r.Device
}

// wire is what protects the wires of a circuit in words.
func (f found) wire(t *testing.T, circuit string) string {
	t.Helper()
	out := ""
	for i := range f.Wires {
		if f.nt.Wires[i].Circuit != circuit {
			continue
		}
		w := &f.Wires[i]
		var words []string
		if w.Return {
			words = append(words, "return")
		}
		for _, r := range w.By {
			words = append(words, "by "+f.fuseName(r))
		}
		for _, s := range w.Open {
			words = append(words, "open "+s.Device)
		}
		for _, s := range w.Limited {
			words = append(words, "limited "+s.Device)
		}
		if !w.Reached {
			words = append(words, "not reached")
		}
		s := strings.Join(words, ", ")
		if out != "" && out != s {
			t.Errorf("wires of %s differ: %s; %s", circuit, out, s)
		}
		out = s
	}
	return out
}

const battery = `device bat at spot section body {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
`

const lamp = `device lamp at spot section body {
  pin 1, 2 stud M6
  draw 2 A at 12 V as resistance from 1 to 2
}
`

func TestTrace(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       map[string]string
	}{
		{"nothing", battery + lamp + `
circuit a from bat.pos to lamp.1 length 500 mm
circuit b from bat.neg to lamp.2 length 500 mm
case on { supply bat }
`, map[string]string{"a": "open bat", "b": "return, open bat"}},
		{"fuse box", battery + lamp + `
device horn at spot section body {
  pin 1, 2 stud M6
  draw 4 A from 1 to 2
}
device box at spot section body {
  pin in, f1, f2 stud M6
  inner bar
  joins in, bar
  fuse blade-5 from bar to f1
  fuse blade-10 from bar to f2
}
circuit main from bat.pos to box.in length 100 mm
circuit a from box.f1 to lamp.1 length 500 mm
circuit b from box.f2 to horn.1 length 500 mm
circuit a-back from lamp.2 to horn.2 length 500 mm
circuit back from horn.2 to bat.neg length 500 mm
case on { supply bat }
`, map[string]string{"main": "open bat", "a": "by box.f1", "b": "by box.f2", "a-back": "return, by box.f1", "back": "return, by box.f1, by box.f2"}},
		{"in series", battery + lamp + `
device main at spot section body {
  pin in, out stud M6
  fuse bolt-60 from in to out
}
device second at spot section body {
  pin in, out stud M6
  fuse blade-5 from in to out
}
circuit a from bat.pos to main.in length 100 mm
circuit b from main.out to second.in length 500 mm
circuit c from second.out to lamp.1 length 500 mm
circuit d from lamp.2 to bat.neg length 500 mm
case on { supply bat }
`, map[string]string{"a": "open bat", "b": "by main", "c": "by second", "d": "return, by second"}},
		{"ring feed", battery + lamp + `
device box at spot section body {
  pin in, f1, f2 stud M6
  fuse blade-5 from in to f1
  fuse blade-10 from in to f2
}
circuit main from bat.pos to box.in length 100 mm
circuit a from box.f1 to lamp.1 length 500 mm
circuit b from box.f2 to lamp.1 length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case on { supply bat }
`, map[string]string{"main": "open bat", "a": "by box.f1, by box.f2", "b": "by box.f1, by box.f2", "back": "return, by box.f1, by box.f2"}},
		{"ring behind a main fuse", battery + lamp + `
device main at spot section body {
  pin in, out stud M6
  fuse bolt-60 from in to out
}
device box at spot section body {
  pin in, f1, f2 stud M6
  fuse blade-5 from in to f1
  fuse blade-10 from in to f2
}
circuit a from bat.pos to main.in length 100 mm
circuit b from main.out to box.in length 500 mm
circuit c from box.f1 to lamp.1 length 500 mm
circuit d from box.f2 to lamp.1 length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case on { supply bat }
`, map[string]string{"a": "open bat", "b": "by main", "c": "by box.f1, by box.f2", "d": "by box.f1, by box.f2"}},
		{"two batteries", battery + lamp + `
device bat2 at spot like bat
device f at spot section body {
  pin in, out stud M6
  fuse bolt-60 from in to out
}
circuit a from bat.pos to f.in length 100 mm
circuit b from f.out to bat2.pos length 1 m
circuit feed from f.out to lamp.1 length 1 m
circuit link from bat.neg to bat2.neg length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case on { supply bat, bat2 }
`, map[string]string{"a": "by f, open bat", "b": "by f, open bat2", "feed": "by f, open bat2", "back": "return, by f, open bat2"}},
		{"alternator with a limit", battery + lamp + `
device alt at spot section body {
  pin b, e stud M8
  supply 14.4 V inside 20 mohm most 70 A from b to e
}
device f at spot section body {
  pin in, out stud M6
  fuse bolt-100 from in to out
}
circuit a from alt.b to f.in size 16 mm2 length 1 m
circuit thin from alt.b to lamp.1 size 0.5 mm2 length 1 m
circuit b from f.out to bat.pos size 16 mm2 length 100 mm
circuit e from alt.e to bat.neg size 16 mm2 length 1 m
circuit back from lamp.2 to bat.neg length 500 mm
case run { supply bat, alt }
`, map[string]string{"a": "by f, limited alt", "thin": "by f, open alt", "b": "by f, open bat"}},
		{"two limits together", lamp + `
device one at spot section body {
  pin 1, 2 stud M6
  supply 12 V inside 50 mohm most 10 A from 1 to 2
}
device two at spot like one
device three at spot like one
circuit a from one.1 to two.1 size 0.75 mm2 length 1 m
circuit b from two.1 to lamp.1 size 0.5 mm2 length 1 m
circuit thick from two.1 to three.1 size 6 mm2 length 1 m
circuit link from one.2, two.2, three.2 to lamp.2 size 6 mm2 length 1 m
case on { supply one, two, three }
`, map[string]string{"b": "open one, open three, open two", "a": "open three, open two, limited one", "thick": "limited one, limited three, limited two"}},
		{"throws exclude each other", battery + lamp + `
device bat2 at spot like bat
device relay at spot section body {
  pin 30, 87, 87a, 85, 86 stud M6
  coil 85 ohm from 86 to 85 moves on
  state on joins 30, 87
  state off joins 30, 87a
}
circuit one from bat.pos to relay.87 length 500 mm
circuit two from bat2.pos to relay.87a length 500 mm
circuit out from relay.30 to lamp.1 length 500 mm
circuit drive from bat.pos to relay.86 length 500 mm
circuit e from relay.85 to bat.neg length 500 mm
circuit link from bat.neg to bat2.neg length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case on { supply bat, bat2 }
`, map[string]string{"one": "open bat", "two": "open bat2", "out": "open bat, open bat2", "drive": "open bat", "e": "return, open bat", "back": "return, open bat, open bat2"}},
		{"a fuse in the minus", battery + lamp + fused + `circuit a from bat.pos to lamp.1 length 500 mm
circuit b from lamp.2 to f.in length 500 mm
circuit c from f.out to bat.neg length 500 mm
case on { supply bat }
`, map[string]string{"a": "open bat", "b": "return, open bat", "c": "return, open bat"}},
		{"switched on the low side", battery + lamp + `
device f at spot section body {
  pin in, out stud M6
  fuse blade-5 from in to out
}
device sw at spot section body {
  pin 1, 2 stud M6
  state on joins 1, 2
}
circuit a from bat.pos to f.in length 100 mm
circuit b from f.out to lamp.1 length 500 mm
circuit c from lamp.2 to sw.1 length 500 mm
circuit d from sw.2 to bat.neg length 500 mm
case never { supply bat }
`, map[string]string{"a": "open bat", "b": "by f", "c": "return, by f", "d": "return, by f"}},
		{"body return", battery + lamp + `
device f at spot section body {
  pin in, out stud M6
  fuse blade-5 from in to out
}
device shell at spot section body {
  pin front, mid, rear stud M8
  joins front, mid, rear resistance 1 mohm
}
circuit a from bat.pos to f.in length 100 mm
circuit b from f.out to lamp.1 length 500 mm
circuit c from lamp.2 to shell.front length 300 mm
circuit d from shell.rear to bat.neg length 300 mm
circuit spare from shell.mid to bat.neg length 9 m
case on { supply bat }
`, map[string]string{"b": "by f", "c": "return, by f", "d": "return, by f", "spare": "return, by f"}},
		{"diode", battery + lamp + `
device bat2 at spot like bat
device f at spot section body {
  pin in, out stud M6
  fuse blade-5 from in to out
}
device d at spot section body {
  pin 1, 2 stud M6
  diode 0.7 V from 1 to 2
}
circuit a from bat.pos to f.in length 100 mm
circuit b from f.out to d.1 length 500 mm
circuit c from d.2 to lamp.1 length 500 mm
circuit other from bat2.pos to lamp.1 length 500 mm
circuit link from bat.neg to bat2.neg length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case on { supply bat, bat2 }
`, map[string]string{"a": "open bat", "b": "by f", "c": "by f, open bat2", "other": "by f, open bat2"}},
		{"a unit's own supply", battery + `
device unit at spot section body {
  pin live, earth, v5, e5, sig, in stud M6
  draw 1 A from live to earth
  supply 5 V inside 1 ohm most 200 mA from v5 to e5
  joins earth, e5
}
device sensor at spot section body {
  pin 1, 2, 3 stud M6
  draw 10 mA at 5 V from 1 to 2
}
device f at spot section body {
  pin in, out stud M6
  fuse blade-5 from in to out
}
circuit a from bat.pos to f.in length 100 mm
circuit b from f.out to unit.live length 500 mm
circuit c from unit.earth to bat.neg length 500 mm
circuit v5 from unit.v5 to sensor.1 length 500 mm
circuit e5 from unit.e5 to sensor.2 length 500 mm
circuit sig from sensor.3 to unit.in length 500 mm class signal
case on { supply bat }
`, map[string]string{"b": "by f", "c": "return, by f", "v5": "limited unit", "e5": "return, limited unit", "sig": "not reached"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := find(t, c.text)
			var names []string
			for n := range c.want {
				names = append(names, n)
			}
			slices.Sort(names)
			for _, n := range names {
				if got := f.wire(t, n); got != c.want[n] {
					t.Errorf("%s: %s; want %s", n, got, c.want[n])
				}
			}
		})
	}
}
