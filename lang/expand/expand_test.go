package expand

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestMembers(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"pump", "pump"},
		{"inj[1..4].1", "inj1.1 inj2.1 inj3.1 inj4.1"},
		{"[1..7 by 2]", "1 3 5 7"},
		{"[1..8 by 3]", "1 4 7"},
		{"[4..1]", "4 3 2 1"},
		{"[7..1 by 3]", "7 4 1"},
		{"[1..7 by 9223372036854775807]", "1"},
		{"[7..1 by 9223372036854775807]", "7"},
		{"[a..c by 9223372036854775807]", "a"},
		{"[1..999999999 by 999999999]", "1"},
		{"coil[1, 3, 4, 2].3", "coil1.3 coil3.3 coil4.3 coil2.3"},
		{"tail-[left, right]", "tail-left tail-right"},
		{"x[1..3, 7, a]", "x1 x2 x3 x7 xa"},
		{"r[a..d]", "ra rb rc rd"},
		{"s[09..11]", "s09 s10 s11"},
		{"[5..5]", "5"},
	} {
		got, _, err := Members(c.text)
		if err != nil || strings.Join(got, " ") != c.want {
			t.Errorf("%s: %v %v", c.text, got, err)
		}
	}
}

func TestMembersRefused(t *testing.T) {
	for text, code := range map[string]string{
		"a[1..4][1..2]": "two-ranges", "a[1..1000000000]": "range-too-long", "a[1..99999999999999999999]": "range-too-long",
		"a[]": "range-unclear", "a[1..]": "range-unclear", "a[x..10]": "range-unclear", "a[1..4 by 0]": "range-unclear", "a]1[": "range-unclear",
		"a[1": "range-unclear", "a[1,,2]": "range-unclear", "a[a..C]": "range-unclear", "a[[1]]": "range-unclear", "a[1..9 by x]": "range-unclear",
		"a[1..9000, 1..9000]": "range-too-long",
	} {
		if _, _, err := Members(text); err == nil || err.Code != code {
			t.Errorf("%s: %v, want %s", text, err, code)
		}
	}
}

// Counting up and counting down give the same members in opposite order, evenly spaced from the first.
func TestMembersCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, by := rapid.IntRange(0, 500).Draw(t, "a"), rapid.IntRange(0, 500).Draw(t, "b"), rapid.IntRange(1, 9).Draw(t, "by")
		got, ranged, err := Members("p[" + strconv.Itoa(a) + ".." + strconv.Itoa(b) + " by " + strconv.Itoa(by) + "].q")
		if err != nil || !ranged {
			t.Fatal(err)
		}
		gap := max(a, b) - min(a, b)
		if len(got) != gap/by+1 || got[0] != "p"+strconv.Itoa(a)+".q" {
			t.Fatalf("%v", got)
		}
		if gap%by == 0 {
			back, _, _ := Members("p[" + strconv.Itoa(b) + ".." + strconv.Itoa(a) + " by " + strconv.Itoa(by) + "].q")
			slices.Reverse(back)
			if !slices.Equal(got, back) {
				t.Fatalf("%v %v", got, back)
			}
		}
	})
}

func TestFill(t *testing.T) {
	val := func(n string) (string, bool) {
		v, ok := map[string]string{"corner": "fl", "n": "3"}[n]
		return v, ok
	}
	for _, c := range []struct{ text, want, unknown string }{
		{"ws-[corner]", "ws-fl", ""},
		{"[corner]-[n].1", "fl-3.1", ""},
		{"ws-[cornr]", "ws-[cornr]", "cornr"},
		{"inj[1..4].[n]", "inj[1..4].3", ""},
		{"a[7]", "a[7]", ""},
		{"plain", "plain", ""},
	} {
		got, unknown := Fill(c.text, val)
		if got != c.want || strings.Join(unknown, " ") != c.unknown {
			t.Errorf("%s: %q %v", c.text, got, unknown)
		}
	}
}

func FuzzMembers(f *testing.F) {
	f.Add("inj[1..4].1")
	f.Add("[a..c, 1..9 by 2]")
	f.Fuzz(func(t *testing.T, text string) {
		got, _, err := Members(text)
		if err == nil && (len(got) == 0 || len(got) > MostMembers) {
			t.Fatalf("%d members", len(got))
		}
	})
}
