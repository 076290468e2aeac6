package rule_test

import (
	"strings"
	"testing"

	"loomsheet/harness/rule"
)

// The wall of the example stands at x = 400; its run leads from aft (300, 100) to fore (500, 100).
func TestPanelCrossed(t *testing.T) {
	var text string
	for _, r := range rule.All {
		if r.Key == "panel-crossed" {
			text = r.Fires
		}
	}
	const way = "run through from aft to fore section body zone cabin"
	for _, c := range []struct {
		name  string
		edits []string
		want  int
	}{
		{"straight through", []string{way, way}, 1},
		{"a panel given by points", []string{"corners (400", "points (400"}, 1},
		{"past its edge", []string{way, "run through from aft to (300, 400, 0 mm) to (500, 400, 0 mm) to fore section body zone cabin"}, 0},
		{"up to it", []string{"fore at (500", "fore at (400"}, 0},
		{"a millimetre through", []string{"fore at (500", "fore at (401"}, 0},
		{"more than that", []string{"fore at (500", "fore at (401.1"}, 1},
		{"a waypoint on it", []string{way, "run through from aft to (400, 150, 0 mm) to fore section body zone cabin"}, 1},
		{"a waypoint a millimetre before it", []string{way, "run through from aft to (399, 150, 0 mm) to fore section body zone cabin"}, 1},
		{"a point on it without a bush", []string{way, "point hub at (400, 100, 0 mm) panel wall\nrun through from aft to hub to fore section body zone cabin"}, 1},
		{"along it to a bush", []string{way, "point hub at (400, 100, 0 mm) panel wall bush 9 mm\nrun through from aft to (400, 150, 0 mm) to hub to fore section body zone cabin"}, 0},
		{"it touches a waypoint on it and comes back", []string{"fore at (500, 100", "fore at (300, 200", way, "run through from aft to (400, 150, 0 mm) to fore section body zone cabin"}, 0},
		{"a wire from run to run at a point on it", []string{way, "point hub at (400, 100, 0 mm) panel wall\nrun through from aft to hub section body zone cabin\nrun on from hub to fore section body zone cabin\ncircuit more from aft.1 to fore.1 colour red size 1 mm2",
			"sealed-1 { unused 1 }", "sealed-1 { pin 1 }", "sealed-1 { unused 1 }", "sealed-1 { pin 1 }"}, 1},
		{"runs that meet at a point on it without a wire", []string{way, "point hub at (400, 100, 0 mm) panel wall\nrun through from aft to hub section body zone cabin\nrun on from hub to fore section body zone cabin"}, 0},
		// the waypoint is 10 mm behind the wall; the arc in its place turns back before it, a tight one would not
		{"a waypoint behind it", []string{"fore at (500, 100", "fore at (300, 250", way, "run through from aft to (410, 100, 0 mm) to fore section body zone cabin"}, 0},
		{"the same with a tight arc", []string{"fore at (500, 100", "fore at (300, 250", way, "run through from aft to (410, 100, 0 mm) to fore section body zone cabin bend 1 mm"}, 2},
		{"through its break", []string{way, "run through from aft to P to fore section body zone cabin"}, 0},
	} {
		job := text
		for i := 0; i < len(c.edits); i += 2 {
			if !strings.Contains(job, c.edits[i]) {
				t.Fatalf("%s: nothing to replace", c.name)
			}
			job = strings.Replace(job, c.edits[i], c.edits[i+1], 1)
		}
		if got := codes(compile(t, job))["panel-crossed"]; got != c.want {
			t.Errorf("%s: %d findings, want %d", c.name, got, c.want)
		}
	}
}
