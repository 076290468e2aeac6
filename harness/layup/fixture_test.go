package layup_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// laid is a job up to its lay-up.
type laid struct {
	job     *design.Job
	net     *net.Net
	sizes   size.Sizes
	bundles *bundle.Bundles
	plan    *layup.Plan
}

// lay compiles a job that was read, as far as the lay-up.
func lay(t testing.TB, job *design.Job) *laid {
	geo := space.Lay(job)
	l := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
	b := bundle.Find(job, l.Net, l.Sizes)
	begin := time.Now()
	p := layup.Find(job, l.Net, l.Sizes, b)
	t.Logf("laid up in %v", time.Since(begin).Round(time.Millisecond))
	return &laid{job, l.Net, l.Sizes, b, p}
}

// compiled is the job of a file, its includes beside it.
func compiled(t testing.TB, file string) *laid {
	t.Helper()
	load := func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(filepath.Dir(file), name)) }
	job, _, said := resolve.Job(filepath.Base(file), load, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	return lay(t, job)
}
