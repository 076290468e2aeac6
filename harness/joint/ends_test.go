package joint

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/lang/trial"
)

// plainEnds looks at every spot of an item.
func plainEnds(s *search, it *item) (ok []bool, ends []int, least, cheap int64) {
	best := math.Inf(1)
	for i := range it.legs {
		best = min(best, slices.Min(it.legs[i].shares.list))
	}
	ok, least, cheap = make([]bool, it.count), mostCost, mostCost
	for i := range it.legs {
		l := &it.legs[i]
		state := func(k int) (good, blind bool) {
			if k < 0 || k >= l.count || l.shares.list[k] > best+1e-9 {
				return false, false
			}
			_, _, blind = s.weigh(it, l, k)
			return true, blind
		}
		for k := range l.count {
			good, blind := state(k)
			if !good {
				continue
			}
			ok[l.base+k] = true
			copper, cost, _ := s.weigh(it, l, k)
			least, cheap = min(least, cost), min(cheap, copper)
			for _, d := range []int{-1, 1} {
				if g, b := state(k + d); !g || b != blind {
					ends = append(ends, l.base+k)
				}
			}
		}
	}
	return ok, slices.Compact(ends), least, cheap
}

func sameEnds(t interface{ Fatalf(string, ...any) }, s *search) {
	for _, it := range s.items {
		ok, ends, least, cheap := plainEnds(s, it)
		if !slices.Equal(ok, it.ok) || !slices.Equal(ends, it.ends) || least != it.least || cheap != it.cheap {
			t.Fatalf("%s: ends %v least %d copper %d, of all spots %v %d %d", it.splice.Name, it.ends, it.least, it.cheap, ends, least, cheap)
		}
		for n, c := range it.known {
			l, k := it.leg(c.k)
			if _, cost, _ := s.weigh(it, l, k); c.k != it.ends[n] || c.cost != cost {
				t.Fatalf("%s: spot %d costs %d, not %d", it.splice.Name, c.k, cost, c.cost)
			}
		}
	}
}

// TestEndsOfAllSpots: the ends of the stretches in which a splice may lie, and the least that it costs in them, are those found by looking at every spot.
func TestEndsOfAllSpots(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sameEnds(t, surveyed(readJob(t, jobText(drawJob(t, rapid.IntRange(1, 4).Draw(t, "splices"), 60, "5 mm")))))
	})
	job := readJob(t, trial.Text(3, 200))
	geo := space.Lay(job)
	nt := net.Routed(job, geo)
	s := newSearch(job, geo, nt, net.NewSurvey(job, geo), ladenBy(geo, nt))
	if len(s.items) < 3 {
		t.Fatalf("%d splices are sought", len(s.items))
	}
	sameEnds(t, s)
}
