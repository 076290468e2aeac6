package main

import (
	"slices"
	"testing"

	"loomsheet/harness/rule"
	"loomsheet/lang/resolve"
)

// TestCodesOnce holds mistakes of the text and findings apart: one word means one thing.
func TestCodesOnce(t *testing.T) {
	text := resolve.AllCodes()
	for _, k := range rule.Keys() {
		if slices.Contains(text, k) {
			t.Errorf("%s is a mistake and a finding", k)
		}
	}
}
