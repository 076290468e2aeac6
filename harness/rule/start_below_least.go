package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var startBelowLeast = &Rule{
	Key: "start-below-least", Title: "a load gets fewer volts than it works at while something starts", Severity: diag.Finding,
	Why:     "A load drops out in the dip that another one's start makes, or cannot start at all by itself.",
	Formula: "volts at the load while any one device starts, itself included, the rest steady >= its `least`",
	Source:  "the load's own figure",
	Do:      "Feed it from nearer to the supply, take its wires thicker, or feed what starts by a way of its own.",
	Fires:   with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 40 A for 0.1 s least 12.2 V"),
	Silent:  with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 20 A for 0.1 s least 9 V"),
	Check: voltsRule("least", true, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s gets %s in the dip and works from %s", l.Device, k.Got, k.Value)
	}),
}
