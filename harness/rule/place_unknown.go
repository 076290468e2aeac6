package rule

import (
	"loomsheet/harness/diag"
)

var placeUnknown = &Rule{
	Key: "place-unknown", Title: "a run passes a place whose position is not known", Severity: diag.Finding,
	Why:     "Without coordinates and without a measured length a run has no length, and every wire in it is cut wrong.",
	Formula: "each node of a run has coordinates, or its stretch a measured length",
	Source:  "common practice",
	Do:      "Give the thing a place with `at`, or measure the stretch with a string and write `length`.",
	Fires:   with(smallJob, "device lamp at (1000, 0, 0 mm) housing", "device lamp housing"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		for _, u := range m.Net.Space.Unplaced {
			out.Finding(u.Span, "", "run "+u.Run+" passes "+u.Node+", which has no place", "Its length cannot be worked out.", diag.Subject{Kind: "run", Name: u.Run})
		}
	},
}
