package net

import (
	"reflect"
	"testing"

	"loomsheet/harness/space"
	"pgregory.net/rapid"
)

// A search that stops when all wanted states are done has found of them what one through all finds, and no more than what was touched is left for the
// next; an answer kept is the one that would be found again.
func TestSearchStopsNoSoonerThanItMay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		b := newBuilder(j, space.Lay(j), nil)
		b.collect()
		b.settleSplices()
		for _, w := range b.ways {
			if w.link.Loose {
				continue
			}
			q := b.ask(w)
			again, okAgain := b.findOnce(q)
			kept, okKept := b.findOnce(q)
			if r, ok := b.g.find(q); ok != okAgain || ok != okKept || ok && (!reflect.DeepEqual(r, again) || !reflect.DeepEqual(r, kept)) {
				t.Fatalf("%+v: %v %v, then %v %v, kept %v %v", q, r, ok, again, okAgain, kept, okKept)
			}
			q.ends = nil
			for _, list := range b.g.within {
				type found struct {
					done bool
					cost int64
				}
				look := func(wanted []int32) (out []found) {
					marks, _ := b.g.search(q, wanted)
					for _, s := range list {
						m := &marks[len(q.vias)*len(b.g.states)+int(s)]
						f := found{done: m.done}
						if m.done {
							f.cost = m.cost
						}
						out = append(out, f)
					}
					return out
				}
				if got, want := look(list), look(nil); !reflect.DeepEqual(got, want) {
					t.Fatalf("%+v: got %v, want %v", q, got, want)
				}
			}
		}
	})
}
