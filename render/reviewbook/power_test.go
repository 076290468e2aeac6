package reviewbook

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/rule"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render/page"
)

// every calls do for a line and all behind it.
func (l *line) every(do func(*line)) {
	do(l)
	for _, n := range l.next {
		n.every(do)
	}
}

// solved is the cases of a job, sized and heated.
func solved(t *testing.T, file string) []*solve.CaseResult {
	t.Helper()
	dir := filepath.Dir(file)
	job, _, list := resolve.Job(filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }, parts.Files(), rule.Keys())
	if list.HasMistakes() {
		t.Fatalf("%s: %v", file, list)
	}
	r := &harness.Result{Declared: job}
	for _, s := range harness.Stages {
		if s.Run(r); s.Name == "size" {
			break
		}
	}
	return r.Cases
}

// The picture of every case holds each load that is fed, once, and at each branch what comes in goes out.
func TestPowerPictureLosesNothing(t *testing.T) {
	cases := tractor(same).Cases
	for _, file := range []string{"car/rook.loom"} {
		cases = append(cases, solved(t, filepath.Join("..", "..", "examples", file))...)
	}
	branches := 0
	for _, c := range cases {
		p := flow(c)
		seen := map[int]int{}
		for _, root := range p.roots() {
			root.every(func(l *line) {
				for _, i := range l.loads {
					seen[i]++
				}
				if len(l.next) == 0 {
					if l.source < 0 && !l.joins && len(l.loads) == 0 {
						t.Errorf("case %s: a line to %s leads to nothing", c.Case, c.Net.Nodes[l.to])
					}
					return
				}
				branches++
				sum, arrives := 0.0, 0.0
				for _, n := range l.next {
					if n.source >= 0 {
						arrives += float64(n.amps)
					} else {
						sum += float64(n.amps)
					}
				}
				if l.source < 0 {
					for _, i := range p.inflow[l.to] {
						arrives += float64(p.amps(i))
					}
				} else {
					arrives += float64(l.amps)
				}
				slack := float64(leastShown) * float64(len(c.Net.Elements)) / 10
				if math.Abs(sum-arrives) > slack {
					t.Errorf("case %s: %.4f A arrive at %s, %.4f A leave", c.Case, arrives, c.Net.Nodes[l.to], sum)
				}
			})
		}
		n := 0 // loads of the result stand in the order of their elements
		for i, e := range c.Net.Elements {
			if e.Kind != solve.Load && e.Kind != solve.Coil {
				continue
			}
			l := &c.Loads[n]
			n++
			if l.Device != e.Device || l.Index != e.Index || l.Coil != (e.Kind == solve.Coil) {
				t.Fatalf("case %s: %s beside %s", c.Case, e.Name, l.Device)
			}
			if drawn := seen[i]; drawn > 1 || drawn == 0 && l.Fed && p.amps(i) >= leastShown {
				t.Errorf("case %s: %s is drawn %d times, it draws %v", c.Case, e.Name, drawn, c.Point.Amps[i])
			}
		}
	}
	if branches == 0 {
		t.Error("nothing branches in the fixture")
	}
}

// The cases drawn begin with the one of the greatest current, and no two have the same supplies.
func TestPowerCases(t *testing.T) {
	b := &book{in: tractor(same)}
	cases := b.powerCases()
	if len(cases) == 0 || len(cases) > mostPower {
		t.Fatalf("%d cases", len(cases))
	}
	total := func(c *solve.CaseResult) (sum unit.Current) {
		for _, s := range c.Supplies {
			if s.Live && !s.Follows {
				sum += s.Amps
			}
		}
		return sum
	}
	for _, c := range b.in.Cases {
		if total(c) > total(cases[0]) {
			t.Errorf("case %s gives more than %s", c.Case, cases[0].Case)
		}
	}
}

// No two texts of the pictures lie on each other, and none is smaller than 8 pt.
func TestPicturesAreLegible(t *testing.T) {
	doc, err := Make(tractor(same))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for n, p := range doc.Pages {
		var texts []page.Text
		for _, i := range p.Items {
			if x, ok := i.(page.Text); ok {
				texts = append(texts, x)
			}
		}
		has := func(s string) bool {
			return slices.ContainsFunc(texts, func(x page.Text) bool { return strings.Contains(x.S, s) })
		}
		power, cross := has("Lost V"), has("packed ") && has("Used %")
		if !power && !cross {
			continue
		}
		found["power"], found["cross"] = found["power"] || power, found["cross"] || cross
		for k, x := range texts {
			if x.Size < 8 {
				t.Errorf("page %d: %q in %v pt", n+1, x.S, x.Size)
			}
			for _, y := range texts[:k] {
				a, b := x.Bounds(), y.Bounds()
				a.Y, a.H, b.Y, b.H = a.Y+0.6, a.H-1.2, b.Y+0.6, b.H-1.2 // letters, not the whole of their lines
				if a.Meets(b) {
					t.Errorf("page %d: %q lies on %q", n+1, x.S, y.S)
				}
			}
		}
	}
	if !found["power"] || !found["cross"] {
		t.Errorf("pictures found: %v", found)
	}
}
