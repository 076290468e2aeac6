package fit

import (
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/solve"
)

// Duty takes the loads that work on and off out of a case that was solved again, as the loop does.
func Duty(job *design.Job, c *solve.CaseResult) []heat.DutyStep { return dutyOf(once(job, nil), c) }
