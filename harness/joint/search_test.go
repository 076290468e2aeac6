package joint

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

func readJob(t interface{ Fatalf(string, ...any) }, text string) *design.Job {
	job, _, msgs := resolve.Job("job.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if msgs.HasMistakes() {
		t.Fatalf("%v\n%s", msgs, text)
	}
	return job
}

// drawJob is a trunk with up to three twigs, devices at all ends, and some splices whose links lead to devices and to one another. Limits are small, so that
// all places can be tried. Lines may stand in any order.
func drawJob(t *rapid.T, splices, reach int, clip string) []string {
	lines := []string{"section tub", "zone dry air 40 C", "zone hot air 125 C", "zone damp air 30 C with splash",
		"set splice-clear to 12 mm", "set splice-room to 8 mm", "set splice-off to 4 mm", "set splice-apart to 6 mm", "set splice-detour to 30 mm", "set clip-splice to " + clip, "set bend-radius to 10 mm"}
	if rapid.IntRange(0, 3).Draw(t, "close") == 0 {
		lines = append(lines, "set splice-school to close", "set splice-close to 20 mm")
	}
	zones := []string{"dry", "dry", "dry", "damp", "hot"}
	zone := func() string { return rapid.SampledFrom(zones).Draw(t, "zone") }
	x, trunk := 0, []string{"d0"}
	devices := 2
	lines = append(lines, "device d0 at (0, 0, 0 mm) housing plain-12", "device d1 at (XX, 0, 0 mm) housing plain-12")
	for k := range rapid.IntRange(1, 3).Draw(t, "twigs") {
		x += rapid.IntRange(8, reach).Draw(t, "x")
		y := rapid.IntRange(5, reach).Draw(t, "y")
		lines = append(lines, fmt.Sprintf("point p%d at (%d, 0, 0 mm)", k, x), fmt.Sprintf("device d%d at (%d, %d, 0 mm) housing plain-12", devices, x, y))
		moves := ""
		if rapid.IntRange(0, 5).Draw(t, "moves") == 0 {
			moves = " moves 2 mm"
		}
		lines = append(lines, fmt.Sprintf("run twig%d from p%d to d%d section tub zone %s%s", k, k, devices, zone(), moves))
		trunk = append(trunk, fmt.Sprintf("p%d", k))
		devices++
	}
	x += rapid.IntRange(8, reach).Draw(t, "x")
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], "XX", fmt.Sprint(x))
	}
	lines = append(lines, "run trunk from "+strings.Join(append(trunk, "d1"), " to ")+" section tub zone "+zone())
	if rapid.Bool().Draw(t, "clip") {
		lines = append(lines, fmt.Sprintf("fixing f run trunk after %d mm", rapid.IntRange(0, x).Draw(t, "clip at")))
	}
	pin := make([]int, devices)
	end := func() string {
		d := rapid.IntRange(0, devices-1).Draw(t, "device")
		pin[d]++
		return fmt.Sprintf("d%d.%d", d, pin[d])
	}
	size := func() string { return rapid.SampledFrom([]string{"0.5", "1", "1.5", "4"}).Draw(t, "size") }
	for k := range splices {
		lines = append(lines, fmt.Sprintf("splice s%d section tub", k))
		c := fmt.Sprintf("circuit c%d {", k)
		if k > 0 && rapid.IntRange(0, 2).Draw(t, "linked") == 0 {
			c = fmt.Sprintf("circuit c%d {\n  from s%d to s%d size %s mm2", k, rapid.IntRange(0, k-1).Draw(t, "to"), k, size())
		}
		for range rapid.IntRange(2, 3).Draw(t, "links") {
			c += fmt.Sprintf("\n  from s%d to %s size %s mm2", k, end(), size())
		}
		lines = append(lines, c+"\n}")
	}
	return lines
}

func jobText(lines []string) string {
	return "harness \"Drawn\" revision A\n" + strings.Join(lines, "\n") + "\n"
}

func surveyed(job *design.Job) *search {
	geo := space.Lay(job)
	nt := net.Build(job, geo, nil)
	return newSearch(job, geo, nt, net.NewSurvey(job, geo), ladenBy(geo, nt))
}

// TestAgainstAllPlaces tries every place of two splices, and of three, and compares.
func TestAgainstAllPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3).Draw(t, "splices")
		reach := []int{0, 60, 34, 18}[n]
		s := surveyed(readJob(t, jobText(drawJob(t, n, reach, "5 mm"))))
		if len(s.items) != n {
			t.Fatalf("%d of %d can be placed", len(s.items), n)
		}
		group := []int{0, 1, 2}[:n]
		best, found := mostCost, false
		at := s.nowhere()
		var try func(i int, cost int64)
		try = func(i int, cost int64) {
			if i == n {
				best, found = min(best, cost), true
				return
			}
			it := s.items[i]
			for k := range it.count {
				a := it.spot(k)
				if !it.ok[k] {
					continue
				}
				c, free := plus(cost, s.costOf(it, k)), true
				for j := range i {
					free = free && !s.crowded(i, a, j, at[j])
				}
				if !free || c >= best {
					continue
				}
				for j := range i {
					c = plus(c, s.between(i, a, j, at[j]))
				}
				at[i] = a
				try(i+1, c)
			}
		}
		try(0, 0)
		got, over := s.all()
		for _, i := range group {
			if got[i] < 0 {
				t.Fatalf("s%d has no place", i)
			}
			if (over[i] < 0) && found && n == 1 {
				t.Fatalf("s%d: room was not found", i)
			}
		}
		unmet := slices.ContainsFunc(over, func(x int64) bool { return x < 0 })
		if unmet == found {
			t.Fatalf("all places: room %v; search: unmet %v", found, unmet)
		}
		if !found {
			return
		}
		cost := s.total(group, got)
		bound := int64(0)
		for _, x := range over {
			bound = plus(bound, max(0, x))
		}
		if cost < best || cost > best+bound {
			t.Fatalf("costs %d, the least is %d, off by at most %d", cost, best, bound)
		}
		for _, i := range group {
			for j := range i {
				if s.crowded(i, got[i], j, got[j]) {
					t.Fatalf("s%d and s%d are crowded", i, j)
				}
			}
		}
	})
}

// TestPlacesHold looks at drawn jobs after their splices were placed, in the geometry that has them as nodes: what can meet all limits does, and none
// are crowded where room was found. The order of the lines does not show.
func TestPlacesHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := drawJob(t, rapid.IntRange(1, 5).Draw(t, "splices"), 150, "9 mm")
		job := readJob(t, jobText(lines))
		geo := space.Lay(job)
		out, places := Place(job, geo)
		if len(net.NewSurvey(out, space.Lay(out)).Open) != 0 {
			t.Fatal("a splice was left without a place")
		}
		lay := space.Lay(out)
		nt := net.Build(out, lay, nil)
		s := surveyed(job)
		unmet := map[string]bool{}
		for _, c := range places.Chosen {
			unmet[c.Splice] = c.Unmet
		}
		// Where the places chosen change by what they make a breakout, nothing is promised.
		first, _ := s.all()
		asFirst := true
		for i, it := range s.items {
			p := s.spot(first[i])
			x := out.Splices[slices.IndexFunc(out.Splices, func(x *design.Splice) bool { return x.Name == it.splice.Name })]
			asFirst = asFirst && x.Along == p.run && x.To == p.to && x.After == p.after && !branched(geo, lay, nt, job)
		}
		judged := Judge(out, nt, nil, nil, places)
		for i, m := range judged.Made {
			least := 1.0
			for k := range s.items[i].count {
				least = min(least, s.items[i].share(k))
			}
			if least == 0 && !unmet[m.Splice] && len(m.Misses) > 0 && asFirst {
				t.Fatalf("%s could lie where nothing is missed: %+v", m.Splice, m.Misses)
			}
			if m.Status != design.Computed {
				t.Fatalf("%+v", m)
			}
		}
		for _, c := range judged.Crowds {
			if !slices.ContainsFunc(c.Splices, func(n string) bool { return unmet[n] }) {
				t.Fatalf("crowded: %+v", c)
			}
		}
		shuffled := rapid.Permutation(lines).Draw(t, "order")
		again := readJob(t, jobText(shuffled))
		if _, p := Place(again, space.Lay(again)); !slices.Equal(p.Chosen, places.Chosen) {
			t.Fatalf("the order of lines shows:\n%+v\n%+v", p.Chosen, places.Chosen)
		}
	})
}

// branched tells whether the wires of the placed splices made a breakout of a node that was none before they had places, or the other way.
func branched(geo, lay *space.Geometry, nt *net.Net, job *design.Job) bool {
	count := func(g *space.Geometry, laden []bool) map[string]int {
		out := map[string]int{}
		for i, on := range laden {
			if on {
				out[g.Nodes[g.Edges[i].From].Key]++
				out[g.Nodes[g.Edges[i].To].Key]++
			}
		}
		return out
	}
	before, after := count(geo, ladenBy(geo, net.Build(job, geo, nil))), count(lay, ladenBy(lay, nt))
	for _, n := range lay.Nodes {
		if (after[n.Key] > 2) != (before[n.Key] > 2) {
			return true
		}
	}
	return false
}
