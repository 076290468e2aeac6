package render

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestBookNames(t *testing.T) {
	long := strings.Repeat("a", 300)
	for _, c := range []struct {
		in   []string
		want []string // patterns
	}{
		{[]string{"engine", "corner-fl", "b_2"}, []string{"engine", "corner-fl", "b_2"}},
		{[]string{"a/b", "a-b", "a_b"}, []string{"a_b-[0-9a-f]{8}", "a-b", "a_b-[0-9a-f]{8}"}},
		{[]string{"Engine", "engine"}, []string{"Engine-[0-9a-f]{8}", "engine-[0-9a-f]{8}"}},
		{[]string{"../../x", "/etc/x"}, []string{"______x-[0-9a-f]{8}", "_etc_x-[0-9a-f]{8}"}},
		{[]string{"tür", "tu\u0308r"}, []string{"t_r-[0-9a-f]{8}", "tu_r-[0-9a-f]{8}"}},
		{[]string{long, long + "b"}, []string{"a{80}-[0-9a-f]{8}", "a{80}-[0-9a-f]{8}"}},
		// c14cddc0 is the beginning of the SHA-256 of a/b: the third section tries to take the first one's file.
		{[]string{"a/b", "x", "a_b-c14cddc0"}, []string{"a_b-c14cddc033f64b9d", "x", "a_b-c14cddc0"}},
	} {
		got := bookNames(c.in)
		for i := range got {
			if !regexp.MustCompile("^" + c.want[i] + "$").MatchString(got[i]) {
				t.Errorf("%.40q is spelt %q, want %s", c.in[i], got[i], c.want[i])
			}
		}
	}
}

func TestBookNamesAreUnique(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sections := rapid.SliceOfDistinct(rapid.StringMatching(`[abA/ä.\\:]{1,4}|[a-c]{78,84}`), rapid.ID[string]).Draw(t, "sections")
		names := bookNames(sections)
		seen := map[string]bool{}
		for _, n := range names {
			if seen[strings.ToLower(n)] || strings.Trim(n, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") != "" || n == "" || len(n) > 150 {
				t.Fatalf("%q among %q", n, names)
			}
			seen[strings.ToLower(n)] = true
		}
		slices.Reverse(sections)
		again := bookNames(sections)
		slices.Reverse(again)
		if !slices.Equal(again, names) {
			t.Fatalf("%q, backwards %q", names, again)
		}
	})
}
