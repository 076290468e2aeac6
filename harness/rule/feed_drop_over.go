package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var feedDropOver = &Rule{
	Key: "feed-drop-over", Title: "a load loses too many volts on its feed", Severity: diag.Finding,
	Why:     "A workshop measures the plus side by itself, so a limit for it can be met or missed by itself.",
	Formula: "drop from the supply's plus to the load, steady <= feed-drop",
	Source:  "the setting `feed-drop`; starter circuits: 0.5 V as an instrument maker prints it",
	Do:      "Take the feed thicker or shorter.",
	Fires:   smallJob + "set feed-drop to 5 mV\nset size-most to 2.5 mm2\n",
	Silent:  smallJob + "set feed-drop to 0.5 V\n",
	Check: voltsRule("feed-drop", false, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s loses %s on its feed, at most %s", l.Device, k.Got, k.Value)
	}),
}
