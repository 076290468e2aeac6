package fit

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	books "loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// begun is a job at its smallest sizes, solved and heated.
func begun(t *testing.T, text string) (*design.Job, *net.Net, *grower, *Outcome) {
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, books.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	f := size.NewFitter(job, nt)
	o := &Outcome{Net: nt, Sizes: f.Initial()}
	g := newGrower(job, nt, f, o.Sizes)
	o.Cases = g.solveAll(o.Sizes, nil)
	o.Duty = g.dutyAll(o.Cases)
	g.heat(o.Sizes, o.Cases, o.Duty)
	o.Heat = g.kept.Solve(o.Sizes)
	return job, nt, g, o
}

// Asked at the sizes that were looked at, wires bear what they bore in the look; thin ones are stepped up until they would bear it and no further, or to what can
// be crimped.
func TestStepsUpToWhatBears(t *testing.T) {
	_, nt, g, o := begun(t, trial.Text(4, 200))
	p := g.protection(o)
	ask := func(sizes size.Sizes, some []int) []bool { return p.Bears(sizes, g.thermal(o, sizes), some) }
	all := make([]int, len(nt.Wires))
	for i := range all {
		all[i] = i
	}
	var thin []int
	needs := map[int]bool{}
	for _, n := range p.Needs() {
		if !n.Loop && n.Why != "source's limit" {
			thin, needs[n.Wire] = append(thin, n.Wire), true
		}
	}
	for i, bears := range ask(o.Sizes, all) {
		if bears == needs[i] {
			t.Errorf("%s bears: %t, in the look %t", nt.Wires[i].Name, bears, !needs[i])
		}
	}
	out := slices.Clone(o.Sizes)
	g.onward(o, p, out, thin)
	lifted, back := 0, slices.Clone(out)
	for n, bears := range ask(out, thin) {
		i := thin[n]
		if !bears && g.ladders[i] != nil && g.room(i, out[i].Size) >= 0 {
			t.Errorf("%s is left at %v and would not bear", nt.Wires[i].Name, out[i].Size)
		}
		if out[i].Size == o.Sizes[i].Size || len(g.strands[i]) > 1 {
			continue
		}
		lifted++
		for k := range g.ladders[i] {
			if g.ladders[i][k].Size == out[i].Size {
				g.lift(back, i, k-1, size.ByProtection)
			}
		}
		if ask(back, []int{i})[0] {
			t.Errorf("%s is %v and would bear it at %v", nt.Wires[i].Name, out[i].Size, back[i].Size)
		}
		back[i] = out[i]
	}
	if lifted == 0 {
		t.Error("nothing was lifted")
	}
}

// What the last look at the protection found is what weighing the outcome anew finds, to the bit.
func TestLastGuardIsTheProtection(t *testing.T) {
	made := map[string]string{"60": trial.Text(1, 60), "120": trial.Text(7, 120), "400": trial.Text(4, 400)}
	read := func(name string) ([]byte, error) {
		if text, ok := made[name]; ok {
			return []byte(text), nil
		}
		folder := map[byte]string{'t': "boat", 'r': "car", 'p': "painted", 'b': "bad"}[name[0]]
		return os.ReadFile(filepath.Join("../../../examples", folder, name))
	}
	for _, name := range []string{"60", "120", "400", "tern.loom", "rook.loom", "plover.loom", "bad.loom"} {
		job, _, said := resolve.Job(name, read, books.Files(), nil)
		if said.HasMistakes() {
			t.Fatal(name, said[0])
		}
		geo := space.Lay(job)
		o := Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
		if o.Protect == nil {
			t.Errorf("%s did not settle", name)
			continue
		}
		if want := protect.Find(job, o.Net, o.Sizes, o.Cases, o.Heat, o.Duty); !reflect.DeepEqual(o.Protect, want) {
			t.Errorf("%s: protection of %d wires of the outcome is another than the last look found", name, len(o.Net.Wires))
		} else if len(want.Wires) == 0 || len(want.Shorts) == 0 || len(want.Curves) == 0 {
			t.Error("nothing was weighed")
		}
	}
}

// A look that takes over what did not change since the last one finds what a look at all of it finds, to the bit, whatever wires were made thicker or thinner meanwhile
// and whatever was let go of in between.
func TestLookTakesOver(t *testing.T) {
	for seed, wires := range map[uint64]int{1: 60, 4: 250, 7: 120} {
		job, nt, g, o := begun(t, trial.Text(seed, wires))
		r := rand.New(rand.NewPCG(seed, 1))
		taken, anew := 0, 0
		for turn, change := range []int{0, 1, 0, 3, 1, 8, 1} {
			for range change {
				if i := r.IntN(len(nt.Wires)); g.ladders[i] != nil {
					g.lift(o.Sizes, i, r.IntN(len(g.ladders[i])), size.ByHeat)
				}
			}
			o.Sizes = slices.Clone(o.Sizes)
			o.Cases = g.solveAll(o.Sizes, nil)
			o.Duty = g.dutyAll(o.Cases)
			g.heat(o.Sizes, o.Cases, o.Duty)
			o.Heat = g.kept.Solve(o.Sizes)
			was := map[*protect.Overload]bool{}
			if g.looked != nil {
				if turn%2 == 0 {
					g.looked.Keep(g.sameSinceLook())
				}
				for i := range g.looked.Wires {
					was[g.looked.Wires[i].Overload] = true
				}
				delete(was, nil)
			}
			got := g.protection(o)
			if want := protect.Find(job, nt, o.Sizes, o.Cases, o.Heat, o.Duty); !reflect.DeepEqual(got.Result, want) {
				t.Fatalf("seed %d, look %d: what was taken over makes another result", seed, turn)
			}
			for i := range got.Wires {
				if over := got.Wires[i].Overload; was[over] {
					taken++
				} else if over != nil && turn > 0 {
					anew++
				}
			}
			all := make([]int, len(nt.Wires))
			for i := range all {
				all[i] = i
			}
			whole := protect.FindAgain(job, nt, o.Sizes, o.Cases, o.Heat, o.Duty, protect.Again{})
			large := slices.Clone(o.Sizes)
			for i := range large {
				if step := g.next(i, large[i].Size); step >= 0 {
					g.lift(large, i, step, size.ByHeat)
				}
			}
			if a, b := got.Bears(large, g.thermal(o, large), all), whole.Bears(large, g.thermal(o, large), all); !slices.Equal(a, b) {
				t.Fatalf("seed %d, look %d: other wires bear what flows", seed, turn)
			}
		}
		if taken == 0 || anew == 0 {
			t.Errorf("seed %d: %d overloads were taken over, %d worked out anew", seed, taken, anew)
		}
	}
}
