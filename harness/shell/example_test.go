package shell_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/lang/freeze"
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

// whole is a job with a trunk on a floor, a branch, a connector with screws through a wall, a bush and an earth stud.
const whole = `harness "Whole" revision B
section body, nose
zone cabin air 40 C
zone below air 30 C
zone bay air 60 C with wet
panel floor thickness 1.5 mm zone cabin, below {
  corners (-100, -200, 0 mm), (1100, -200, 0 mm), (1100, 500, 0 mm), (-100, 500, 0 mm)
}
panel wall thickness 1.5 mm zone cabin, bay seen cabin {
  corners (1100, -200, 0 mm), (1100, 500, 0 mm), (1100, 500, 400 mm), (1100, -200, 400 mm)
}
housing flanged cut-out 40 mm, 30 mm flange 60 mm, 50 mm grips 1 mm, 3 mm source "test" {
  cavity [1..4] takes size-16
  hole a at (24, 19 mm) drill 4.3 mm
  hole b at (-24, -19 mm) drill 4.3 mm
}
point hub at (500, 200, 12 mm)
break P at (1100, 200, 150 mm) panel wall housing flanged {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
run main from battery to hub to (1060, 200, 12 mm) section body zone cabin panel floor
run up from (1060, 200, 12 mm) to P section body zone cabin fastener adhesive-base
run side from hub to lamp section body zone cabin panel floor
run out from P to horn section nose zone bay fastener adhesive-base
device battery at (0, 0, 12 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (900, 400, 12 mm) housing sealed-2 { draw 2 A at 12 V as resistance from 1 to 2 }
device horn at (1500, 200, 150 mm) housing sealed-2 { draw 4 A at 12 V from 1 to 2 }
circuit feed from battery.pos to lamp.1
circuit back from battery.neg to lamp.2
circuit horn-feed from battery.pos to horn.1
circuit horn-back from battery.neg to horn.2
case on { supply battery }
`

// TestFreezePaint freezes a whole job by the language's own words, paints it, and finds the same holes, none of them late or left over.
func TestFreezePaint(t *testing.T) {
	first := find(read(t, "whole.loom", map[string]string{"whole.loom": whole}))
	if len(first.Holes) < 8 || len(first.Late) != 0 {
		t.Fatalf("%v %+v", marks(first), first.Late)
	}
	text, n, stated, _ := freeze.Holes(first.Decisions, "B")
	if len(stated) != 0 || n.Holes == 0 {
		t.Fatalf("%d holes frozen, stated %v", n.Holes, stated)
	}
	painted := strings.Replace(whole, "revision B\n", "revision C painted B\n", 1) + "include \"frozen.loom\"\n"
	second := find(read(t, "whole.loom", map[string]string{"whole.loom": painted, "frozen.loom": string(text)}))
	for _, x := range second.Late {
		t.Errorf("late: %+v", x)
	}
	if len(second.Plugs) != 0 {
		t.Errorf("left over: %+v", second.Plugs)
	}
	was := map[string]shell.Hole{}
	for _, h := range first.Holes {
		was[h.Mark] = h
	}
	for _, h := range second.Holes {
		a, ok := was[h.Mark]
		if !ok || solid.Between(a.At, h.At) > 0.2 || !near(a.Drill, h.Drill) || !near(a.High, h.High) || a.Kind != h.Kind {
			t.Errorf("%s: %+v became %+v", h.Mark, a, h)
		}
	}
	if len(second.Holes) != len(first.Holes) {
		t.Errorf("%v became %v", marks(first), marks(second))
	}
	for _, d := range second.Decisions {
		if !d.Old || d.Revision != "B" {
			t.Errorf("%+v", d)
		}
	}
}
