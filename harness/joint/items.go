package joint

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// mostSpots bounds how many spots are looked at for all splices together; beyond it not every millimetre is.
const mostSpots = 2e6

// findSpots lists the whole millimetres of every run on which a splice can be stated.
func (s *search) findSpots(splices int) {
	total := 0.0
	for i := range s.g.geo.Edges {
		if e := &s.g.geo.Edges[i]; known(e) {
			total += float64(e.Length)
		}
	}
	stride := max(1, math.Ceil(total*float64(splices)/mostSpots))
	for i := range s.g.geo.Edges {
		e := &s.g.geo.Edges[i]
		to, base, ok := s.g.name(i)
		if !known(e) || !ok || !s.measured(e) {
			continue
		}
		base += e.Station
		s.first[i] = len(s.spots)
		for after := math.Ceil(float64(base-tiny)/stride) * stride; unit.Length(after) <= base+e.Length+tiny; after += stride {
			into := max(0, min(e.Length, unit.Length(after)-base))
			s.spots = append(s.spots, spot{loc{i, into}, e.Run, to, unit.Length(after)})
		}
		s.count[i] = len(s.spots) - s.first[i]
	}
}

// measured tells whether the whole stretch of an edge has a known length.
func (s *search) measured(e *space.Edge) bool {
	_, ok := s.g.geo.StretchLength(e.Run, e.Stretch)
	return ok
}

// findItems works out what each splice would cost at each spot, and what is wrong there.
func (s *search) findItems() {
	job, sv := s.g.job, s.sv
	circuit := design.Index(job.Circuits, func(c *design.Circuit) string { return c.Name })
	draws := loads(job)
	at := map[string]int{}
	items := map[string]*item{}
	for _, name := range sv.Open {
		items[name] = &item{body: body{splice: s.g.splice(name), planned: true}, section: sv.Section(name)}
	}
	type pair struct {
		link
		from, to string
	}
	var pairs []pair
	for k := range sv.Pulls {
		p := &sv.Pulls[k]
		w := guess(job, draws, circuit[p.Circuit], p)
		items[p.Splice].copperW += w
		if p.Other == "" {
			items[p.Splice].pulls = append(items[p.Splice].pulls, pull{sv.Reach(k), w})
			continue
		}
		items[p.Other].copperW += w
		for _, x := range [2][2]string{{p.Splice, p.Other}, {p.Other, p.Splice}} {
			for _, j := range s.nt.Joints {
				if f := sv.Toward(k, j.Node, j.Section); j.Splice == x[1] && f != nil {
					items[x[0]].toward = append(items[x[0]].toward, f)
				}
			}
		}
		pairs = append(pairs, pair{link{pull: k, weight: w}, p.Splice, p.Other})
	}
	shares := map[shareKey]float64{}
	for _, name := range sv.Open {
		it := items[name]
		if it.copperW == 0 || it.splice == nil {
			continue // nothing ends in it
		}
		it.length = s.g.room(it.splice, design.Scope{Section: it.section})
		it.barrel = it.splice.Barrel
		s.reachable(it, shares)
		s.keepTogether(it)
		if len(it.all) > 0 {
			s.prepare(it)
			at[name] = len(s.items)
			s.items = append(s.items, it)
		}
	}
	for _, p := range pairs {
		i, okFrom := at[p.from]
		j, okTo := at[p.to]
		if okFrom && okTo {
			p.link.from, p.link.to = i, j
			p.link.least = s.leastOf(p.link)
			s.links = append(s.links, p.link)
		}
	}
	s.findMates(at)
}

// findMates ties the splices of a cable's further circuits to those of its first: in the order of their names, the first to the first, and so on. Cores
// that leave one another at their splices would no longer be a pair.
func (s *search) findMates(at map[string]int) {
	for _, c := range s.g.job.Cables {
		var lead []int
		for n, name := range c.Holds {
			mine := s.splicesOf(name, at)
			if n == 0 {
				lead = mine
				continue
			}
			for k := range min(len(lead), len(mine)) {
				if lead[k] != mine[k] {
					s.links = append(s.links, link{pull: -1, from: lead[k], to: mine[k], weight: s.items[lead[k]].copperW + s.items[mine[k]].copperW, mate: true})
				}
			}
		}
	}
}

// keepTogether leaves an item whose circuit is held by a cable only the spots on edges in which wires of every circuit of that cable lie, if it may lie at one
// of them: elsewhere its core would leave the others.
func (s *search) keepTogether(it *item) {
	for _, c := range s.g.job.Cables {
		mine := slices.ContainsFunc(s.sv.Pulls, func(p net.Pull) bool {
			return slices.Contains(c.Holds, p.Circuit) && (p.Splice == it.splice.Name || p.Other == it.splice.Name)
		})
		if !mine {
			continue
		}
		on := map[int]map[string]bool{}
		for i := range s.nt.Wires {
			w := &s.nt.Wires[i]
			for _, x := range w.Path {
				if on[x.Edge] == nil {
					on[x.Edge] = map[string]bool{}
				}
				on[x.Edge][w.Circuit] = true
			}
		}
		var keep []int
		clean := false
		for k, a := range it.all {
			here := on[s.spots[a].at.edge]
			if !slices.ContainsFunc(c.Holds, func(n string) bool { return !here[n] }) {
				keep = append(keep, k)
				clean = clean || it.share[k] == 0
			}
		}
		if !clean {
			continue
		}
		it.all, it.cost, it.copper, it.share, it.blind = pick(it.all, keep), pick(it.cost, keep), pick(it.copper, keep), pick(it.share, keep), pick(it.blind, keep)
	}
}

func pick[T any](list []T, keep []int) (out []T) {
	for _, k := range keep {
		out = append(out, list[k])
	}
	return out
}

// splicesOf lists the items that a circuit leads to, in order.
func (s *search) splicesOf(circuit string, at map[string]int) (out []int) {
	for k := range s.sv.Pulls {
		p := &s.sv.Pulls[k]
		if p.Circuit != circuit {
			continue
		}
		for _, n := range []string{p.Splice, p.Other} {
			if i, ok := at[n]; ok {
				out = append(out, i)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// shareKey is what the misses of a spot depend on.
type shareKey struct {
	spot           int
	length         unit.Length
	barrel, sleeve string
}

// reachable lists the spots that the most of an item's links reach, with what they cost there.
func (s *search) reachable(it *item, cache map[shareKey]float64) {
	most := 0
	for k := range s.spots {
		p := &s.spots[k]
		e := &s.g.geo.Edges[p.at.edge]
		if it.section != "" && e.Section != it.section {
			continue
		}
		met, cost := 0, int64(0)
		for i := range it.pulls {
			if way, ok := it.pulls[i].field.At(p.at.edge, p.at.into); ok {
				met++
				cost = plus(cost, wayOf(way)*it.pulls[i].weight)
			}
		}
		if met < most || met == 0 && len(it.pulls) > 0 {
			continue
		}
		if met > most {
			most = met
			it.all, it.copper = it.all[:0], it.copper[:0]
		}
		it.all, it.copper = append(it.all, k), append(it.copper, cost)
	}
	coolest := unit.Temperature(math.Inf(1))
	for _, k := range it.all {
		coolest = min(coolest, s.g.air(s.g.geo.Edges[s.spots[k].at.edge].Zone))
	}
	fines := map[int][2]int64{} // by edge: of a place with wires on both sides, and of one with all on one side
	for n, k := range it.all {
		at := s.spots[k].at
		fine, seen := fines[at.edge]
		if !seen {
			fine = [2]int64{s.fine(it, at.edge, coolest, 0), s.fine(it, at.edge, coolest, 1)}
			fines[at.edge] = fine
		}
		blind := s.blind(it, at)
		it.blind = append(it.blind, blind)
		if blind {
			it.cost = append(it.cost, plus(it.copper[n], fine[1]))
		} else {
			it.cost = append(it.cost, plus(it.copper[n], fine[0]))
		}
		key := shareKey{k, it.length, it.barrel, it.splice.Sleeve}
		x, have := cache[key]
		if !have {
			x = shares(s.g.missesAll(at, &it.body))
			cache[key] = x
		}
		it.share = append(it.share, x)
	}
}

// blind tells whether all wires would come to a place from one side: it lies in a stub, into which they turn only to turn back.
func (s *search) blind(it *item, at loc) bool {
	e := &s.g.geo.Edges[at.edge]
	if at.into <= tiny || at.into >= e.Length-tiny {
		return false
	}
	var left, right int
	count := func(f *net.Field) {
		if f.From(at.edge, at.into) {
			left++
		} else {
			right++
		}
	}
	for _, p := range it.pulls {
		count(p.field)
	}
	for _, f := range it.toward {
		count(f)
	}
	return left+right > 1 && (left == 0 || right == 0)
}

// fine is what lying wet, lying in a stub, and lying warmer than elsewhere, count for: each as if all wires of the splice were longer by splice-detour,
// in heat by that share of it by which the air uses up what there is between the coolest place and what the joint stands. Part is what counts already.
func (s *search) fine(it *item, edge int, coolest unit.Temperature, part float64) int64 {
	at := s.g.scope(edge)
	detour := float64(s.g.length("splice-detour", at))
	if s.g.wet(at.Zone) {
		part++
	}
	if stands, _, ok := s.g.stands(&it.body, at); ok && stands > coolest {
		part += min(1, max(0, float64(s.g.air(at.Zone)-coolest)/float64(stands-coolest)))
	}
	return plus(0, wayOf(unit.Length(detour*part))*it.copperW)
}
