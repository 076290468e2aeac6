package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var feedReturnDropOver = &Rule{
	Key: "feed-return-drop-over", Title: "a load loses too many volts on feed and return together", Severity: diag.Finding,
	Why:     "Cranking circuits are judged by what both sides lose together, apart from the percentage for ordinary loads.",
	Formula: "drop on feed + drop on return, out and back, steady <= feed-return-drop",
	Source:  "the setting `feed-return-drop`; starter circuits: 0.8 V as an instrument maker prints it",
	Do:      "Take feed and return thicker, or shorten them.",
	Fires:   smallJob + "set feed-return-drop to 5 mV device lamp\nset size-most to 2.5 mm2\n",
	Silent:  smallJob + "set feed-return-drop to 0.8 V device lamp\n",
	Check: voltsRule("feed-return-drop", false, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s loses %s on feed and return, at most %s", l.Device, k.Got, k.Value)
	}),
}
