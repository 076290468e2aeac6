package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var relayAgainst = &Rule{
	Key: "relay-against", Title: "a relay stands as its coil cannot hold it", Severity: diag.Finding,
	Why:     "A case that states a relay's position overrides the physics; on the road the coil decides.",
	Formula: "stated on: coil volts >= pull-in (held: >= drop-out); stated off: coil volts < pull-in",
	Source:  "the relay's own pull-in and drop-out volts",
	Do:      "Take the `set` out of the case, or complete the coil's feed.",
	Fires:   with(relayJob, "case on { supply battery }", "case on {\n  supply battery\n  set relay to off\n}"),
	Silent:  relayJob,
	Check: relays(func(c *solve.CaseResult, r *solve.RelayResult) string {
		return "case " + c.Case + " sets " + r.Device + ", and its coil disagrees"
	}, func(r *solve.RelayResult) bool { return r.Against }),
}
