package shell_test

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
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// read makes a job of texts by file name; the first is the job's.
func read(t testing.TB, name string, files map[string]string) *design.Job {
	t.Helper()
	load := func(name string) ([]byte, error) {
		if s, ok := files[name]; ok {
			return []byte(s), nil
		}
		return nil, errors.New("there is no such file")
	}
	job, _, msgs := resolve.Job(name, load, parts.Files(), nil)
	for _, m := range msgs {
		if m.Severity == diag.Mistake && m.Code != "unknown-finding" {
			t.Fatalf("%s: %s %s", m.Code, m.Title, m.Detail)
		}
	}
	return job
}

// stages runs what comes before the shell, with the first choice of sizes.
func stages(job *design.Job) (*net.Net, *fix.Plan) {
	nt := net.Build(job, space.Lay(job), nil)
	held := fix.Find(job, nt, bundle.Find(job, nt, size.Initial(job, nt)))
	return nt, held
}

func find(job *design.Job) *shell.Shell {
	nt, held := stages(job)
	return shell.Find(job, nt, held)
}

func example(t testing.TB, dir, name string) *design.Job {
	t.Helper()
	files := map[string]string{}
	list, err := filepath.Glob(filepath.Join("..", "..", "examples", dir, "*.loom"))
	if err != nil || len(list) == 0 {
		t.Fatal("no example", err)
	}
	for _, f := range list {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		files[filepath.Base(f)] = string(b)
	}
	return read(t, name, files)
}
