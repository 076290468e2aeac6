package drawing

import (
	"fmt"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/render/page"
)

// A layout that is asked for within bounds is the layout, or none where the layout is beyond them.
func TestLayWithinIsTheLayout(t *testing.T) {
	kept := 0
	rapid.Check(t, func(t *rapid.T) {
		d := crowd(rapid.IntRange(1, 25).Draw(t, "labels"))
		w, h := page.MM(rapid.IntRange(60, 270).Draw(t, "wide")), page.MM(rapid.IntRange(50, 180).Draw(t, "high"))
		most := Bounded{Scale: Scale(rapid.SampledFrom([]float64{0, 20, 50, 100}).Draw(t, "scale")), Rows: rapid.IntRange(0, 20).Draw(t, "rows")}
		want, got := d.Lay(w, h, 0), d.LayWithin(w, h, most)
		beyond := most.Scale > 0 && want.Scale > most.Scale || most.Rows > 0 && len(want.Rest)+want.Numbered() > most.Rows
		switch {
		case beyond && got != nil:
			t.Fatal("a layout that is of no use")
		case !beyond && !reflect.DeepEqual(got, want):
			t.Fatal("another layout")
		case !beyond:
			kept++
		}
	})
	if kept == 0 {
		t.Error("no layout was of use")
	}
}

// The grid finds each thing that a piece or a box may meet, and the quick tests say what the plain ones say.
func TestGridMissesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) page.Point {
			return page.Point{X: page.MM(rapid.IntRange(-20, 300).Draw(t, name+" x")) / 2, Y: page.MM(rapid.IntRange(-20, 220).Draw(t, name+" y")) / 2}
		}
		line := func(name string) piece { return piece{a: at(name + " a"), b: at(name + " b")} }
		var all []piece
		g := newGrid(140, 100, 40)
		for i := range rapid.IntRange(1, 40).Draw(t, "pieces") {
			all = append(all, line(fmt.Sprint(i)))
			g.add(i, all[i].box())
		}
		p := line("asked")
		box := page.Box{X: p.a.X, Y: p.a.Y, W: page.MM(rapid.IntRange(0, 40).Draw(t, "w")), H: page.MM(rapid.IntRange(0, 40).Draw(t, "h"))}
		along, near := map[int]bool{}, map[int]bool{}
		g.nearPiece(p, func(n int) bool { along[n] = true; return true })
		g.near(box, func(n int) bool { near[n] = true; return true })
		for i := range all {
			q := &all[i]
			if plainCrosses(&p, q) != p.crosses(q) && !far(p.box(), q.box(), touching) {
				t.Fatalf("%v crosses %v: %v", p, *q, p.crosses(q))
			}
			if p.crosses(q) && !along[i] {
				t.Fatalf("%v crosses %v unseen", p, *q)
			}
			_, _, in := q.within(box)
			if in != q.meets(box) {
				t.Fatalf("%v in %v: %v", *q, box, in)
			}
			if in && !near[i] {
				t.Fatalf("%v lies in %v unseen", *q, box)
			}
		}
	})
}

// plainCrosses asks for the sides on which the ends lie, and nothing else.
func plainCrosses(p, q *piece) bool {
	d1, d2, d3, d4 := side(q.a, q.b, p.a), side(q.a, q.b, p.b), side(p.a, p.b, q.a), side(p.a, p.b, q.b)
	box := p.box()
	return box.Holds(page.Box{X: q.a.X, Y: q.a.Y}) && d3 == 0 || (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0)
}

// The scale that a drawing begins with is that of its lines alone.
func TestFirstScaleIsOfTheLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := crowd(rapid.IntRange(1, 25).Draw(t, "labels"))
		d.Labels = nil
		w, h := page.MM(rapid.IntRange(60, 270).Draw(t, "wide")), page.MM(rapid.IntRange(50, 180).Draw(t, "high"))
		if got, want := d.First(w, h), d.Lay(w, h, 0).Scale; got != want {
			t.Errorf("%v, laid out %v", got, want)
		}
	})
}
