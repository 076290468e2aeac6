package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
)

var dropOver = &Rule{
	Key: "drop-over", Title: "a load loses too many volts on its way", Severity: diag.Finding,
	Why:     "Lamps go dim and pumps slow long before a wire gets warm; on a long run the volts decide the size.",
	Formula: "drop on feed + drop on return, out and back, steady <= drop (a share of drop-of, or volts)",
	Source:  "ABYC E-11: 3 % for what is critical, 10 % for the rest; AC 43.13-1B Table 11-6; the setting `drop`",
	Do:      "Let the size be auto, take the stated one larger, shorten the way, or give the load a feed of its own.",
	Fires:   with(smallJob, "draw 2 A at 12 V", "draw 7 A at 12 V", "to lamp.1 colour red", "to lamp.1 size 0.5 mm2", "to lamp.2 colour black", "to lamp.2 size 0.5 mm2", "case on", "set drop to 3 %\ncase on"),
	Silent:  with(smallJob, "case on", "set drop to 3 %\ncase on"),
	Check: voltsRule("drop", false, func(l *solve.LoadResult, k *fit.Limit) string {
		return fmt.Sprintf("%s loses %s on its way, at most %s", l.Device, k.Got, k.Value)
	}),
}
