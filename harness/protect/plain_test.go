package protect

import (
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	books "loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	texts "loomsheet/lang/trial"

	"pgregory.net/rapid"
)

// followPlainly finds what lies behind a source's fuses by going through all that it feeds once for each zone.
func (t *tracer) followPlainly(s *source) {
	s.own = t.zoneAt(-1, s.plus, 0)
	all, ways := []int{s.own}, map[int][]int{}
	for i := 0; i < len(all); i++ {
		for k := 0; k < len(t.zones[all[i]].exits); k++ {
			x := t.zones[all[i]].exits[k]
			z := t.zoneAt(x.fuse, x.far, x.label)
			ways[all[i]] = append(ways[all[i]], z)
			if !slices.Contains(all, z) {
				all = append(all, z)
			}
		}
	}
	for _, z := range all[1:] {
		if t.holds(s.own, z) {
			continue
		}
		back := map[int][]int{}
		met := map[int]bool{s.own: true}
		for todo := []int{s.own}; len(todo) > 0; todo = todo[1:] {
			for _, n := range ways[todo[0]] {
				back[n] = append(back[n], todo[0])
				if !met[n] && !t.holds(n, z) {
					met[n] = true
					todo = append(todo, n)
				}
			}
		}
		if len(back[z]) == 0 {
			continue
		}
		b := behind{zone: z, fuse: t.ref(t.zones[z].fuse)}
		on := map[int]bool{}
		for todo := back[z]; len(todo) > 0; todo = todo[1:] {
			n := todo[0]
			if on[n] {
				continue
			}
			on[n] = true
			if f := t.zones[n].fuse; f >= 0 {
				b.ahead = addRef(b.ahead, t.ref(f))
			}
			todo = append(todo, back[n]...)
		}
		s.behind = append(s.behind, b)
	}
}

// TestFollowIsThePlainWay: looking back from each zone finds the fuses ahead of it that going forth from the source finds.
func TestFollowIsThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job, nw := anyNet(t)
		quick, slow := &tracer{graph: newGraph(job, nw)}, &tracer{graph: newGraph(job, nw)}
		a, b := source{plus: 0}, source{plus: 0}
		quick.follow(&a)
		slow.followPlainly(&b)
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("%+v, plainly %+v in %+v", a, b, nw.Elements)
		}
	})
}

// TestTracerIsThePlainWay: looking only at a source's own zone, at the starts that reach a fuse and at the shorts of a stretch finds what looking at
// everything finds.
func TestTracerIsThePlainWay(t *testing.T) {
	for _, text := range []string{texts.Text(1, 150), texts.Text(4, 900)} {
		job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, books.Files(), nil)
		if said.HasMistakes() {
			t.Fatal(said)
		}
		nt := net.Build(job, space.Lay(job), nil)
		sizes := size.Initial(job, nt)
		cases := make([]*solve.CaseResult, len(job.Cases))
		for i, c := range job.Cases {
			temps := make([]unit.Temperature, len(nt.Wires))
			for k := range temps {
				temps[k] = heat.MeanAmbient(job, nt, &nt.Wires[k], c.Name)
			}
			cases[i] = solve.Case(job, nt, sizes, temps, c)
		}
		tr := newTracer(job, nt, sizes, nil)
		wires := tr.trace(cases)
		fuses := tr.fuses(wires, cases)

		var shorts []Short
		for i, e := range tr.Elements {
			if e.Kind == solve.Load {
				shorts = append(shorts, Short{Source: tr.sources[i%len(tr.sources)].Device, Device: e.Device, Amps: unit.Current(i % 97)})
			}
		}
		got := tr.stretches(slices.Clone(wires), shorts)
		var want []Unfused
		for i := range tr.sources {
			w := tr.waysOf(&tr.sources[i], wires, newWaysTo(len(tr.Nodes)))
			w.within = nil
			for e := range tr.Elements {
				w.within = append(w.within, e)
			}
			list := w.stretches(nil)
			for k := range list {
				u := &list[k]
				for n := range shorts {
					if s := &shorts[n]; slices.Contains(u.Loads, s.Device) && s.Source == u.Source.Device && (!u.Loop || s.Amps > u.Amps) {
						u.Amps, u.Loop = s.Amps, true
					}
				}
			}
			want = append(want, list...)
		}
		if len(got) == 0 || !reflect.DeepEqual(got, want) {
			t.Errorf("%d stretches, plainly %d: %+v\n%+v", len(got), len(want), got, want)
		}

		starts, points := 0, []working{}
		for _, c := range cases {
			for _, v := range c.Variants() {
				w := tr.working(v)
				w.starting = starting{}
				for n := range v.Starts {
					w.starting.any = append(w.starting.any, n)
				}
				points = append(points, w)
			}
		}
		for i := range fuses {
			f := &fuses[i]
			d := tr.device(f.Device)
			part := slices.IndexFunc(job.Parts.Fuses, func(p *design.Fuse) bool { return p.Name == f.Part })
			if part < 0 {
				continue
			}
			if x := tr.fuse(d, f.Index, job.Parts.Fuses[part], points); !reflect.DeepEqual(x.Starts, f.Starts) {
				t.Errorf("%v holds %+v, plainly %+v", f.FuseRef, f.Starts, x.Starts)
			}
			starts += len(f.Starts)
		}
		if starts == 0 {
			t.Error("nothing starts")
		}
	}
}
