package drawing

import (
	"fmt"
	"math"
	"reflect"
	"slices"
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
		for i := range rapid.IntRange(1, 40).Draw(t, "pieces") {
			all = append(all, line(fmt.Sprint(i)))
			if i > 0 && rapid.Bool().Draw(t, fmt.Sprint(i, " hangs on")) {
				all[i].a = all[i-1].b
			}
			all[i].sign = rapid.Bool().Draw(t, fmt.Sprint(i, " of a sign"))
		}
		var g grid
		g.begin(140, 100, 40)
		groups := clumps(nil, all)
		for i := range all {
			g.add(i, all[i].box())
		}
		p := line("asked")
		box := page.Box{X: p.a.X, Y: p.a.Y, W: page.MM(rapid.IntRange(0, 40).Draw(t, "w")), H: page.MM(rapid.IntRange(0, 40).Draw(t, "h"))}
		parted := cellsOf(grown(union(p.box(), box), page.MM(rapid.IntRange(1, 60).Draw(t, "about"))))
		near, beside, of := map[int]bool{}, map[int]bool{}, map[int]*clump{}
		g.near(box, func(n int) bool { near[n] = true; return true })
		g.nearPiece(&p, func(n int) bool { beside[n] = true; return true })
		for i := range groups {
			for n := groups[i].from; n < groups[i].to; n++ {
				of[n] = &groups[i]
			}
		}
		for i := range all {
			q := &all[i]
			if plainCrosses(&p, q) != p.crosses(q) && !far(p.box(), q.box(), touching) {
				t.Fatalf("%v crosses %v: %v", p, *q, p.crosses(q))
			}
			if p.runsAlong(p.box(), q, q.box()) != plainAlong(&p, q) {
				t.Fatalf("%v runs along %v: %v", p, *q, plainAlong(&p, q))
			}
			touched := parted.span(of[i].x0, of[i].y0, of[i].x1, of[i].y1)
			if p.crosses(q) || p.runsAlong(p.box(), q, q.box()) {
				if of[i].clearOf(p.box(), besides) || of[i].beside(&p, 1) || touched&parted.line(&p, 2*besides) == 0 || !beside[i] {
					t.Fatalf("%v meets %v unseen", p, *q)
				}
			}
			if p.crosses(q) && side(p.a, p.b, q.a) != 0 && of[i].signs && (of[i].clearOf(p.box(), touching) || of[i].beside(&p, surely)) {
				t.Fatalf("%v crosses %v unseen", p, *q)
			}
			if p.crosses(q) && !g.share(&p, q.box()) {
				t.Fatalf("%v crosses %v in no cell", p, *q)
			}
			_, _, in := q.within(box)
			if in != q.meets(box) {
				t.Fatalf("%v in %v: %v", *q, box, in)
			}
			if in && (!near[i] || of[i].clearOf(box, surely) || touched&parted.box(box, 2*surely) == 0) {
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

// plainAlong looks at three places of a piece.
func plainAlong(p, q *piece) bool {
	n := 0
	for _, k := range []float64{0.25, 0.5, 0.75} {
		if at := p.along(k); q.meets(grown(page.Box{X: at.X, Y: at.Y}, 0.4)) {
			n++
		}
	}
	return n > 1 && grown(p.box(), 0.4).Meets(grown(q.box(), 0.1))
}

// A label has the same candidates whether lines near it are listed once or sought for each.
func TestCandidatesOfDenseSheets(t *testing.T) {
	some := 0
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string) page.Point {
			return page.Point{X: page.MM(rapid.IntRange(-20, 1300).Draw(t, name+" x")) / 10, Y: page.MM(rapid.IntRange(-20, 900).Draw(t, name+" y")) / 10}
		}
		var lines []piece
		for i := range rapid.IntRange(1, 60).Draw(t, "lines") {
			l := piece{a: at(fmt.Sprint(i, " a")), b: at(fmt.Sprint(i, " b"))}
			if i%3 > 0 { // short ones
				l.b = page.Point{X: l.a.X + 2, Y: l.a.Y + page.MM(i%5)}
				l.sign = i%3 == 1
			}
			lines = append(lines, l)
		}
		var f field
		f.begin(page.Box{W: 130, H: 90}, lines, nil)
		it := item{at: at("label"), w: 9, h: 3.5}
		it.at = snapped(it.at)
		f.dense = false
		listed := f.candidates(&it)
		f.dense = true
		if sought := f.candidates(&it); !slices.Equal(listed, sought) {
			t.Fatalf("%v, listed %v", sought, listed)
		}
		some += len(listed)
	})
	if some == 0 {
		t.Error("no label had a candidate")
	}
}

// What is held to be in the way of a candidate is, and none is held to be twice.
func TestBlockersBlock(t *testing.T) {
	some := 0
	rapid.Check(t, func(t *rapid.T) {
		var lines []piece
		for i := range rapid.IntRange(1, 12).Draw(t, "lines") {
			x := page.MM(rapid.IntRange(10, 110).Draw(t, fmt.Sprint("line ", i)))
			lines = append(lines, piece{a: page.Point{X: x, Y: 10}, b: page.Point{X: 120 - x, Y: 70}})
		}
		var items []item
		for i := range rapid.IntRange(2, 40).Draw(t, "labels") {
			k := lines[i%len(lines)].along(float64(i) / 40)
			items = append(items, item{at: page.Point{X: k.X, Y: k.Y}, w: page.MM(6 + i%7), h: 3.5})
		}
		var f field
		f.begin(page.Box{W: 120, H: 80}, lines, nil)
		f.place(items, nil)
		for n := range items {
			for k := range items[n].cand {
				c := &items[n].cand[k]
				was := map[int32]bool{}
				for _, b := range c.by {
					if !f.stands(b) {
						continue
					}
					some++
					o := int(b.of) - 1
					if hard, _ := clash(c, &items[o].cand[b.at]); !hard || o == n || was[b.of] {
						t.Fatalf("item %d at %d is not held up by %d", n, k, o)
					}
					was[b.of] = true
				}
			}
		}
	})
	if some == 0 {
		t.Error("nothing is in the way of anything")
	}
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

// What a leader crosses adds up to the same in any order.
func TestCostsAddUpInAnyOrder(t *testing.T) {
	for r := range reach {
		for k := range turns {
			cost := 3*float64(r) + float64(0.05*float64(k))
			for a := 0.0; a <= 2*hopeless; a += 0.5 {
				for b := 0.0; b <= 2*hopeless; b += 0.5 {
					if (cost+a)+b != cost+(a+b) {
						t.Fatalf("%v and %v and %v", cost, a, b)
					}
				}
			}
		}
	}
	for _, p := range []piece{{}, {sign: true}, {firm: true}} {
		if halves := 2 * p.weight(); halves != math.Trunc(halves) {
			t.Error(halves)
		}
	}
}

// What is stored stays where it is until the store is cleared, and then its room is used again.
func TestStoreKeeps(t *testing.T) {
	var s store
	for range 2 {
		var all [][]candidate
		for i := range 200 {
			c := s.room(i % (kept + 1))
			for k := range c {
				c[k].cost = float64(i)
			}
			all = append(all, c)
		}
		for i, c := range all {
			if len(c) != i%(kept+1) || slices.ContainsFunc(c, func(x candidate) bool { return x.cost != float64(i) }) {
				t.Fatalf("%d: %d stored, not as they were", i, len(c))
			}
		}
		had := len(s.chunks)
		s.clear()
		if s.room(1); had < 2 || len(s.chunks) != min(had, mostChunks) {
			t.Errorf("%d chunks after %d", len(s.chunks), had)
		}
		s.clear()
	}
}
