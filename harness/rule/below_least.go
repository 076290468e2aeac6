package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var belowLeast = &Rule{
	Key: "below-least", Title: "a load gets fewer volts than it works at", Severity: diag.Finding,
	Why:     "The load itself says below which volts it no longer works.",
	Formula: "volts at the load, steady >= its `least`",
	Source:  "the load's own figure",
	Do:      "Feed it from nearer to the supply, take its wires thicker, or lighten what shares its way.",
	Fires:   with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 least 13 V"),
	Silent:  with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 least 9 V"),
	Check: voltsRule("least", false, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s gets %s and works from %s", l.Device, k.Got, k.Value)
	}),
}
