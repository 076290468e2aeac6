package free_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/free"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
)

func step(t *testing.T, p free.Part, n int) *free.Step {
	t.Helper()
	if len(p.Steps) < n {
		t.Fatalf("%d steps", len(p.Steps))
	}
	return &p.Steps[n-1]
}

func losses(s *free.Step) string {
	var out []string
	for _, l := range s.Losses {
		out = append(out, l.Device+" "+l.Kind.String())
	}
	return strings.Join(out, ", ")
}

// near holds a figure against one worked out by hand from the loads alone; wires and joints take the rest.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.02*math.Abs(want) {
		t.Errorf("%s is %g, by hand %g", what, got, want)
	}
}

// split is the nose with its feeds in P and its returns in Q, and a lamp that stays.
func split(t *testing.T, pairs ...string) string {
	s := change(t, nose, "point fork", "break Q at (400, 100, 0 mm) panel wall like P housing sealed-4 class returns\npoint fork",
		"run rear from battery to P section", "run rear from battery to P, Q, dome section", "run front from P to fork", "run front from P, Q to fork",
		"device lamp at", "device dome at (200, 200, 0 mm) housing sealed-2 { draw 12 ohm from 1 to 2 }\ncircuit dome-feed from battery.pos to dome.1\ncircuit dome-back from battery.neg to dome.2\ndevice lamp at",
		"neg to lamp.2", "neg to lamp.2 class returns", "neg to horn.2", "neg to horn.2 class returns", "battery.neg, P", "Q, P")
	return change(t, s, pairs...)
}

func TestOrderOfLosses(t *testing.T) {
	for _, c := range []struct {
		name, text string
		losses     []string // by step
	}{
		{"returns first", split(t), []string{"horn earth lost, lamp earth lost", ""}},
		{"feeds first", split(t, "Q, P", "P, Q"), []string{"horn off, lamp off", ""}},
		{"battery first", split(t, "Q, P", "battery.neg, Q, P"), []string{"", "", ""}},
		{"battery last", split(t, "Q, P", "Q, P, battery.neg"), []string{"horn earth lost, lamp earth lost", "", ""}},
		// With nothing else on its minus the battery is cut off by the returns.
		{"all returns", split(t, "from battery.neg to dome.2", "from battery.neg to dome.2 carries 1 A", "device dome at", "device dome at", "draw 12 ohm from 1 to 2 }\ncircuit dome-feed from battery.pos to dome.1\ncircuit dome-back from battery.neg to dome.2 carries 1 A", "draw 12 ohm from 1 to 2 }",
			"P, Q, dome section", "P, Q section"), []string{"", ""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := text(t, c.text).proof().Removals[0]
			if !p.Free || len(p.Steps) != len(c.losses) {
				t.Fatalf("free %v, %d steps", p.Free, len(p.Steps))
			}
			for i, want := range c.losses {
				if got := losses(&p.Steps[i]); got != want {
					t.Errorf("step %d: %s, want %s", i+1, got, want)
				}
			}
		})
	}
}

// sharedBack has lamp and horn on one return; the lamp's switch is off in the case, and the dome shows when it is on.
func sharedBack(t *testing.T, pairs ...string) string {
	s := split(t, "circuit back from battery.neg to lamp.2 class returns\n", "splice s at fork section nose\ncircuit back class returns {\n  from battery.neg to s\n  from s to lamp.2, horn.2\n}\n",
		"circuit horn-back from battery.neg to horn.2 class returns\n", "", "circuit dome-feed from battery.pos to dome.1\n", "",
		"circuit feed from battery.pos to lamp.1\n", "device switch at (100, -100, 0 mm) {\n  pin 1, 2 stud M5\n  state on joins 1, 2\n}\nrun dash from battery to switch section body zone cabin\n"+
			"circuit live from battery.pos to switch.1\ncircuit tell from switch.2 to dome.1\ncircuit feed from switch.2 to lamp.1\n")
	return change(t, s, pairs...)
}

func TestBackFed(t *testing.T) {
	p := text(t, sharedBack(t)).proof().Removals[0]
	s := step(t, p, 1)
	// Ohm's law: with the return gone 12.6 V stand over horn, lamp and dome in series, 3 + 6 + 12 ohm, the lamp backward.
	for _, l := range s.Losses {
		switch l.Device {
		case "lamp":
			if l.Kind != free.Backward || !strings.Contains(l.Text, "the wrong way round") || !slices.Contains(p.Devices, l.Device) {
				t.Errorf("%+v", l)
			}
			near(t, "the lamp's current", float64(l.Amps), -12.6/21)
		case "horn":
			if l.Kind != free.Through {
				t.Errorf("%+v", l)
			}
			near(t, "the horn's volts", float64(l.Volts), 12.6*3/21)
		case "dome":
			if l.Kind != free.Through || slices.Contains(p.Devices, l.Device) {
				t.Errorf("%+v", l)
			}
			near(t, "the dome's volts", float64(l.Volts), 12.6*12/21)
		}
	}
	if got := losses(s); got != "lamp fed backward, dome fed through another load, horn fed through another load" {
		t.Error(got)
	}
	if p := text(t, sharedBack(t, "undo Q, P", "undo battery.neg, Q, P")).proof().Removals[0]; losses(step(t, p, 2)) != "" {
		t.Error(losses(step(t, p, 2)))
	}
}

// TestNeutralLost: two batteries in series, a lamp on each, and the neutral that they share gone: the volts divide by the lamps' resistances.
func TestNeutralLost(t *testing.T) {
	p := text(t, split(t, "device lamp at", "device upper at (0, 100, 0 mm) {\n  pin pos, neg stud M8\n  supply 12.6 V inside 10 mohm from pos to neg\n}\nrun link from battery to upper section body zone cabin\ncircuit series from battery.pos to upper.neg\ndevice lamp at",
		"from 1 to 2 }\ndevice horn", "from 2 to 1 }\ndevice horn", "supply battery }", "supply battery, upper }",
		"circuit feed from battery.pos to lamp.1", "circuit feed from battery.neg to lamp.1",
		"circuit back from battery.neg to lamp.2 class returns", "splice s at fork section nose\ncircuit back class returns {\n  from battery.pos to s\n  from s to lamp.2, horn.2\n}",
		"circuit horn-feed from battery.pos to horn.1", "circuit horn-feed from upper.pos to horn.1", "circuit horn-back from battery.neg to horn.2 class returns\n", "")).proof().Removals[0]
	s := step(t, p, 1)
	// Before, the horn's current already ran on through the lamp, as far as the lamp takes it: so that is no news of the lamp.
	if got := losses(s); got != "horn fed through another load, lamp too many volts" {
		t.Fatal(got)
	}
	for _, l := range s.Losses {
		if l.Device == "lamp" {
			near(t, "the lamp's volts", math.Abs(float64(l.Volts)), 25.2*6/(9+wires))
		}
	}
}

// wires is about what feed and return of the horn add, two ways of 1.1 m of 0.5 mm2 with its contacts.
const wires = 0.13

func TestPulled(t *testing.T) {
	p := text(t, split(t, "Q, P", "P, Q")).proof().Removals[0]
	s := step(t, p, 1)
	near(t, "what P breaks", float64(s.Pulled), 12.6/(3+wires))
	if !s.Over || s.Lug || !strings.HasPrefix(s.PulledWire, "horn-feed") || s.PulledCase != "on" || s.Dead || s.Kills {
		t.Errorf("%+v", s)
	}
	if s := step(t, p, 2); s.Over || s.Pulled != 0 || strings.Join(s.Cautions, "") != "Something is still live: battery can feed." {
		t.Errorf("Q breaks %v, %v", s.Pulled, s.Cautions)
	}
	p = text(t, nose).proof().Removals[0]
	s = step(t, p, 1)
	near(t, "the horn's lug on the battery", float64(s.Pulled), 12.6/(3+wires))
	if s.Over || !s.Lug || !s.Kills || !s.Dead || !s.Needed || len(s.Live) != 0 || len(s.Cautions) != 2 || !strings.HasPrefix(s.Cautions[0], "Switch everything off first: up to 4.") ||
		!strings.Contains(s.Cautions[1], "nothing is fed") || !strings.Contains(s.Cautions[1], "can be live all the same") {
		t.Errorf("cutting off the battery is told: %+v", s)
	}
	if s = step(t, p, 2); s.Pulled != 0 || s.Over || !s.Dead {
		t.Errorf("%+v", s)
	}
	if s = step(t, text(t, change(t, nose, "removal off", "set pull-current to 10 A break P\nremoval off", "battery.neg, P", "P")).proof().Removals[0], 1); s.Over || s.Limit != 10 {
		t.Errorf("%+v", s)
	}
}

// TestInNoCase: with the battery off nothing is dead as long as a slave battery that no case lists can feed through the same wires, and to undo that
// one is not for nothing; one that is said to stand still counts for nothing.
func TestInNoCase(t *testing.T) {
	const slave = `device slave at (0, 100, 0 mm) {
  pin pos, neg stud M8
  supply 12.8 V inside 10 mohm %s from pos to neg
}
run beside from battery to slave section body zone cabin
circuit slave-plus from slave.pos to battery.pos
circuit slave-minus from slave.neg to battery.neg
circuit slave-back from slave.neg to horn.2
`
	for _, is := range []string{"stores 60 Ah", "most 30 A"} {
		more := strings.ReplaceAll(slave, "%s", is)
		p := text(t, change(t, nose, "circuit horn-back from battery.neg to horn.2\n", more, "undo battery.neg, P", "undo battery.neg, slave.neg, P")).proof().Removals[0]
		if s := step(t, p, 1); s.Dead || strings.Join(s.Live, " ") != "slave" {
			t.Errorf("%s: dead %v, live %v", is, s.Dead, s.Live)
		}
		if s := step(t, p, 2); !s.Dead || !s.Needed || s.Why != "" {
			t.Errorf("%s: dead %v, needed %v, %s", is, s.Dead, s.Needed, s.Why)
		}
	}
	p := text(t, change(t, nose, "circuit horn-back from battery.neg to horn.2\n", strings.ReplaceAll(slave, "%s", "most 30 A"), "case on", "set undone-supply to still device slave\ncase on")).proof().Removals[0]
	if s := step(t, p, 1); !s.Dead || len(s.Live) != 0 {
		t.Errorf("standing still: dead %v, live %v", s.Dead, s.Live)
	}
}

// TestStandsStill: an alternator bolted to the engine does not run while anything is undone, a charger does; both as the settings say.
func TestStandsStill(t *testing.T) {
	base := change(t, nose, "device lamp at", "device block at (200, 200, 0 mm) { pin e stud M8 }\ndevice source at (200, 100, 0 mm) {\n  pin b, e stud M8\n  supply 14 V inside 10 mohm most 50 A from b to e\n}\ndevice bar at (50, 0, 0 mm) { pin p, n stud M8 }\n"+
		"run bank from battery to bar section body zone cabin\nrun charge from bar to source section body zone cabin\ncircuit charge from source.b to bar.p\ncircuit charge-back from source.e to bar.n\ncircuit main from battery.pos to bar.p\ncircuit main-back from battery.neg to bar.n\ndevice lamp at",
		"run rear from battery to P", "run rear from bar to P", "feed from battery.pos", "feed from bar.p", "back from battery.neg to lamp", "back from bar.n to lamp", "horn-feed from battery.pos", "horn-feed from bar.p", "horn-back from battery.neg", "horn-back from bar.n",
		"inside 10 mohm from pos", "inside 10 mohm stores 40 Ah from pos", "supply battery }", "supply battery, source }")
	for _, c := range []struct {
		name, text string
		live       bool
	}{
		{"charger", base, true},
		{"bolted", change(t, base, "device source at (200, 100, 0 mm) {", "device source at (200, 100, 0 mm) {\n  bolted block"), false},
		{"bolted the other way", change(t, base, "{ pin e stud M8 }", "{\n  pin e stud M8\n  bolted source\n}"), false},
		{"comes away", change(t, base, "device source at", "device source section nose at", "battery.neg, P", "battery.neg, source.b, source.e, P"), false},
		{"set still", base + "set undone-supply to still device source\n", false},
		{"set live", change(t, base, "device source at (200, 100, 0 mm) {", "device source at (200, 100, 0 mm) {\n  bolted block") + "set undone-supply to live device source\n", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := text(t, c.text).proof().Removals[0]
			if s := step(t, p, 1); s.Dead == c.live {
				t.Errorf("dead %v without the battery", s.Dead)
			}
			if s := p.Steps[len(p.Steps)-1]; s.Over != c.live {
				t.Errorf("P breaks %v", s.Pulled)
			}
			if c.live == strings.Contains(strings.Join(p.Assumed, " "), "source stands still") {
				t.Errorf("%v", p.Assumed)
			}
		})
	}
}

// TestSwitchedReturn: a load without its switched return is as it is whenever the switch is off.
func TestSwitchedReturn(t *testing.T) {
	p := text(t, split(t, "circuit back from battery.neg to lamp.2 class returns", "device switch at (100, -100, 0 mm) {\n  pin 1, 2 stud M5\n  state on joins 1, 2\n}\nrun dash from battery to switch section body zone cabin\ncircuit earth from battery.neg to switch.1\ncircuit back from switch.2 to lamp.2 class returns",
		"supply battery }", "supply battery\n  set switch to on\n}")).proof().Removals[0]
	s := step(t, p, 1)
	if got := losses(s); got != "horn earth lost, lamp off" {
		t.Error(got)
	}
	for _, l := range s.Losses {
		if told := strings.HasSuffix(l.Text, "is off: its switched return is gone."); told != (l.Device == "lamp") || told != l.Switched {
			t.Errorf("%q, switched %v", l.Text, l.Switched)
		}
	}
}

// TestRelayLetsGo: what a case states of a relay gives way to its coil.
func TestRelayLetsGo(t *testing.T) {
	relay := "device relay at (300, 200, 0 mm) housing sealed-4 {\n  coil 90 ohm from 1 to 2 moves on pull-in 8 V drop-out 2 V\n  state on joins 3, 4\n}\nrun up from dome to relay section body zone cabin\n"
	s := split(t, "circuit dome-feed from battery.pos to dome.1\n", relay+"circuit dome-feed from battery.pos to relay.3\ncircuit dome-on from relay.4 to dome.1\ncircuit pull from horn.1 to relay.1\ncircuit pull-back from relay.2 to battery.neg\n",
		"device horn at (900, -100, 0 mm) housing sealed-2 {", "device horn at (900, -100, 0 mm) {\n  pin 1 stud M5\n  pin 2 stud M5\n ", "Q, P", "P, Q")
	for _, more := range []string{"supply battery }", "supply battery\n  set relay to on\n}"} {
		p := text(t, change(t, s, "supply battery }", more)).proof().Removals[0]
		if got := losses(step(t, p, 1)); got != "relay relay lets go, dome off, horn off, lamp off" {
			t.Error(got)
		}
	}
}

func TestForNothing(t *testing.T) {
	for _, c := range []struct{ undo, why string }{
		{"battery.neg, P, horn", "come away together"},
		{"battery.neg, P, X", "neither comes away"},
		{"battery.neg, P, dome", "cuts off no supply"},
	} {
		s := split(t, "Q, P", c.undo, "section body, nose", "section body, nose, tail, fin", "point fork", "break X at (200, 250, 0 mm) housing sealed-2 {\n  half tail contacts pins\n  half fin contacts sockets\n}\npoint fork")
		p := text(t, s).proof().Removals[0]
		if x := step(t, p, 3); x.Needed || !strings.Contains(x.Why, c.why) {
			t.Errorf("%s: needed %v, %s", c.undo, x.Needed, x.Why)
		}
	}
	if p := text(t, nose).proof().Removals[0]; !p.Steps[0].Needed || !p.Steps[1].Needed {
		t.Error("what cuts off the battery is needed, and so is P")
	}
}

// TestChargeIsConserved undoes the net in random orders. At each step what flows into a node flows out of it, what is delivered is taken, and a case
// that no supply can feed any more never lives again.
func TestChargeIsConserved(t *testing.T) {
	r := text(t, sharedBack(t, "supply battery }", "supply battery }\ncase lit {\n  supply battery\n  set switch to on\n}"))
	all := []design.Undo{{Kind: "break", Name: "P"}, {Kind: "break", Name: "Q"}, {Kind: "stud", Name: "battery", Pin: "neg"}, {Kind: "stud", Name: "battery", Pin: "pos"}, {Kind: "device", Name: "horn"}, {Kind: "device", Name: "dome"}, {Kind: "device", Name: "switch"}}
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation(all).Draw(t, "order")
		order = order[:rapid.IntRange(1, len(order)).Draw(t, "steps")]
		for k := range order {
			for _, c := range r.job.Cases {
				res := solve.Case(r.job, net.Parted(r.nt, order[:k+1]), r.sizes, r.temps[c.Name], c)
				into := make([]float64, len(res.Net.Nodes))
				power := 0.0
				for i, e := range res.Net.Elements {
					a := float64(res.Point.Amps[i])
					if e.Kind == solve.Supply {
						a = -a
					}
					into[e.From] -= a
					into[e.To] += a
					power += a * float64(res.Point.Volts[e.From]-res.Point.Volts[e.To])
				}
				for n, x := range into {
					if math.Abs(x) > 1e-6 {
						t.Fatalf("%g A come from nowhere at %s", x, res.Net.Nodes[n])
					}
				}
				if math.Abs(power) > 1e-4 {
					t.Fatalf("%g W come from nowhere", power)
				}
			}
		}
		job := *r.job
		job.Removals = []*design.Removal{{Name: "off", Sections: []string{"nose"}, Undo: order}}
		steps := free.Find(&job, r.nt, r.sizes, r.temps, r.held).Removals[0].Steps
		for k := 1; k < len(steps); k++ {
			if s := &steps[k]; steps[k-1].Dead && (!s.Dead || s.Pulled != 0 || len(s.Losses) != 0) {
				t.Fatalf("it lives again: %+v", s)
			}
		}
	})
}
