package charge_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/charge"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func find(t testing.TB, text string) *charge.Result {
	t.Helper()
	load := func(name string) ([]byte, error) {
		if name == "job.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}
	job, _, msgs := resolve.Job("job.loom", load, parts.Files(), nil)
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s. %s\n%s", m.Code, m.Title, m.Detail, text)
		}
	}
	geo := space.Lay(job)
	o := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
	return charge.Find(job, o.Net, o.Sizes, o.Cases, o.Heat.Temps)
}

// A battery, a switch, a load of constant current behind it.
const plain = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to hub to lamp section body zone cabin
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm stores 40 Ah from pos to neg
}
device switch at hub housing sealed-2 { state on joins 1, 2 }
device lamp at (1000, 0, 0 mm) housing sealed-4 {
  draw 2 A from 1 to 2
}
circuit feed from battery.pos to switch.1
circuit lit from switch.2 to lamp.1
circuit back from battery.neg to lamp.2
`

const night = `case night for 5 h {
  supply battery
  set switch to on
}
`

// By hand: amps times hours against half of 40 Ah.
func TestBalance(t *testing.T) {
	for _, c := range []struct {
		name, draw, text string
		amps, used       float64
		met              bool
	}{
		{"steady", "draw 2 A from 1 to 2", night, 2, 10, true},
		{"too long", "draw 5 A from 1 to 2", night, 5, 25, false},
		{"just", "draw 4 A from 1 to 2", night, 4, 20, true},
		{"on and off", "draw 6 A from 1 to 2 on 60 s off 120 s", night, 2, 10, true},
		{"once for an hour of five", "draw 10 A from 1 to 2 on 3600 s", night, 2, 10, true},
		{"once, longer than the case", "draw 3 A from 1 to 2 on 10 h", night, 3, 15, true},
		{"two rhythms", "draw 6 A from 1 to 2 on 60 s off 120 s\n  draw 4 A from 3 to 4 on 10 s off 10 s", "circuit f3 from switch.2 to lamp.3\ncircuit b4 from battery.neg to lamp.4\n" + night, 4, 20, true},
		{"no hours", "draw 2 A from 1 to 2", strings.Replace(night, " for 5 h", "", 1), 2, 0, true},
		{"no hours, once", "draw 10 A from 1 to 2 on 2 s", strings.Replace(night, " for 5 h", "", 1), 10, 0, true},
		{"rests", "draw 2 A from 1 to 2", strings.Replace(night, "supply battery", "supply battery\n  off lamp", 1), 0, 0, true},
		{"half of it may be used, said otherwise", "draw 4 A from 1 to 2", "set battery-share to 40 %\n" + night, 4, 20, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := find(t, strings.Replace(plain, "draw 2 A from 1 to 2", c.draw, 1)+c.text)
			if len(r.Balances) != 1 {
				t.Fatalf("%+v", r.Balances)
			}
			b := r.Balances[0]
			if math.Abs(float64(b.Amps)-c.amps) > 1e-6 || math.Abs(float64(b.Used)-c.used) > 1e-6 || b.Met != c.met {
				t.Errorf("%+v", b)
			}
			var sum, time float64
			for _, s := range b.Spells {
				sum += float64(s.Share) * float64(s.Amps)
				time += float64(s.Share)
			}
			if math.Abs(sum-float64(b.Amps)) > 1e-12 || math.Abs(time-1) > 1e-12 {
				t.Errorf("the spells make %v over %v", sum, time)
			}
			if want := 40 * float64(b.Share) / c.amps * 3600; c.amps > 0 && math.Abs(float64(b.Lasts)-want) > 1 {
				t.Errorf("lasts %v, want %v s", b.Lasts, want)
			}
		})
	}
}

// A battery that says nothing of what it stores is not weighed.
func TestSilentWithoutStores(t *testing.T) {
	if r := find(t, strings.Replace(plain, "stores 40 Ah ", "", 1)+night); len(r.Balances) != 0 {
		t.Errorf("%+v", r.Balances)
	}
}

const alternator = `device alternator at hub {
  pin b, e stud M6
  supply 14 V inside 1 mohm most 10 A from b to e
}
circuit charge from alternator.b to battery.pos
circuit charge-back from alternator.e to battery.neg
case run for 2 h {
  supply battery, alternator
  set switch to on
}
`

// An alternator at its limit of 10 A: the battery gives what is asked beyond, and nothing while less is asked. 16 A for a third of the time and
// 4 A besides is 20 A together: 10 A more than the alternator gives, for a third of the time.
func TestBatteryHelps(t *testing.T) {
	for _, c := range []struct {
		name, draw string
		amps       float64
	}{
		{"enough", "draw 9 A from 1 to 2", 0},
		{"over", "draw 13 A from 1 to 2", 3},
		{"in turns", "draw 16 A from 1 to 2 on 60 s off 120 s\n  draw 4 A from 3 to 4", 10.0 / 3},
		{"rhythms that meet", "draw 8 A from 1 to 2 on 60 s off 120 s\n  draw 8 A from 3 to 4 on 10 s off 10 s", 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := find(t, strings.Replace(plain, "draw 2 A from 1 to 2", c.draw, 1)+"circuit f3 from switch.2 to lamp.3\ncircuit b4 from battery.neg to lamp.4\n"+alternator)
			if len(r.Balances) != 1 || math.Abs(float64(r.Balances[0].Amps)-c.amps) > 1e-6 {
				t.Errorf("%+v, want %v A", r.Balances, c.amps)
			}
		})
	}
}

func TestDrain(t *testing.T) {
	always := "device clock at hub housing sealed-2 { draw 20 mA from 1 to 2 }\ncircuit c1 from battery.pos to clock.1\ncircuit c2 from battery.neg to clock.2\n"
	pump := "device pump at hub housing sealed-2 { draw 5 A from 1 to 2 }\ncircuit p1 from battery.pos to pump.1\ncircuit p2 from battery.neg to pump.2\n"
	dry := "case dry {\n  supply battery\n  off pump\n}\n"
	for _, c := range []struct {
		name, text string
		amps       float64
		loads      string
		leftOut    string
		met        bool
	}{
		{"switched off", plain + night, 0, "", "", true},
		{"a clock", plain + always + night, 0.02, "clock", "", true},
		{"just over the limit", strings.Replace(plain+always+night, "20 mA", "51 mA", 1), 0.051, "clock", "", false},
		{"blinks", strings.Replace(plain+always+night, "20 mA from 1 to 2", "0.4 A from 1 to 2 on 0.1 s off 0.9 s", 1), 0.04, "clock", "", true},
		{"a pump on its float that no case rests", plain + always + pump + night, 5.02, "pump clock", "", false},
		{"a pump that rests in a case", plain + always + pump + night + dry, 0.02, "clock", "pump", true},
		{"a battery in no case", strings.Replace(plain, "stores 40 Ah ", "", 1) + always, 0, "", "", true},
		{"a relay that a coil holds", plain + "device hold at hub like relay-40\ncircuit h1 from battery.pos to hold.86, hold.30\ncircuit h2 from battery.neg to hold.85\ncircuit h3 from hold.87 to lamp.3\ncircuit h4 from battery.neg to lamp.4\n" +
			"set parked-most to 1 A\n" + night, 12.6 / 85, "hold", "", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := find(t, c.text)
			if c.name == "a battery in no case" {
				if len(r.Drains) != 0 {
					t.Errorf("%+v", r.Drains)
				}
				return
			}
			if len(r.Drains) != 1 {
				t.Fatalf("%+v", r.Drains)
			}
			d := r.Drains[0]
			var names []string
			for _, l := range d.Loads {
				names = append(names, l.Device)
			}
			if math.Abs(float64(d.Amps)-c.amps) > 1e-3*c.amps+1e-9 || strings.Join(names, " ") != c.loads || strings.Join(d.LeftOut, " ") != c.leftOut || d.Met != c.met {
				t.Errorf("%+v", d)
			}
		})
	}
}

// keeper is an engine's ignition behind an isolator; the alternator's lead goes where it is told.
func keeper(lead, more string) string {
	return `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to hub to coil section body zone cabin
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device alternator at hub {
  pin b, e stud M6
  supply 14 V inside 10 mohm most 50 A from b to e
}
device isolator at hub {
  pin 1, 2, 3, 4 stud M8
  state on joins 1, 2
  state on joins 3, 4
}
device key at hub housing sealed-2 { state on joins 1, 2 }
device coil at (1000, 0, 0 mm) housing sealed-2 { draw 4 A at 12 V as resistance from 1 to 2 }
circuit plus from battery.pos to isolator.1
circuit live from isolator.2 to key.1
circuit back from battery.neg to coil.2
circuit charge-back from alternator.e to battery.neg
` + lead + more + `case idle {
  supply battery, alternator
  set isolator, key to on
}
`
}

func TestKeptAlive(t *testing.T) {
	const ignition = "circuit ign from key.2 to coil.1\n"
	const clock = "device clock at hub housing sealed-2 { draw 20 mA from 1 to 2 }\ncircuit c1 from battery.pos to clock.1\ncircuit c2 from battery.neg to clock.2\n"
	held := "device hold at hub like relay-40\ncircuit h1 from isolator.2 to hold.86\ncircuit h2 from battery.neg to hold.85\ncircuit h3 from isolator.2 to hold.30\ncircuit h4 from hold.87 to coil.1\n"
	for _, c := range []struct{ name, text, want string }{
		{"on the loads' side", keeper("circuit charge from alternator.b to isolator.2\n", ignition), "isolator by alternator: coil"},
		{"on the battery's side", keeper("circuit charge from alternator.b to isolator.1\n", ignition), ""},
		{"through a second contact", keeper("circuit charge from alternator.b to isolator.3\ncircuit charge-on from isolator.4 to isolator.2\n", ignition), ""},
		{"ignition through the second contact", keeper("circuit charge from alternator.b to isolator.2\n", "circuit ign from key.2 to isolator.3\ncircuit ign-on from isolator.4 to coil.1\n"), ""},
		{"a clock beside the isolator", keeper("circuit charge from alternator.b to isolator.2\n", ignition+clock), "isolator by alternator: coil"},
		{"through a relay", keeper("circuit charge from alternator.b to isolator.2\n", held), "isolator by alternator: coil hold coil"},
		{"a relay stated on whose coil dies", strings.Replace(keeper("circuit charge from alternator.b to hold.30\n",
			"device hold at hub like relay-40\ncircuit h1 from key.2 to hold.86\ncircuit h2 from battery.neg to hold.85\ncircuit h4 from hold.87 to coil.1\n"), "key to on", "key, hold to on", 1), ""},
		{"past the key as well", keeper("circuit charge from alternator.b to coil.1\n", ignition), "isolator by alternator: coil; key by alternator: coil"},
		{"no alternator in the case", strings.Replace(keeper("circuit charge from alternator.b to isolator.2\n", ignition), "supply battery, alternator", "supply battery", 1), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, k := range find(t, c.text).Kept {
				got = append(got, k.Device+" by "+strings.Join(k.By, " ")+": "+strings.Join(k.Loads, " "))
			}
			if s := strings.Join(got, "; "); s != c.want {
				t.Errorf("got %q, want %q", s, c.want)
			}
		})
	}
}

// An empty job has no battery and no panic.
func TestNothing(t *testing.T) {
	if r := charge.Find(&design.Job{}, &net.Net{}, nil, nil, nil); len(r.Balances)+len(r.Drains)+len(r.Kept) != 0 {
		t.Errorf("%+v", r)
	}
}

// Loads of constant current that work on and off, behind an alternator of 10 A: by hand the mean demand is the sum of amps x share. The battery
// gives at least what the mean demand is over the limit, at most what everything together is over it, and without an alternator the mean demand.
func TestMeanDemand(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var draws, wires strings.Builder
		mean, peak := 0.0, 0.0
		for i := range rapid.IntRange(1, 4).Draw(rt, "loads") {
			amps := float64(rapid.IntRange(1, 80).Draw(rt, "amps")) / 10
			on, off := rapid.IntRange(1, 60).Draw(rt, "on"), rapid.IntRange(0, 60).Draw(rt, "off")
			duty, share := "", 1.0
			if off > 0 {
				duty, share = fmt.Sprintf(" on %d s off %d s", on, off), float64(on)/float64(on+off)
			}
			fmt.Fprintf(&draws, "device load%d at hub housing sealed-2 { draw %g A from 1 to 2%s }\n", i, amps, duty)
			fmt.Fprintf(&wires, "circuit p%d from battery.pos to load%d.1\ncircuit m%d from battery.neg to load%d.2\n", i, i, i, i)
			mean += amps * share
			peak += amps
		}
		text := strings.Replace(plain, "draw 2 A from 1 to 2", "draw 1 mA from 1 to 2", 1) + draws.String() + wires.String()
		alone := find(t, text+"case night for 5 h { supply battery }\n")
		if got := float64(alone.Balances[0].Amps); math.Abs(got-mean) > 1e-6 {
			rt.Fatalf("%v A, by hand %v", got, mean)
		}
		helped := find(t, text+strings.Replace(alternator, "\n  set switch to on", "", 1))
		got := float64(helped.Balances[0].Amps)
		if got < mean-10-1e-6 || got < -1e-9 || got > math.Max(0, peak-10)+1e-6 {
			rt.Fatalf("%v A, mean demand %v, all together %v", got, mean, peak)
		}
	})
}
