package live

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/protect"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// mostTried bounds the states solved for one cavity beyond the one that should prove it.
const mostTried = 12

// judge finds how live a seat is.
func (f *finder) judge(s *seat) Cavity {
	c := s.Cavity
	nodes := f.nodes(s)
	free := len(nodes) > 0 // every wire here is always joined to a minus
	earthed, isEarth := State{}, false
	for _, n := range nodes {
		_, always := f.earth.Has(n)
		free = free && always
		for _, w := range f.earth.At(n) {
			if st := f.state(w.Throws, protect.Source{}); !isEarth || st.Moved < earthed.Moved {
				st.Moved, st.Words = w.Moved, f.words(w.Throws)
				earthed, isEarth = st, true
			}
		}
	}
	switch {
	case f.fedWays(s, nodes, &c):
	case f.relaxed(nodes):
		c.Kind, c.Bounded, c.Counts = Fed, true, true
	case !free && f.throughLoad(s, nodes, &c):
	case isEarth:
		c.Kind, c.Earthed = Earth, earthed
	default:
		c.Kind = Dead
	}
	return c
}

// words is the switches of a state in words, whatever feeds.
func (f *finder) words(throws []protect.Throw) string {
	for _, c := range f.c.Supplies {
		if f.battery[c.Device] {
			return f.state(throws, protect.Source{Device: c.Device}).Words
		}
	}
	return f.state(throws, protect.Source{Own: true}).Words
}

func (f *finder) relaxed(nodes []int) bool {
	return f.flood != nil && slices.ContainsFunc(nodes, func(n int) bool { return f.flood[n] })
}

// fedWays collects the feeds over metal, of each last fuse the one with the fewest things switched.
func (f *finder) fedWays(s *seat, nodes []int, c *Cavity) bool {
	var ways []protect.Way
	for _, n := range nodes {
		ways = append(ways, f.fed.At(n)...)
	}
	slices.SortStableFunc(ways, func(a, b protect.Way) int { return cmp.Compare(a.Moved, b.Moved) })
	have := map[protect.FuseRef]*Feed{}
	set := unit.Voltage(0) // a source may be pulled down in one state and not in another
	for i := range ways {
		w := &ways[i]
		last := protect.FuseRef{Device: "", Index: -1}
		if len(w.Fuses) > 0 {
			last = w.Fuses[len(w.Fuses)-1]
		}
		if first := have[last]; first != nil {
			if first.Source.Most > 0 && w.Source.Most == 0 { // another source drives more by the same way
				v, a, _ := f.read(s, w.Throws, w.Source, false)
				c.Volts, c.Amps = max(c.Volts, v), max(c.Amps, a)
			}
			continue
		}
		if w.Source.Own && !f.ownLives(s, w) {
			continue
		}
		set = max(set, f.device[w.Source.Device].Supplies[w.Source.Index].Volts.Nominal)
		x := f.feed(s, w, false)
		have[last] = &x
		c.Feeds = append(c.Feeds, x)
		c.Volts, c.Amps = max(c.Volts, x.Volts), max(c.Amps, x.Amps)
	}
	if len(c.Feeds) == 0 {
		return false
	}
	c.Kind, c.Counts = Fed, set >= f.least
	c.Faint = !c.Counts
	return true
}

// ownLives seeks the state in which a device's own supply lives: its draw is fed on this way, and must find a minus as well.
func (f *finder) ownLives(s *seat, w *protect.Way) bool {
	if v, _, _ := f.read(s, w.Throws, w.Source, false); v >= f.least/10 {
		return true
	}
	tried := 0
	for _, e := range f.all.Elements {
		if e.Kind != solve.Load || e.Device != w.Source.Device {
			continue
		}
		for _, back := range f.earth.At(e.To) {
			both, ok := union(w.Throws, back.Throws)
			if !ok || tried >= mostTried {
				continue
			}
			tried++
			if v, _, _ := f.read(s, both, w.Source, false); v >= f.least/10 {
				w.Throws = both
				return true
			}
		}
	}
	return false
}

// feed words and solves a way.
func (f *finder) feed(s *seat, w *protect.Way, through bool) Feed {
	x := Feed{Source: w.Source, State: f.state(w.Throws, w.Source), Behind: f.behind(w)}
	if n := len(w.Fuses); n > 0 {
		last := w.Fuses[n-1]
		x.Fuse, x.Ahead = &last, w.Fuses[:n-1]
		x.Rating = f.rating(last)
	}
	for _, e := range w.Loads {
		l := &f.all.Elements[e]
		name := l.Device
		if l.Kind == solve.Coil {
			name = "coil of " + name
		}
		x.Loads = append(x.Loads, name)
	}
	x.Volts, x.Amps, x.Against = f.read(s, w.Throws, w.Source, through)
	x.State.Against = f.at(w.Throws).against
	x.Attained = f.attain(s, w)
	return x
}

// throughLoad tells whether a seat is live through a load in some state. Which volts it then has is solved: what a load holds up, another
// load or an earth may pull down.
func (f *finder) throughLoad(s *seat, nodes []int, c *Cavity) bool {
	if f.loads == nil {
		f.loads = f.ways.Search(f.starts, f.pastLoads())
	}
	var ways []protect.Way
	for _, n := range nodes {
		ways = append(ways, f.loads.At(n)...)
	}
	if len(ways) == 0 {
		return f.loads.Bounded && f.undecided(nodes, c)
	}
	slices.SortStableFunc(ways, func(a, b protect.Way) int { return cmp.Compare(a.Moved, b.Moved) })
	var first, worst *showing
	for i := range ways {
		if i >= mostTried {
			break
		}
		f.show(s, &ways[i], ways[i].Throws).compare(&first, &worst)
	}
	// A way with nothing switched stands for all that switch something besides: what these add, or take away, is found around the seat.
	whole := f.around(s, nodes, ways, &first, &worst)
	if !whole && !first.enough {
		return f.undecided(nodes, c)
	}
	if first.volts < f.least/10 {
		return false
	}
	c.Kind = Through
	c.Feeds = []Feed{f.feed(s, &first.way, true)}
	if worst.over(first) {
		c.Feeds = append(c.Feeds, f.feed(s, &worst.way, true))
	}
	for i := range c.Feeds {
		c.Volts, c.Amps = max(c.Volts, c.Feeds[i].Volts), max(c.Amps, c.Feeds[i].Amps)
	}
	c.Faint = c.Volts < f.least
	// In a state that was not tried it may be live behind less.
	c.Bounded = !whole && !first.counts
	c.Counts = first.counts || c.Bounded
	return true
}

// showing is what a seat shows through a load in a state.
type showing struct {
	way    protect.Way
	volts  unit.Voltage
	amps   unit.Current
	enough bool // live-least
	counts bool // and behind no more than live-through
}

// show solves a state in which a way leads to a seat.
func (f *finder) show(s *seat, w *protect.Way, throws []protect.Throw) *showing {
	x := &showing{way: *w}
	x.way.Throws = throws
	x.volts, x.amps, _ = f.read(s, throws, w.Source, true)
	x.enough = x.volts >= f.least
	x.counts = x.enough && x.amps > 0 && unit.Resistance(float64(x.volts)/float64(x.amps)) <= f.most
	return x
}

// compare puts a showing first if it is more than what was: counts, is live at all, or where nothing is has more volts; of equals the one with
// the fewest things switched stays, which is shown first. The worst of those as good as the first is what gives most into a short, or has most volts.
func (x *showing) compare(first, worst **showing) {
	o := *first
	switch {
	case o == nil, x.counts && !o.counts, x.enough && !o.enough, !x.enough && !o.enough && x.volts > o.volts:
		*first, *worst = x, x
	case x.counts == o.counts && x.enough && x.over(*worst):
		*worst = x
	}
}

// over tells whether one gives clearly more into a short than another, or has clearly more volts and gives no less.
func (x *showing) over(o *showing) bool {
	const clearly = 1.1
	return x.amps > o.amps*clearly || x.volts > o.volts*clearly && x.amps >= o.amps/clearly
}

// undecided takes for live through a load what a load could reach in more states than were tried.
func (f *finder) undecided(nodes []int, c *Cavity) bool {
	if f.reach == nil {
		f.reach = f.ways.Flood(f.starts, f.pastLoads())
	}
	if !slices.ContainsFunc(nodes, func(n int) bool { return f.reach[n] }) {
		return false
	}
	c.Kind, c.Bounded, c.Counts = Through, true, true
	return true
}

// pastLoads searches through loads, but not past what is always joined to a minus.
func (f *finder) pastLoads() protect.How {
	return protect.How{Loads: true, Closed: func(n int) bool {
		fed, _ := f.fed.Has(n)
		_, free := f.earth.Has(n)
		return free && !fed
	}}
}

// mostAround bounds the states tried around a cavity.
const mostAround = 96

// around tries every state of the switches near a seat: those between it and what is always fed or always earthed. Where they are too many,
// it tries each way with one of them moved, and says so.
func (f *finder) around(s *seat, nodes []int, ways []protect.Way, first, worst **showing) bool {
	sets := f.near(nodes)
	tries, whole := product(sets)
	if !whole {
		for _, w := range ways {
			for _, g := range sets {
				for _, t := range g {
					if both, ok := union(w.Throws, []protect.Throw{t}); ok && len(tries) < mostAround {
						tries = append(tries, both)
					}
				}
			}
		}
	}
	slices.SortStableFunc(tries, func(a, b []protect.Throw) int { return cmp.Compare(moves(a), moves(b)) })
	var of []*protect.Way // the first of each source
	for i := range ways {
		if !slices.ContainsFunc(of, func(w *protect.Way) bool { return w.Source == ways[i].Source }) {
			of = append(of, &ways[i])
		}
	}
	for _, t := range tries {
		for _, w := range of {
			way := *w
			for i := range ways { // what it passes
				if both, ok := union(ways[i].Throws, t); ok && ways[i].Source == w.Source && len(both) == len(t) {
					way.Loads, way.Fuses = ways[i].Loads, ways[i].Fuses
					break
				}
			}
			f.show(s, &way, t).compare(first, worst)
		}
	}
	return whole
}

// product is every state of some sets, none and false if they are too many.
func product(sets [][]protect.Throw) ([][]protect.Throw, bool) {
	total := 1
	for _, g := range sets {
		if total *= len(g); total > mostAround {
			return nil, false
		}
	}
	var out [][]protect.Throw
	for i := range total {
		var t []protect.Throw
		for _, g := range sets {
			t = append(t, g[i%len(g)])
			i /= len(g)
		}
		slices.SortFunc(t, compareThrow)
		out = append(out, t)
	}
	return out, true
}

func moves(throws []protect.Throw) (n int) {
	for _, t := range throws {
		if !t.Rests() {
			n++
		}
	}
	return n
}

// near is the sets of states met from some nodes without passing what is always fed or always earthed, each with all its states.
func (f *finder) near(nodes []int) (out [][]protect.Throw) {
	at := make([][]int, len(f.all.Nodes))
	for i, e := range f.all.Elements {
		if e.Kind != solve.Supply && e.From != e.To {
			at[e.From] = append(at[e.From], i)
			at[e.To] = append(at[e.To], i)
		}
	}
	met := map[int]bool{}
	type key struct{ device, group string }
	sets := map[key]bool{}
	todo := slices.Clone(nodes)
	for ; len(todo) > 0; todo = todo[1:] {
		n := todo[0]
		_, fed := f.fed.Has(n)
		_, back := f.earth.Has(n)
		if met[n] || fed || back {
			continue
		}
		met[n] = true
		for _, i := range at[n] {
			e := &f.all.Elements[i]
			if d := f.device[e.Device]; e.Kind == solve.Switch && d != nil {
				k := key{e.Device, d.States[e.Index].Group}
				if !sets[k] {
					sets[k] = true
					out = append(out, throwsOf(d, k.group))
				}
			}
			todo = append(todo, e.From+e.To-n)
		}
	}
	slices.SortFunc(out, func(a, b []protect.Throw) int { return compareThrow(a[0], b[0]) })
	return out
}

// throwsOf is every state of a set, off first; one that a coil moves to counts even if nothing is joined in it.
func throwsOf(d *design.Device, group string) []protect.Throw {
	out := []protect.Throw{{Device: d.Name, Group: group, State: "off"}}
	for i := range d.States {
		if t := (protect.Throw{Device: d.Name, Group: group, State: d.States[i].State}); d.States[i].Group == group && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	for i := range d.Coils {
		m := d.Moves(&d.Coils[i])
		if t := (protect.Throw{Device: d.Name, Group: group, State: m.State}); m.State != "" && m.Group == group && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}
