package crank_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loomsheet/harness/crank"
)

// TestWhatTurnsAsAStarter: the greatest starting current of what works once or up to a minute at a stretch.
func TestWhatTurnsAsAStarter(t *testing.T) {
	for text, want := range map[string]string{
		"on 8 s off 60 s":   "starter",
		"on 60 s off 60 s":  "starter",
		"on 60.5 s off 1 s": "",
		"on 0.5 s":          "starter",
		"":                  "",
	} {
		got := ""
		sweeps, _ := find(t, strings.Replace(engine, "on 8 s off 60 s", text, 1))
		for _, s := range sweeps {
			got += s.Motor
		}
		if got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// TestWhatIsWatched: of a control unit the draws that have a limit, else the first that is fed; of all else what has a limit and is fed in the case.
func TestWhatIsWatched(t *testing.T) {
	const unit = "  draw 2 A from 1 to 2 least 9 V\n"
	const always = "starter starter 0; solenoid starter 0; relay relay 0"
	lamp := func(draw, from string) string {
		return "device lamp at hub housing sealed-2 { draw " + draw + " from 1 to 2 }\ncircuit l1 from " + from + " to lamp.1\ncircuit l2 from battery.neg to lamp.2\n"
	}
	for _, c := range []struct{ name, draws, more, want string }{
		{"one limit", unit, "", "; control unit unit 0"},
		{"no limit, the first of two", "  draw 2 A from 1 to 2\n  draw 1 A from 5 to 2\n", "", "; control unit unit 0"},
		{"a limit on the second", "  draw 2 A from 1 to 2\n  draw 1 A from 5 to 2 least 9 V\n", "", "; control unit unit 1"},
		{"limits on both", unit + "  draw 1 A from 5 to 2 least 10 V\n", "", "; control unit unit 0; control unit unit 1"},
		{"a lamp without a limit", unit, lamp("1 A", "battery.pos"), "; control unit unit 0"},
		{"a lamp with one", unit, lamp("1 A least 8 V", "battery.pos"), "; control unit unit 0; other load lamp 0"},
		{"a lamp with one that is not fed", unit, lamp("1 A least 8 V", "spare.2") + "device spare at hub housing sealed-large-2 { state on joins 1, 2 }\ncircuit s1 from battery.pos to spare.1\n", "; control unit unit 0"},
	} {
		s := one(t, strings.NewReplacer(unit, c.draws, "device unit at hub housing sealed-4", "device unit at hub housing plain-6", "case standing", c.more+"circuit unit-more from battery.pos to unit.5\ncase standing").Replace(engine))
		var got []string
		for _, p := range s.Places {
			role := p.Role
			if role == crank.OtherLoad {
				role = "other load"
			}
			got = append(got, fmt.Sprintf("%s %s %d", role, p.Device, p.Index))
		}
		if g := strings.Join(got, "; "); g != always+c.want {
			t.Errorf("%s: %s\nwant %s", c.name, g, always+c.want)
		}
	}
	// a lamp that the case rests is not watched
	s := one(t, strings.NewReplacer("case standing", lamp("1 A least 8 V", "battery.pos")+"case standing", "supply battery at 12.4 V", "supply battery at 12.4 V\n  off lamp").Replace(engine))
	for _, p := range s.Places {
		if p.Device == "lamp" {
			t.Errorf("%+v rests", p)
		}
	}
}

// TestPlacesAgainstLimits: each figure of each row held against its place again; a place that is not fed is not met, and so it is with a row in which a relay lets go.
func TestPlacesAgainstLimits(t *testing.T) {
	let := 0
	for _, text := range []string{engine, strings.Replace(engine, "supply 12.6 V inside 10 mohm", "supply 12.6 V inside 14 mohm", 1), strings.NewReplacer("inside 10 mohm", "inside 14 mohm", "drop-out 4 V", "drop-out 7.9 V").Replace(engine),
		strings.Replace(engine, "supply battery at 12.4 V", "supply battery at 12.4 V inside 20 mohm", 1)} {
		s := one(t, text)
		for _, row := range s.Rows {
			if len(row.At) != len(s.Places) {
				t.Fatalf("%d of %d places", len(row.At), len(s.Places))
			}
			if row.Relays != (len(row.Lets) == 0) {
				t.Errorf("%+v", row)
			}
			let += len(row.Lets)
			for i, v := range row.At {
				p := s.Places[i]
				steady := v.Fed && math.Abs(float64(v.Steady)) >= float64(p.Least)-1e-9
				dip := v.Dip == 0 || math.Abs(float64(v.Dip)) >= float64(p.LeastDip)-1e-9
				if v.MetSteady != steady || v.MetDip != dip || v.Met != (steady && dip) {
					t.Errorf("%v %s: %s gets %+v of %+v", row.Air, row.Age, p.Device, v, p)
				}
				if !v.Fed && v.Steady > 1 && p.Role == crank.Starter {
					t.Errorf("%v %s: not fed at %v", row.Air, row.Age, v.Steady)
				}
			}
			// what the battery's own figures leave at most: its set-point over its inside resistance
			if most := float64(row.Volts) / float64(row.Inside); float64(row.Start) > most || float64(row.Amps) > most {
				t.Errorf("%v %s: %v and %v of at most %g A", row.Air, row.Age, row.Amps, row.Start, most)
			}
		}
	}
	if let == 0 {
		t.Error("no relay ever lets go: the jobs show too little")
	}
}

// TestSecondBattery: a battery beside it is moved as the cranking one is, and named.
func TestSecondBattery(t *testing.T) {
	second := "device spare at hub {\n  pin pos, neg stud M8\n  supply 12.6 V inside 10 mohm from pos to neg\n}\ncircuit sp from battery.pos to spare.pos size 35 mm2\ncircuit sn from battery.neg to spare.neg size 35 mm2\n"
	alone := one(t, engine)
	s := one(t, strings.NewReplacer("case standing", second+"case standing", "supply battery at 12.4 V", "supply battery at 12.4 V\n  supply spare at 12.4 V").Replace(engine))
	if strings.Join(s.Besides, " ") != "spare" || len(alone.Besides) != 0 {
		t.Errorf("besides %v and %v", s.Besides, alone.Besides)
	}
	for i, row := range s.Rows {
		if row.Start <= alone.Rows[i].Start || row.Inside != alone.Rows[i].Inside || row.Volts != alone.Rows[i].Volts {
			t.Errorf("%+v, alone %+v", row, alone.Rows[i])
		}
		// two like one of half the inside resistance, less what the leads to the second lose
		if row.Worn == 2 && row.Start > 2*alone.Rows[i].Start {
			t.Errorf("%v with two, %v with one", row.Start, alone.Rows[i].Start)
		}
	}
	// were the spare left as it is, the worst row would lose less of the first than it does: both fall alike
	first, worst := float64(s.Rows[1].Start), float64(s.Rows[len(s.Rows)-1].Start)
	if a, b := float64(alone.Rows[1].Start), float64(alone.Rows[len(alone.Rows)-1].Start); worst/first > 1.35*b/a {
		t.Errorf("with two %g to %g A, alone %g to %g", first, worst, a, b)
	}
}
