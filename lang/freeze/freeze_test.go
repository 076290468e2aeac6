package freeze

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func TestWords(t *testing.T) {
	text, n, stated, _ := Holes([]shell.Decision{
		{Name: "tunnel-3", At: design.Point3{X: 1900, Y: 60, Z: 250}, Panel: "floor", Drill: 7.1, Fastener: "rivet-nut-m5", Note: "for clip tunnel-3", Revision: "C"},
		{Name: "kept", Old: true, Revision: "A"},
		{Name: "own", Stated: true, Revision: "C"},
		{Name: "T", At: design.Point3{X: 2620, Y: -60.25, Z: 320}, Panel: "bulkhead", Drill: 84, High: 36, Note: "for break T", Revision: "C"},
		{Name: "loom-2", At: design.Point3{X: -0.0001}, Fastener: "weld-stud-m5", Revision: "C"},
	}, "C")
	want := `# frozen at revision C: holes and studs from now on
hole tunnel-3 at (1900, 60, 250 mm) panel floor drill 7.1 mm fastener rivet-nut-m5 frozen C note "for clip tunnel-3"
hole T at (2620, -60.25, 320 mm) panel bulkhead drill 84 mm, 36 mm frozen C note "for break T"
hole loom-2 at (0, 0, 0 mm) fastener weld-stud-m5 frozen C
`
	if string(text) != want || n.Holes != 3 || n.All() != 3 || len(stated) != 1 || stated[0] != "own" {
		t.Errorf("%d, %v\n%s", n, stated, text)
	}
	if text, n, _, _ := Holes([]shell.Decision{{Name: "kept", Old: true}}, "C"); len(text) > 0 || n.All() > 0 {
		t.Errorf("nothing is new: %q", text)
	}
	text, n = Wires([]net.Decision{{Break: "A", Cavity: "3", Circuit: "feed", From: "a.1", To: "b.1", Revision: "B"}, {Label: "F", Circuit: "feed", From: "a.1", To: "b.1", Revision: "B"}, {Old: true},
		{Splice: "s-a", Along: "loom", Until: "hub", After: 120, Revision: "B"}, {Splice: "s-b", Along: "loom", After: 40, Revision: "B"}}, "B")
	want = `# frozen at revision B: copper from now on
cavity A.3 circuit feed from a.1 to b.1 frozen B
label "F" circuit feed from a.1 to b.1 frozen B
seat s-a along loom to hub after 120 mm frozen B
seat s-b along loom after 40 mm frozen B
`
	if string(text) != want || n != (Count{Cavities: 1, Labels: 1, Splices: 2}) {
		t.Errorf("%+v\n%s", n, text)
	}
}

// What is written reads back as it was, to the micrometre, also where the panel and the part are no longer declared.
func TestReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string, from, to float64) unit.Length {
			return unit.Length(rapid.Float64Range(from, to).Draw(t, name))
		}
		var want []shell.Decision
		for i := range rapid.IntRange(1, 12).Draw(t, "holes") {
			d := shell.Decision{Name: fmt.Sprintf("h-%d", i), At: design.Point3{X: length("x", -9000, 9000), Y: length("y", -3000, 3000), Z: length("z", -10, 3000)}, Revision: "B",
				Panel:    rapid.SampledFrom([]string{"", "floor", "gone"}).Draw(t, "panel"),
				Fastener: rapid.SampledFrom([]string{"", "rivet-nut-m5", "weld-stud-m5", "gone"}).Draw(t, "fastener"),
				Note:     rapid.SampledFrom([]string{"", "for clip tunnel-3"}).Draw(t, "note")}
			if rapid.Bool().Draw(t, "drilled") {
				d.Drill = length("drill", 1, 90)
				if rapid.Bool().Draw(t, "rectangular") {
					d.High = length("high", 1, 90)
				}
			}
			want = append(want, d)
		}
		text, n, _, _ := Holes(want, "B")
		job := "harness \"H\" revision C\nzone z air 40 C\npanel floor thickness 1 mm zone z, z corners (0, 0, 0 mm), (1, 0, 0 mm), (0, 1, 0 mm)\n" + string(text)
		j, _, msgs := resolve.Job("job.loom", func(string) ([]byte, error) { return []byte(job), nil }, parts.Files(), nil)
		if len(msgs) > 0 || n.Holes != len(want) || len(j.Holes) != len(want) {
			t.Fatalf("%v\n%s", msgs, job)
		}
		// Half way is told from nine digits, which of 9000 mm is 5e-6 mm.
		near := func(a, b unit.Length) bool { return math.Abs(float64(a-b)) <= 0.0005+5e-6+1e-9 }
		at := map[string]*design.Hole{}
		for _, h := range j.Holes {
			at[h.Name] = h
		}
		for _, d := range want {
			h := at[d.Name]
			if h == nil || !h.Known || !near(h.At.X, d.At.X) || !near(h.At.Y, d.At.Y) || !near(h.At.Z, d.At.Z) || !near(h.Drill, d.Drill) || !near(h.High, d.High) ||
				h.Panel != d.Panel || h.Fastener != d.Fastener || h.Frozen != "B" || h.Note != d.Note {
				t.Fatalf("%+v became %+v", d, h)
			}
		}
	})
}

// A hole that is not frozen must name what there is.
func TestUnfrozenIsChecked(t *testing.T) {
	job := "harness \"H\" revision C\nhole a at (0, 0, 0 mm) panel gone\nhole b at (0, 0, 0 mm) fastener gone\n"
	_, _, msgs := resolve.Job("job.loom", func(string) ([]byte, error) { return []byte(job), nil }, parts.Files(), nil)
	var codes []string
	for _, m := range msgs {
		codes = append(codes, m.Code)
	}
	if s := strings.Join(codes, " "); s != "no-such-panel no-such-fastener" {
		t.Error(s)
	}
}

// What a painted body has not is not written, whether a line states it or not; a line that says frozen stays.
func TestLateIsNotFrozen(t *testing.T) {
	text, n, stated, late := Holes([]shell.Decision{{Name: "a", Drill: 6, Revision: "B", Late: true}, {Name: "b", Drill: 6, Revision: "B", Late: true, Stated: true}, {Name: "c", Drill: 6, Revision: "C", Late: true, Old: true}, {Name: "d", Drill: 6, Revision: "A"}}, "B")
	if n.Holes != 1 || !strings.Contains(string(text), "hole d at") || strings.Contains(string(text), "hole a") || len(stated) != 0 || strings.Join(late, " ") != "a b" {
		t.Errorf("%s %+v %v %v", text, n, stated, late)
	}
}
