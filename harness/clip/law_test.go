package clip

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// job draws a problem of up to four tracks that may lie beside each other and want the same seats.
func (d die) job(length int) (p Problem) {
	for range d(1, 4) {
		p.Tracks = append(p.Tracks, d.track(length, 9))
	}
	for range d(0, 2) {
		p.Sides = append(p.Sides, Side{TrackA: d(0, 4), TrackB: d(0, 4), A: d(-2, length), B: d(-2, length), Length: d(-1, length), Back: d(0, 1) == 1})
	}
	return p
}

// checkLaw tries a law on rapid's problems and on seeded ones; "" is fine.
func checkLaw(t *testing.T, law func(d die) string) {
	rapid.Check(t, func(t *rapid.T) {
		if err := law(rapidDie(t)); err != "" {
			t.Fatal(err)
		}
	})
	for seed := range uint64(400) {
		if err := law(seeded(seed)); err != "" {
			t.Fatalf("seed %d: %s", seed, err)
		}
	}
}

// longer draws one track, or two beside each other, too long for exhaustive search.
func (d die) longer() Problem {
	p := sideBySide(d, d(2, 60))
	for k := range p.Tracks {
		t := &p.Tracks[k]
		for i := range t.Spans {
			t.Spans[i].Most += d(0, 12)
			t.Spans[i].To += d(0, 30)
		}
		t.Given = t.Given[:min(len(t.Given), 1)]
	}
	if d(0, 1) == 0 {
		p.Tracks, p.Sides = p.Tracks[:1], nil
	}
	return p
}

// mirrored is a problem seen from the other ends of its tracks.
func mirrored(p Problem) Problem {
	out := Problem{Sides: slices.Clone(p.Sides)}
	for i := range p.Tracks {
		t := p.Tracks[i].mirror()
		out.Tracks = append(out.Tracks, *t)
	}
	for i, s := range p.Sides {
		a, b := p.Tracks[s.TrackA].Length, p.Tracks[s.TrackB].Length
		out.Sides[i].A, out.Sides[i].B = a-s.A-s.Length, b-s.B-s.Length
		if s.Back {
			out.Sides[i].B = b - s.B + s.Length
		}
	}
	return out
}

func TestMirrorCostsTheSame(t *testing.T) {
	checkLaw(t, func(d die) string {
		p := d.longer()
		for k := range p.Tracks {
			p.Tracks[k].Given = nil // which seat one takes goes by the order of places
		}
		a, b := Solve(p), Solve(mirrored(p))
		if a.value() != b.value() {
			return fmt.Sprintf("%+v, mirrored %+v\n%s", a.value(), b.value(), picture(p, a))
		}
		return ""
	})
}

func TestSeatNeverCostsHoles(t *testing.T) {
	checkLaw(t, func(d die) string {
		p := d.longer()
		a := Solve(p)
		q := Problem{Tracks: slices.Clone(p.Tracks), Sides: p.Sides}
		tr := &q.Tracks[0]
		tr.Seats = append(slices.Clone(tr.Seats), Seat{d(0, tr.Length), 1000})
		b := Solve(q)
		if b.value().compare(a.value()) > 0 || b.Missed == a.Missed && b.Overrun == a.Overrun && b.NewHoles > a.NewHoles {
			return fmt.Sprintf("%+v, with a seat more %+v\n%s", a.value(), b.value(), picture(q, b))
		}
		return ""
	})
}

func TestLooserSpanCostsNothing(t *testing.T) {
	checkLaw(t, func(d die) string {
		p := d.longer()
		a := Solve(p)
		q := Problem{Tracks: slices.Clone(p.Tracks), Sides: p.Sides}
		for k := range q.Tracks {
			tr := &q.Tracks[k]
			tr.Spans = slices.Clone(tr.Spans)
			for i := range tr.Spans {
				if tr.Spans[i].Most > 0 {
					tr.Spans[i].Most += d(0, 5)
				}
			}
		}
		b := Solve(q)
		if b.value().compare(a.value()) > 0 || b.Missed == a.Missed && b.Overrun == a.Overrun && b.NewHoles == a.NewHoles && b.Clips > a.Clips {
			return fmt.Sprintf("%+v, looser %+v\n%s", a.value(), b.value(), picture(q, b))
		}
		return ""
	})
}

func TestMoreClosedNeverCostsLess(t *testing.T) {
	checkLaw(t, func(d die) string {
		p := d.longer()
		a := Solve(p)
		q := Problem{Tracks: slices.Clone(p.Tracks), Sides: p.Sides}
		tr := &q.Tracks[0]
		if d(0, 1) == 0 {
			tr.Closed = append(slices.Clone(tr.Closed), d.span(tr.Length))
		} else {
			tr.NewShut = append(slices.Clone(tr.NewShut), d.span(tr.Length))
		}
		if b := Solve(q); b.value().compare(a.value()) < 0 {
			return fmt.Sprintf("%+v, with more closed %+v\n%s", a.value(), b.value(), picture(p, a))
		}
		return ""
	})
}

// TestFirstPlaces: of equal answers of a track the one whose places come first.
func TestFirstPlaces(t *testing.T) {
	checkLaw(t, func(d die) string {
		tr := d.track(10, 1)
		for i := range tr.Seats {
			tr.Seats[i].ID = i
		}
		p := Problem{Tracks: []Track{tr}}
		a := Solve(p)
		b := newBrute(p)
		var first []int
		for set, v := range b.tries[0] {
			h, ok := b.holes([]int{set})
			if at := places(set); ok && (value{v.missed, v.overrun, h, v.clips, v.uneven}) == a.value() && (first == nil || slices.Compare(at, first) < 0) {
				first = at
			}
		}
		for i, x := range a.Places[0] {
			if x.At != first[i] {
				return fmt.Sprintf("%v come first\n%s", first, picture(p, a))
			}
		}
		return ""
	})
}

// TestBoundChangesNothing: the search of two tracks without its bound finds the same.
func TestBoundChangesNothing(t *testing.T) {
	checkLaw(t, func(d die) string {
		p := sideBySide(d, d(2, 60))
		for i := range p.Tracks {
			p.Tracks[i].Seats = nil
			p.Tracks[i].Spans = append(p.Tracks[i].Spans, Span{Range{0, 60}, d(1, 20)})
		}
		jb := newJob(&p)
		if units := jb.units(p.Sides); len(units) == 2 {
			return ""
		}
		f := jb.facings[0]
		if f.way < 0 {
			return ""
		}
		seats := jb.shut()
		shut := func(k int) []bool { return seats[k] }
		x, y := jb.line(0, shut, nil, jb.guests(f, shut, 1)[0], 1), jb.line(1, shut, nil, jb.guests(f, shut, 1)[1], 1)
		pr := newPair(x, y, func(at int) int { return f.opposite(0, at) })
		none := func(int) int { return -1 }
		pr.seat = [2]func(int) int{none, none}
		free := [2]*tail{{cost: make([]cost, len(x.spots))}, {cost: make([]cost, len(y.spots))}}
		s := newSweep(pr, free, [2][]int64{x.alone(), y.alone()}, never, math.MaxInt)
		if !s.run() {
			return "not found"
		}
		with := jb.two(f, shut, [2]map[int]host{})
		if c, _ := s.answer(); c.value() != with.value {
			return fmt.Sprintf("%+v, without a bound %+v\n%s", with.value, c.value(), picture(p, Solve(p)))
		}
		return ""
	})
}

// TestAnyJobIsSound: whatever lies beside whatever, the answer is allowed, its sums are right, and exactness is not claimed wrongly.
func TestAnyJobIsSound(t *testing.T) {
	same, all := 0, 0
	checkLaw(t, func(d die) string {
		p := d.job(4)
		before := fmt.Sprint(p)
		a := Solve(p)
		if fmt.Sprint(p) != before {
			return "the problem was changed"
		}
		if !reflect.DeepEqual(a, Solve(p)) {
			return "not the same twice"
		}
		if err := sound(p, a); err != "" {
			return err + "\n" + picture(p, a)
		}
		best := newBrute(p).best()
		if a.value() != best && (a.Exact || a.value().compare(best) < 0) {
			return fmt.Sprintf("says %+v, best %+v\n%s", a.value(), best, picture(p, a))
		}
		if all++; a.value() == best {
			same++
		}
		return ""
	})
	t.Logf("%d of %d are the best", same, all)
	if same*100 < all*98 {
		t.Errorf("only %d of %d are the best", same, all)
	}
}

// TestNonsense: no panic, no hang, and every track has its places.
func TestNonsense(t *testing.T) {
	wild := []int{math.MinInt, -1e9, -1, 0, 1, 5, 300, 20_000, 1e9, math.MaxInt}
	r := rand.New(rand.NewPCG(1, 2))
	number := func() int {
		if r.IntN(2) == 0 {
			return r.IntN(400)
		}
		return wild[r.IntN(len(wild))]
	}
	rng := func() Range { return Range{number(), number()} }
	for range 150 {
		var p Problem
		for range r.IntN(4) {
			t := Track{Length: number(), Ends: [2]int{number(), number()}, Apart: number()}
			for range r.IntN(4) {
				t.Spans = append(t.Spans, Span{rng(), number()})
				t.Windows = append(t.Windows, Window{rng(), ""})
				t.Closed = append(t.Closed, rng())
				t.NoHole = append(t.NoHole, rng())
				t.NewShut = append(t.NewShut, rng())
				t.Seats = append(t.Seats, Seat{number(), r.IntN(4)})
				if r.IntN(4) == 0 {
					t.Given = append(t.Given, number())
				}
			}
			p.Tracks = append(p.Tracks, t)
			p.Sides = append(p.Sides, Side{number(), number(), number(), number(), number(), r.IntN(2) == 0}, Side{r.IntN(4), r.IntN(4), r.IntN(9), number(), number(), r.IntN(2) == 0})
		}
		start := time.Now()
		a := Solve(p)
		if len(a.Places) != len(p.Tracks) {
			t.Fatalf("%d tracks, %d answers", len(p.Tracks), len(a.Places))
		}
		for k, ps := range a.Places {
			for _, g := range p.Tracks[k].Given {
				if g > -1e9 && g < 1e9 && !slices.ContainsFunc(ps, func(x Place) bool { return x.At == g && x.Given }) {
					t.Fatalf("the clip by hand at %d is gone", g)
				}
			}
		}
		if d := time.Since(start); d > time.Minute {
			t.Fatalf("%v for %+v", d, p)
		}
	}
}

// TestLimits: what is beyond the limits is said.
func TestLimits(t *testing.T) {
	long := Track{Length: MostLength + 1, Given: []int{7}}
	crowd := Track{Length: 100, Windows: make([]Window, MostWindows+1)}
	a := Solve(Problem{Tracks: []Track{long, crowd, {Length: -1}, {Length: 10, Ends: [2]int{3, 3}}}})
	want := []Miss{
		{Track: 0, Kind: KindCap, What: "length", Range: Range{0, MostLength + 1}, Count: 1},
		{Track: 1, Kind: KindCap, What: "windows", Range: Range{0, 100}, Count: 1},
		{Track: 2, Kind: KindCap, What: "length", Range: Range{0, -1}, Count: 1},
	}
	if !slices.Equal(a.Misses, want) || a.Exact || a.Clips != 3 {
		t.Errorf("%+v", a)
	}
	var many Problem
	for range MostTotal/MostLength + 5 {
		many.Tracks = append(many.Tracks, Track{Length: MostLength, Windows: []Window{{Range{9, 9}, ""}}})
	}
	if b := Solve(many); b.Missed != 5 || b.NewHoles != MostTotal/MostLength {
		t.Errorf("%d missed, %d holes", b.Missed, b.NewHoles)
	}
}
