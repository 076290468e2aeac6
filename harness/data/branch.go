package data

import "loomsheet/harness/unit"

// BranchRow is by how much a finished branch up to a length may come out longer than planned; it is never shorter.
type BranchRow struct {
	UpTo, Over unit.Length
	Basis      Basis
}

// Branches is IPC/WHMA-A-620, the tolerances where a drawing states none: +25/-0 mm up to 0.3 m and so on. Read in a draft.
var Branches = []BranchRow{
	{300, 25, Verified},
	{1500, 50, Verified},
	{3000, 100, Verified},
	{7500, 150, Verified},
}

// branchShare is for what is longer than the last row.
const branchShare unit.Ratio = 0.05

// BranchOver is the upper tolerance of a finished branch, and never less than that of a shorter one.
func BranchOver(long unit.Length) (over unit.Length, info Info) {
	info = Info{"IPC/WHMA-A-620, a draft", "tolerance where the drawing states none", Verified}
	if !(long > 0) {
		return 0, info
	}
	for _, r := range Branches {
		if long <= r.UpTo {
			return r.Over, info
		}
	}
	return unit.Length(float64(branchShare) * float64(long)), info
}
