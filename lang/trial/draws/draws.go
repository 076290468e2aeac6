// Package draws is imported by tests that try random values: unless told otherwise they draw the same ones on every run, so that a check of the whole
// fails for what was changed and for nothing else. LOOMSHEET_DRAWS=new draws others on each run, and -rapid.seed says which.
package draws

import (
	"flag"
	"os"

	_ "pgregory.net/rapid" // defines the flag
)

func init() {
	if os.Getenv("LOOMSHEET_DRAWS") != "new" {
		if err := flag.Set("rapid.seed", "1"); err != nil {
			panic(err)
		}
	}
}
