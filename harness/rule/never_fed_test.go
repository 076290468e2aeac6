package rule_test

import (
	"strings"
	"testing"

	"loomsheet/harness/rule"
)

// A load under which its supply breaks down is not told to lie in the dark; one that nothing reaches in any case is.
func TestNeverFedOrOverwhelmed(t *testing.T) {
	far := strings.Replace(rule.Find("never-fed").Silent, "draw 2 A at", "draw 1000000000 W at", 1)
	for _, tt := range []struct{ name, text, title, detail string }{
		{"resistance", far, "takes more than what feeds it can give, in every case", "It lies between a live plus and a minus. In case on "},
		{"power", strings.Replace(far, "as resistance from", "as power from", 1), "takes more than what feeds it can give, in every case", "It lies between a live plus and a minus. In case on "},
		{"off", rule.Find("never-fed").Fires, "is fed in no case", "In no case does it lie between a live plus and a minus."},
	} {
		found := false
		for _, f := range compile(t, tt.text).Findings {
			if f.Code == "never-fed" {
				found = true
				if !strings.Contains(f.Title, tt.title) || !strings.HasPrefix(f.Detail, tt.detail) {
					t.Errorf("%s: %s. %s", tt.name, f.Title, f.Detail)
				}
			}
		}
		if !found {
			t.Errorf("%s: nothing is said", tt.name)
		}
	}
}
