package rule

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"loomsheet/harness/solve"
)

// A fuse that is the only way from one of its ends to the other is one round which no way leads.
func TestBridgesAreAlone(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 9))
	alone, bypassed := 0, 0
	for range 2000 {
		nw := &solve.Network{Nodes: make([]string, 2+r.IntN(7))}
		for range 1 + r.IntN(10) {
			nw.Elements = append(nw.Elements, solve.Element{Item: &solve.Item{Kind: solve.Fuse}, From: r.IntN(len(nw.Nodes)), To: r.IntN(len(nw.Nodes))})
		}
		at := make([][]int, len(nw.Nodes))
		for i, e := range nw.Elements {
			at[e.From], at[e.To] = append(at[e.From], i), append(at[e.To], i)
		}
		var want []bool
		for i := range nw.Elements {
			want = append(want, around(nw, at, i) == nil)
			if want[i] {
				alone++
			} else {
				bypassed++
			}
		}
		if got := bridges(nw, at); !reflect.DeepEqual(got, want) {
			t.Fatalf("%v: %v, not %v", nw.Elements, got, want)
		}
	}
	if alone == 0 || bypassed == 0 {
		t.Errorf("%d alone, %d bypassed", alone, bypassed)
	}
}
