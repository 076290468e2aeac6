package charge

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// work is what every part of this room asks.
type work struct {
	job       *design.Job // as given, but nothing starts: charge is weighed in steady states
	nt        *net.Net
	sizes     size.Sizes
	temps     map[string][]unit.Temperature
	batteries []design.SupplyRef
	battery   map[supplyKey]bool
	device    map[string]bool // devices with a battery
	byName    map[string]*design.Device
}

type supplyKey struct {
	device string
	index  int
}

type loadKey struct {
	device string
	index  int
	coil   bool
}

func keyOf(l *solve.LoadResult) loadKey { return loadKey{l.Device, l.Index, l.Coil} }

func newWork(job *design.Job, nt *net.Net, sizes size.Sizes, temps map[string][]unit.Temperature) *work {
	w := &work{job: job, nt: nt, sizes: sizes, temps: temps, batteries: job.Batteries(), battery: map[supplyKey]bool{}, device: map[string]bool{}, byName: map[string]*design.Device{}}
	for _, b := range w.batteries {
		w.battery[supplyKey{b.Device.Name, b.Index}] = true
		w.device[b.Device.Name] = true
	}
	if len(w.batteries) > 0 {
		w.job = changed(job, starts, func(k loadKey, d *design.Draw) {
			if !k.coil { // a coil may go on drawing its starting current; that is its steady state
				d.Start = design.Fact[unit.Current]{}
			}
		})
	}
	for _, d := range w.job.Devices {
		if !d.Pattern && w.byName[d.Name] == nil {
			w.byName[d.Name] = d
		}
	}
	return w
}

// starts tells whether a draw of a device states what it takes as it starts.
func starts(d *design.Device) bool {
	return slices.ContainsFunc(d.Draws, func(l design.Draw) bool { return l.Start.Given })
}

// changed is a copy of a job with each draw and coil of some devices passed through change.
func changed(job *design.Job, of func(*design.Device) bool, change func(k loadKey, d *design.Draw)) *design.Job {
	out := *job
	out.Devices = slices.Clone(job.Devices)
	for i, d := range out.Devices {
		if !of(d) {
			continue
		}
		c := *d
		c.Draws, c.Coils = slices.Clone(d.Draws), slices.Clone(d.Coils)
		for k := range c.Draws {
			change(loadKey{d.Name, k, false}, &c.Draws[k])
		}
		for k := range c.Coils {
			change(loadKey{d.Name, k, true}, &c.Coils[k].Draw)
		}
		out.Devices[i] = &c
	}
	return &out
}

// without is the job with some draws and coils drawing nothing.
func without(job *design.Job, rest map[loadKey]bool) *design.Job {
	if len(rest) == 0 {
		return job
	}
	devices := map[string]bool{}
	for k := range rest {
		devices[k.device] = true
	}
	return changed(job, func(d *design.Device) bool { return devices[d.Name] }, func(k loadKey, d *design.Draw) {
		if rest[k] {
			d.Amps = design.Fact[unit.Current]{Given: true}
			d.Watts, d.Ohms, d.Start = design.Fact[unit.Power]{}, design.Fact[unit.Resistance]{}, design.Fact[unit.Current]{}
		}
	})
}

func (w *work) solve(job *design.Job, c *design.Case) *solve.CaseResult {
	return solve.Case(job, w.nt, w.sizes, w.temps[c.Name], c)
}

func (w *work) draw(k loadKey) *design.Draw {
	d := w.byName[k.device]
	switch {
	case d == nil:
	case k.coil && k.index < len(d.Coils):
		return &d.Coils[k.index].Draw
	case !k.coil && k.index < len(d.Draws):
		return &d.Draws[k.index]
	}
	return nil
}

// spells is a case over time.
type spells struct {
	shares []unit.Ratio
	points []*solve.CaseResult
	rests  [][]string

	fed map[string][]int // by feeding device, see feeds; nil while not asked
}

// over parts a case by the loads that work on and off. A load works for the share on/(on + off) of the time; one that works once for
// on/hours, and all the time in a case that does not say how long it lasts. Loads of several rhythms are taken to come on together and to
// go off one after the other, the least share first: each then has its share of the time, and of all ways to lay them beside one another this
// one asks most of a battery that helps an alternator at its limit, since what it delivers never falls faster than the demand grows.
func (w *work) over(c *design.Case, hours unit.Time) *spells {
	figures := func(job *design.Job) solve.Figures {
		return solve.Figures{Job: job, Net: w.nt, Sizes: w.sizes, Temps: w.temps[c.Name], Case: c}
	}
	laid := solve.Lay(w.job, w.nt, w.sizes, c)
	base := laid.Case(figures(w.job))
	type beat struct {
		share unit.Ratio
		key   loadKey
	}
	var beats []beat
	for i := range base.Loads {
		l := &base.Loads[i]
		d := w.draw(keyOf(l))
		if d == nil || d.On <= 0 || !l.Fed || l.Rests {
			continue
		}
		share := unit.Ratio(1)
		switch {
		case d.Off > 0:
			share = unit.Ratio(d.On / (d.On + d.Off))
		case hours > 0:
			share = unit.Ratio(min(1, d.On/hours))
		}
		if share < 1 {
			beats = append(beats, beat{share, keyOf(l)})
		}
	}
	slices.SortStableFunc(beats, func(a, b beat) int { return cmp.Compare(a.share, b.share) })
	out := &spells{}
	rest := map[loadKey]bool{}
	var names []string
	before := unit.Ratio(0)
	put := func(until unit.Ratio) {
		p := base
		if len(rest) > 0 {
			p = laid.Again(base, figures(without(w.job, rest)))
		}
		out.shares = append(out.shares, until-before)
		out.points = append(out.points, p)
		out.rests = append(out.rests, sorted(names))
		before = until
	}
	for _, b := range beats {
		if b.share > before {
			put(b.share)
		}
		rest[b.key] = true
		names = append(names, b.key.device)
	}
	put(1)
	return out
}

// supply is what one supply delivers in each spell, and its mean.
func (s *spells) supply(device string, index int) (mean unit.Current, out []Spell) {
	for i, p := range s.points {
		var amps unit.Current
		for _, x := range p.Supplies {
			if x.Device == device && x.Index == index {
				amps = x.Amps
			}
		}
		mean += unit.Current(s.shares[i]) * amps
		out = append(out, Spell{Share: s.shares[i], Amps: amps, Rests: s.rests[i]})
	}
	return mean, out
}

// load is the mean current of one of the first point's loads while one of some supplies feeds it.
func (s *spells) load(i int, by func(device string) bool) unit.Current {
	var mean unit.Current
	for n, p := range s.points {
		if l := &p.Loads[i]; l.Fed && by(l.Supply) {
			mean += unit.Current(s.shares[n]) * max(l.Amps, -l.Amps)
		}
	}
	return mean
}

// feeds lists the loads that some device feeds in some spell, by their place in the first point, ascending. Every point has the same loads.
func (s *spells) feeds(devices ...string) []int {
	if s.fed == nil {
		s.fed = map[string][]int{}
		for i := range s.points[0].Loads {
			for n := range s.points {
				l := &s.points[n].Loads[i]
				if at := s.fed[l.Supply]; l.Fed && (len(at) == 0 || at[len(at)-1] != i) {
					s.fed[l.Supply] = append(at, i)
				}
			}
		}
	}
	var out []int
	for _, d := range devices {
		out = append(out, s.fed[d]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sorted is the names in natural order, each once.
func sorted(names []string) []string {
	out := slices.Clone(names)
	slices.SortFunc(out, design.Natural)
	return slices.Compact(out)
}
