package fit

import (
	"slices"
	"testing"

	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	books "loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// mainFuse is a loop that is laid with its least sizes, since nothing is on: a short in it is small at first, and the main fuse is long in clearing it.
const mainFuse = `harness "Main fuse" revision A datum "floor, left front"
zone cabin air 40 C
section tub
device battery at (350, -600, 12 mm) {
  pin pos, neg stud M8
  supply 13.2 V inside 4 mohm stores 120 Ah from pos to neg
}
device link at (470, -600, 12 mm) zone cabin {
  pin in, out stud M8
  inner fused
  fuse link-250 from in to fused
  state on joins fused, out resistance 0.3 mohm
}
device main at (600, 300, 12 mm) zone cabin {
  pin in stud M8
  pin out stud M6
  fuse bolt-40 from in to out
}
device shell at (600, -300, 12 mm) {
  pin main at (500, -900, 12 mm) stud M8
  pin bay at (1250, -300, 12 mm) stud M8
  joins main, bay resistance 2 mohm
}
device lamp at (1500, 300, 12 mm) {
  pin 1, 2 stud M6
  draw 2 A from 1 to 2
}
run a section tub zone cabin {
  from battery to link
  from link to main
  from battery to shell.main
  from main to lamp
  from lamp to shell.bay
}
circuit plus-battery from battery.pos to link.in colour red
circuit plus from link.out to main.in colour red
circuit minus from battery.neg to shell.main colour black
circuit feed from main.out to lamp.1 colour red
circuit earth from lamp.2 to shell.bay colour black
case rest { supply battery }
case day like rest { set link }
`

// A wire that was lifted in one go at the small currents of a loop far too thin comes back: one size smaller, all else as it came out, it is too thin.
func TestLiftedNoFurtherThanNeeded(t *testing.T) {
	job, _, said := resolve.Job("main.loom", func(string) ([]byte, error) { return []byte(mainFuse), nil }, books.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	geo := space.Lay(job)
	o := Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
	if !o.Settled {
		t.Fatal("not settled")
	}
	needs := func(sizes size.Sizes) (out []int) {
		g := newGrower(job, o.Net, size.NewFitter(job, o.Net), sizes)
		cases := g.solveAll(sizes, o.Heat.Temps)
		duty := g.dutyAll(cases)
		for _, n := range protect.Find(job, o.Net, sizes, cases, heat.Solve(job, o.Net, sizes, cases, duty), duty).Needs() {
			out = append(out, n.Wire)
		}
		return out
	}
	if n := needs(o.Sizes); n != nil {
		t.Errorf("%d wires are too thin", len(n))
	}
	lifted := 0
	for i := range o.Sizes {
		w := &o.Net.Wires[i]
		if o.Sizes[i].Why != size.ByProtection || w.Circuit != "plus" && w.Circuit != "minus" {
			continue
		}
		lifted++
		f := size.NewFitter(job, o.Net)
		less := slices.Clone(o.Sizes)
		for _, c := range f.Ladder(i) {
			if c.Size.Less(o.Sizes[i].Size) {
				less[i] = c
			}
		}
		if !slices.Contains(needs(less), i) {
			t.Errorf("%s is %v, and %v would do", w.Name, o.Sizes[i].Size, less[i].Size)
		}
	}
	if lifted != 2 {
		t.Errorf("%d were lifted", lifted)
	}
}
