package free_test

import (
	"errors"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/free"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// rig is a job compiled as far as the proof needs it.
type rig struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	temps map[string][]unit.Temperature
	held  *fix.Plan
}

func read(t *testing.T, name string, load func(string) ([]byte, error)) *rig {
	t.Helper()
	job, _, msgs := resolve.Job(name, load, parts.Files(), nil)
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s %s", m.Code, m.Title, m.Detail)
		}
	}
	geo := space.Lay(job)
	o := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
	return &rig{job, o.Net, o.Sizes, o.Heat.Temps, fix.Find(job, o.Net, bundle.Find(job, o.Net, o.Sizes))}
}

func text(t *testing.T, s string) *rig {
	t.Helper()
	return read(t, "job.loom", func(n string) ([]byte, error) {
		if n == "job.loom" {
			return []byte(s), nil
		}
		return nil, errors.New("there is no such file")
	})
}

func (r *rig) proof() *free.Proof { return free.Find(r.job, r.nt, r.sizes, r.temps, r.held) }
