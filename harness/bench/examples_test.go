package bench_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/bench"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/harness/size"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// planned compiles an example as far as the plan needs it, with the sizes that are guessed first: no case is solved.
func planned(t *testing.T, file string) *harness.Result {
	t.Helper()
	dir := filepath.Dir(file)
	job, _, text := resolve.Job(filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }, parts.Files(), rule.Keys())
	if text.HasMistakes() {
		t.Fatal(text)
	}
	r := &harness.Result{Declared: job}
	for _, s := range harness.Stages {
		switch s.Name {
		case "lay", "join", "bundle", "layup", "fix", "shell", "plan", "reel":
			s.Run(r)
		case "size":
			r.Net = net.Build(r.Job, r.Space, nil)
			r.Sizes = size.Initial(r.Job, r.Net)
		}
	}
	return r
}

// The copper that feeds the resistances is no less than what a wire has between its terminations at its planned way, within half a percent: of the tails, which
// Copper counts whole, the strip and 10 mm stay, and what is cut off makes up for the breakouts, which it does not count. Only a pair twisted on the bench is longer, by its helix.
func TestCopperIsNoLess(t *testing.T) {
	for _, file := range []string{"../../examples/car/rook.loom", "../../examples/boat/tern.loom"} {
		r := planned(t, file)
		seen := 0
		for _, s := range r.Plan.Sections {
			for _, c := range s.Cuts {
				w := &r.Net.Wires[c.Wire]
				if len(c.Cores) > 0 || c.Length == 0 || w.Kind != net.Plain {
					continue
				}
				seen++
				has := c.Planned
				for _, x := range c.Terms.All() {
					if x.Kind == bench.EndTerm || x.Kind == bench.TakeUpTerm && strings.HasPrefix(x.What, "twist of") {
						has -= x.Length
					}
				}
				for _, e := range c.Ends {
					has += e.Strip + 10
				}
				if float64(has) > 1.005*float64(w.Copper)+1 {
					t.Errorf("%s: %s has %s between its terminations, its copper is %s", file, c.Name, has, w.Copper)
				}
				if c.Length < w.Copper && c.Length < c.Planned {
					t.Errorf("%s: %s is cut to %s, planned %s", file, c.Name, c.Length, c.Planned)
				}
			}
		}
		if seen < 100 {
			t.Errorf("%s: %d wires", file, seen)
		}
	}
}

// Every wire of a known length is cut from some reel, and every crimp, mark and reel is there for it.
func TestExamplesAreComplete(t *testing.T) {
	r := planned(t, "../../examples/car/rook.loom")
	for _, s := range r.Plan.Sections {
		marked := map[int]bool{}
		for _, k := range s.Markers {
			marked[k.Cut] = true
		}
		for i, c := range s.Cuts {
			if c.Length > 0 && !c.Screen && r.Reels.Reel(s.Name, i) == "" {
				t.Errorf("%s: %s comes from no reel", s.Name, c.Name)
			}
			if c.Length > 80 && !marked[i] {
				t.Errorf("%s: %s has no mark", s.Name, c.Name)
			}
		}
		for _, c := range s.Crimps {
			for _, x := range []string{c.Wire, c.Contact, c.Strip, c.Height, c.Tool, c.Setting, c.PullText} {
				if x == "" {
					t.Errorf("%s: a crimp says nothing: %+v", s.Name, c)
				}
			}
		}
	}
}
