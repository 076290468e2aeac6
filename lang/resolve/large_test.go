package resolve

import (
	"fmt"
	"strings"
	"testing"
)

func TestLargeJobs(t *testing.T) {
	const head = "harness \"Large\"\nsection tub\nzone z air 40 C\npoint p at (0, 0, 0 mm)\ndevice d at p { \n  pin a, b stud M6\n  supply 12 V inside 1 mohm from a to b\n}\n"
	for _, c := range []struct{ name, loom, want string }{
		{"sections", "section s[1..1001]\n", "more than 1000 sections"},
		{"runs", times(6, "run r#-[1..9000] from d to p section tub zone z\n"), "more than 50000 runs"},
		{"wires", "circuit c[1..201] from d.a to d.b parallel 200\n", "more than 40000 wires"},
		{"parallel", "circuit c from d.a to d.b parallel 1000000000\n", "parallel"},
		{"cases", "case k[1..5001] { supply d }\n", "more than can be worked out"},
		{"wires in cases", "circuit c[1..499] from d.a to d.b parallel 20\ncase k[1..50] { supply d }\n", "50 cases of 9980 wires"},
		{"holes", times(6, "hole h#-[1..9000] at p\n"), "more than 50000 holes"},
		{"panels", times(2, "panel a#-[1..9000] thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n"), "more than 50000 places"},
		{"tubes and hazards", times(3, "tube u#-[1..5000] from p to (1, 0, 0 mm) outside 9 mm\nhazard h#-[1..5000] from p to (1, 0, 0 mm)\n"), "more than 50000 places"},
		{"wires at a stud", "circuit c[1..501] from d.a to d.b\n", "more than 500 wires end here"},
		{"wires at a splice", "splice s section tub at p\ncircuit c[1..251] from d.a to s parallel 2\n", "more than 500 wires end here"},
		{"ends of a circuit", "device e[1..501] { pin a stud M6 }\ncircuit c from d.a to e[1..501].a\n", "more than 500 wires end here"},
		{"a way", "run r from d" + times(2000, " to (#, 0, 0 mm)") + " to p section tub zone z\n", "more than 2000 places"},
		{"holes of a panel", "panel roof thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n" +
			times(2, "hole h#-[1..2501] at p panel roof\n"), "panel roof has more than 5000 holes"},
		{"a big body", "hole h[1..4000] at p\npanel a[1..500] thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n", ""},
		{"a big one", "circuit c[1..500] from d.a to d.b\ncase k[1..40] { supply d }\nsection s[1..40]\nrun r[1..900] from d to p section tub zone z\n", ""},
		{"a long way", "run r from d" + times(1990, " to (#, 0, 0 mm)") + " to p section tub zone z\n", ""},
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

// times repeats a text with its number in the place of each #.
func times(n int, text string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.ReplaceAll(text, "#", fmt.Sprint(i)))
	}
	return b.String()
}
