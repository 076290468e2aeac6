package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var relayHunts = &Rule{
	Key: "relay-hunts", Title: "a relay finds no rest", Severity: diag.Finding,
	Why:     "A relay that opens its own feed when it pulls in chatters until its contact welds.",
	Formula: "neither on nor off agrees with the coil's volts",
	Source:  "the relay's own pull-in and drop-out volts",
	Do:      "Feed the coil from before its own contact, or look at the drop on its feed.",
	Fires: with(relayJob, "  state on joins 30, 87 resistance 3 mohm\n  unused 87a\n", "  state off joins 30, 87a resistance 3 mohm\n  state on joins 30, 87 resistance 3 mohm\n",
		"circuit coil-feed from battery.pos to relay.86 colour red", "circuit coil-feed from relay.87a to relay.86 colour red"),
	Silent: relayJob,
	Check: relays(func(c *solve.CaseResult, r *solve.RelayResult) string {
		return r.Device + " finds no rest in case " + c.Case
	}, func(r *solve.RelayResult) bool { return r.Hunts }),
}
