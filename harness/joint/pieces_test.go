package joint

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestLinkToASpliceThatHasNoPlace: what leads to a splice for which there is no run ties nothing to any other.
func TestLinkToASpliceThatHasNoPlace(t *testing.T) {
	s := surveyed(readJob(t, `harness "Drawn" revision A
section tub, nose
zone dry air 40 C
device d0 at (0, 0, 0 mm) housing plain-12
device d1 at (500, 0, 0 mm) housing plain-12
run trunk from d0 to d1 section tub zone dry
splice a, s section tub
splice u section nose
circuit one size 1 mm2 {
  from d0.1 to a
  from a to d1.1, d1.2
}
circuit two size 1 mm2 {
  from d0.3 to s
  from s to d1.3, d1.4
  from s to u size 6 mm2
}
`))
	if len(s.items) != 2 || len(s.links) != 0 {
		t.Errorf("%d items, links %+v", len(s.items), s.links)
	}
}

// TestLeastOfALink: of two splices that may lie only on either side of a breakout, 40 off it, their 2 mm2 are 80 long at least; where they may lie in one edge
// nothing is known of the least.
func TestLeastOfALink(t *testing.T) {
	s := surveyed(readJob(t, `harness "Drawn" revision A
section tub
zone dry air 40 C
point p at (600, 0, 0 mm)
device d0 at (0, 0, 0 mm) housing plain-12
device d1 at (1000, 0, 0 mm) housing plain-12
device d2 at (600, 300, 0 mm) housing plain-12
run trunk from d0 to p section tub zone dry
run on from p to d1 section tub zone dry
run twig from p to d2 section tub zone dry
splice s, u section tub
circuit one size 1 mm2 {
  from s to d0.1, d2.2
  from s to u size 2 mm2
  from u to d1.1, d2.2
}
`))
	if len(s.items) != 2 || len(s.links) != 1 {
		t.Fatalf("%d items, links %+v", len(s.items), s.links)
	}
	if got := s.leastOf(s.links[0]); got != 0 {
		t.Errorf("anywhere: %d", got)
	}
	for i, run := range []string{"trunk", "on"} {
		it := s.items[i]
		it.ends = slices.DeleteFunc(it.ends, func(k int) bool { return s.g.geo.Edges[s.at(it.spot(k)).edge].Run != run })
		if len(it.ends) < 2 {
			t.Fatalf("%s: %v", run, it.ends)
		}
	}
	if got := s.leastOf(s.links[0]); got != 80*1000*200 {
		t.Errorf("on either side: %d", got)
	}
}

// TestRoomForTheClip: a splice keeps 40 off either connector, and so far from the clip that is to hold the bundle 25 to 100 off each that this finds room before it or
// beyond it: nowhere from 61 to 64 off. Where the line is so short that the clip of one end has the other connector in its way, there is less room beyond.
func TestRoomForTheClip(t *testing.T) {
	for _, c := range []struct {
		long int
		over string // a point that it passes by
		want string
	}{{300, "", "40-60 65-235 240-260"}, {160, "", "40-60 65-95 100-120"}, {110, "", "40-45 65-70"}, {120, "", "40-55 65-80"}, {300, "to p ", "40-60 65-235 240-260"}} {
		s := surveyed(readJob(t, fmt.Sprintf(`harness "Drawn" revision A
section tub
zone dry air 40 C
device d0 at (0, 0, 0 mm) housing plain-12
device d1 at (%d, 0, 0 mm) housing plain-12
point p at (110, 0, 0 mm)
run trunk from d0 %sto d1 section tub zone dry
splice s section tub
circuit one size 1 mm2 {
  from s to d0.1, d1.1, d1.2
}
`, c.long, c.over)))
		it := s.items[0]
		var got []string
		for k := 0; k < it.count; k++ {
			if !it.ok[k] {
				continue
			}
			first := k
			for k+1 < it.count && it.ok[k+1] {
				k++
			}
			got = append(got, fmt.Sprintf("%v-%v", float64(s.spot(it.spot(first)).after), float64(s.spot(it.spot(k)).after)))
		}
		if x := strings.Join(got, " "); x != c.want {
			t.Errorf("%d long %s: %s, want %s", c.long, c.over, x, c.want)
		}
	}
}

// TestShareOfAMiss: by how much of its limit a place misses it, a hair more than nothing at the limit and all of it at most; a wish counts little, and what has no
// distance wholly.
func TestShareOfAMiss(t *testing.T) {
	for _, c := range []struct {
		m    Miss
		want float64
	}{
		{Miss{Kind: NearEnd, Is: 30, Wants: 40}, 0.25}, {Miss{Kind: NearBranch, Is: 40, Wants: 40}, 0}, {Miss{Kind: InBend, Is: 0, Wants: 15}, 1}, {Miss{Kind: AtClip, Is: 0.25, Wants: 0.5}, 0.5},
		{Miss{Kind: FarFromBoth, Is: 90, Wants: 60}, 0.5}, {Miss{Kind: FarFromBoth, Is: 300, Wants: 60}, 1}, {Miss{Kind: FarFromBoth, Is: 0.75, Wants: 0.5}, 0.5}, {Miss{Kind: FarFromBoth, Is: 60, Wants: 0}, 1},
		{Miss{Kind: InMotion, Is: 4, Wants: 16}, 0.75}, {Miss{Kind: InMotion, Is: 0.25, Wants: 1}, 0.75}, {Miss{Kind: InMotion}, 1},
		{Miss{Kind: InHeat}, 1}, {Miss{Kind: InWet}, 1}, {Miss{Kind: NearEnd}, 1}, {Miss{Kind: NearEnd, Is: 30, Wants: 40, wish: true}, 0.05},
	} {
		if got := c.m.share(); got < c.want-1e-9 || got > c.want+2e-6 {
			t.Errorf("%+v: %v, want %v", c.m, got, c.want)
		}
	}
}
