package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var startVoltsLow = &Rule{
	Key: "start-volts-low", Title: "a load gets too few volts while something starts", Severity: diag.Finding,
	Why:     "The first dip of a starter resets a control unit although the steady volts are fine.",
	Formula: "volts at the load while any one device starts, the rest steady >= least-start-volts",
	Source:  "the setting `least-start-volts`; electronics reset near 6.5 to 7 V, common practice",
	Do:      "Feed it from the battery side, lower the resistance that it shares with what starts, or take a stronger battery.",
	Fires:   with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 20 A for 0.1 s") + "set least-start-volts to 12.5 V device lamp\n",
	Silent:  with(smallJob, "as resistance from 1 to 2", "as resistance from 1 to 2 start 20 A for 0.1 s") + "set least-start-volts to 7 V device lamp\n",
	Check: voltsRule("least-start-volts", true, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s gets %s in the dip, at least %s", l.Device, k.Got, k.Value)
	}),
}
