package live

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Find looks at every break.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes) *Result { return FindIn(job, nt, sizes, nil) }

// FindIn is Find where the districts of the net are known; nil: they are not.
func FindIn(job *design.Job, nt *net.Net, sizes size.Sizes, parts *solve.Districts) *Result {
	r := &Result{}
	if job == nil || nt == nil {
		return r
	}
	s := attach(job)
	r.Sources = s.all()
	r.Least, r.Through = job.Settings.Get("live-least", design.Scope{}), job.Settings.Get("live-through", design.Scope{})
	r.Switches, r.Relays = s.count()
	r.Breaks = make([]Unplugged, len(job.Breaks))
	whole := newWhole(job, nt, sizes, parts)
	solve.Each(len(job.Breaks), func(i int) {
		b := job.Breaks[i]
		r.Breaks[i] = s.unplug(whole, design.Undo{Kind: "break", Name: b.Name, Span: b.Span})
	})
	slices.SortStableFunc(r.Breaks, func(a, b Unplugged) int { return design.Natural(a.Undo.Name, b.Undo.Name) })
	return r
}

// Of looks at one thing undone: a break, a device with all its plugs and studs, or one stud. What the job does not have has nothing live.
func Of(job *design.Job, nt *net.Net, sizes size.Sizes, u design.Undo) *Unplugged {
	if job == nil || nt == nil {
		return &Unplugged{Undo: u}
	}
	out := attach(job).unplug(newWhole(job, nt, sizes, nil), u)
	return &out
}

// count is how many switches and relays there are, by sets of states.
func (s *supplies) count() (switches, relays int) {
	seen := map[[2]string]bool{}
	for _, d := range s.job.Devices {
		if s.device[d.Name] != d {
			continue
		}
		for i := range d.States {
			k := [2]string{d.Name, d.States[i].Group}
			switch {
			case seen[k]:
				continue
			case protect.MovedByCoil(d, k[1]):
				relays++
			default:
				switches++
			}
			seen[k] = true
		}
	}
	return switches, relays
}

// finder looks at the cavities of one thing undone.
type finder struct {
	*supplies
	local  *design.Job // what hangs together with the things undone
	nt     *net.Net    // of that, parted
	index  []int       // of its wires in the whole net
	sizes  size.Sizes
	all    *solve.Network
	ways   *protect.Ways
	starts []protect.Start
	fed    *protect.Met
	earth  *protect.Met
	loads  *protect.Met // nil until asked
	flood  []bool       // nil unless fed is bounded
	reach  []bool       // past loads, whatever the throws; nil until asked
	wire   map[int]int  // elements of the wires, by their index in the whole net
	names  map[string]int
	probe  *solve.Probe
	solved map[string]*probed
	least  unit.Voltage
	most   unit.Resistance // live-through
}

// probed is a position that was solved.
type probed struct {
	*solve.Probed
	against []string
	names   map[string]int
}

// whole is a net with what is found in it by all breaks.
type whole struct {
	nt    *net.Net
	parts *solve.Districts
	halfs map[string][]wireEnd // contacts and lugs in breaks, by break
}

func newWhole(job *design.Job, nt *net.Net, sizes size.Sizes, parts *solve.Districts) *whole {
	w := &whole{nt: nt, parts: parts.For(job, nt, sizes), halfs: map[string][]wireEnd{}}
	for i := range nt.Wires {
		for k := range nt.Wires[i].Ends {
			if t := end(nt, i, k); t.Kind == net.InHalf || t.Kind == net.OnPost {
				w.halfs[t.Break] = append(w.halfs[t.Break], wireEnd{i, k})
			}
		}
	}
	return w
}

func (s *supplies) unplug(w *whole, u design.Undo) Unplugged {
	un, seats := sides(s.job, w, u)
	if len(seats[0])+len(seats[1]) == 0 {
		return un
	}
	var wires []int
	for side := range seats {
		for i := range seats[side] {
			wires = append(wires, seats[side][i].Wires...)
		}
	}
	var devices []string
	if u.Kind != "break" {
		devices = append(devices, u.Name)
	}
	f := &finder{supplies: s, solved: map[string]*probed{}}
	var nt *net.Net
	f.local, nt, f.sizes, f.index = w.parts.Around(wires, devices)
	f.nt = net.Parted(nt, []design.Undo{u})
	f.all = solve.All(f.local, f.nt, f.sizes)
	f.probe = solve.NewProbe(f.local, f.nt, f.sizes, s.c)
	at := design.Scope{}
	if u.Kind == "break" {
		at.Break = u.Name
	} else {
		at.Device = u.Name
	}
	f.least = unit.Voltage(s.job.Settings.Get("live-least", at).Value.Quantity.Value)
	f.most = unit.Resistance(s.job.Settings.Get("live-through", at).Value.Quantity.Value)
	f.prepare()
	rest := f.without(f.adrift())
	for side := range seats {
		h := &un.Halves[side]
		for i := range seats[side] {
			c := f.judge(&seats[side][i])
			if rest != nil {
				if o := rest.judge(&seats[side][i]); o.Kind < c.Kind {
					c = o
				}
			}
			un.Bounded = un.Bounded || c.Bounded
			switch c.Kind {
			case Fed, Through:
				h.Live = append(h.Live, c)
				if c.Counts {
					h.Counted++
				}
			case Earth:
				h.Earths = append(h.Earths, c)
			default:
				h.Dead = append(h.Dead, c)
			}
		}
		h.Live, h.Earths, h.Dead = design.Exact(h.Live), design.Exact(h.Earths), design.Exact(h.Dead)
	}
	un.Cautions = cautions(&un)
	return un
}

func (f *finder) prepare() {
	f.ways = protect.NewWays(f.local, f.all, f.follows)
	f.wire = make(map[int]int, len(f.nt.Wires))
	f.names = nodeNames(f.all)
	attached := map[string]bool{}
	volts := map[string]unit.Voltage{}
	for _, c := range f.c.Supplies {
		attached[c.Device] = true
		volts[c.Device] = c.At.Nominal
	}
	var minus []protect.Start
	for i, e := range f.all.Elements {
		switch {
		case e.Kind == solve.Wire:
			f.wire[f.index[e.Wire]] = i
		case e.Kind == solve.Supply && attached[e.Device] && e.From != e.To:
			x := protect.Source{Device: e.Device, Index: e.Index}
			sup := &f.device[e.Device].Supplies[e.Index]
			x.Most = sup.Most.Nominal
			f.starts = append(f.starts, protect.Start{Source: x, Node: e.From, Volts: max(volts[e.Device], sup.Volts.Nominal), Moved: f.moved(e.Device)})
			minus = append(minus, protect.Start{Source: x, Node: e.To})
		}
	}
	slices.SortStableFunc(f.starts, func(a, b protect.Start) int { return a.Moved - b.Moved }) // of equal states a battery's counts
	f.fed = f.ways.Search(f.starts, protect.How{})
	f.earth = f.ways.Search(minus, protect.How{Upstream: true})
	if f.fed.Bounded {
		f.flood = f.ways.Flood(f.starts, protect.How{})
	}
}

func nodeNames(nw *solve.Network) map[string]int {
	out := make(map[string]int, len(nw.Nodes))
	for i, n := range nw.Nodes {
		if _, ok := out[n]; !ok {
			out[n] = i
		}
	}
	return out
}

// nodes is where a seat lies in the net with every throw in place. Those of wires have the same numbers in every position, as the wires are
// laid first.
func (f *finder) nodes(s *seat) []int {
	var out []int
	for _, w := range s.wires {
		e := &f.all.Elements[f.wire[w.wire]]
		if w.k == 0 {
			out = append(out, e.From)
		} else {
			out = append(out, e.To)
		}
	}
	if n, ok := f.names[s.pin]; ok && s.pin != "" {
		out = append(out, n)
	}
	return out
}

// at solves a state, each once.
func (f *finder) at(throws []protect.Throw) *probed {
	var key strings.Builder
	for _, t := range throws {
		key.WriteString(t.Device + "\x00" + t.Group + "\x00" + t.State + "\x01")
	}
	if p := f.solved[key.String()]; p != nil {
		return p
	}
	p := &probed{Probed: f.probe.At(caseStates(throws))}
	for _, r := range p.Relays {
		if r.Against {
			name := r.Device
			if g, _, ok := strings.Cut(r.State, "."); ok {
				name += "." + g
			}
			if !slices.Contains(p.against, name) {
				p.against = append(p.against, name)
			}
		}
	}
	f.solved[key.String()] = p
	return p
}

// read is what a seat shows in a state against the minus of a source: volts, and of a dead short the amperes. Loads are open in a short unless
// the seat is live through one.
func (f *finder) read(s *seat, throws []protect.Throw, x protect.Source, through bool) (volts unit.Voltage, amps unit.Current, against string) {
	p := f.at(throws)
	node, minus := -1, -1
	for _, n := range f.in(p, s) {
		if v, to := p.Against(n, x.Device, x.Index); to >= 0 && (minus < 0 || v > volts) {
			volts, node, minus = v, n, to
		}
	}
	if minus < 0 {
		return 0, 0, ""
	}
	if volts >= f.least/10 {
		if through {
			amps = p.Short(node, minus)
		} else {
			amps = p.Bare(node, minus)
		}
	}
	return volts, amps, p.Net.Nodes[minus]
}

// in is where a seat lies in a position.
func (f *finder) in(p *probed, s *seat) []int {
	if s.pin == "" {
		return f.nodes(s)
	}
	if p.names == nil {
		p.names = nodeNames(p.Net)
	}
	if n, ok := p.names[s.pin]; ok {
		return []int{n}
	}
	return nil
}
