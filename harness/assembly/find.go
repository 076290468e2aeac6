// Package assembly solves in which order things are put on each end of each wire and bundle: what must be slid on before the next act.
package assembly

import (
	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
)

// Plan is the order of assembly of every section.
type Plan struct{}

// Find solves every end.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, bundles *bundle.Bundles, plan *bench.Plan) *Plan {
	return &Plan{}
}
