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
	"loomsheet/harness/unit"
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

// The two whole jobs: every rule is met, with about as many clips as a person would use, and the holes of the answer are enough for the next one.
func TestWholeJobs(t *testing.T) {
	for _, file := range []string{"car/rook.loom", "boat/tern.loom"} {
		job := example(t, file)
		nt, b := laid(job)
		p := fix.Find(job, nt, b)
		n, marks := 0, map[string]bool{}
		for _, r := range p.Runs {
			for i, c := range r.Clips {
				n++
				if marks[c.Mark] || c.Mark == "" {
					t.Errorf("%s: mark %q twice", file, c.Mark)
				}
				marks[c.Mark] = true
				if c.ClipSize < c.Bundle || c.Bundle <= 0 || c.Kind == "" || c.KindWhy == "" || c.ClipWhy == "" {
					t.Errorf("%s: %+v", file, c)
				}
				if i > 0 && c.After-r.Clips[i-1].After < 20 {
					t.Errorf("%s: %s and %s stand %s apart", file, r.Clips[i-1].Mark, c.Mark, c.After-r.Clips[i-1].After)
				}
			}
		}
		if len(p.Misses) > 0 {
			t.Errorf("%s: %+v", file, p.Misses)
		}
		var laden unit.Length
		for _, r := range p.Runs {
			if r.Wires > 0 {
				laden += r.Length
			}
		}
		if each := laden / unit.Length(n); each < 120 || each > 300 {
			t.Errorf("%s: %d clips, one each %s", file, n, each)
		}
		// As in the property test, without holes that two ways share.
		job.Settings.Lines = append(job.Settings.Lines, design.Setting{Name: "clip-beside", Scope: map[string]string{}})
		p = fix.Find(job, nt, b)
		for _, r := range p.Runs {
			for _, c := range r.Clips {
				if c.NewHole && (c.With == "" || c.Mark < c.With) {
					job.Holes = append(job.Holes, &design.Hole{Name: c.Mark, Spot: design.Spot{Node: "hole " + c.Mark, At: c.HoleAt, Known: c.HoleKnown}, Panel: c.Panel, Drill: c.Drill, Fastener: c.Fastener, Common: design.Common{Frozen: "Z"}})
				}
			}
		}
		for _, f := range job.Fixings {
			f.Frozen = "Z"
		}
		job.Painted = "Z"
		again := fix.Find(job, nt, b)
		for i, r := range again.Runs {
			if len(r.Clips) != len(p.Runs[i].Clips) {
				t.Errorf("%s: run %s has %d clips, had %d", file, r.Run, len(r.Clips), len(p.Runs[i].Clips))
				continue
			}
			for k, c := range r.Clips {
				if old := p.Runs[i].Clips[k]; c.NewHole || c.Mark != old.Mark || c.After != old.After {
					t.Errorf("%s: %s at %s, new %v, was %s at %s", file, c.Mark, c.After, c.NewHole, old.Mark, old.After)
				}
			}
		}
	}
}
