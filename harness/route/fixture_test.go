package route

import (
	"fmt"
	"math"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// rig is a job put together by hand.
type rig struct {
	t interface {
		Helper()
		Fatalf(string, ...any)
	}
	job   *design.Job
	geo   *space.Geometry
	wires []net.Wire
	sizes size.Sizes
	held  *fix.Plan
}

func spot(name string, x, y, z float64) design.Spot {
	return design.Spot{Node: name, At: at(x, y, z), Known: true}
}

func at(x, y, z float64) design.Point3 {
	return design.Point3{X: unit.Length(x), Y: unit.Length(y), Z: unit.Length(z)}
}

// newRig lays runs of one stretch each, in a zone named after them.
func newRig(t testing.TB, runs ...*design.Run) *rig {
	r := &rig{t: t, job: &design.Job{Runs: runs}}
	r.lay()
	return r
}

func (r *rig) lay() { r.geo = space.Lay(r.job) }

func run(name string, spots ...design.Spot) *design.Run {
	return &design.Run{Name: name, Zone: "z", Stretches: []design.Stretch{{Nodes: spots}}}
}

func bent(r *design.Run, radius float64) *design.Run {
	r.Bend.Given, r.Bend.Spread = true, unit.Exactly(unit.Length(radius))
	return r
}

// wire lies along nodes that follow one another; both ends are pins of devices named like their nodes.
func (r *rig) wire(outside float64, nodes ...string) *net.Wire {
	r.t.Helper()
	w := net.Wire{Core: -1, Family: "plain"}
	for k, end := range []string{nodes[0], nodes[len(nodes)-1]} {
		w.Ends[k] = net.Termination{Kind: net.InCavity, Device: end, Node: r.geo.Find(end)}
	}
	for i := 1; i < len(nodes); i++ {
		a, b := r.geo.Find(nodes[i-1]), r.geo.Find(nodes[i])
		found := false
		for e := range r.geo.Edges {
			x := &r.geo.Edges[e]
			if !found && (x.From == a && x.To == b || x.From == b && x.To == a) {
				w.Path, found = append(w.Path, net.Step{Edge: e, Reverse: x.From == b}), true
			}
		}
		if !found {
			r.t.Fatalf("no edge from %s to %s", nodes[i-1], nodes[i])
		}
	}
	r.wires = append(r.wires, w)
	r.sizes = append(r.sizes, size.Conductor{Outside: unit.Length(outside)})
	return &r.wires[len(r.wires)-1]
}

func (r *rig) find() *Result {
	nt := &net.Net{Space: r.geo, Wires: r.wires}
	return Find(r.job, nt, bundle.Find(r.job, nt, r.sizes), r.held)
}

func near(a, b unit.Length) bool { return math.Abs(float64(a-b)) < 0.01 }

func (r *rig) set(name, value string) {
	q, err := unit.Parse(value)
	if err != nil {
		r.t.Fatalf("%s: %v", value, err)
	}
	r.job.Settings.Lines = append(r.job.Settings.Lines, design.Setting{Name: name, Value: design.SettingValue{Quantity: q}})
}

func text(list any) string { return fmt.Sprintf("%+v", list) }
