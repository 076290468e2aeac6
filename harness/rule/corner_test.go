package rule_test

import (
	"strings"
	"testing"

	"loomsheet/harness/rule"
)

// TestCornersAreTold: findings that hold at an end of a spread only, and what they say of it.
func TestCornersAreTold(t *testing.T) {
	relay := rule.Find("relay-weak").Silent
	lamp := "draw 2 A at 12 V as resistance from 1 to 2"
	for _, c := range []struct {
		name, text string
		code       string
		says       []string
	}{
		{"pull-in at low volts", strings.Replace(relay, "supply 12.6 V inside 10 mohm", "supply 12.6 V low 7.9 V inside 10 mohm", 1), "relay-weak",
			[]string{"With its contact still open", "at battery set-point 7.9 V; it pulls in at 8 V"}},
		{"drop-out while starting at low volts", strings.NewReplacer("supply 12.6 V inside 10 mohm", "supply 12.6 V low 8.5 V inside 300 mohm",
			lamp, lamp+" start 90 A for 0.01 s", "drop-out 3 V", "drop-out 4 V", "case on {", "set drop to 50 %\ncase on {").Replace(relay), "relay-drops", []string{"lets go while lamp starts", "battery set-point 8.5 V", "holds down to 4 V"}},
		{"drop at a high draw", strings.NewReplacer(lamp, lamp+" tolerance 20 %", "case on {", "set drop to 0.1 %\ncase on {").Replace(relay), "drop-over", []string{"In case on, at lamp draw 2.4 A:"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			detail, found := "", false
			for _, f := range compile(t, c.text).Findings {
				if f.Code == c.code {
					found = true
					detail += f.Title + ": " + f.Detail + "\n"
				}
			}
			if !found {
				t.Fatalf("no %s", c.code)
			}
			for _, s := range c.says {
				if !strings.Contains(detail, s) {
					t.Errorf("%q is not said:\n%s", s, detail)
				}
			}
		})
	}
	if n := codes(compile(t, relay))["relay-weak"]; n != 0 {
		t.Errorf("without a spread: %d", n)
	}
}
