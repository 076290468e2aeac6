package joint_test

import (
	"reflect"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/lang/freeze"
	"loomsheet/lang/trial"
)

// What was chosen is frozen, reads back as it was, and stays where it is although another place has become the better one.
func TestFrozenStays(t *testing.T) {
	text := strings.Replace(lineJob, "circuit feed", "splice s section tub\ncircuit feed", 1)
	text = strings.Replace(text, "from s to a.1, b.1, c.1", "from s to a.1, c.1\n  from s to b.1 size 6 mm2", 1)
	text = strings.Replace(text, "from box.1 to s\n", "from box.1 to s size 6 mm2\n", 1)
	build := func(text string) (*design.Job, *net.Net) {
		job := read(t, text)
		geo := space.Lay(job)
		if out, _ := joint.Place(job, geo); out != job {
			job, geo = out, space.Lay(out)
		}
		return job, net.Build(job, geo, nil)
	}
	job, n := build(text)
	where := put(job, "s")
	lines, count := freeze.Wires(net.Freeze(n, job), job.Revision)
	if count.Splices != 1 || !strings.Contains(string(lines), "seat s along "+strings.Replace(where, job.Splices[0].After.String(), "after "+job.Splices[0].After.String(), 1)+" frozen A\n") {
		t.Fatalf("%s at %s\n%s", "s", where, lines)
	}
	moved := strings.Replace(text, "from box.1 to s size 6 mm2\n", "from box.1 to s size 16 mm2\n", 1)
	if fresh, _ := build(moved); put(fresh, "s") == where {
		t.Fatal("nothing would move it: the test shows nothing")
	}
	job, n = build(moved + string(lines))
	j := n.Joints[0]
	if put(job, "s") != where || j.Status != design.Frozen || j.Run != job.Splices[0].Along || j.To != job.Splices[0].To {
		t.Errorf("%s, was %s; %+v", put(job, "s"), where, j)
	}
	if again, count := freeze.Wires(net.Freeze(n, job), "A"); count.Splices != 0 {
		t.Errorf("frozen twice:\n%s", again)
	}
}

// TestLaidAsPlaced: the ways that come with the places are those of the job that comes with them.
func TestLaidAsPlaced(t *testing.T) {
	for _, text := range []string{trial.Text(2, 150), trial.Text(5, 60)} {
		job := read(t, text)
		out, geo, places := joint.Lay(job)
		want, chosen := joint.Place(job, space.Lay(job))
		if !reflect.DeepEqual(out, want) || !reflect.DeepEqual(places, chosen) || !reflect.DeepEqual(geo, space.Lay(out)) || len(places.Chosen) == 0 {
			t.Errorf("%d places, other ways than those of the job", len(places.Chosen))
		}
	}
}
