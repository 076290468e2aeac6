package resolve

import (
	"strings"
	"testing"
)

func TestLargeJobs(t *testing.T) {
	const head = "harness \"Large\"\nsection tub\nzone z air 40 C\npoint p at (0, 0, 0 mm)\ndevice d at p { \n  pin a, b stud M6\n  supply 12 V inside 1 mohm from a to b\n}\n"
	for _, c := range []struct{ name, loom, want string }{
		{"sections", "section s[1..600]\n", "more than 500 sections"},
		{"runs", "run r[1..5001] from d to p section tub zone z\nrun q[1..5001] from d to p section tub zone z\n", "more than 10000 runs"},
		{"wires", "circuit c[1..4001] from d.a to d.b\n", "more than 4000 wires"},
		{"parallel", "circuit c from d.a to d.b parallel 1000000000\n", "parallel"},
		{"cases", "case k[1..1001] { supply d }\n", "more than can be worked out"},
		{"wires in cases", "circuit c[1..3900] from d.a to d.b\ncase k[1..26] { supply d }\n", "26 cases of 3900 wires"},
		{"holes", "hole h[1..5001] at p\n", "more than 5000 holes"},
		{"panels", "panel a[1..1700] thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n", "more than 5000 places"},
		{"tubes and hazards", "tube u[1..2000] from p to (1, 0, 0 mm) outside 9 mm\nhazard h[1..900] from p to (1, 0, 0 mm)\n", "more than 5000 places"},
		{"a big body", "hole h[1..4000] at p\npanel a[1..500] thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n", ""},
		{"a big one", "circuit c[1..1500] from d.a to d.b\ncase k[1..40] { supply d }\nsection s[1..40]\nrun r[1..900] from d to p section tub zone z\n", ""},
	} {
		_, src, ds := text(t, head+c.loom)
		found := false
		for _, d := range ds {
			found = found || strings.Contains(d.Title+d.Detail, c.want)
		}
		if c.want == "" && ds.HasMistakes() || !found && c.want != "" {
			t.Errorf("%s: %.600s", c.name, show(src, ds))
		}
	}
}
