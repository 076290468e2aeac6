package fit

import (
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

// Protection weighed for some parts alone finds what it finds in the whole, figure by figure, also where sizes are too small.
func TestPartsWeighedAlone(t *testing.T) {
	job, nt, g, o := begun(t, trial.Text(4, 900)) // two batteries
	whole := protect.Find(job, nt, o.Sizes, o.Cases, o.Heat, o.Duty)
	count, needs := make([]int, len(g.parts.all)), 0
	for _, k := range g.parts.of {
		count[k]++
	}
	large := slices.Index(count, slices.Max(count))
	for _, pick := range []func(part int) bool{func(k int) bool { return k == large }, func(k int) bool { return k != large }} {
		var wires []int
		for i, k := range g.parts.of {
			if pick(k) {
				wires = append(wires, i)
			}
		}
		cut := g.weigh(o, wires)
		all := cut.wires
		var got, want []protect.Need
		for _, n := range cut.Needs() {
			n.Wire = all[n.Wire]
			got = append(got, n)
		}
		for _, n := range whole.Needs() {
			if slices.Contains(wires, n.Wire) {
				want = append(want, n)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("needs of the part %v, in the whole %v", got, want)
		}
		needs += len(want)
		for k, i := range all {
			x, y := &cut.Wires[k], &whole.Wires[i]
			if x.Met != y.Met || (x.Overload == nil) != (y.Overload == nil) || (x.Short == nil) != (y.Short == nil) {
				t.Errorf("%s: %+v, in the whole %+v", nt.Wires[i].Name, x, y)
				continue
			}
			if x.Overload != nil && *x.Overload != *y.Overload {
				t.Errorf("%s: overload %+v, in the whole %+v", nt.Wires[i].Name, *x.Overload, *y.Overload)
			}
			if x.Short != nil && (x.Short.Used != y.Short.Used || x.Short.Reaches != y.Short.Reaches || x.Short.Amps != y.Short.Amps) {
				t.Errorf("%s: short %+v, in the whole %+v", nt.Wires[i].Name, *x.Short, *y.Short)
			}
		}
	}
	if needs == 0 {
		t.Error("nothing was too small")
	}
}

// Asked at the sizes that were looked at, wires bear what they bore in the look; thin ones are stepped up until they would bear it and no further, or to what can
// be crimped.
func TestStepsUpToWhatBears(t *testing.T) {
	_, nt, g, o := begun(t, trial.Text(4, 200))
	p, whole := g.protection(o)
	if !whole {
		t.Fatal("a part was looked at")
	}
	var thin []int
	needs := map[int]bool{}
	for _, n := range p.Needs() {
		if !n.Loop && n.Why != "source's limit" {
			thin, needs[n.Wire] = append(thin, n.Wire), true
		}
	}
	for i, bears := range g.bears(o, p, o.Sizes, p.wires) {
		if bears == needs[i] {
			t.Errorf("%s bears: %t, in the look %t", nt.Wires[i].Name, bears, !needs[i])
		}
	}
	out := slices.Clone(o.Sizes)
	g.onward(o, p, out, thin)
	lifted, back := 0, slices.Clone(out)
	for n, bears := range g.bears(o, p, out, thin) {
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
		if g.bears(o, p, back, []int{i})[0] {
			t.Errorf("%s is %v and would bear it at %v", nt.Wires[i].Name, out[i].Size, back[i].Size)
		}
		back[i] = out[i]
	}
	if lifted == 0 {
		t.Error("nothing was lifted")
	}
}

// What the last look at the protection of the whole net found is what weighing the outcome finds, to the bit.
func TestLastGuardIsTheProtection(t *testing.T) {
	for _, text := range []string{trial.Text(1, 60), trial.Text(7, 120)} {
		job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, books.Files(), nil)
		if said.HasMistakes() {
			t.Fatal(said)
		}
		geo := space.Lay(job)
		o := Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
		if o.Protect == nil {
			t.Error("the last look took in a part only")
			continue
		}
		if want := protect.FindAll(job, o.Net, o.Sizes, o.Cases, o.Heat, o.Duty); !reflect.DeepEqual(o.Protect, want) {
			t.Errorf("protection of %d wires of the outcome is another than the last look found", len(o.Net.Wires))
		} else if len(want.Wires) == 0 || len(want.Shorts) == 0 || len(want.Curves) == 0 {
			t.Error("nothing was weighed")
		}
	}
}
