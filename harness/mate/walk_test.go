package mate

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// plainly is the walk with a map of what was met.
func plainly(w *web, from int32, cuts []int32, ok func(b *bond) bool) (order [][2]int32, passed map[[2]int32][]int32) {
	type hop struct {
		from [2]int32
		cut  int32
	}
	start := [2]int32{from, 0}
	by := map[[2]int32]hop{start: {}}
	order = [][2]int32{start}
	for n := 0; n < len(order); n++ {
		t := order[n]
		for i := range w.at[t[0]] {
			b := &w.at[t[0]][i]
			if b.cut != 0 && slices.Contains(cuts, b.cut) || !ok(b) {
				continue
			}
			to := [2]int32{b.to, t[1]}
			if to[1] == 0 {
				to[1] = b.fuse
			}
			if _, met := by[to]; !met {
				by[to] = hop{t, b.cut}
				order = append(order, to)
			}
		}
	}
	passed = map[[2]int32][]int32{}
	for _, p := range order {
		for at := p; at != start; at = by[at].from {
			if c := by[at].cut; c != 0 && !slices.Contains(passed[p], c) {
				passed[p] = append(passed[p], c)
			}
		}
	}
	return order, passed
}

func TestWalkAgainstPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		places := rapid.IntRange(1, 12).Draw(t, "places")
		w := &web{places: map[string]int32{}, cuts: map[string]int32{}, fuses: []string{"", "a", "b", "c"}}
		w.grow(places)
		for c := range 4 {
			w.cut(fmt.Sprint(c))
		}
		place := rapid.Int32Range(0, int32(places-1))
		for range rapid.IntRange(0, 30).Draw(t, "bonds") {
			b := bond{as: passing(rapid.IntRange(0, 3).Draw(t, "as")), cut: rapid.Int32Range(0, 4).Draw(t, "cut")}
			if b.as == fuse {
				b.fuse = rapid.Int32Range(1, 3).Draw(t, "fuse")
			}
			w.join(place.Draw(t, "a"), place.Draw(t, "b"), b)
		}
		oks := []func(b *bond) bool{func(b *bond) bool { return b.as != oneWay || b.behind }, func(b *bond) bool { return b.as == metal }}
		for range 4 { // the room of one walk is that of the next
			from, ok := place.Draw(t, "from"), oks[rapid.IntRange(0, 1).Draw(t, "ok")]
			cuts := rapid.SliceOfN(rapid.Int32Range(1, 4), 0, 2).Draw(t, "cuts")
			want, passed := plainly(w, from, cuts, ok)
			got := w.walk(from, cuts, ok, func(int32) bool { return false })
			if len(got) != len(want) {
				t.Fatalf("%d visits, not %d", len(got), len(want))
			}
			for i, v := range got {
				if v.at != want[i][0] || v.fuse != want[i][1] {
					t.Fatalf("visit %d is %d behind %d, not %v", i, v.at, v.fuse, want[i])
				}
				w.room.looks++
				if p := w.keep(nil, got, i); !slices.Equal(p, passed[want[i]]) {
					t.Fatalf("on the way to %v: %v, not %v", want[i], p, passed[want[i]])
				}
			}
			stop := place.Draw(t, "stop")
			n := slices.IndexFunc(want, func(p [2]int32) bool { return p[0] == stop })
			if got := w.walk(from, cuts, ok, func(at int32) bool { return at == stop }); n >= 0 && len(got) != n+1 || n < 0 && len(got) != len(want) {
				t.Fatalf("stopped after %d visits; %d is the end", len(got), n)
			}
		}
	})
}
