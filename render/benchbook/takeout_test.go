package benchbook

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loomsheet/harness/free"
)

// What is harmed by a step has a line of its own; what is simply off stands together, by name while that says more than a number.
func TestLost(t *testing.T) {
	off := func(n int) (out []free.Loss) {
		for i := range n {
			out = append(out, free.Loss{Kind: free.Off, Load: fmt.Sprint("lamp", i+1), Text: fmt.Sprintf("lamp%d is off.", i+1)})
		}
		return out
	}
	back := free.Loss{Kind: free.Backward, Load: "fan", Text: "fan gets 2 A the wrong way round, 12 V across it."}
	relay := free.Loss{Kind: free.Relay, Load: "relay link", Text: "relay link lets go."}
	box := free.Loss{Kind: free.Off, Load: "box, feed to earth,", Text: "box, feed to earth, is off."}
	horn := free.Loss{Kind: free.Off, Load: "horn", Switched: true, Text: "horn is off: its switched return is gone."}
	for _, k := range []struct {
		all  []free.Loss
		want []string
	}{
		{nil, nil},
		{off(1), []string{"lamp1 is off."}},
		{append([]free.Loss{back, relay}, append(off(2), box, horn)...), []string{back.Text, horn.Text, relay.Text, "3 loads are off: lamp1; lamp2; box, feed to earth."}},
		{[]free.Loss{relay, relay}, []string{"2 relays let go: relay link; relay link."}},
	} {
		if d := cmp.Diff(k.want, lost(k.all)); d != "" {
			t.Error(d)
		}
	}
	for kind := range free.Relay {
		harm := free.Loss{Kind: kind, Load: "fan", Text: "fan: " + kind.String() + "."}
		if got := lost(append(off(40), harm, harm)); len(got) != 3 || got[0] != harm.Text || got[1] != harm.Text {
			t.Errorf("%v: %q", kind, got)
		}
	}
	for _, n := range []int{mostLost, mostLost + 1, 5000} {
		got := strings.Join(lost(off(n)), "\n")
		named := strings.Count(got, "lamp")
		if more := fmt.Sprintf("and %d more, all named in harness.json, bench, removals.", n-named); n > mostLost != strings.HasSuffix(got, more) || n <= mostLost && named != n {
			t.Errorf("%d off: %s", n, got)
		}
		if !strings.HasPrefix(got, fmt.Sprint(n, " loads are off: lamp1; lamp2; ")) {
			t.Errorf("%d off: %s", n, got)
		}
	}
}
