package token

import (
	"strings"
	"testing"
)

// Names that look the same on paper look the same, and of each pair the odd letter is told.
func TestLooks(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		same bool
		odd  string // of b
	}{
		{"lafit", "laﬁt", true, "`ﬁ` (U+FB01), which is not the `fi` it looks like"},
		{"lamp", "lаmp", true, "`а` (U+0430), which is not the `a` it looks like"},
		{"lamp", "ｌamp", true, "`ｌ` (U+FF4C), which is not the `l` it looks like"},
		{"mass", "maſs", true, "`ſ` (U+017F), which is not the `s` it looks like"},
		{"lampijs", "lampĳs", true, "`ĳ` (U+0133), which is not the `ij` it looks like"},
		{"μ", "µ", true, "`µ` (U+00B5), which is not the `μ` it looks like"},
		{"café", "cafe\u0301", true, ""},
		{"café", "cаfe\u0301", true, "`а` (U+0430), which is not the `a` it looks like"},
		{"lafit", "lafitt", false, ""},
		{"pump", "pünp", false, ""},
		{"größe", "große", false, ""},
	} {
		if got := Looks(tt.a) == Looks(tt.b); got != tt.same {
			t.Errorf("%q and %q look the same: %v", tt.a, tt.b, got)
		}
		if got := Odd(tt.b); got != tt.odd {
			t.Errorf("%q is odd by %q, want %q", tt.b, got, tt.odd)
		}
		if again := Looks(Looks(tt.b)); again != Looks(tt.b) {
			t.Errorf("%q looks like %q, and that like %q", tt.b, Looks(tt.b), again)
		}
	}
	if long := strings.Repeat("ﬃ", 5000); Looks(long) != strings.Repeat("ffi", 5000) {
		t.Error("a long one is cut")
	}
}
