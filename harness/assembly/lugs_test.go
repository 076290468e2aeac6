package assembly_test

import (
	"fmt"
	"testing"

	"loomsheet/harness/assembly"

	"github.com/google/go-cmp/cmp"
)

// post is a stud with three lugs, on a panel whose far side lies below: two leave towards +x, one towards -x.
const post = `harness "Test" revision A
section s
zone z air 40 C
panel floor thickness 1 mm zone z, z {
  corners (-300, -300, 0 mm), (300, -300, 0 mm), (300, 300, 0 mm), (-300, 300, 0 mm)
}
run east from bar to a section s zone z
run west from bar to b section s zone z
device bar at (0, 0, 0 mm) panel floor { pin m stud M8 panel floor }
device a at (200, 0, 20 mm) housing sealed-3 {
  supply 12 V inside 10 mohm from 1 to 3
  draw 2 A at 12 V from 2 to 3
}
device b at (-200, 0, 20 mm) housing sealed-2 { draw 1 A at 12 V from 1 to 2 }
circuit one from a.1 to bar.m size 1 mm2
circuit two from a.2 to bar.m size 2.5 mm2
circuit three from b.1 to bar.m size 1.5 mm2
circuit back from a.3 to b.2 size 1 mm2
case on { supply a }
`

func lines(s *assembly.Stack) (out []string) {
	for _, l := range s.Lugs {
		out = append(out, fmt.Sprintf("%d %s %s", l.Order, l.Name, l.Size))
	}
	return out
}

func only(t *testing.T, p *assembly.Plan) *assembly.Stack {
	t.Helper()
	if len(p.Stacks) != 1 {
		t.Fatalf("%d stacks", len(p.Stacks))
	}
	return &p.Stacks[0]
}

func TestStack(t *testing.T) {
	s := only(t, compile(t, post).Assembly)
	if d := cmp.Diff([]string{"1 two a.2 - bar.m 2.5 mm2", "2 three b.1 - bar.m 1.5 mm2", "3 one a.1 - bar.m 1 mm2"}, lines(s)); d != "" {
		t.Error(d)
	}
	if s.Title != "stud m of bar" || s.Thread != "M8" || s.Torque != 6 || s.Source == "" || s.Verified || !s.Room || s.Most != 4 || len(s.Wrong) != 0 {
		t.Errorf("%+v", s)
	}
	// Palms are 15 mm on M8. Barrels of 4.1 and 2.8 mm side by side at 7.5 mm: 2 asin(3.45 / 15) = 26.6 degrees. Both leave the same way, so each
	// is turned by half of that; the third leaves against them and stays.
	two, three, one := s.Lugs[0], s.Lugs[1], s.Lugs[2]
	if !two.Turned || two.Clock != 0 || three.Angle != 0 || abs(float64(two.Angle))+abs(float64(one.Angle)) < 26 || abs(float64(two.Angle))+abs(float64(one.Angle)) > 28 || two.Angle*one.Angle > 0 {
		t.Errorf("%v %v %v", two.Angle, three.Angle, one.Angle)
	}
	if d := abs(abs(float64(three.Clock)-180) - 13); d > 1 {
		t.Errorf("clock %v", three.Clock)
	}
}

func abs(x float64) float64 { return max(x, -x) }

func TestStatedOrder(t *testing.T) {
	for _, c := range []struct {
		more  string
		want  []string
		wrong string
	}{
		{"cavity bar.m circuit one order 1\n", []string{"1 one a.1 - bar.m 1 mm2", "2 two a.2 - bar.m 2.5 mm2", "3 three b.1 - bar.m 1.5 mm2"}, "[{size 0 1} {size 0 2}]"},
		{"cavity bar.m circuit one order 3\n", []string{"1 two a.2 - bar.m 2.5 mm2", "2 three b.1 - bar.m 1.5 mm2", "3 one a.1 - bar.m 1 mm2"}, "[]"},
		{"cavity bar.m circuit one order 2\ncavity bar.m circuit two order 2\n", []string{"1 three b.1 - bar.m 1.5 mm2", "2 two a.2 - bar.m 2.5 mm2", "3 one a.1 - bar.m 1 mm2"}, "[{size 0 1} {same 1 2}]"},
		{"set stack to smallest-lowest\n", []string{"1 one a.1 - bar.m 1 mm2", "2 three b.1 - bar.m 1.5 mm2", "3 two a.2 - bar.m 2.5 mm2"}, "[]"},
		{"set stack to smallest-lowest\ncavity bar.m circuit two order 1\n", []string{"1 two a.2 - bar.m 2.5 mm2", "2 one a.1 - bar.m 1 mm2", "3 three b.1 - bar.m 1.5 mm2"}, "[{size 0 1} {size 0 2}]"},
	} {
		s := only(t, compile(t, post+c.more).Assembly)
		if d := cmp.Diff(c.want, lines(s)); d != "" {
			t.Errorf("%s%s", c.more, d)
		}
		if got := fmt.Sprint(s.Wrong); got != c.wrong {
			t.Errorf("%s: %s, want %s", c.more, got, c.wrong)
		}
	}
}

// A stated form of a lug and a stated torque stand.
func TestStatedAngleAndTorque(t *testing.T) {
	s := only(t, compile(t, post+"cavity bar.m circuit one angle 45 deg\n", "stud M8 panel", "stud M8 torque 9 Nm panel").Assembly)
	if l := s.Lugs[2]; !l.Stated || l.Angle != 45 || l.Turned {
		t.Errorf("%+v", l)
	}
	if s.Torque != 9 || s.Source != "" || !s.Verified {
		t.Errorf("%v %q", s.Torque, s.Source)
	}
}
