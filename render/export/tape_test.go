package export

import (
	"slices"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// A stretch measured by string tells its length with date and slack, and what its coordinates give.
func TestStringOfARun(t *testing.T) {
	spot := func(node string, x unit.Length) design.Spot {
		return design.Spot{Node: node, Known: true, At: design.Point3{X: x}}
	}
	job := &design.Job{Runs: []*design.Run{{Name: "r", Stretches: []design.Stretch{
		{Nodes: []design.Spot{spot("a", 0), spot("b", 1000)}, Length: design.Fact[unit.Length]{Spread: unit.Exactly(unit.Length(1020)), Given: true}, Slack: 30, Date: "2026-03-04"},
		{Nodes: []design.Spot{spot("b", 1000), spot("c", 1500)}, Slack: 5}}}}}
	geo := space.Lay(job)
	in := Input{Result: &harness.Result{Job: job, Net: &net.Net{Space: geo}, Fixed: &fix.Plan{Runs: []fix.RunPlan{{Run: "r", Length: 1020}, {Run: "r", Stretch: 1, Length: 500}}}, Shell: &shell.Shell{}}}
	in.Result.Space = geo
	d := &Doc{Runs: runs(in)}
	if r := d.Runs[0]; r.StringMM != Num(1020) || r.StringDate != "2026-03-04" || r.SlackMM != Num(30) || r.CoordinatesMM != Num(1000) {
		t.Errorf("by string: %+v", r)
	}
	if r := d.Runs[1]; r.StringMM != 0 || r.StringDate != "" || r.SlackMM != Num(5) || r.CoordinatesMM != Num(500) {
		t.Errorf("not measured: %+v", r)
	}
	for _, x := range d.runTables() {
		if x.Name == "runs" && (!slices.Contains(x.Rows[0], "2026-03-04") || len(x.Rows[0]) != len(x.Head)) {
			t.Errorf("the table does not hold the date: %v", x.Rows[0])
		}
	}
}
