package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var voltsLow = &Rule{
	Key: "volts-low", Title: "a load gets too few volts", Severity: diag.Finding,
	Why:     "A control unit resets and an injector stops opening below some volts, whatever the percentage says.",
	Formula: "volts at the load, steady >= least-volts",
	Source:  "the setting `least-volts`",
	Do:      "Feed it from nearer to the supply, take its wires thicker, or lighten what shares its way.",
	Fires:   smallJob + "set least-volts to 12.59 V device lamp\nset size-most to 2.5 mm2\n",
	Silent:  smallJob + "set least-volts to 11 V device lamp\n",
	Check: voltsRule("least-volts", false, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s gets %s, at least %s", l.Device, k.Got, k.Value)
	}),
}
