package heat

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// place is where wires lie together: an edge of the geometry, or the air around a loose lead.
type place struct {
	edge               int // -1: loose
	run, zone, section string
	length             unit.Length
	station            unit.Length // of the edge along its stretch
	wires              []int       // of the net
	strands            []strand
	known              []int       // wire of each strand
	count              int         // of known, without screens
	diameter, wall     unit.Length // of the bundle, and of its sleeve
	madeBy             making
	made               *bundle
}

// scope of a place in a case.
func (p *place) scope(c string) design.Scope {
	return design.Scope{Run: p.run, Zone: p.zone, Section: p.section, Case: c}
}

// wireScope is that of a wire at the place.
func (p *place) wireScope(w *net.Wire, c string) design.Scope {
	s := p.scope(c)
	s.Circuit, s.Class = w.Circuit, w.Class
	if s.Section == "" {
		s.Section = w.Section
	}
	return s
}

// Ambient is the air around a wire in a case, and where that was said: the case's word for the zone, else the zone's own air, else
// the case's air, else the setting air.
func Ambient(job *design.Job, at design.Scope) (unit.Temperature, string) {
	var c *design.Case
	for _, x := range job.Cases {
		if x.Name == at.Case {
			c = x
		}
	}
	if c != nil && at.Zone != "" {
		for _, z := range c.ZoneAir {
			if z.Zone == at.Zone {
				return z.Air, "zone " + at.Zone + " in case " + c.Name
			}
		}
	}
	for _, z := range job.Zones {
		if z.Name == at.Zone && z.HasAir {
			return z.Air, "zone " + z.Name
		}
	}
	if c != nil && c.HasAir {
		return c.Air, "case " + c.Name
	}
	r := job.Settings.Get("air", at)
	return unit.Temperature(r.Value.Quantity.Value), "air, " + r.Source()
}

// places lists every edge with its wires, then the loose leads; those that lie together as one place. A wire
// without a way counts as loose. Places that are not wanted are left out.
func places(job *design.Job, nt *net.Net, conds size.Sizes, want func(*place) bool) []place {
	out := slices.DeleteFunc(placesOf(nt), func(p place) bool { return !want(&p) })
	set := newSettings(job)
	for i := range out {
		out[i].lay(set, nt, conds)
	}
	return out
}

// placesOf is the places of a net with nothing known of the conductors.
func placesOf(nt *net.Net) []place {
	on := onEdges(nt)
	edges := 0
	for _, l := range on {
		if len(l) > 0 {
			edges++
		}
	}
	var loose []place
	first := map[togetherKey]int{}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		if slices.ContainsFunc(w.Path, func(s net.Step) bool { return !w.Loose && s.Edge >= 0 && s.Edge < len(on) }) {
			continue
		}
		at := -1
		keys := together(w)
		for _, k := range keys {
			if n, ok := first[k]; ok && (at < 0 || n < at) {
				at = n
			}
		}
		if at < 0 {
			at = len(loose)
			loose = append(loose, place{edge: -1, zone: w.Zone, section: w.Section})
			for _, k := range keys {
				if _, ok := first[k]; !ok {
					first[k] = at
				}
			}
		}
		loose[at].length = max(loose[at].length, w.Length, w.LooseLength)
		loose[at].wires = append(loose[at].wires, i)
	}
	out := make([]place, 0, edges+len(loose))
	for e := range on {
		if len(on[e]) > 0 {
			g := &nt.Space.Edges[e]
			out = append(out, place{edge: e, run: g.Run, zone: g.Zone, section: g.Section, length: g.Length + g.Slack, station: g.Station, wires: on[e]})
		}
	}
	return append(out, loose...)
}

// onEdges lists for each edge of the geometry the wires that lie on it.
func onEdges(nt *net.Net) [][]int {
	if nt.Space == nil {
		return nil
	}
	on, count, all := make([][]int, len(nt.Space.Edges)), make([]int, len(nt.Space.Edges)), 0
	each := func(visit func(wire, edge int)) {
		for i := range nt.Wires {
			w := &nt.Wires[i]
			for _, s := range w.Path {
				if !w.Loose && s.Edge >= 0 && s.Edge < len(on) {
					visit(i, s.Edge)
				}
			}
		}
	}
	each(func(_, e int) {
		count[e]++
		all++
	})
	room := make([]int, all)
	for e, n := range count {
		on[e], room = room[:0:n], room[n:]
	}
	each(func(i, e int) {
		if l := on[e]; len(l) == 0 || l[len(l)-1] != i {
			on[e] = append(l, i)
		}
	})
	return on
}

// togetherKey is what wires off the runs that lie together have in common.
type togetherKey struct{ zone, section, cable, from, to string }

// together is by what a wire off the runs lies with others: the cores of one bought cable, and leads between the same two things.
func together(w *net.Wire) (keys []togetherKey) {
	if w.Cable != "" && w.Core >= 0 {
		keys = append(keys, togetherKey{zone: w.Zone, section: w.Section, cable: w.Cable})
	}
	var ends [2]string
	for k := range w.Ends {
		switch t := &w.Ends[k]; {
		case t.Device != "":
			ends[k] = "device " + t.Device
		case t.Break != "":
			ends[k] = "break " + t.Break
		case t.Splice != "":
			ends[k] = "splice " + t.Splice
		default:
			return keys
		}
	}
	slices.Sort(ends[:])
	return append(keys, togetherKey{zone: w.Zone, section: w.Section, from: ends[0], to: ends[1]})
}

// lay works out the strands and the outside of a place.
func (p *place) lay(set *settings, nt *net.Net, conds size.Sizes) {
	sleeve := func(name string, at design.Scope) unit.Length {
		if name == "" {
			return 0
		}
		return max(0, unit.Length(set.number("sleeve-wall", at)))
	}
	known := 0
	for _, i := range p.wires {
		if conds[i].Known {
			known++
		}
	}
	p.strands, p.known, p.count, p.wall = make([]strand, 0, known), p.wires, 0, 0
	if known < len(p.wires) {
		p.known = make([]int, 0, known)
	}
	sum, largest, parts := 0.0, 0.0, 0
	cables := map[string]bool{}
	for _, i := range p.wires {
		w, c := &nt.Wires[i], &conds[i]
		if !c.Known {
			continue
		}
		d := float64(c.Size.Diameter())
		outside := math.Max(float64(c.Outside), d)
		if w.Sleeve != "" {
			outside += 2 * float64(sleeve(w.Sleeve, p.wireScope(w, "")))
		}
		p.strands = append(p.strands, strand{r20: math.Max(0, float64(c.Resistance)), outside: outside / 2000, copper: d / 2000})
		if known < len(p.wires) {
			p.known = append(p.known, i)
		}
		if w.Kind != net.Screen {
			p.count++
		}
		if o := cableOutside(set.job, w); o > 0 {
			if cables[w.Cable] {
				continue
			}
			cables[w.Cable] = true
			outside = o
		}
		parts++
		sum += outside * outside
		largest = math.Max(largest, outside)
	}
	p.diameter = unit.Length(largest)
	if parts > 1 {
		p.diameter = unit.Length(1.2 * math.Sqrt(sum))
	}
	if p.edge >= 0 {
		p.wall = sleeve(set.runSleeve(p.run), p.scope(""))
	}
}

// cableOutside is the outside of the bought cable whose core w is, in mm; 0 for any other wire.
func cableOutside(job *design.Job, w *net.Wire) float64 {
	if w.Core < 0 || w.Cable == "" {
		return 0
	}
	for _, p := range job.Parts.Wires {
		if p.Name == w.Family && len(p.Cores) > 0 {
			return float64(p.Outside)
		}
	}
	return 0
}

// model of the place in a case; the same as that of the last case it was asked for where the settings are.
func (p *place) model(set *settings, c string) *bundle {
	at := p.scope(c)
	k := making{within(set.number("bundle-conductivity", at), 0.01, 1000), within(set.number("insulation-conductivity", at), 0.01, 1000),
		within(set.number("emissivity", at), 0, 1), pressureAt(unit.Length(set.number("altitude", at)))}
	if p.made == nil || p.madeBy != k {
		p.madeBy, p.made = k, newBundle(p.strands, float64(p.diameter)/1000, float64(p.wall)/1000, k.bundle, k.insulation, k.emissivity, k.pressure)
	}
	return p.made
}

// making is what a model follows from besides its wires.
type making struct{ bundle, insulation, emissivity, pressure float64 }

// MeanAmbient is the mean air along a wire by length, in a case.
func MeanAmbient(job *design.Job, nt *net.Net, w *net.Wire, c string) unit.Temperature {
	return meanAmbient(func(at design.Scope) unit.Temperature {
		t, _ := Ambient(job, at)
		return t
	}, nt, w, c)
}

func meanAmbient(ambient func(design.Scope) unit.Temperature, nt *net.Net, w *net.Wire, c string) unit.Temperature {
	sum, length := 0.0, 0.0
	for _, s := range w.Path {
		if nt.Space == nil || s.Edge < 0 || s.Edge >= len(nt.Space.Edges) || w.Loose {
			continue
		}
		e := &nt.Space.Edges[s.Edge]
		t := ambient(design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section, Case: c})
		l := math.Max(float64(e.Length+e.Slack), 1e-6)
		sum += l * within(float64(t), coolest, hottest)
		length += l
	}
	if length > 0 {
		return unit.Temperature(sum / length)
	}
	t := ambient(design.Scope{Zone: w.Zone, Section: w.Section, Case: c})
	return unit.Temperature(within(float64(t), coolest, hottest))
}

// MeanAmbients is MeanAmbient of all wires of a net in some cases, by case.
func MeanAmbients(job *design.Job, nt *net.Net, cases []string) [][]unit.Temperature {
	set := newSettings(job)
	out := make([][]unit.Temperature, len(cases))
	for n, c := range cases {
		out[n] = make([]unit.Temperature, len(nt.Wires))
		for i := range nt.Wires {
			out[n][i] = meanAmbient(set.ambient, nt, &nt.Wires[i], c)
		}
	}
	return out
}
