package clip

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// die draws a number from lo to hi, both included.
type die func(lo, hi int) int

func rapidDie(t *rapid.T) die {
	return func(lo, hi int) int { return rapid.IntRange(lo, hi).Draw(t, "n") }
}

// seeded draws every number alike, where rapid prefers small ones.
func seeded(seed uint64) die {
	r := rand.New(rand.NewPCG(seed, 1))
	return func(lo, hi int) int { return lo + r.IntN(hi-lo+1) }
}

func (d die) span(length int) Range {
	from := d(-1, length+1)
	return Range{from, from + d(-1, 4)}
}

func (d die) spans(length, most int) (out []Range) {
	for range d(0, most) {
		out = append(out, d.span(length))
	}
	return out
}

// track draws a track on which every feature may be; ids is how many holes there are for its seats.
func (d die) track(mostLength, ids int) Track {
	n := d(0, mostLength)
	t := Track{
		Length:  n,
		Ends:    [2]int{d(0, 4), d(0, 4)},
		Closed:  d.spans(n, 2),
		NoHole:  d.spans(n, 1),
		NewShut: d.spans(n, 2),
		Apart:   d(0, 4),
	}
	for range d(0, 2) {
		t.Spans = append(t.Spans, Span{Range{d(-1, n), d(0, n+2)}, d(0, 6)})
	}
	for range d(0, 3) {
		t.Windows = append(t.Windows, Window{d.span(n), "w"})
	}
	for range d(0, 3) {
		t.Seats = append(t.Seats, Seat{d(0, n), d(1, ids)})
	}
	for range max(0, d(-2, 2)) {
		t.Given = append(t.Given, d(0, n))
	}
	return t
}

func (a *Answer) value() value {
	return value{int64(a.Missed), a.Overrun, int64(a.NewHoles), int64(a.Clips), a.Uneven}
}

// compareBrute demands the best value, and an answer that is worth what it says; "" is fine.
func compareBrute(p Problem) string {
	a := Solve(p)
	if err := sound(p, a); err != "" {
		return err + "\n" + picture(p, a)
	}
	if want := newBrute(p).best(); a.value() != want {
		return fmt.Sprintf("got %+v, best %+v\n%s", a.value(), want, picture(p, a))
	}
	if !a.Exact {
		return "best, but not said to be\n" + picture(p, a)
	}
	return ""
}

// checkBest compares with exhaustive search: rapid's cases, which it makes small when one fails, and as many seeded ones.
func checkBest(t *testing.T, seeds uint64, draw func(d die) Problem) {
	rapid.Check(t, func(t *rapid.T) {
		if err := compareBrute(draw(rapidDie(t))); err != "" {
			t.Fatal(err)
		}
	})
	for seed := range seeds {
		if err := compareBrute(draw(seeded(seed))); err != "" {
			t.Fatalf("seed %d: %s", seed, err)
		}
	}
}

func TestOneTrackIsBest(t *testing.T) {
	checkBest(t, 1500, func(d die) Problem { return Problem{Tracks: []Track{d.track(d(1, 14), 4)}} })
}

func TestTracksWithCommonSeatsAreBest(t *testing.T) {
	checkBest(t, 1500, func(d die) Problem {
		var p Problem
		for range d(2, 3) {
			p.Tracks = append(p.Tracks, d.track(5, 3))
		}
		return p
	})
}

// sideBySide draws two tracks with one side, or two that a common clock fits.
func sideBySide(d die, length int) Problem {
	p := Problem{Tracks: []Track{d.track(length, 4), d.track(length, 4)}}
	a := d(0, 1)
	s := Side{TrackA: a, TrackB: 1 - a, A: d(-1, 3), B: d(-1, 3), Length: d(0, length+2), Back: d(0, 1) == 1}
	if s.Back {
		s.B = d(2, length+2)
	}
	p.Sides = append(p.Sides, s)
	if d(0, 2) == 0 { // a second one further on, with another offset
		s.Length = d(0, 3)
		p.Sides[0] = s
		s.A += s.Length + d(1, 2)
		if s.Back {
			s.B -= s.Length + d(1, 2)
		} else {
			s.B += s.Length + d(1, 2)
		}
		p.Sides = append(p.Sides, s)
	}
	return p
}

func TestTwoTracksSideBySideAreBest(t *testing.T) {
	checkBest(t, 1500, func(d die) Problem { return sideBySide(d, d(2, 7)) })
}

// sound checks that an answer is allowed and that its sums are those of its places; "" is fine.
func sound(p Problem, a Answer) string {
	b := newBrute(p)
	sets, sum, holes := make([]int, len(p.Tracks)), alone{}, 0
	owner := map[int]clipAt{}
	for k, ps := range a.Places {
		t := p.Tracks[k]
		for i, x := range ps {
			if i > 0 && ps[i-1].At >= x.At {
				return "places out of order"
			}
			if x.At < 0 || x.At > t.Length {
				return "a place outside its track"
			}
			sets[k] |= 1 << x.At
			seat, given := b.given[k][x.At]
			if given != x.Given {
				return "a clip by hand is not marked so, or one is that is none"
			}
			if given && seat >= 0 && x.Seat != seat {
				return fmt.Sprintf("track %d: the clip by hand at %d is in seat %d, wants %d", k, x.At, x.Seat, seat)
			}
			var with *Place
			if x.With >= 0 {
				for j := range a.Places[x.With] {
					y := &a.Places[x.With][j]
					if b.facing(&clipAt{track: k, at: x.At}, &clipAt{track: x.With, at: y.At}) {
						with = y
					}
				}
				if with == nil || with.With != k || with.New != x.New {
					return fmt.Sprintf("track %d: the partner of the clip at %d knows nothing of it", k, x.At)
				}
				if !x.New && x.Seat < 0 && with.Seat < 0 {
					return "two clips share an old hole that is not there"
				}
				if x.New && !x.Given && !with.Given && (!b.mayDrill(&clipAt{track: k, at: x.At}) || in(t.NoHole, x.At)) {
					return "a shared new hole where none may be, or none is needed"
				}
			} else {
				free := in(t.NoHole, x.At) && (!given || seat < 0)
				if x.New == (free || x.Seat >= 0) {
					return fmt.Sprintf("track %d: the clip at %d has no hole, or two", k, x.At)
				}
				if x.New && !given && !b.mayDrill(&clipAt{track: k, at: x.At}) {
					return "a new hole where none may be"
				}
			}
			if x.Seat >= 0 {
				s := t.Seats[x.Seat]
				if s.At != x.At {
					return "a clip in a seat that is elsewhere"
				}
				if o, taken := owner[s.ID]; taken && !given && !(x.With == o.track && with.At == o.at) {
					return fmt.Sprintf("seat %d is taken twice", s.ID)
				}
				owner[s.ID] = clipAt{track: k, at: x.At}
			}
			if x.New && (x.With < 0 || x.With > k) {
				holes++
			}
		}
		v, ok := b.alone(k, sets[k])
		if !ok {
			return fmt.Sprintf("track %d: the places are not allowed", k)
		}
		sum = alone{sum.missed + v.missed, sum.overrun + v.overrun, sum.clips + v.clips, sum.uneven + v.uneven}
	}
	if got := (value{sum.missed, sum.overrun, int64(holes), sum.clips, sum.uneven}); got != a.value() {
		return fmt.Sprintf("the places are worth %+v, the answer says %+v", got, a.value())
	}
	return ""
}

// picture draws the clips: N in a new hole, s in a seat, o where none is needed; big letters by hand are marked with !.
func picture(p Problem, a Answer) string {
	out := ""
	for k, t := range p.Tracks {
		row := []byte{}
		for range t.Length + 1 {
			row = append(row, '.')
		}
		for _, x := range a.Places[k] {
			if x.At < 0 || x.At > t.Length {
				continue
			}
			switch {
			case x.New:
				row[x.At] = 'N'
			case x.Seat >= 0 || x.With >= 0:
				row[x.At] = 's'
			default:
				row[x.At] = 'o'
			}
		}
		out += string(row) + "\n"
	}
	return out + fmt.Sprintf("%+v\n%+v", p, a)
}
