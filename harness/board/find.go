// Package board lays each section flat on a forming board, in its true lengths.
package board

import (
	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// Board is one section on its board.
type Board struct{}

// Find lays out every section.
func Find(job *design.Job, nt *net.Net, bundles *bundle.Bundles, plan *bench.Plan) []Board {
	return nil
}
