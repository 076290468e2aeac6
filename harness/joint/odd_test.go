package joint_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"loomsheet/harness/design"
	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Jobs that are odd, and jobs that are large: each has an answer within seconds, and what was put somewhere is somewhere.
func TestOddJobs(t *testing.T) {
	splice := func(more ...string) string {
		return strings.NewReplacer(more...).Replace(strings.Replace(lineJob, "circuit feed", "splice s section tub\ncircuit feed", 1))
	}
	many := "splice m[1..40] section tub\n"
	for k := range 40 {
		many += strings.ReplaceAll("circuit cK from box.1 to mK to a.1, b.1 size 1 mm2\n", "K", string(rune('0'+k/10))+string(rune('0'+k%10)))
	}
	for k := range 10 {
		many = strings.ReplaceAll(many, "m0"+string(rune('0'+k)), "m"+string(rune('0'+k)))
	}
	many = strings.Replace(many, "m[1..40]", "m[0..39]", 1)
	for name, c := range map[string]struct {
		text    string
		nowhere bool
	}{
		"no runs":              {splice("run line from box to p1 to p2 to a section tub zone cabin\n", "", "run twigs section tub zone cabin {\n  from p1 to b\n  from p2 to c\n}\n", ""), true},
		"measured by string":   {splice("to a section tub zone cabin\n", "to a section tub zone cabin length 2000 mm slack 100 mm\n"), false},
		"a run of a kilometre": {splice("device a at (1000, 0, 0 mm)", "device a at (990000, 0, 0 mm)"), false},
		"no room anywhere":     {splice("splice s ", "set splice-clear to 5 m\nsplice s "), false},
		"all of it moves":      {splice("to a section tub zone cabin\n", "to a section tub zone cabin moves 5 mm\n", "from p1 to b", "from p1 to b moves 5 mm", "from p2 to c", "from p2 to c moves 5 mm"), false},
		"nothing ends in it":   {splice("from box.1 to s\n  from s to a.1, b.1, c.1", "from box.1 to a.1"), true},
		"two that only meet":   {splice("from box.1 to s\n  from s to a.1, b.1, c.1", "from s to u", "splice s ", "splice u section tub\nsplice s "), false},
		"a loop":               {splice("from s to a.1, b.1, c.1", "from s to a.1\n  from s to u parallel 3\n  from u to s\n  from u to b.1", "splice s ", "splice u section tub\nsplice s "), false},
		"forty of them":        {splice("splice s ", many+"splice s "), false},
		"close":                {splice("splice s ", "set splice-school to close\nsplice s "), false},
		"zero limits":          {splice("splice s ", "set splice-clear to 0 mm\nset splice-off to 0 mm\nset splice-room to 0 mm\nset splice-apart to 0 mm\nset clip-splice to 0 mm\nset splice-detour to 0 mm\nsplice s "), false},
	} {
		job := read(t, c.text)
		start := time.Now()
		geo := space.Lay(job)
		out, places := joint.Place(job, geo)
		if d := time.Since(start); d > 20*time.Second {
			t.Errorf("%s: %s", name, d)
		}
		lay := space.Lay(out)
		nt := net.Build(out, lay, nil)
		for _, p := range places.Chosen {
			if p.Nowhere != c.nowhere {
				t.Errorf("%s: %+v", name, p)
			}
			if math.IsNaN(float64(p.Copper)) || p.Copper < 0 || p.Over < 0 || !unit.Finite(p.After) {
				t.Errorf("%s: %+v", name, p)
			}
			if !p.Nowhere && lay.Find(p.Splice) < 0 {
				t.Errorf("%s: %s is at no node: %+v", name, p.Splice, p)
			}
		}
		joint.Judge(out, nt, nil, nil, places)
	}
}

// Facts that no text can make change nothing but the answer.
func TestWildFacts(t *testing.T) {
	nan, inf := unit.Length(math.NaN()), unit.Length(math.Inf(1))
	for _, x := range []unit.Length{nan, inf, -1, 1e300} {
		job := read(t, strings.Replace(lineJob, "circuit feed", "splice s section tub\ncircuit feed", 1))
		job.Parts.Barrels = []*design.Barrel{{Part: design.Part{Name: "x"}, Length: x, Outside: x, Strip: x, Most: unit.Area(x)}}
		job.Splices[0].Barrel = "x"
		job.Runs[0].Stretches[0].Moves = x
		job.Runs[0].Stretches[0].Slack = x
		job.Fixings = []*design.Fixing{{Name: "f", Run: "line", After: x}}
		for i := range job.Circuits[0].Links {
			job.Circuits[0].Links[i].Size = unit.Size{}
			job.Circuits[0].Links[i].Carries = design.Fact[unit.Current]{Spread: unit.Spread[unit.Current]{Nominal: unit.Current(x)}, Given: true}
		}
		geo := space.Lay(job)
		out, places := joint.Place(job, geo)
		nt := net.Build(out, space.Lay(out), nil)
		joint.Judge(out, nt, nil, nil, places)
		joint.Judge(out, &net.Net{Joints: nt.Joints, Wires: nt.Wires}, nil, nil, nil)
	}
	if out, p := joint.Place(&design.Job{}, &space.Geometry{}); out == nil || p == nil {
		t.Error("nothing for nothing")
	}
}
