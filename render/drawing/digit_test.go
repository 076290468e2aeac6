package drawing

import (
	"math"
	"math/rand/v2"
	"testing"

	"loomsheet/harness/unit"
)

// regular is a drawing full of ties: labels on a slanted lattice of lines, each at a place where lines cross or half way between two.
func regular(move func(unit.Length) unit.Length) *Drawing {
	at := func(x, y float64) Place { return Place{move(unit.Length(x)), move(unit.Length(y))} }
	d := &Drawing{}
	for i := range 9 {
		k := float64(i) * 100 / 3
		d.Strokes = append(d.Strokes,
			Stroke{Layer: Outline, Places: []Place{at(k, 0), at(k/3, 800.0/3)}},
			Stroke{Layer: Dim, Places: []Place{at(0, k), at(800.0/3, k/7)}})
		for j := range 4 {
			p := at(k*(1-float64(j)/6), float64(j)*400/9)
			d.Spots = append(d.Spots, Spot{At: p, Sign: []Sign{Cross, Circle, Square, Dot}[j]})
			d.Labels = append(d.Labels, Label{At: p, Text: "mark-" + unit.Number(float64(i*4+j), 0), Free: true, Small: j%2 == 0})
		}
	}
	return d
}

// Labels stay where they are when the last digits of all places turn out otherwise, as they do on another processor.
func TestLastDigitsMoveNoLabel(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	plain := func(x unit.Length) unit.Length { return x }
	blurred := func(x unit.Length) unit.Length {
		return unit.Length(math.Nextafter(float64(x), math.Inf(r.IntN(3)-1)))
	}
	for _, size := range [][2]unit.Length{{170, 105}, {257, 160}, {120, 80}} {
		want := regular(plain).Lay(size[0], size[1], 0)
		if len(want.leaders) == 0 {
			t.Fatal("no label needs a leader")
		}
		for range 10 {
			got := regular(blurred).Lay(size[0], size[1], 0)
			if len(got.texts) != len(want.texts) || len(got.leaders) != len(want.leaders) || len(got.key) != len(want.key) {
				t.Fatalf("%d texts, %d leaders, %d rows of the key; %d, %d, %d are wanted", len(got.texts), len(got.leaders), len(got.key), len(want.texts), len(want.leaders), len(want.key))
			}
			for i, w := range want.texts {
				if g := got.texts[i]; g.s != w.s || math.Hypot(float64(g.at.X-w.at.X), float64(g.at.Y-w.at.Y)) > 1e-9 {
					t.Fatalf("%s stands at %v, %s at %v is wanted", g.s, g.at, w.s, w.at)
				}
			}
		}
	}
}
