package main

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
)

// TestVerdictNamesWhatWasNotRun: the last line names the checks that were not run, and no others.
func TestVerdictNamesWhatWasNotRun(t *testing.T) {
	j := &job{Result: harness.Compile(&design.Job{})}
	if v := j.verdict(); strings.Contains(v, "Not checked") {
		t.Error(v)
	}
	defer func(all []*rule.Rule) { rule.All = all }(rule.All)
	rule.All = append(slices.Clone(rule.All), &rule.Rule{Key: "wind-loose", Title: "a wire flaps", Severity: diag.Finding, NotRun: "look at it in the wind"})
	if v := j.verdict(); !strings.HasSuffix(v, "\nNot checked: wind-loose.") {
		t.Error(v)
	}
}
