package face

import (
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// lopsided is a housing that is its own mirror image in no direction:
//
//	1 2 3
//	4
var lopsided = &design.Housing{Cavities: []design.HousingCavity{
	{Name: "1", At: [2]unit.Length{0, 0}, Placed: true},
	{Name: "2", At: [2]unit.Length{6, 0}, Placed: true},
	{Name: "3", At: [2]unit.Length{12, 0.5}, Placed: true},
	{Name: "4", At: [2]unit.Length{0, -6}, Placed: true},
	{Name: "5"},
}}

// The reading order of each half from each side, worked out by turning a card with the four holes in the hand.
func TestNeverAMirrorMistake(t *testing.T) {
	for _, c := range []struct {
		name string
		pins bool
		view View
		want string
	}{
		{"sockets from behind, as written", false, WireSide, "1 2 3 / 4"},
		{"sockets from the front", false, MatingSide, "3 2 1 / 4"},
		{"pins from behind", true, WireSide, "3 2 1 / 4"},
		{"pins from the front, as written", true, MatingSide, "1 2 3 / 4"},
	} {
		f := Of(lopsided, c.pins, c.view)
		var rows []string
		for _, r := range f.Rows() {
			var names []string
			for _, k := range r {
				names = append(names, k.Name)
			}
			rows = append(rows, strings.Join(names, " "))
		}
		if got := strings.Join(rows, " / "); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		if !strings.Contains(f.Words(), strings.ReplaceAll(c.want, " / ", "; ")) || !strings.HasPrefix(strings.ToLower(f.Words()), c.view.String()) {
			t.Errorf("%s: %s", c.name, f.Words())
		}
		if len(f.Without) != 1 || f.Without[0] != "5" {
			t.Errorf("%s: without a place %v", c.name, f.Without)
		}
	}
}

// Where two halves mate, each cavity of the one lies on the cavity of its name in the other: the mating side of the pins is what the wire side
// of the sockets is, seen through.
func TestHalvesMeet(t *testing.T) {
	behind, front := Of(lopsided, false, WireSide), Of(lopsided, true, MatingSide)
	for i := range behind.Cavities {
		if a, b := behind.Cavities[i], front.Cavities[i]; a.Name != b.Name || a.X != b.X || a.Y != b.Y {
			t.Errorf("%v does not meet %v", a, b)
		}
	}
}
