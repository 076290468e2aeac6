package reviewbook

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
)

// TestChecksNotRun: a check that is not run stands in the book with what to do instead; where there is none the book says so.
func TestChecksNotRun(t *testing.T) {
	book := func() string {
		doc, err := Make(tractor(same))
		if err != nil {
			t.Fatal(err)
		}
		return flat(doc)
	}
	if s := book(); !strings.Contains(s, "Every check of the catalogue was run.") {
		t.Error("the book does not say that every check was run")
	}
	defer func(all []*rule.Rule) { rule.All = all }(rule.All)
	rule.All = append(slices.Clone(rule.All), &rule.Rule{Key: "wind-loose", Title: "a wire flaps", Severity: diag.Finding, NotRun: "look at it in the wind"})
	if s := book(); !strings.Contains(s, "wind-loose look at it in the wind") || strings.Contains(s, "Every check of the catalogue was run.") {
		t.Error("the book does not name the check that was not run")
	}
}
