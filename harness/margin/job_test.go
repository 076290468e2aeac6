package margin_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// read makes the facts of a job out of text.
func read(t testing.TB, text string) *design.Job {
	t.Helper()
	load := func(name string) ([]byte, error) {
		if name == "job.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}
	return facts(t, "job.loom", load)
}

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

func example(t testing.TB, file string) *design.Job {
	t.Helper()
	dir := filepath.Join("..", "..", "examples", filepath.Dir(file))
	return facts(t, filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) })
}

// sized runs the stages up to the outcome of the sizing.
func sized(job *design.Job) *fit.Outcome {
	at := space.Lay(job)
	return fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, at, h) })
}

// caseOf solves the first case of an outcome on another net.
func caseOf(job *design.Job, nt *net.Net, o *fit.Outcome) *solve.CaseResult {
	return solve.Case(job, nt, o.Sizes, o.Heat.Temps[job.Cases[0].Name], job.Cases[0])
}
