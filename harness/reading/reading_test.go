package reading_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/reading"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func find(t testing.TB, text string) []reading.Error {
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
	return reading.Find(job, o.Net, o.Cases)
}

// A lamp of 5 A comes back over the body, 100 mohm from a to b; a sensor that draws nothing has its reference at a, its gauge at b.
const body = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to shell to hub to sensor section body zone cabin
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device shell at (200, 0, 0 mm) {
  pin a at (900, 0, 0 mm) stud M8
  pin b at (100, 0, 0 mm) stud M8
  joins a, b resistance 100 mohm
}
device lamp at hub housing sealed-2 { draw 5 A from 1 to 2 }
device gauge at hub housing sealed-2
device sensor at (1000, 0, 0 mm) housing sealed-2 { reads 250 kPa per 1 V from 1 to 2 }
run studs from hub to shell.a, shell.b section body zone cabin
circuit feed from battery.pos to lamp.1
circuit lamp-earth from lamp.2 to shell.a
circuit body-earth from shell.b to battery.neg
circuit signal from sensor.1 to gauge.1 class signal
circuit ref from sensor.2 to shell.a class signal
circuit gauge-earth from gauge.2 to shell.b class signal
case on { supply battery }
`

// By hand: 5 A x 100 mohm is half a volt, and at 250 kPa per volt 125 kPa.
func TestBody(t *testing.T) {
	for _, c := range []struct {
		name   string
		change []string
		volts  float64
		off    unit.Quantity
		start  string
		met    bool
	}{
		{"steady", nil, 0.5, unit.Quantity{Value: 125, Dim: unit.DimPressure}, "", false},
		{"a temperature is off by a difference", []string{"250 kPa per 1 V", "-50 C per 2 V"}, 0.5, unit.Quantity{Value: -12.5, Dim: unit.DimTempDiff}, "", false},
		{"at a start", []string{"draw 5 A", "draw 5 A start 20 A for 1 s"}, 2, unit.Quantity{Value: 500, Dim: unit.DimPressure}, "lamp", false},
		{"allowed", []string{"case on", "set reading-error to 0.6 V device sensor\ncase on"}, 0.5, unit.Quantity{Value: 125, Dim: unit.DimPressure}, "", true},
		{"the worse case", []string{"case on", "device aux at hub housing sealed-2 { draw 1 A from 1 to 2 }\ndevice tap at hub housing sealed-2 { state on joins 1, 2 }\ncircuit x1 from battery.pos to tap.1\ncircuit x2 from tap.2 to aux.1\n" +
			"circuit x3 from aux.2 to shell.a\ncase more {\n  supply battery\n  set tap to on\n}\ncase on"}, 0.6, unit.Quantity{Value: 150, Dim: unit.DimPressure}, "", false},
		{"the gauge at the sensor's stud", []string{"gauge.2 to shell.b", "gauge.2 to shell.a"}, 0, unit.Quantity{Dim: unit.DimPressure}, "", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := find(t, strings.NewReplacer(c.change...).Replace(body))
			if len(got) != 1 {
				t.Fatalf("%+v", got)
			}
			e := got[0]
			if math.Abs(float64(e.Volts)-c.volts) > 1e-6 || math.Abs(e.Off.Value-c.off.Value) > 1e-3 || e.Off.Dim != c.off.Dim || e.Start != c.start || e.Met != c.met || e.Reader != "gauge" {
				t.Errorf("%+v", e)
			}
			sum := 0.0
			for _, p := range e.Way {
				sum += float64(p.Drop)
			}
			if math.Abs(sum-float64(e.Volts)) > 1e-9 {
				t.Errorf("the way makes %v", sum)
			}
			if c.volts > 0 && (len(e.Shares) != 1 || e.Shares[0] != "joint shell joint a - b") {
				t.Errorf("shares %q", e.Shares)
			}
		})
	}
}

const unitJob = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to hub to sensor section body zone cabin
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device unit at hub housing sealed-6 {
  pin live, earth, v5, e5, sig, aux cavity [1..6]
  draw 3 A from live to earth
  supply 5 V inside 1 ohm from v5 to e5
  joins e5, earth resistance 20 mohm
}
device sensor at (1000, 0, 0 mm) housing sealed-3 {
  draw 15 mA from 1 to 2
  reads 100 kPa per 1 V from 3 to 2
}
circuit feed from battery.pos to unit.live
circuit back from battery.neg to unit.earth
circuit v5 from unit.v5 to sensor.1 class signal
circuit sig from sensor.3 to unit.sig class signal
case on { supply battery }
`

// A return of its own carries the sensor's own current, which counts, and nothing else; one to the battery's stud shares the unit's earth.
func TestOwnSupply(t *testing.T) {
	own := find(t, unitJob+"circuit ref from sensor.2 to unit.e5 class signal\n")
	if len(own) != 1 {
		t.Fatalf("%+v", own)
	}
	e := own[0]
	if e.At != "unit.e5" || len(e.Shares) != 0 || !e.Met || math.Abs(float64(e.Own)-0.015) > 1e-9 || !(e.Volts > 0) || e.Volts > 0.001 {
		t.Errorf("%+v", e)
	}
	shared := find(t, unitJob+"circuit ref from sensor.2 to battery.neg class signal\n")
	if len(shared) != 1 {
		t.Fatalf("%+v", shared)
	}
	e = shared[0]
	// the unit's 3 A lift its earth above the battery's minus, so the sensor's reference lies below
	if e.At != "unit.e5" || len(e.Shares) == 0 || !(e.Volts < 0) || !(e.Off.Value < 0) {
		t.Errorf("%+v", e)
	}
	for _, s := range e.Shares {
		if strings.Contains(s, "ref ") {
			t.Errorf("%s carries the sensor's own current alone", s)
		}
	}
}

// What reads nothing, or is read by nothing, is not weighed; a switch in the signal is passed, and another sensor on the wire is no reader.
func TestWhoReads(t *testing.T) {
	ref := "circuit ref from sensor.2 to unit.e5 class signal\n"
	for _, c := range []struct {
		name, text string
		want       string
	}{
		{"no reads", strings.Replace(unitJob+ref, "  reads 100 kPa per 1 V from 3 to 2\n", "", 1), ""},
		{"no reader", strings.Replace(unitJob+ref, "circuit sig from sensor.3 to unit.sig class signal\n", "", 1), ""},
		{"reference unconnected", unitJob, ""},
		{"through a switch", strings.Replace(unitJob+ref, "circuit sig from sensor.3 to unit.sig class signal\ncase on { supply battery }", "device tap at hub housing sealed-2 { state on joins 1, 2 }\n"+
			"circuit sig from sensor.3 to tap.1 class signal\ncircuit sig2 from tap.2 to unit.sig class signal\ncase on {\n  supply battery\n  set tap to on\n}", 1), "unit"},
		{"two readers", unitJob + ref + "device logger at hub housing sealed-3 { draw 0.1 A from 1 to 2 }\ncircuit l1 from battery.pos to logger.1\ncircuit l2 from battery.neg to logger.2\ncircuit sig from sensor.3 to logger.3 class signal\n", "logger unit"},
		{"the reader is off", strings.Replace(unitJob+ref, "case on { supply battery }", "case on {\n  supply battery\n  off unit\n}", 1), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name == "two readers" {
				c.text = strings.Replace(c.text, "circuit sig from sensor.3 to unit.sig class signal\n", "", 1)
				c.text = strings.Replace(c.text, "circuit sig from sensor.3 to logger.3", "splice s-sig at hub section body\ncircuit sig from sensor.3, unit.sig, logger.3 to s-sig", 1)
			}
			var got []string
			for _, e := range find(t, c.text) {
				got = append(got, e.Reader)
			}
			if s := strings.Join(got, " "); s != c.want {
				t.Errorf("read by %q, want %q", s, c.want)
			}
		})
	}
	if e := reading.Find(&design.Job{}, &net.Net{}, nil); e != nil {
		t.Errorf("%+v", e)
	}
}
