package protect

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
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
	var points []working
	for _, c := range cases {
		if c != nil && c.Net != nil {
			for _, v := range c.Variants() {
				points = append(points, t.working(v))
			}
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

func (t *tracer) fuse(d *design.Device, k int, part *design.Fuse, points []working) FuseResult {
	f := &d.Fuses[k]
	r := FuseResult{FuseRef: FuseRef{d.Name, k}, Part: f.Part, From: f.From, To: f.To, Zone: d.Zone, Span: f.Span}
	if part != nil {
		r.Kind, r.Rating = part.Kind, part.Rating
		r.Gate = data.FuseGateOf(r.Kind, r.Rating)
	}
	if e := t.fuseElement(t.Network, r.FuseRef); e >= 0 {
		r.Return = t.minus.has(t.Elements[e].From) && t.minus.has(t.Elements[e].To)
	}
	scope := design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section}
	known, sure := part != nil, true
	claim := func(c string, amps unit.Current) {
		scope.Case = c
		zone, air := t.air(d, c)
		factor, info, ok := data.FuseAmbientFactor(air)
		known, sure = known && ok, sure && info.Basis == data.Verified
		ruling := t.job.Settings.Get("fuse-load", scope)
		margin := max(1, unit.Ratio(ruling.Value.Quantity.Value)) // no fuse carries more than its rating for good
		need := unit.Current(0)
		if ok && factor > 0 {
			need = unit.Current(float64(amps) * float64(margin) / float64(factor))
		}
		if r.Ruling.Def == nil || need > r.Need*(1+sameTimes) || !ok && r.Factor > 0 {
			r.Steady, r.Case, r.Zone, r.Ambient, r.Factor, r.Ruling, r.Margin, r.Need = amps, c, zone, air, factor, ruling, margin, need
		}
	}
	for i := range points {
		c := points[i].CaseResult
		e := t.fuseElement(c.Net, r.FuseRef)
		if e < 0 || e >= len(c.Point.Amps) {
			continue
		}
		steady, works := points[i].mean(e)
		claim(c.Case, steady)
		for _, h := range works {
			// A fuse that works for a while is as warm as its place leaves it.
			_, air := t.air(d, c.Case)
			factor, _, _ := data.FuseAmbientFactor(air)
			x := Holds(r.Gate, r.Rating*unit.Current(factor), h.Amps, h.For)
			x.Case, x.Device, x.Works = c.Case, h.Device, true
			r.Starts = append(r.Starts, x)
		}
		for _, k := range points[i].starting.at(&c.Net.Elements[e]) {
			s, e := &c.Starts[k], e
			if s.Net != c.Net {
				e = t.fuseElement(s.Net, r.FuseRef)
			}
			if e < 0 || !startsThrough(c, s, e) {
				continue
			}
			h := Holds(r.Gate, r.Rating, unit.Current(math.Abs(float64(s.Amps(e)))), startTime(t.device(s.Device)))
			h.Case, h.Device = c.Case, s.Device
			r.Starts = append(r.Starts, h)
		}
	}
	if most := t.lead(d, k); unit.Worse(most, r.Steady) {
		r.Lead = true
		for _, c := range t.job.Cases {
			claim(c.Name, most)
		}
		r.Case = ""
	}
	if r.Ruling.Def == nil {
		claim("", 0)
	}
	r.Verified = sure && r.Kind == ambientKind && r.Rating == ambientRating && !slices.ContainsFunc(r.Gate, func(g data.FuseGate) bool { return g.Basis != data.Verified })
	r.LoadMet = known && r.Rating >= r.Need*(1-sameTimes)
	slices.SortStableFunc(r.Starts, func(a, b Hold) int { return cmp.Or(unit.Compare(room(a), room(b)), unit.Compare(b.Amps, a.Amps)) })
	type start struct {
		c, device string
		works     bool
	}
	told := map[start]bool{} // of a case's variants the one with least room
	r.Starts = slices.DeleteFunc(r.Starts, func(h Hold) bool {
		k := start{h.Case, h.Device, h.Works}
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
	return math.Abs(float64(s.Amps(e))) > steady*1.02+float64(leastShort)
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

// fuseElements is the element of each fuse of a net.
func fuseElements(nw *solve.Network) map[FuseRef]int {
	out := map[FuseRef]int{}
	for i := range nw.Elements {
		e := &nw.Elements[i]
		f := FuseRef{e.Device, e.Index}
		if _, twice := out[f]; e.Kind == solve.Fuse && !twice {
			out[f] = i
		}
	}
	return out
}

// fuseElement is that of one; -1 where the net does not have it.
func (t *tracer) fuseElement(nw *solve.Network, f FuseRef) int {
	if nw == nil {
		return -1
	}
	of, ok := t.fusesOf[nw]
	if !ok {
		of = fuseElements(nw)
		t.fusesOf[nw] = of
	}
	if e, ok := of[f]; ok {
		return e
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

// lead is the limit of the charging supply in whose lead a fuse lies: a wire of that lead is alone on one of its pins, and nothing else inside the
// device is joined to that pin, so that all of the lead's current passes the fuse.
func (t *tracer) lead(d *design.Device, k int) unit.Current {
	most := unit.Current(0)
	for _, pin := range []string{d.Fuses[k].From, d.Fuses[k].To} {
		if branches(d, pin) != 1 {
			continue
		}
		for _, i := range t.alone[[2]string{d.Name, pin}] {
			if w := &t.nt.Wires[i]; w.Lead {
				most = max(most, w.Carries)
			}
		}
	}
	return most
}

// branches counts what is joined to a pin inside its device.
func branches(d *design.Device, pin string) (n int) {
	for _, f := range d.Fuses {
		if f.From == pin || f.To == pin {
			n++
		}
	}
	for _, s := range d.States {
		if slices.Contains(s.Pins, pin) {
			n++
		}
	}
	for _, j := range d.Joins {
		if slices.Contains(j.Pins, pin) {
			n++
		}
	}
	for _, x := range d.Diodes {
		if x.From == pin || x.To == pin {
			n++
		}
	}
	return n
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
