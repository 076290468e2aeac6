package joint_test

import (
	"strings"
	"testing"

	"loomsheet/harness/design"
)

// TestCoresStayTogether: of two circuits one pulls its splice to the box and the other to the far end, 920 mm apart; as cores of one cable their splices lie beside
// one another, as near as splices may, 80 mm with room for a clip between them.
func TestCoresStayTogether(t *testing.T) {
	circuits := `splice s, u section tub
circuit high {
  from box.1 to s size 6 mm2
  from s to a.1 size 1 mm2
  from s to b.1 size 1 mm2
}
circuit low {
  from box.2 to u size 1 mm2
  from u to a.2 size 6 mm2
  from u to b.2 size 1 mm2
}
`
	for _, c := range []struct {
		cable string
		apart bool
	}{{"", true}, {"cable lead holds high, low as pair twist 40 mm\n", false}} {
		text := strings.Replace(lineJob, "circuit feed size 1 mm2 {\n  from box.1 to s\n  from s to a.1, b.1, c.1\n}\n", circuits+c.cable, 1)
		out, places, _ := place(t, text)
		at := map[string]*design.Splice{}
		for _, s := range out.Splices {
			at[s.Name] = s
		}
		if len(places.Chosen) != 2 || at["s"].Along != "line" || at["u"].Along != "line" {
			t.Fatalf("s %s, u %s: %+v", put(out, "s"), put(out, "u"), places.Chosen)
		}
		d := at["u"].After - at["s"].After
		if d < 0 {
			d = -d
		}
		if c.apart && (at["s"].After != 40 || at["u"].After != 960) || !c.apart && d != 80 {
			t.Errorf("%q: s %s, u %s", c.cable, put(out, "s"), put(out, "u"))
		}
		for _, x := range places.Chosen {
			if x.Unmet || x.Nowhere || x.Over != 0 {
				t.Errorf("%q: %+v", c.cable, x)
			}
		}
	}
}
