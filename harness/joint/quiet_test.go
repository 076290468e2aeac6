package joint

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/lang/trial"
)

// sameShares compares what quiet places are said to miss with what each misses when it is looked at alone, and the marks seen from each edge with
// all that are within reach of it.
func sameShares(t interface{ Fatalf(string, ...any) }, s *search) (quiet int) {
	for _, it := range s.items {
		for i := range it.legs {
			l := &it.legs[i]
			q := s.g.quietOn(l.edge, &it.body)
			for n, got := range l.shares.list {
				at := s.on(l.lane, n)
				if q.holds(at.into) {
					quiet++
				}
				if want := shares(s.g.missesAll(at, &it.body)); got != want {
					t.Fatalf("%s at %+v misses %v, not %v", it.splice.Name, at, want, got)
				}
			}
		}
	}
	for edge := range s.g.geo.Edges {
		var want, got []int
		for i := range s.g.marks {
			at := s.g.marks[i].at
			e := &s.g.geo.Edges[edge]
			if at.edge == edge || min(s.g.far(loc{edge, 0}, at), s.g.far(loc{edge, e.Length}, at)) < distant {
				want = append(want, i)
			}
		}
		for _, v := range s.g.seen(edge) {
			got = append(got, v.mark)
		}
		if !slices.Equal(got, want) {
			t.Fatalf("marks %v are seen from edge %d, not %v", want, edge, got)
		}
	}
	return quiet
}

// distant is further than any way.
const distant = 1e300

// TestQuietPlaces: places off all marks miss what each of them misses by itself.
func TestQuietPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sameShares(t, surveyed(readJob(t, jobText(drawJob(t, rapid.IntRange(1, 4).Draw(t, "splices"), 60, "5 mm")))))
	})
	job := readJob(t, trial.Text(3, 200))
	geo := space.Lay(job)
	nt := net.Routed(job, geo)
	if n := sameShares(t, newSearch(job, geo, nt, net.NewSurvey(job, geo), ladenBy(geo, nt))); n < 100 {
		t.Errorf("%d places are quiet", n)
	}
}
