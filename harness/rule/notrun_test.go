package rule_test

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
)

// TestNotRun: a check that a reviewer would look for and that is not run keeps every job "not for build", and who accepts its findings is told.
func TestNotRun(t *testing.T) {
	if m := rule.Missing(); len(m) != 0 {
		t.Fatalf("%s is not run", m[0].Key)
	}
	quiet := compile(t, rule.Find("not-free").Silent)
	if why := quiet.NotForBuild(); len(why) != 0 {
		t.Errorf("every check is run and met, and yet %v", why)
	}
	defer func(all []*rule.Rule) { rule.All = all }(rule.All)
	rule.All = append(slices.Clone(rule.All), &rule.Rule{Key: "wind-loose", Title: "a wire flaps", Severity: diag.Finding, NotRun: "look at it in the wind"})
	if m := rule.Missing(); len(m) != 1 || m[0].Key != "wind-loose" {
		t.Errorf("%v", m)
	}
	r := compile(t, rule.Find("not-free").Silent+`accept wind-loose run front reason "no wind" by "checker 1" until D`+"\n")
	if why := strings.Join(r.NotForBuild(), "; "); why != "1 check is not run (listed in the review book)" {
		t.Errorf("%q", why)
	}
	if len(r.Findings) != 1 || r.Findings[0].Title != "wind-loose is accepted, but that check is not run yet" || r.Findings[0].Detail != "look at it in the wind" {
		t.Errorf("%+v", r.Findings)
	}
}
