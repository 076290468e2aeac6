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
	diameter, wall     unit.Length // of the bundle, and of its sleeve
}

// settings reads a job's settings, each scope once.
type settings struct {
	job  *design.Job
	seen map[settingKey]design.SettingValue
}

type settingKey struct {
	name  string
	scope design.Scope
}

func newSettings(job *design.Job) *settings {
	return &settings{job, map[settingKey]design.SettingValue{}}
}

func (s *settings) get(name string, at design.Scope) design.SettingValue {
	k := settingKey{name, at}
	v, ok := s.seen[k]
	if !ok {
		v = s.job.Settings.Get(name, at).Value
		s.seen[k] = v
	}
	return v
}

func (s *settings) number(name string, at design.Scope) float64 {
	return s.get(name, at).Quantity.Value
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

// beside tells whether two wires off the runs lie together: the cores of one bought cable, and leads between the same two things.
func beside(a, b *net.Wire) bool {
	if a.Zone != b.Zone || a.Section != b.Section {
		return false
	}
	if a.Cable != "" && a.Cable == b.Cable && a.Core >= 0 && b.Core >= 0 {
		return true
	}
	what := func(w *net.Wire) (out [2]string) {
		for k := range w.Ends {
			t := &w.Ends[k]
			switch {
			case t.Device != "":
				out[k] = "device " + t.Device
			case t.Break != "":
				out[k] = "break " + t.Break
			case t.Splice != "":
				out[k] = "splice " + t.Splice
			default:
				return [2]string{}
			}
		}
		slices.Sort(out[:])
		return out
	}
	ends := what(a)
	return ends[0] != "" && ends == what(b)
}

// places lists every edge with its wires, then the loose leads; those that lie together as one place. A wire
// without a way counts as loose. Places that are not wanted are left out.
func places(job *design.Job, nt *net.Net, conds size.Sizes, want func(*place) bool) []place {
	var out []place
	var wires [][]int
	if nt.Space != nil {
		wires = make([][]int, len(nt.Space.Edges))
	}
	var loose []place
	for i := range nt.Wires {
		w := &nt.Wires[i]
		placed := false
		for _, s := range w.Path {
			if !w.Loose && s.Edge >= 0 && s.Edge < len(wires) {
				placed = true
				if l := wires[s.Edge]; len(l) == 0 || l[len(l)-1] != i {
					wires[s.Edge] = append(l, i)
				}
			}
		}
		if placed {
			continue
		}
		at := slices.IndexFunc(loose, func(p place) bool { return beside(&nt.Wires[p.wires[0]], w) })
		if at < 0 {
			at = len(loose)
			loose = append(loose, place{edge: -1, zone: w.Zone, section: w.Section})
		}
		loose[at].length = max(loose[at].length, w.Length, w.LooseLength)
		loose[at].wires = append(loose[at].wires, i)
	}
	for e := range wires {
		if len(wires[e]) == 0 {
			continue
		}
		g := &nt.Space.Edges[e]
		out = append(out, place{edge: e, run: g.Run, zone: g.Zone, section: g.Section, length: g.Length + g.Slack, station: g.Station, wires: wires[e]})
	}
	out = append(out, loose...)
	out = slices.DeleteFunc(out, func(p place) bool { return !want(&p) })
	for i := range out {
		out[i].lay(job, nt, conds)
	}
	return out
}

// lay works out the strands and the outside of a place.
func (p *place) lay(job *design.Job, nt *net.Net, conds size.Sizes) {
	sleeve := func(name string, at design.Scope) unit.Length {
		if name == "" {
			return 0
		}
		return max(0, unit.Length(job.Settings.Get("sleeve-wall", at).Value.Quantity.Value))
	}
	sum, largest, parts := 0.0, 0.0, 0
	cables := map[string]bool{}
	for _, i := range p.wires {
		w, c := &nt.Wires[i], conds[i]
		if !c.Known {
			continue
		}
		d := float64(c.Size.Diameter())
		outside := math.Max(float64(c.Outside), d) + 2*float64(sleeve(w.Sleeve, p.wireScope(w, "")))
		p.strands = append(p.strands, strand{r20: math.Max(0, float64(c.Resistance)), outside: outside / 2000, copper: d / 2000})
		p.known = append(p.known, i)
		if o := cableOutside(job, w); o > 0 {
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
	for _, r := range job.Runs {
		if p.edge >= 0 && r.Name == p.run {
			p.wall = sleeve(r.Sleeve, p.scope(""))
		}
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

// model of the place in a case.
func (p *place) model(set *settings, c string) *bundle {
	at := p.scope(c)
	return newBundle(p.strands, float64(p.diameter)/1000, float64(p.wall)/1000,
		within(set.number("bundle-conductivity", at), 0.01, 1000), within(set.number("insulation-conductivity", at), 0.01, 1000),
		within(set.number("emissivity", at), 0, 1), pressureAt(unit.Length(set.number("altitude", at))))
}

// MeanAmbient is the mean air along a wire by length, in a case.
func MeanAmbient(job *design.Job, nt *net.Net, w *net.Wire, c string) unit.Temperature {
	sum, length := 0.0, 0.0
	for _, s := range w.Path {
		if nt.Space == nil || s.Edge < 0 || s.Edge >= len(nt.Space.Edges) || w.Loose {
			continue
		}
		e := &nt.Space.Edges[s.Edge]
		t, _ := Ambient(job, design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section, Case: c})
		l := math.Max(float64(e.Length+e.Slack), 1e-6)
		sum += l * within(float64(t), coolest, hottest)
		length += l
	}
	if length > 0 {
		return unit.Temperature(sum / length)
	}
	t, _ := Ambient(job, design.Scope{Zone: w.Zone, Section: w.Section, Case: c})
	return unit.Temperature(within(float64(t), coolest, hottest))
}
