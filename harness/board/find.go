package board

import (
	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// Find lays out every section.
func Find(job *design.Job, nt *net.Net, bundles *bundle.Bundles, plan *bench.Plan) []Board {
	return nil
}
