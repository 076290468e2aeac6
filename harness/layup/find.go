// Package layup says how the wires of each run lie around one another: concentric layers of alternating hand with their lay length and take-up,
// or flat.
package layup

import (
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
)

// Plan is the lay-up of every edge of a job's geometry.
type Plan struct{}

// Find lays up every run.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, bundles *bundle.Bundles) *Plan {
	return &Plan{}
}
