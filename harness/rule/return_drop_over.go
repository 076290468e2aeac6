package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var returnDropOver = &Rule{
	Key: "return-drop-over", Title: "a load loses too many volts on its return", Severity: diag.Finding,
	Why:     "A poor earth is the commonest fault and the last one looked for.",
	Formula: "drop from the load to the supply's minus, steady <= return-drop",
	Source:  "the setting `return-drop`; starter circuits: 0.3 V as an instrument maker prints it",
	Do:      "Take the return thicker or shorter, or add a second earth.",
	Fires:   smallJob + "set return-drop to 5 mV\nset size-most to 2.5 mm2\n",
	Silent:  smallJob + "set return-drop to 0.3 V\n",
	Check: voltsRule("return-drop", false, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s loses %s on its return, at most %s", l.Device, k.Got, k.Value)
	}),
}
