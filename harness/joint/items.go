package joint

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// mostSpots bounds how many spots are looked at for all splices together, each those of its section; beyond it not every millimetre is.
const mostSpots = 4e7

// findSpots lists the whole millimetres of every run on which a splice can be stated.
func (s *search) findSpots() {
	total, in := 0.0, map[string]float64{}
	for i := range s.g.geo.Edges {
		if e := &s.g.geo.Edges[i]; known(e) {
			total += float64(e.Length)
			in[e.Section] += float64(e.Length)
		}
	}
	work := 0.0
	for _, name := range s.sv.Open {
		if x := s.sv.Section(name); x != "" {
			work += in[x]
		} else {
			work += total
		}
	}
	s.stride = max(1, math.Ceil(work/mostSpots))
	s.lanesIn = map[string][]int{}
	s.laneOf = make([]int32, len(s.g.geo.Edges))
	for i := range s.g.geo.Edges {
		s.laneOf[i] = -1
		e := &s.g.geo.Edges[i]
		to, base, ok := s.g.name(i)
		if !known(e) || !ok || !s.measured(e) {
			continue
		}
		base += e.Station
		l := lane{edge: i, first: len(s.onLane), run: e.Run, to: to, base: base, from: math.Ceil(float64(base-tiny)/s.stride) * s.stride}
		for unit.Length(l.from+s.stride*float64(l.count)) <= base+e.Length+tiny {
			s.onLane = append(s.onLane, int32(len(s.lanes)))
			l.count++
		}
		if l.count > 0 {
			s.lanesIn[e.Section] = append(s.lanesIn[e.Section], len(s.lanes))
			if e.Section != "" {
				s.lanesIn[""] = append(s.lanesIn[""], len(s.lanes))
			}
		}
		s.laneOf[i] = int32(len(s.lanes))
		s.lanes = append(s.lanes, l)
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
	s.pulls = map[string][]int{}
	for k := range sv.Pulls {
		s.pulls[sv.Pulls[k].Circuit] = append(s.pulls[sv.Pulls[k].Circuit], k)
	}
	joints := map[string][]*net.Joint{}
	for i := range s.nt.Joints {
		joints[s.nt.Joints[i].Splice] = append(joints[s.nt.Joints[i].Splice], &s.nt.Joints[i])
	}
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
			for _, j := range joints[x[1]] {
				if f := sv.Toward(k, j.Node, j.Section); f != nil {
					items[x[0]].toward = append(items[x[0]].toward, f)
				}
			}
		}
		pairs = append(pairs, pair{link{pull: k, weight: w}, p.Splice, p.Other})
	}
	shares, cables := map[shareKey]*shareList{}, s.cables()
	for _, name := range sv.Open {
		it := items[name]
		if it.copperW == 0 || it.splice == nil {
			continue // nothing ends in it
		}
		it.length = s.g.room(it.splice, design.Scope{Section: it.section})
		it.barrel = it.splice.Barrel
		s.reachable(it, shares)
		s.keepTogether(it, cables)
		if it.count > 0 {
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
	s.tied = make([][]int, len(s.items))
	for n := range s.links {
		l := &s.links[n]
		s.tied[l.from] = append(s.tied[l.from], n)
		if l.to != l.from {
			s.tied[l.to] = append(s.tied[l.to], n)
		}
	}
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

// bound is a cable, with the edges on which wires of its circuits lie and the splices to which these lead.
type bound struct {
	cable   *design.Cable
	splices map[string]bool
	on      map[int]map[string]bool // circuits by edge
}

// cables lists the cables that hold circuits.
func (s *search) cables() []bound {
	var out []bound
	holder := map[string][]int{} // cables by circuit
	for _, c := range s.g.job.Cables {
		b := bound{c, map[string]bool{}, map[int]map[string]bool{}}
		for _, name := range c.Holds {
			if list := holder[name]; len(list) == 0 || list[len(list)-1] != len(out) {
				holder[name] = append(list, len(out))
			}
			for _, k := range s.pulls[name] {
				b.splices[s.sv.Pulls[k].Splice], b.splices[s.sv.Pulls[k].Other] = true, true
			}
		}
		out = append(out, b)
	}
	for i := range s.nt.Wires {
		w := &s.nt.Wires[i]
		for _, n := range holder[w.Circuit] {
			for _, x := range w.Path {
				if out[n].on[x.Edge] == nil {
					out[n].on[x.Edge] = map[string]bool{}
				}
				out[n].on[x.Edge][w.Circuit] = true
			}
		}
	}
	return out
}

// keepTogether leaves an item whose circuit is held by a cable only the spots on edges in which wires of every circuit of that cable lie, if it may lie at one
// of them: elsewhere its core would leave the others.
func (s *search) keepTogether(it *item, cables []bound) {
	for i := range cables {
		c := &cables[i]
		if !c.splices[it.splice.Name] {
			continue
		}
		var keep []leg
		clean := false
		for _, l := range it.legs {
			here := c.on[l.edge]
			if !slices.ContainsFunc(c.cable.Holds, func(n string) bool { return !here[n] }) {
				keep = append(keep, l)
				clean = clean || slices.Contains(l.shares.list, 0)
			}
		}
		if clean {
			it.setLegs(keep)
		}
	}
}

// setLegs gives an item its legs.
func (it *item) setLegs(legs []leg) {
	it.legs, it.count = legs, 0
	for i := range legs {
		legs[i].base = it.count
		it.count += legs[i].count
	}
}

// splicesOf lists the items that a circuit leads to, in order.
func (s *search) splicesOf(circuit string, at map[string]int) (out []int) {
	for _, k := range s.pulls[circuit] {
		p := &s.sv.Pulls[k]
		for _, n := range []string{p.Splice, p.Other} {
			if i, ok := at[n]; ok {
				out = append(out, i)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// shareKey is what the misses of an edge's spots depend on.
type shareKey struct {
	lane           int
	length         unit.Length
	barrel, sleeve string
}

// reachable lists the edges that the most of an item's links reach, with what they cost there.
func (s *search) reachable(it *item, cache map[shareKey]*shareList) {
	most := 0
	var legs []leg
	pulls := make([]net.Along, len(it.pulls))
	for _, k := range s.lanesIn[it.section] {
		ln := &s.lanes[k]
		met := 0
		for i := range it.pulls {
			pulls[i] = it.pulls[i].field.Along(ln.edge)
			if pulls[i].Reached() {
				met++
			}
		}
		if met < most || met == 0 && len(it.pulls) > 0 {
			continue
		}
		if met > most {
			most, legs = met, legs[:0]
		}
		legs = append(legs, leg{lane: ln, pulls: slices.Clone(pulls)})
	}
	it.setLegs(legs)
	coolest := unit.Temperature(math.Inf(1))
	for i := range it.legs {
		coolest = min(coolest, s.g.air(s.g.geo.Edges[it.legs[i].edge].Zone))
	}
	for i := range it.legs {
		l := &it.legs[i]
		l.fine = s.fine(it, l.edge, coolest)
		for _, f := range it.toward {
			l.toward = append(l.toward, f.Along(l.edge))
		}
		key := shareKey{int(s.laneOf[l.edge]), it.length, it.barrel, it.splice.Sleeve}
		if cache[key] == nil {
			cache[key] = s.sharesOn(l.lane, &it.body)
		}
		l.shares = cache[key]
	}
}

// fine is what lying wet, lying in a stub, and lying warmer than elsewhere, count for, not in a stub and in one: each as if all wires of the splice were
// longer by splice-detour, in heat by that share of it by which the air uses up what there is between the coolest place and what the joint stands.
func (s *search) fine(it *item, edge int, coolest unit.Temperature) (out [2]int64) {
	l := s.g.rule(edge)
	detour := float64(s.g.length("splice-detour", l.at))
	warm := 0.0
	if p := s.g.partsOf(edge, &it.body); p.ok && p.stands > coolest {
		warm = min(1, max(0, float64(s.g.air(l.at.Zone)-coolest)/float64(p.stands-coolest)))
	}
	for k := range out {
		part := float64(k)
		if l.wet {
			part++
		}
		out[k] = plus(0, wayOf(unit.Length(detour*(part+warm)))*it.copperW)
	}
	return out
}
