package protect

import (
	"fmt"
	"testing"

	"loomsheet/harness/unit"
)

// TestShortsInWords goes through what a short can be: borne or not, cleared or not, with fuses or not, at a limit or not, going on behind its fuses or not.
func TestShortsInWords(t *testing.T) {
	fuses := []Clearing{{Fuse: FuseRef{"f", 0}}}
	for _, c := range []struct {
		name          string
		s             Short
		unborne, weak bool
	}{
		{"borne", Short{Met: true, Fuses: fuses}, false, false},
		{"cleared too late", Short{Clears: 0.5, Fuses: fuses}, false, false},
		{"no fuse", Short{}, false, false},
		{"nothing clears it", Short{Fuses: fuses}, true, true},
		{"nothing clears what stands at its limit", Short{Fuses: fuses, Limited: true}, true, false},
		{"what goes on is borne", Short{Fuses: fuses, On: &Onward{Met: true, Fuses: fuses}}, false, false},
		{"what goes on has a fuse before it", Short{Fuses: fuses, On: &Onward{Fuses: fuses}}, true, true},
		{"what goes on has none", Short{Fuses: fuses, On: &Onward{}}, true, false},
		{"what goes on is at its limit", Short{Fuses: fuses, Limited: true, On: &Onward{Fuses: fuses}}, true, false},
	} {
		if got := c.s.Unborne(); got != c.unborne {
			t.Errorf("%s: unborne %v", c.name, got)
		}
		if got := c.s.TooWeak(); got != c.weak {
			t.Errorf("%s: too weak %v", c.name, got)
		}
	}
	a := Short{Wires: []int{1, 2}}
	b := Short{Wires: []int{1, 2}, On: &Onward{Wires: []int{2}}}
	if fmt.Sprint(a.Weak(), b.Weak()) != "[1 2] [2]" {
		t.Errorf("%v %v", a.Weak(), b.Weak())
	}
}

// TestNeeds: which wires are to grow, and for what; one reason each, the first of overload, short, limit, loop.
func TestNeeds(t *testing.T) {
	fuses := []Clearing{{Fuse: FuseRef{"f", 0}}}
	by := []FuseRef{{"f", 0}}
	const never, soon = Never, unit.Time(0.5)
	for _, c := range []struct {
		name string
		w    WireResult
		s    Short // the wire's own
		heat *ShortHeat
		want string
	}{
		{"nothing said", WireResult{}, Short{Met: true}, nil, "[]"},
		{"overload met", WireResult{Overload: &Overload{Met: true}}, Short{Met: true}, nil, "[]"},
		{"overload not met", WireResult{Overload: &Overload{}}, Short{Met: true}, nil, "[{7 overload false}]"},
		{"short met", WireResult{By: by}, Short{Met: true, Fuses: fuses}, &ShortHeat{Met: true, Latest: soon}, "[]"},
		{"short not met", WireResult{By: by}, Short{Clears: soon, Fuses: fuses}, &ShortHeat{Latest: soon}, "[{7 short false}]"},
		{"short without a fuse", WireResult{}, Short{}, &ShortHeat{}, "[]"},
		{"both", WireResult{By: by, Overload: &Overload{}}, Short{Clears: soon, Fuses: fuses}, &ShortHeat{Latest: soon}, "[{7 overload false}]"},
		{"overload met, short not", WireResult{By: by, Overload: &Overload{Met: true}}, Short{Clears: soon, Fuses: fuses}, &ShortHeat{Latest: soon}, "[{7 short false}]"},
		{"goes on at a limit", WireResult{By: by}, Short{Fuses: fuses, Limited: true, On: &Onward{}}, &ShortHeat{Latest: never}, "[{7 short false}]"},
		{"goes on with neither fuse nor limit", WireResult{By: by}, Short{Fuses: fuses, On: &Onward{}}, &ShortHeat{Latest: never}, "[]"},
		{"goes on behind another fuse", WireResult{By: by}, Short{Fuses: fuses, Limited: true, On: &Onward{Fuses: fuses}}, &ShortHeat{Latest: never}, "[{7 short false}]"},
		{"goes on, but this wire is past its limit before", WireResult{By: by}, Short{Fuses: fuses, On: &Onward{}}, &ShortHeat{Latest: soon}, "[{7 short false}]"},
		{"borne in the fault, past the rating for good", WireResult{By: by, Open: []Source{{Device: "alt", Most: 70}}}, Short{Met: true, Fuses: fuses, Limited: true, On: &Onward{Met: true}}, &ShortHeat{Met: true}, "[{7 source's limit false}]"},
		{"the same on a wire with no fuse", WireResult{Open: []Source{{Device: "alt", Most: 70}}}, Short{Met: true, Fuses: fuses, Limited: true, On: &Onward{Met: true}}, &ShortHeat{Met: true}, "[]"},
		{"the same with a fuse still before it", WireResult{By: by, Open: []Source{{Device: "alt", Most: 70}}}, Short{Met: true, Fuses: fuses, Limited: true, On: &Onward{Met: true, Fuses: fuses}}, &ShortHeat{Met: true}, "[]"},
		{"the same with no open source", WireResult{By: by}, Short{Met: true, Fuses: fuses, Limited: true, On: &Onward{Met: true}}, &ShortHeat{Met: true}, "[]"},
		{"the same with a source of no limit besides", WireResult{By: by, Open: []Source{{Device: "alt", Most: 70}, {Device: "bat"}}}, Short{Met: true, Fuses: fuses, Limited: true, On: &Onward{Met: true}}, &ShortHeat{Met: true}, "[]"},
		{"the same where nothing is at its limit", WireResult{By: by, Open: []Source{{Device: "alt", Most: 70}}}, Short{Met: true, Fuses: fuses, On: &Onward{Met: true}}, &ShortHeat{Met: true}, "[]"},
		{"the same where nothing goes on", WireResult{By: by, Open: []Source{{Device: "alt", Most: 70}}}, Short{Met: true, Fuses: fuses, Limited: true}, &ShortHeat{Met: true}, "[]"},
		{"a loop too weak", WireResult{By: by}, Short{Fuses: fuses, Wires: []int{9, 3}}, &ShortHeat{Met: true}, "[{3 short too weak true} {9 short too weak true}]"},
		{"a loop too weak with its own wire too thin", WireResult{By: by}, Short{Fuses: fuses, Wires: []int{9, 7, 3}}, &ShortHeat{}, "[{3 short too weak true} {7 short false} {9 short too weak true}]"},
		{"what goes on is too weak", WireResult{By: by}, Short{Fuses: fuses, Wires: []int{9, 3}, On: &Onward{Fuses: fuses, Wires: []int{4}}}, &ShortHeat{Met: true}, "[{4 short too weak true}]"},
	} {
		other := Short{Met: true} // index 0 is another one's
		c.w.Wire = 7
		if c.w.Short = c.heat; c.heat != nil {
			c.heat.Short = 1
		}
		r := Result{Wires: []WireResult{{Wire: 2}, c.w}, Shorts: []Short{other, c.s}}
		if got := fmt.Sprint(r.Needs()); got != c.want && !(got == "[]" && c.want == "[]") {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
