package rule_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func compile(t *testing.T, text string) *harness.Result {
	t.Helper()
	load := func(name string) ([]byte, error) {
		if name == "example.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}
	job, _, msgs := resolve.Job("example.loom", load, parts.Files(), rule.Keys())
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("the example has a mistake: %s: %s %s\n%s", m.Code, m.Title, m.Detail, text)
		}
	}
	return harness.Compile(job)
}

func codes(r *harness.Result) map[string]int {
	out := map[string]int{}
	for _, f := range r.Findings {
		out[f.Code]++
	}
	return out
}

// TestExamples compiles the two examples of each rule and demands that it fires on the one and is silent on the other. A job that is
// silent for its rule must not be full of other findings either: it is printed as the mended one.
func TestExamples(t *testing.T) {
	for _, r := range rule.All {
		if r.NotRun != "" {
			continue
		}
		t.Run(r.Key, func(t *testing.T) {
			if got := codes(compile(t, r.Fires)); got[r.Key] == 0 {
				t.Errorf("does not fire; findings: %v", got)
			}
			for code, n := range codes(compile(t, r.Silent)) {
				t.Errorf("the mended example has %d findings of %s", n, code)
			}
		})
	}
}

func TestCatalogueIsWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rule.All {
		if seen[r.Key] {
			t.Errorf("%s stands twice", r.Key)
		}
		seen[r.Key] = true
		v := reflect.ValueOf(*r)
		for i := range v.NumField() {
			name := v.Type().Field(i).Name
			empty := v.Field(i).IsZero()
			switch name {
			case "NotRun":
				continue
			case "Check", "Fires", "Silent":
				if empty == (r.NotRun == "") {
					t.Errorf("%s: %s is empty or too much", r.Key, name)
				}
			default:
				if empty {
					t.Errorf("%s: %s is empty", r.Key, name)
				}
			}
		}
		if strings.ContainsAny(r.Title, "\n.") || r.Title != strings.ToLower(r.Title[:1])+r.Title[1:] {
			t.Errorf("%s: the title is a lower-case phrase without a stop: %q", r.Key, r.Title)
		}
	}
}

func TestRevisionsInOrder(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{{"A", "B", true}, {"B", "A", false}, {"B", "B", false}, {"Z", "AA", true}, {"AA", "AB", true}, {"9", "10", true}, {"10", "9", false}} {
		if got := rule.Earlier(c.a, c.b); got != c.want {
			t.Errorf("%s before %s: %v", c.a, c.b, got)
		}
	}
}

const noisy = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to lamp section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device lamp at (1000, 0, 0 mm) housing sealed-2 { draw 7 A at 12 V as resistance from 1 to 2 }
circuit feed from battery.pos to lamp.1 size 0.5 mm2
circuit back from battery.neg to lamp.2 size 0.5 mm2
set drop to 3 %
case on { supply battery }
`

func TestAcceptance(t *testing.T) {
	for _, c := range []struct {
		name, line string
		open       bool
		note       bool
	}{
		{"accepted", `accept drop-over device lamp value 1 V reason "seldom lit" by "checker 1" until C`, false, false},
		{"without a value", `accept drop-over device lamp reason "seldom lit" by "checker 1" until C`, true, false},
		{"worse than accepted", `accept drop-over device lamp value 0.4 V reason "seldom lit" by "checker 1" until C`, true, false},
		{"lapsed", `accept drop-over device lamp value 1 V reason "seldom lit" by "checker 1" until B`, true, false},
		{"another subject", `accept drop-over device battery value 1 V reason "seldom lit" by "checker 1" until C`, true, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := compile(t, noisy+c.line+"\n")
			open, note, found := false, false, false
			for _, f := range r.Findings {
				if f.Code == "drop-over" {
					found = true
					open = open || f.Accepted == nil
					if f.Accepted != nil && (f.Accepted.By != "checker 1" || f.Accepted.Reason != "seldom lit") {
						t.Errorf("accepted by %q for %q", f.Accepted.By, f.Accepted.Reason)
					}
				}
				note = note || f.Code == "accept-unused"
			}
			if !found {
				t.Fatal("the example does not fire")
			}
			if open != c.open || note != c.note {
				t.Errorf("open %v, note %v; want %v, %v: %v", open, note, c.open, c.note, r.Findings)
			}
		})
	}
}

// TestSmallestThatPasses takes a stated size that is short, reads from the findings what would pass in its place, and tries it: that passes, and
// the next smaller one does not.
func TestSmallestThatPasses(t *testing.T) {
	for _, c := range []struct{ name, text, code string }{
		{"drop", strings.ReplaceAll(noisy, "circuit back from battery.neg to lamp.2 size 0.5 mm2", "circuit back from battery.neg to lamp.2 size 2 mm2"), "drop-over"},
		{"heat", strings.NewReplacer("housing sealed-2 { draw 7 A at 12 V as resistance from 1 to 2 }", "{\n  pin 1, 2 stud M6\n  draw 30 A at 12 V as resistance from 1 to 2\n}", "set drop to 3 %", "set drop to 30 %", "lamp.2 size 0.5 mm2", "lamp.2 size 10 mm2").Replace(noisy), "too-hot"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(c.text, "size 2 mm2", "size 1.5 mm2", 1)
			r := compile(t, text)
			if codes(r)[c.code] == 0 || r.Freed == nil {
				t.Fatalf("nothing is short: %v", codes(r))
			}
			want := r.Freed.Sizes["feed battery.pos - lamp.1"]
			said := false
			for _, f := range r.Findings {
				said = said || f.Code == c.code && strings.Contains(f.Detail, want.String())
			}
			if want.IsZero() || !said {
				t.Fatalf("%v is not said: %v", want, r.Findings)
			}
			if got := codes(compile(t, strings.Replace(text, "lamp.1 size 0.5 mm2", "lamp.1 size "+want.String(), 1))); got[c.code] != 0 {
				t.Errorf("with %v it still fires: %v", want, got)
			}
			below := ""
			for _, w := range r.Job.Parts.Wires {
				for i, s := range w.Sizes {
					if w.Name == "thin-wall" && s.Size == want && i > 0 {
						below = w.Sizes[i-1].Size.String()
					}
				}
			}
			if got := codes(compile(t, strings.Replace(text, "lamp.1 size 0.5 mm2", "lamp.1 size "+below, 1))); got[c.code] == 0 {
				t.Errorf("%s passes as well", below)
			}
		})
	}
	if r := compile(t, strings.ReplaceAll(noisy, " size 0.5 mm2", "")); r.Freed != nil {
		t.Errorf("nothing is stated, and yet %v", r.Freed.Sizes)
	}
}

// TestOwnSupplyFollows: a control unit's own 5 V that one case lists still follows the unit in the others.
func TestOwnSupplyFollows(t *testing.T) {
	r := compile(t, `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to unit to sensor section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm most 400 A from pos to neg
}
device unit at (500, 0, 0 mm) housing sealed-4 {
  pin live, earth, v5, e5 cavity [1..4]
  draw 1 A from live to earth
  supply 5 V inside 1 ohm from v5 to e5
  joins earth, e5
}
device sensor at (1000, 0, 0 mm) housing sealed-2 { draw 10 mA at 5 V from 1 to 2 }
circuit feed from battery.pos to unit.live
circuit back from battery.neg to unit.earth
circuit v5 from unit.v5 to sensor.1
circuit e5 from unit.e5 to sensor.2
case listed {
  supply battery
  supply unit at 4.9 V
}
case plain { supply battery }
`)
	for _, c := range r.Cases {
		for _, l := range c.Loads {
			if !l.Fed {
				t.Errorf("%s is not fed in case %s", l.Device, c.Case)
			}
		}
	}
	for _, w := range r.Net.Wires {
		if w.Carries != 0 {
			t.Errorf("%s is said to carry %v: a battery does not charge a control unit", w.Name, w.Carries)
		}
	}
}

// TestOneCauseOneFinding: a wire that heats its neighbours past their limits is told once, and names them.
func TestOneCauseOneFinding(t *testing.T) {
	r := compile(t, `harness "Example" revision B
section body
zone bay air 90 C
run main from battery to lamp section body zone bay
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device lamp at (2000, 0, 0 mm) {
  pin 1, 2, 3, 4, 5, 6 stud M6
  draw 20 A at 12 V as resistance from 1 to 2
  draw 10 mA at 12 V as resistance from 3 to 4
  draw 10 mA at 12 V as resistance from 5 to 6
}
circuit hot from battery.pos to lamp.1 size 0.5 mm2
circuit hot-back from battery.neg to lamp.2 size 25 mm2
circuit a from battery.pos to lamp.3 size 0.5 mm2
circuit a-back from battery.neg to lamp.4 size 0.5 mm2
circuit b from battery.pos to lamp.5 size 0.5 mm2
circuit b-back from battery.neg to lamp.6 size 0.5 mm2
set drop to 90 %
case on { supply battery }
`)
	hot, detail := 0, ""
	for _, f := range r.Findings {
		if f.Code == "too-hot" {
			hot++
			detail = f.Detail
			if f.Subject.Name != "hot" {
				t.Errorf("told of %s: %s", f.Subject.Name, f.Title)
			}
		}
	}
	met := 0
	for _, h := range r.Heat.Wires {
		if !h.Met {
			met++
		}
	}
	if hot != 1 || met < 3 || !strings.Contains(detail, "a battery.pos - lamp.3") {
		t.Errorf("%d findings for %d hot wires: %s", hot, met, detail)
	}
}
