package fix_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func facts(t testing.TB, name string, load func(string) ([]byte, error)) *design.Job {
	t.Helper()
	job, _, msgs := resolve.Job(name, load, parts.Files(), nil)
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("the job has a mistake: %s: %s %s", m.Code, m.Title, m.Detail)
		}
	}
	return job
}

// text makes the facts of a job out of text.
func text(t testing.TB, s string) *design.Job {
	t.Helper()
	return facts(t, "job.loom", func(name string) ([]byte, error) {
		if name == "job.loom" {
			return []byte(s), nil
		}
		return nil, errors.New("there is no such file")
	})
}

func example(t testing.TB, file string) *design.Job {
	t.Helper()
	dir := filepath.Join("..", "..", "examples", filepath.Dir(file))
	return facts(t, filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) })
}

// laid runs the stages up to the bundles.
func laid(job *design.Job) (*net.Net, *bundle.Bundles) {
	at := space.Lay(job)
	o := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, at, h) })
	return o.Net, bundle.Find(job, o.Net, o.Sizes)
}

func held(job *design.Job) *fix.Plan {
	nt, b := laid(job)
	return fix.Find(job, nt, b)
}
