// Package mate finds connectors that could be plugged into the wrong one, what would meet then, and the fewest changes of key that prevent it.
package mate

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
)

// Result is every pair that could be crossed.
type Result struct{}

// Find looks at every two halves within reach of each other.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult) *Result {
	return &Result{}
}
