package protect

import (
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	books "loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	texts "loomsheet/lang/trial"
)

// What hangs together in a case hangs together in one part, and every wire and load lies in one.
func TestPartsHoldTheirIslands(t *testing.T) {
	for _, text := range []string{texts.Text(1, 150), texts.Text(4, 900)} {
		job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, books.Files(), nil)
		if said.HasMistakes() {
			t.Fatal(said)
		}
		nt := net.Build(job, space.Lay(job), nil)
		sizes := size.Initial(job, nt)
		a := newApart(solve.All(job, nt, sizes), len(nt.Wires))
		if a.n < 3 {
			t.Fatalf("%d parts", a.n)
		}
		g := &weigher{job: job, nt: nt, sizes: sizes, apart: a, res: &Result{}}
		g.ready(nil)
		for n, f := range g.nets {
			if alike(f.Net, g.nets[n^1].Net) && g.sites[n] != g.sites[n^1] {
				t.Errorf("nets %d and %d do not share their places", n, n^1)
			}
			part := map[int]int32{} // by node
			for changed := true; changed; {
				changed = false
				for i := range f.Net.Elements {
					e := &f.Net.Elements[i]
					p, known := int32(-1), false
					switch {
					case e.Kind == solve.Wire:
						p, known = a.of[e.Wire], true
					case placed(e.Kind):
						p, known = a.at[thingOf(e)]
						if !known {
							t.Fatalf("%+v lies in no part", e)
						}
					}
					for _, node := range []int{e.From, e.To} {
						if q, met := part[node]; met && known && q != p {
							t.Fatalf("%s: parts %d and %d meet at %s", f.Case, p, q, f.Net.Nodes[node])
						} else if met {
							p, known = q, true
						}
					}
					for _, node := range []int{e.From, e.To} {
						if _, met := part[node]; known && !met {
							part[node], changed = p, true
						}
					}
				}
			}
		}
		for p := range a.n {
			for k, w := range a.wires.at(int32(p)) {
				if a.of[w] != int32(p) || a.pos[w] != int32(k) {
					t.Fatalf("wire %d", w)
				}
			}
		}
	}
}
