package shellbook

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
)

// longFloor is a long panel with so many holes in a few dense places and along lines between them.
func longFloor(n int) (*shell.Panel, []shell.Hole) {
	r := rand.New(rand.NewPCG(7, uint64(n)))
	p := &shell.Panel{Name: "floor", Flat: true, Plane: solid.Plane{Across: solid.Vector{X: 1}, Up: solid.Vector{Y: 1}}, Outline: solid.Outline{{U: 0, V: 0}, {U: 14500, V: 0}, {U: 14500, V: 3000}, {U: 0, V: 3000}}}
	var list []shell.Hole
	for i := range n {
		f := solid.Flat{U: unit.Length(300 + 4000*(i%3)), V: unit.Length(400 + 700*(i%4))}
		f.U, f.V = f.U+unit.Length(r.Float64()*900), f.V+unit.Length(r.Float64()*500)
		list = append(list, shell.Hole{Mark: fmt.Sprintf("c1-b%d-n%d-r", i%5, i), Kind: "clip", Panel: "floor", Flat: f, At: design.Point3{X: f.U, Y: f.V}, Known: true, Drill: 7.1})
	}
	return p, list
}

// Of a panel of more holes than one map can name, each hole stands on one part, and its name on the map of that or in its key.
func TestPartsOfAPanel(t *testing.T) {
	for _, n := range []int{1, 12, 90, 240} {
		p, list := longFloor(n)
		m := mapOf(p, list, 180)
		if len(m.lay.Rest) > fewLost {
			t.Errorf("%d holes: %d names found no room", n, len(m.lay.Rest))
		}
		if n <= 12 && len(m.parts) > 0 || n >= 240 && len(m.parts) < 2 {
			t.Errorf("%d holes: %d parts", n, len(m.parts))
		}
		if len(m.parts) == 0 {
			continue
		}
		for i, l := range m.parts {
			if len(l.Rest) > 0 || l.Numbered() > fewNumbered {
				t.Errorf("%d holes, part %s: %d names found no room, %d stand in the key", n, letters(i+1), len(l.Rest), l.Numbered())
			}
		}
		for _, h := range list {
			if k := m.in[h.Mark]; k < 1 || k > len(m.parts) {
				t.Errorf("%d holes: %s is on part %d of %d", n, h.Mark, k, len(m.parts))
			}
		}
	}
}

func TestLetters(t *testing.T) {
	for n, want := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 53: "BA", 702: "ZZ", 703: "AAA"} {
		if got := letters(n); got != want {
			t.Errorf("%d is %s, want %s", n, got, want)
		}
	}
}

// What of a line lies within a window: all of it, its middle, nothing, and what runs along or past a side.
func TestWithinAWindow(t *testing.T) {
	w := window{solid.Flat{U: 0, V: 0}, solid.Flat{U: 100, V: 50}}
	for _, c := range []struct {
		a, b     solid.Flat
		from, to solid.Flat
		ok       bool
	}{
		{solid.Flat{U: 10, V: 10}, solid.Flat{U: 90, V: 40}, solid.Flat{U: 10, V: 10}, solid.Flat{U: 90, V: 40}, true},
		{solid.Flat{U: -100, V: 25}, solid.Flat{U: 300, V: 25}, solid.Flat{U: 0, V: 25}, solid.Flat{U: 100, V: 25}, true},
		{solid.Flat{U: 50, V: 100}, solid.Flat{U: 50, V: 0}, solid.Flat{U: 50, V: 50}, solid.Flat{U: 50, V: 0}, true},
		{solid.Flat{U: -10, V: 60}, solid.Flat{U: 200, V: 60}, solid.Flat{}, solid.Flat{}, false},
		{solid.Flat{U: -50, V: 20}, solid.Flat{U: 20, V: 90}, solid.Flat{}, solid.Flat{}, false},
	} {
		from, to, ok := w.within(c.a, c.b)
		if ok != c.ok || ok && (apart2(from, c.from) > 1e-9 || apart2(to, c.to) > 1e-9) {
			t.Errorf("%v to %v: %v to %v, %v", c.a, c.b, from, to, ok)
		}
	}
	if s := w.clipped(drawing.Outline, solid.Outline{{U: -10, V: -10}, {U: 50, V: -10}, {U: 50, V: 200}, {U: -10, V: 200}}); len(s) != 1 {
		t.Errorf("%d sides lie within, want 1", len(s))
	}
}

func apart2(a, b solid.Flat) float64 {
	u, v := float64(a.U-b.U), float64(a.V-b.V)
	return u*u + v*v
}
