package joint

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Place chooses a place for every splice that has none, on whole millimetres of the runs of its section: where the sum over its links of their
// lengths times their copper is least, away from connectors and breakouts (or close to one: set splice-school), bends, bushes, clips, heat, wet,
// moving stretches and other splices; see type search for what is proved. Sizes are not known yet: copper is guessed of the draws (func
// guess), and the barrel is taken to be splice-room long. Where no place meets all limits the one is taken that misses them least. The
// job that comes back is a copy in which the splices have their places; it is the given one where every splice has a place. The given job is
// not changed.
func Place(job *design.Job, geo *space.Geometry) (*design.Job, *Places) {
	out, _, places := place(job, geo)
	return out, places
}

// Lay is Place of a job that is not laid out yet; with the ways as they are once the splices have their places.
func Lay(job *design.Job) (*design.Job, *space.Geometry, *Places) { return place(job, space.Lay(job)) }

func place(job *design.Job, geo *space.Geometry) (*design.Job, *space.Geometry, *Places) {
	if !net.Open(job, geo) {
		return job, geo, &Places{}
	}
	sv := net.NewSurvey(job, geo)
	if len(sv.Open) == 0 {
		return job, geo, &Places{}
	}
	nt := net.Routed(job, geo)
	laden := ladenBy(geo, nt)
	var best *placing
	// The wires of the splices themselves lie elsewhere once these have places: a node may become a breakout, or be one no longer.
	for round := range mostRounds {
		p := placeWith(job, geo, nt, sv, laden)
		if p.job == nil {
			best = p
			break
		}
		p.geo = space.Lay(p.job)
		then := ladenThen(geo, p.geo, p.job)
		p.missed = p.search.missed(p.at, then)
		if best == nil || p.missed < best.missed-1e-9 {
			best = p
		}
		if p.missed <= p.planned+1e-9 {
			break
		}
		for i := range laden { // first what was and what is, lest two answers take turns for ever
			laden[i] = then[i] || laden[i] && round%2 == 0
		}
	}
	if best.job == nil {
		return job, geo, &Places{Chosen: best.chosen}
	}
	return best.job, best.geo, &Places{Chosen: best.chosen}
}

// mostRounds bounds how often places are chosen anew for what they change themselves.
const mostRounds = 6

// placing is one answer.
type placing struct {
	job    *design.Job     // nil: none found a place
	geo    *space.Geometry // of that job
	chosen []Choice
	search *search
	at     placed
	// by how much places miss their limits in all, as they were chosen, and once the wires lie as they then do
	planned, missed float64
}

// ladenThen tells in which edges wires lie once the splices have their places, where these are then laid, by the edges as they were.
func ladenThen(geo, lay *space.Geometry, job *design.Job) []bool {
	out := make([]bool, len(geo.Edges))
	for i, on := range ladenBy(lay, net.Routed(job, lay)) {
		if !on {
			continue
		}
		e := &lay.Edges[i]
		middle := e.Station + e.Length/2
		for _, k := range geo.Stretch(e.Run, e.Stretch) {
			if x := &geo.Edges[k]; x.Station <= middle && middle <= x.Station+x.Length {
				out[k] = true
			}
		}
	}
	return out
}

// missed is by how much placed items miss their limits with these edges laden.
func (s *search) missed(at placed, laden []bool) (sum float64) {
	g := newGround(s.g.job, s.g.geo, s.nt, laden)
	g.markSplices(s.nt, s.sv.Open)
	g.markHoles()
	for i, it := range s.items {
		if at[i] >= 0 {
			sum += shares(g.missesAll(s.at(at[i]), &it.body))
		}
	}
	return sum
}

// placeWith places all splices with these edges laden.
func placeWith(job *design.Job, geo *space.Geometry, nt *net.Net, sv *net.Survey, laden []bool) *placing {
	s := newSearch(job, geo, nt, sv, laden)
	at, over := s.all()
	out := &design.Job{}
	*out = *job
	out.Splices = slices.Clone(job.Splices)
	var chosen []Choice
	any := false
	named := map[string][]int{}
	for k, x := range out.Splices {
		named[x.Name] = append(named[x.Name], k)
	}
	byName := map[string]int{}
	for i, it := range s.items {
		byName[it.splice.Name] = i
	}
	for _, name := range sv.Open {
		i, ok := byName[name]
		if !ok || at[i] < 0 {
			chosen = append(chosen, Choice{Splice: name, Section: sv.Section(name), Nowhere: true})
			continue
		}
		any = true
		it, p := s.items[i], s.spot(at[i])
		c := Choice{Splice: name, Section: geo.Edges[p.at.edge].Section, Run: p.run, To: p.to, After: p.after, Over: massOf(max(0, over[i])), Unmet: over[i] < 0}
		copper := s.copperOf(it, it.index(at[i]))
		least := it.cheap
		var beside []int
		for _, n := range s.tied[i] {
			l := &s.links[n]
			least = plus(least, l.least)
			if j := l.from + l.to - i; j != i && at[j] >= 0 && !slices.Contains(beside, j) {
				beside = append(beside, j)
				copper = plus(copper, s.betweenBy(i, at[i], j, at[j], true))
			}
		}
		c.Copper, c.Least = massOf(copper), massOf(least)
		chosen = append(chosen, c)
		for _, k := range named[name] {
			if x := out.Splices[k]; x.Name == name {
				y := *x
				y.Section, y.Along, y.To, y.After, y.Node, y.Chosen = c.Section, c.Run, c.To, c.After, name, true
				out.Splices[k] = &y
			}
		}
	}
	p := &placing{chosen: chosen, search: s, at: at}
	if any {
		p.job = out
	}
	for i, it := range s.items {
		if at[i] >= 0 {
			p.planned += it.share(it.index(at[i]))
		}
	}
	return p
}

func newSearch(job *design.Job, geo *space.Geometry, nt *net.Net, sv *net.Survey, laden []bool) *search {
	g := newGround(job, geo, nt, laden)
	g.markSplices(nt, sv.Open)
	g.markHoles()
	s := &search{g: g, sv: sv, nt: nt}
	s.findSpots()
	s.findItems()
	return s
}

func (g *ground) splice(name string) *design.Splice {
	if g.splices == nil {
		g.splices = design.Index(g.job.Splices, func(s *design.Splice) string { return s.Name })
	}
	return g.splices[name]
}

// room is the length of a joint's barrel before it is chosen.
func (g *ground) room(s *design.Splice, at design.Scope) unit.Length {
	if s != nil {
		if b := g.barrel[s.Barrel]; b != nil && b.Length > 0 {
			return b.Length
		}
	}
	return g.length("splice-room", at)
}
