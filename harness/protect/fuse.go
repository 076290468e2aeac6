package protect

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// ambientKind is the kind of fuse whose datasheet data.FuseAmbient is, and its rating.
const (
	ambientKind   = data.BladeE
	ambientRating = unit.Current(40)
)

// fuses weighs each fuse against its load. What it protects is in wires.
func (t *tracer) fuses(wires []WireResult, cases []*solve.CaseResult) []FuseResult {
	var out []FuseResult
	// A supply's spread counts at both ends: a lamp draws most at high volts, a converter at low ones.
	var points []*solve.CaseResult
	for _, c := range cases {
		if c != nil && c.Net != nil {
			points = append(points, c.Variants()...)
		}
	}
	parts := map[string]*design.Fuse{}
	for _, p := range t.job.Parts.Fuses {
		if parts[p.Name] == nil {
			parts[p.Name] = p
		}
	}
	for _, d := range t.job.Devices {
		if d.Pattern || t.device(d.Name) != d {
			continue
		}
		for k := range d.Fuses {
			out = append(out, t.fuse(d, k, parts[d.Fuses[k].Part], points))
		}
	}
	slices.SortStableFunc(out, func(a, b FuseResult) int { return compareRef(a.FuseRef, b.FuseRef) })
	at := map[FuseRef]int{}
	for i := range out {
		at[out[i].FuseRef] = i
	}
	for i := range wires {
		for _, f := range wires[i].By {
			out[at[f]].Wires = append(out[at[f]].Wires, i)
		}
	}
	for i := range t.sources {
		for _, b := range t.sources[i].behind {
			if !t.feedsAny(b.zone) {
				continue
			}
			for _, a := range b.ahead {
				if a != b.fuse {
					out[at[b.fuse]].Ahead = addRef(out[at[b.fuse]].Ahead, a)
				}
			}
		}
	}
	t.feedLoads(out, at, cases)
	return out
}

func (t *tracer) fuse(d *design.Device, k int, part *design.Fuse, points []*solve.CaseResult) FuseResult {
	f := &d.Fuses[k]
	r := FuseResult{FuseRef: FuseRef{d.Name, k}, Part: f.Part, From: f.From, To: f.To, Zone: d.Zone, Span: f.Span}
	if part != nil {
		r.Kind, r.Rating = part.Kind, part.Rating
		r.Gate = data.FuseGateOf(r.Kind, r.Rating)
	}
	if e := fuseElement(t.Network, r.FuseRef); e >= 0 {
		r.Return = t.minus.has(t.Elements[e].From) && t.minus.has(t.Elements[e].To)
	}
	scope := design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section}
	r.Ambient, _ = heat.Ambient(t.job, scope)
	for i, c := range t.job.Cases {
		scope.Case = c.Name
		if a, _ := heat.Ambient(t.job, scope); i == 0 || a > r.Ambient {
			r.Ambient = a
		}
	}
	factor, info, ok := data.FuseAmbientFactor(r.Ambient)
	r.Factor = factor
	r.Verified = ok && info.Basis == data.Verified && r.Kind == ambientKind && r.Rating == ambientRating && !slices.ContainsFunc(r.Gate, func(g data.FuseGate) bool { return g.Basis != data.Verified })

	for _, c := range points {
		e := fuseElement(c.Net, r.FuseRef)
		if e < 0 || e >= len(c.Point.Amps) {
			continue
		}
		if a := unit.Current(math.Abs(float64(c.Point.Amps[e]))); a > r.Steady*(1+sameTimes) {
			r.Steady, r.Case = a, c.Case
		}
		for i := range c.Starts {
			s := &c.Starts[i]
			e := fuseElement(s.Net, r.FuseRef)
			if e < 0 || e >= len(s.Point.Amps) || !startsThrough(c, s, e) {
				continue
			}
			h := Holds(r.Gate, r.Rating, unit.Current(math.Abs(float64(s.Point.Amps[e]))), startTime(t.device(s.Device)))
			h.Case, h.Device = c.Case, s.Device
			r.Starts = append(r.Starts, h)
		}
	}
	if most := t.lead(d.Name, f.From, f.To); most > r.Steady {
		r.Steady, r.Case, r.Lead = most, "", true
	}
	scope.Case = r.Case
	r.Ruling = t.job.Settings.Get("fuse-load", scope)
	r.Margin = unit.Ratio(r.Ruling.Value.Quantity.Value)
	if ok && factor > 0 {
		r.Need = unit.Current(float64(r.Steady) * float64(r.Margin) / float64(factor))
	}
	r.LoadMet = ok && part != nil && r.Rating >= r.Need*(1-sameTimes)
	slices.SortStableFunc(r.Starts, func(a, b Hold) int { return cmp.Or(cmp.Compare(room(a), room(b)), cmp.Compare(b.Amps, a.Amps)) })
	told := map[[2]string]bool{} // of a case's variants the one with least room
	r.Starts = slices.DeleteFunc(r.Starts, func(h Hold) bool {
		k := [2]string{h.Case, h.Device}
		again := told[k]
		told[k] = true
		return again
	})
	return r
}

// room is how many times as long as the start lasts the fuse holds at least.
func room(h Hold) float64 {
	if h.Earliest <= 0 {
		return 0
	}
	return float64(h.Earliest) / max(float64(h.For), 1e-9)
}

// startsThrough tells whether starting raises the current of an element.
func startsThrough(c *solve.CaseResult, s *solve.StartResult, e int) bool {
	steady := 0.0
	if s.Net == c.Net {
		steady = math.Abs(float64(c.Point.Amps[e]))
	}
	return math.Abs(float64(s.Point.Amps[e])) > steady*1.02
}

// startTime is the longest starting time that a device states; 0 if it states none, which a rule of its own tells.
func startTime(d *design.Device) (most unit.Time) {
	if d == nil {
		return 0
	}
	for i := range d.Draws {
		if d.Draws[i].Start.Given {
			most = max(most, d.Draws[i].StartFor)
		}
	}
	for i := range d.Coils {
		if d.Coils[i].Start.Given {
			most = max(most, d.Coils[i].StartFor)
		}
	}
	return most
}

func fuseElement(nw *solve.Network, f FuseRef) int {
	if nw == nil {
		return -1
	}
	for i := range nw.Elements {
		if e := &nw.Elements[i]; e.Kind == solve.Fuse && e.Device == f.Device && e.Index == f.Index {
			return i
		}
	}
	return -1
}

// feedsAny tells whether a zone or what lies behind it holds a wire or a load: behind a battery's own fuse, as an alternator sees it, there is
// nothing but the battery.
func (t *tracer) feedsAny(zone int) bool {
	met := map[int]bool{zone: true}
	for todo := []int{zone}; len(todo) > 0; todo = todo[1:] {
		for _, n := range t.zones[todo[0]].nodes {
			for _, e := range t.at[n] {
				if k := t.Elements[e].Kind; k == solve.Wire || k == solve.Load || k == solve.Coil {
					return true
				}
			}
		}
		for _, x := range t.zones[todo[0]].exits {
			if z := t.zoneAt(x.fuse, x.far, x.label); !met[z] {
				met[z] = true
				todo = append(todo, z)
			}
		}
	}
	return false
}

// lead is the limit of the charging supply in whose lead a fuse lies: a wire of that lead is alone on one of its pins, and another on the
// other, or none.
func (t *tracer) lead(device, from, to string) unit.Current {
	var on [2]unit.Current
	var wires [2]int
	for k, pin := range [2]string{from, to} {
		for _, u := range t.nt.Uses {
			if u.Device != device || u.Pin != pin {
				continue
			}
			wires[k] = len(u.Wires)
			if w := &t.nt.Wires[u.Wires[0]]; w.Lead && len(u.Wires) == 1 {
				on[k] = w.Carries
			}
		}
	}
	if on[0] > 0 && (on[1] > 0 || wires[1] == 0) || on[1] > 0 && wires[0] == 0 {
		return max(on[0], on[1])
	}
	return 0
}

// noise is a current that rounding leaves in a branch that carries none.
const noise unit.Current = 1e-6

// feedLoads lists for each fuse the devices to which its current runs in some case, by what flows out of each node.
func (t *tracer) feedLoads(out []FuseResult, at map[FuseRef]int, cases []*solve.CaseResult) {
	found := make([]map[string]bool, len(out))
	for _, c := range cases {
		if c == nil || c.Net == nil {
			continue
		}
		fed := map[loadKey]bool{}
		for i := range c.Loads {
			if l := &c.Loads[i]; l.Fed {
				fed[loadKey{l.Device, l.Index, l.Coil}] = true
			}
		}
		from := make([][]int, len(c.Net.Nodes))
		for i, e := range c.Net.Elements {
			switch a := c.Point.Amps[i]; {
			case e.Kind == solve.Supply:
			case a > noise:
				from[e.From] = append(from[e.From], i)
			case a < -noise:
				from[e.To] = append(from[e.To], i)
			}
		}
		for i, e := range c.Net.Elements {
			k, ok := at[FuseRef{e.Device, e.Index}]
			if e.Kind != solve.Fuse || !ok || math.Abs(float64(c.Point.Amps[i])) <= float64(noise) {
				continue
			}
			if found[k] == nil {
				found[k] = map[string]bool{}
			}
			start := e.To
			if c.Point.Amps[i] < 0 {
				start = e.From
			}
			met := map[int]bool{start: true}
			for todo := []int{start}; len(todo) > 0; todo = todo[1:] {
				for _, j := range from[todo[0]] {
					x := &c.Net.Elements[j]
					if x.Kind == solve.Load || x.Kind == solve.Coil {
						if fed[loadKey{x.Device, x.Index, x.Kind == solve.Coil}] && !found[k][x.Device] {
							found[k][x.Device] = true
							out[k].Loads = append(out[k].Loads, x.Device)
						}
						continue
					}
					if m := x.From + x.To - todo[0]; !met[m] {
						met[m] = true
						todo = append(todo, m)
					}
				}
			}
		}
	}
	for i := range out {
		slices.SortFunc(out[i].Loads, design.Natural)
	}
}
