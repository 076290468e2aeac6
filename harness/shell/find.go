package shell

import (
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
)

// Find gathers the work on the bare body. It changes none of its inputs.
func Find(job *design.Job, nt *net.Net, held *fix.Plan) *Shell {
	m := &maker{job: job, housing: index(job.Parts.Housings, func(x *design.Housing) string { return x.Name }),
		fastener: index(job.Parts.Fasteners, func(x *design.Fastener) string { return x.Name })}
	return &Shell{Holes: m.holes(held.Runs)}
}

type maker struct {
	job      *design.Job
	housing  map[string]*design.Housing
	fastener map[string]*design.Fastener
}

// index looks things up by name; of two with one name the first counts.
func index[T any](list []*T, name func(*T) string) map[string]*T {
	out := make(map[string]*T, len(list))
	for _, x := range list {
		if out[name(x)] == nil {
			out[name(x)] = x
		}
	}
	return out
}

func (m *maker) hole(name string) *design.Hole {
	for _, h := range m.job.Holes {
		if name != "" && h.Name == name {
			return h
		}
	}
	return nil
}

// or is a, or b where a is empty.
func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
