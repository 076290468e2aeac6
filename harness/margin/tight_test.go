package margin_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/margin"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/unit"
)

// lone is one load of constant current on one wire out and one back, without any joint or inside resistance. Line breaks and %s are exchanged.
const lone = `harness "Trial" revision A
section body
zone cabin air 40 C
run main from battery to lamp length 4000 mm section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12 V inside 0 mohm from pos to neg
}
device lamp at (4000, 0, 0 mm) {
  pin 1, 2 stud M5
  draw 5 A at 12 V from 1 to 2
}
set lug-resistance to 0 mohm
set drop to 0.7 V
circuit feed from battery.pos to lamp.1 size 1.5 mm2
circuit back from lamp.2 to battery.neg size 1.5 mm2
case on { supply battery }
`

func swap(text string, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			panic("nothing to exchange: " + pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

func room(t *testing.T, x *margin.Tight, what string) margin.Room {
	t.Helper()
	for _, r := range x.Room {
		if r.What == what {
			return r
		}
	}
	t.Fatalf("%s %s has no room in %s", x.Title, x.Limit, what)
	return margin.Room{}
}

func volt(t *testing.T, all []margin.Tight, limit string) *margin.Tight {
	t.Helper()
	for i := range all {
		if all[i].Limit == limit {
			return &all[i]
		}
	}
	t.Fatalf("no result for %s", limit)
	return nil
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-4*math.Abs(want)) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestClosedForms: with constant current, the drop goes with the current and with the length, so both may grow by limit over drop; copper by
// R = R20 (234.5 + T)/254.5 gives the warmth; and the supply does not matter.
func TestClosedForms(t *testing.T) {
	for name, text := range map[string]string{
		"drop":        lone,
		"feed-drop":   swap(lone, "set drop to 0.7 V", "set feed-drop to 0.35 V"),
		"return-drop": swap(lone, "set drop to 0.7 V", "set return-drop to 0.36 V"),
		"percent":     swap(lone, "set drop to 0.7 V", "set drop to 6 %"),
	} {
		t.Run(name, func(t *testing.T) {
			job := read(t, text)
			o := sized(job)
			limit := strings.Replace(name, "percent", "drop", 1)
			x := volt(t, margin.Tightest(job, o, 10), limit)
			f := x.Most.Value / x.Got.Value
			if !(f > 1.01 && f < 2) {
				t.Fatalf("the case is no test: %v of %v", x.Got, x.Most)
			}
			near(t, "used", float64(x.Used), 1/f)
			load, length, ambient, supply := room(t, x, margin.Load), room(t, x, margin.Length), room(t, x, margin.Ambient), room(t, x, margin.Supply)
			near(t, "load", float64(load.Factor()), f)
			near(t, "amps", load.From.Value, 5)
			near(t, "length", float64(length.Factor()), f)
			var whole unit.Length
			for i := range o.Net.Wires {
				w := &o.Net.Wires[i]
				if limit == "drop" || w.Circuit == map[string]string{"feed-drop": "feed", "return-drop": "back"}[limit] {
					whole += max(w.Copper, w.Length)
				}
			}
			near(t, "mm", length.From.Value, float64(whole))
			temp := float64(o.Heat.Temps["on"][0])
			near(t, "warmer", ambient.To.Value, (f-1)*(234.5+temp))
			if !supply.Beyond {
				t.Errorf("supply crosses at %v", supply.To)
			}
		})
	}
}

// TestFloorForms: a load of constant current needs its least volts: the supply may sink by just the room.
func TestFloorForms(t *testing.T) {
	job := read(t, swap(lone, "set drop to 0.7 V", "", "draw 5 A at 12 V", "draw 5 A at 12 V least 11 V"))
	x := volt(t, margin.Tightest(job, sized(job), 10), "least")
	near(t, "supply", room(t, x, margin.Supply).To.Value, 12-(x.Got.Value-11))
	near(t, "used", float64(x.Used), (12-x.Got.Value)/1)
	near(t, "load", float64(room(t, x, margin.Load).Factor()), 1/(12-x.Got.Value))
}

// TestResistanceForms: a load that is a resistance R on a way r loses U r/(r+R). Its drop of a limit L is reached at U = L (r+R)/r, and at r = L R/(U-L).
func TestResistanceForms(t *testing.T) {
	job := read(t, swap(lone, "draw 5 A at 12 V", "draw 5 A at 12 V as resistance"))
	x := volt(t, margin.Tightest(job, sized(job), 10), "drop")
	const R = 12.0 / 5
	d := x.Got.Value
	r := d * R / (12 - d)
	near(t, "supply", room(t, x, margin.Supply).To.Value, 0.7*(r+R)/r)
	near(t, "length", float64(room(t, x, margin.Length).Factor()), 0.7*R/(12-0.7)/r)
}

// TestPowerForms: a load of constant power P on a way r takes U I = P + r I2; lower volts cost it more.
func TestPowerForms(t *testing.T) {
	job := read(t, swap(lone, "draw 5 A at 12 V", "draw 60 W at 12 V as power"))
	x := volt(t, margin.Tightest(job, sized(job), 10), "drop")
	d := x.Got.Value
	i := 60 / (12 - d)
	r := d / i
	most := 0.7 / r // amperes at the limit
	near(t, "supply", room(t, x, margin.Supply).To.Value, 60/most+0.7)
	near(t, "load", room(t, x, margin.Load).To.Value, most)
}

// TestStartForms: while the lamp starts it takes its starting current as a resistance.
func TestStartForms(t *testing.T) {
	job := read(t, swap(lone, "draw 5 A at 12 V", "draw 5 A at 12 V as resistance start 10 A for 0.1 s", "set drop to 0.7 V", "set least-start-volts to 10.5 V"))
	x := volt(t, margin.Tightest(job, sized(job), 10), "least-start-volts")
	const R = 12.0 / 10
	v := x.Got.Value
	r := (12 - v) / v * R
	near(t, "load", float64(room(t, x, margin.Load).Factor()), 1.5/(12-v))
	near(t, "supply", room(t, x, margin.Supply).To.Value, 10.5*(r+R)/R)
	near(t, "length", float64(room(t, x, margin.Length).Factor()), 1.5/10.5*R/r)
}

// TestHeatForms: the current at which a wire alone reaches its limit is its ampacity by the balance, which is worked out another way; and
// warmer by the room found, it is just at its limit.
func TestHeatForms(t *testing.T) {
	job := read(t, swap(lone, "draw 5 A", "draw 14 A", "set drop to 0.7 V", "set drop to 9 V\nset ampacity to balance"))
	o := sized(job)
	x := volt(t, margin.Tightest(job, o, 10), margin.Heat)
	r := o.Heat.Wires[x.Wire]
	load, warm := room(t, x, margin.Load), room(t, x, margin.Ambient)
	near(t, "load", load.From.Value, 14)
	if load.Beyond || warm.Beyond {
		t.Fatalf("load to %v, air to %v: the case is no test", load.To, warm.To)
	}
	if load.Of != "this wire" { // more than half of its rise is its own
		t.Fatal("scaled: " + load.Of)
	}
	near(t, "ampacity", load.To.Value, float64(r.Ampacity))
	hot := *job
	hot.Zones = []*design.Zone{{Name: "cabin", Air: 40 + unit.Temperature(warm.To.Value), HasAir: true}}
	near(t, "at its limit", float64(heat.Solve(&hot, o.Net, o.Sizes, o.Cases, o.Duty).Wires[x.Wire].Hottest), float64(r.Limit))
}

// TestRoomIsTheLimit: whatever a load is, the net written anew with the room used up has its limit met to a ten-thousandth.
func TestRoomIsTheLimit(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kind := rapid.SampledFrom([]string{"", "as resistance", "as power"}).Draw(rt, "kind")
		inside := rapid.IntRange(0, 30).Draw(rt, "inside")
		amps := rapid.IntRange(20, 60).Draw(rt, "tenths of amps")
		text := swap(lone, "draw 5 A at 12 V", "draw "+unit.Number(float64(amps)/10, 1)+" A at 12 V "+kind, "inside 0 mohm", "inside "+unit.Number(float64(inside), 0)+" mohm")
		job := read(t, text)
		o := sized(job)
		for _, x := range margin.Tightest(job, o, 10) {
			if x.Limit != "drop" {
				continue
			}
			f := room(t, &x, margin.Length)
			if f.Beyond || f.Missed {
				continue
			}
			nt := *o.Net
			nt.Wires = slices.Clone(nt.Wires)
			for i := range nt.Wires {
				nt.Wires[i].Copper = unit.Length(float64(max(nt.Wires[i].Copper, nt.Wires[i].Length)) * float64(f.Factor()))
			}
			c := caseOf(job, &nt, o)
			for _, k := range fit.Limits(job, &nt, c, &c.Loads[0]) {
				if k.Name == "drop" && math.Abs(float64(k.Over()/k.Value)) > 1e-4 {
					rt.Fatalf("%s: %v of %v at %v times the length", text, k.Got, k.Value, f.Factor())
				}
			}
		}
	})
}

// TestNothingChanged: what is passed in stays, the answer is the same each time, and odd input has an answer.
func TestNothingChanged(t *testing.T) {
	job := example(t, "bad/bad.loom")
	o := sized(job)
	before := len(o.Net.Wires)
	a, b := margin.Tightest(job, o, 10), margin.Tightest(job, o, 10)
	if !slices.EqualFunc(a, b, func(x, y margin.Tight) bool { return x.Title == y.Title && slices.Equal(x.Room, y.Room) }) {
		t.Error("two answers")
	}
	if len(a) == 0 || len(o.Net.Wires) != before {
		t.Errorf("%d results", len(a))
	}
	for _, n := range []int{-1, 0} {
		if margin.Tightest(job, o, n) != nil {
			t.Errorf("%d", n)
		}
	}
	if margin.Tightest(nil, nil, 3) != nil || margin.Answers(nil, nil, nil) != nil || margin.Answers(&design.Job{}, &fit.Outcome{Net: &net.Net{}}, nil) != nil {
		t.Error("something from nothing")
	}
}
