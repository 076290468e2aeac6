package crank_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/crank"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func find(t testing.TB, text string) ([]crank.Sweep, []*solve.CaseResult) {
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
	return crank.Find(job, o.Net, o.Sizes, o.Cases, o.Heat.Temps), o.Cases
}

const engine = `harness "Example" revision B
section body
zone box air 25 C
run main from battery to hub to starter section body zone box
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device starter at (1000, 0, 0 mm) {
  pin b, e stud M8
  pin s stud M5
  inner m
  coil 9 A at 12 V as resistance from s to e start 38 A for 0.05 s moves on pull-in 8 V drop-out 4 V
  state on joins b, m resistance 0.3 mohm
  draw 60 mohm from m to e on 8 s off 60 s start 500 A for 0.1 s
}
device button at hub housing sealed-large-2 { state on joins 1, 2 }
device relay at hub like relay-40
device unit at hub housing sealed-4 {
  draw 2 A from 1 to 2 least 9 V
  supply 5 V inside 1 ohm from 3 to 4
}
device probe at hub housing sealed-2 { draw 10 mA from 1 to 2 }
circuit plus from battery.pos to starter.b size 35 mm2
circuit minus from battery.neg to starter.e size 35 mm2
circuit key from battery.pos to button.1
circuit call from button.2 to relay.86
circuit call-back from battery.neg to relay.85
circuit solenoid-feed from battery.pos to relay.30 size 4 mm2
circuit solenoid from relay.87 to starter.s size 4 mm2
circuit unit-feed from battery.pos to unit.1
circuit unit-back from battery.neg to unit.2
circuit probe-[1, 2] from unit.[3, 4] to probe.[1, 2]
case standing { supply battery }
case cranking {
  supply battery at 12.4 V
  set button to on
}
`

func one(t *testing.T, text string) crank.Sweep {
	t.Helper()
	s, _ := find(t, text)
	if len(s) != 1 {
		t.Fatalf("%d sweeps: %+v", len(s), s)
	}
	return s[0]
}

func TestPlaces(t *testing.T) {
	s := one(t, engine)
	var got []string
	for _, p := range s.Places {
		got = append(got, p.Role+" "+p.Device)
	}
	if want := []string{"starter starter", "solenoid starter", "relay relay", "control unit unit"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if s.Case != "cranking" || s.Motor != "starter" || s.Battery != "battery" || s.Air != 25 || s.Cells != 6 || s.Verified || len(s.Rows) != 7 {
		t.Errorf("%+v", s)
	}
	if p := s.Places[1]; p.Least != 4 || p.LeastDip != 4 {
		t.Errorf("%+v", p)
	}
	if p := s.Places[3]; p.Least != 9 || p.LeastDip != 9 {
		t.Errorf("%+v", p)
	}
}

// The row of the case's own figures is the case itself.
func TestOwnRowIsTheCase(t *testing.T) {
	sweeps, cases := find(t, engine)
	s, row := sweeps[0], sweeps[0].Rows[0]
	if !row.Own || row.Volts != 12.4 || math.Abs(float64(row.Inside-0.010)) > 1e-12 || row.Cold != 1 || !row.Turns || !row.Relays {
		t.Fatalf("%+v", row)
	}
	c := cases[0]
	for i, p := range s.Places {
		for k := range c.Loads {
			if l := &c.Loads[k]; l.Device == p.Device && l.Index == p.Index && l.Coil == p.Coil && math.Abs(float64(l.Volts-row.At[i].Steady)) > 1e-9 {
				t.Errorf("%s: %v, in the case %v", p.Device, row.At[i].Steady, l.Volts)
			}
		}
	}
}

// By the data's rows: 25 C new is the case; -18 C doubles the inside resistance and costs 6 x 0.2 mV x 43 K; a worn battery doubles it again.
func TestRows(t *testing.T) {
	s := one(t, engine)
	for _, c := range []struct {
		air    float64
		age    string
		volts  float64
		inside float64
	}{{25, "new", 12.4, 0.010}, {0, "new", 12.37, 0.014}, {-18, "new", 12.3484, 0.020}, {25, "worn", 12.4, 0.020}, {-18, "worn", 12.3484, 0.040}} {
		found := false
		for _, r := range s.Rows[1:] {
			if float64(r.Air) != c.air || r.Age != c.age {
				continue
			}
			found = true
			if math.Abs(float64(r.Volts)-c.volts) > 1e-9 || math.Abs(float64(r.Inside)-c.inside) > 1e-12 {
				t.Errorf("%v C %s: %v behind %v", c.air, c.age, r.Volts, r.Inside)
			}
		}
		if !found {
			t.Errorf("no row for %v C, %s", c.air, c.age)
		}
	}
	// the starter is a resistance, so what it gets falls from row to row as its battery weakens
	for i := 2; i < len(s.Rows); i++ {
		a, b := s.Rows[i-1], s.Rows[i]
		if a.Age == b.Age && (b.At[0].Steady >= a.At[0].Steady || b.Amps >= a.Amps || b.At[0].Dip >= a.At[0].Dip) {
			t.Errorf("%v C gives %+v, %v C gives %+v", a.Air, a.At[0], b.Air, b.At[0])
		}
	}
	if math.Abs(float64(s.Rows[0].At[0].Steady)-0.060*float64(s.Rows[0].Amps)) > 1e-6 {
		t.Errorf("%v over %v is not 60 mohm", s.Rows[0].At[0].Steady, s.Rows[0].Amps)
	}
}

// A figure that was taken in the cold is taken to a warm day by the same table.
func TestCaseInTheCold(t *testing.T) {
	s := one(t, strings.Replace(engine, "  set button to on", "  set button to on\n  zone box air -18 C", 1))
	if s.Air != -18 || !strings.Contains(s.AirFrom, "cranking") {
		t.Errorf("%v, %s", s.Air, s.AirFrom)
	}
	if r := s.Rows[1]; r.Air != 25 || math.Abs(float64(r.Inside)-0.005) > 1e-12 || math.Abs(float64(r.Volts)-12.4516) > 1e-9 {
		t.Errorf("%+v", r)
	}
}

// A weak battery: the relay or the solenoid lets go, and that is told. The control unit's 9 V are missed where the dip goes below.
func TestWeak(t *testing.T) {
	s := one(t, strings.Replace(engine, "inside 10 mohm", "inside 14 mohm", 1))
	worst := s.Rows[len(s.Rows)-1]
	if worst.At[3].Met || !worst.At[3].Fed {
		t.Errorf("the control unit at %+v", worst.At[3])
	}
	let := one(t, strings.Replace(strings.Replace(engine, "inside 10 mohm", "inside 14 mohm", 1), "drop-out 4 V", "drop-out 7.9 V", 1))
	worst = let.Rows[len(let.Rows)-1]
	if worst.Relays || !slices.Equal(worst.Lets, []string{"starter"}) || worst.At[1].Met {
		t.Errorf("%+v", worst)
	}
}

func TestNoCranking(t *testing.T) {
	for name, text := range map[string]string{
		"never asked": strings.Replace(engine, "  set button to on", "", 1),
		"runs on":     strings.Replace(engine, "on 8 s off 60 s ", "", 1),
		"too long":    strings.Replace(engine, "on 8 s off 60 s ", "on 90 s off 60 s ", 1),
		"rests":       strings.Replace(engine, "  set button to on", "  set button to on\n  off starter", 1),
	} {
		if s, _ := find(t, text); len(s) != 0 {
			t.Errorf("%s: %+v", name, s)
		}
	}
	if s := crank.Find(&design.Job{}, &net.Net{}, nil, nil, nil); s != nil {
		t.Errorf("%+v", s)
	}
}
