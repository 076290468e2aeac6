package protect

import (
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
)

// Find weighs the protection of a job whose net is sized, solved and heated.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents) *Result {
	return &Result{}
}
