package free

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// ground is what all parts share in which the same supplies stand still: the cases solved with nothing undone, and what was solved of each district
// with some things undone. What is undone in one district changes nothing in another, so that only the districts a step touches are solved.
type ground struct {
	f      *finder
	cases  []*design.Case
	others *design.Case // supplies that no case lists; nil: there are none
	roles  []Role
	live   [][]feeder // by case, others last: supplies that can feed something
	amps   [][]unit.Current
	solved map[position]*view
	told   map[string][]Loss
}

// feeder is a supply that can feed something.
type feeder struct {
	device   string
	district int // -1: it meets no wire
}

// position is a district in a case with some of it undone.
type position struct {
	district, c int
	undone      string
}

// local is a district by itself.
type local struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	index []int // of its wires in the whole net
}

// ground finds that of a part.
func (p *part) ground() *ground {
	f := p.f
	others := p.unlisted()
	key := fmt.Sprintf("%q", p.still())
	if others != nil {
		for _, x := range others.Supplies {
			key += fmt.Sprintf(" %q", x.Device)
		}
	}
	if g := f.grounds[key]; g != nil {
		return g
	}
	g := &ground{f: f, cases: p.conditions(), others: others, solved: map[position]*view{}, told: map[string][]Loss{}}
	f.grounds[key] = g
	n := g.count()
	g.live, g.amps = make([][]feeder, n), make([][]unit.Current, n)
	marks := make([][]Role, n)
	solve.Each(n, func(i int) {
		v := newView(solve.Case(f.steady, f.nt, f.sizes, g.temps(i), g.at(i)))
		for _, e := range v.live {
			x := &v.Net.Elements[e]
			g.live[i] = append(g.live[i], feeder{x.Device, f.parts.OfSupply(f.index.numbers[x.Device], x.Index)})
		}
		g.amps[i], marks[i] = v.WireAmps, ways(v, len(f.nt.Wires))
	})
	var told [][]Role
	var flows [][]unit.Current
	for c := range g.cases {
		if len(g.live[c]) > 0 {
			told, flows = append(told, marks[c]), append(flows, g.amps[c])
		}
	}
	g.roles = rolesOf(f, told, flows)
	return g
}

// count is how many cases are solved.
func (g *ground) count() int {
	if g.others != nil {
		return len(g.cases) + 1
	}
	return len(g.cases)
}

func (g *ground) at(c int) *design.Case {
	if c < len(g.cases) {
		return g.cases[c]
	}
	return g.others
}

func (g *ground) temps(c int) []unit.Temperature {
	if c < len(g.cases) {
		return g.f.temps[g.cases[c].Name]
	}
	return nil
}

// local is a district, each cut out once.
func (f *finder) local(district int) *local {
	l := f.locals[district]
	if l == nil {
		l = &local{}
		l.job, l.nt, l.sizes, l.index = f.parts.Part(district)
		f.locals[district] = l
	}
	return l
}

// solve solves a district in a case with some things of it undone, as it was laid.
func (g *ground) solve(l *local, nt *net.Net, c int, laid *solve.Laid) *view {
	var temps []unit.Temperature
	if all := g.temps(c); all != nil {
		temps = make([]unit.Temperature, 0, len(l.index))
		for _, i := range l.index {
			if i < len(all) {
				temps = append(temps, all[i])
			}
		}
	}
	return newView(laid.Case(solve.Figures{Job: l.job, Net: nt, Sizes: l.sizes, Temps: temps, Case: g.at(c)}))
}

// snap is every case with some things undone: as they are with nothing undone but for the districts touched.
type snap struct {
	g      *ground
	alive  []bool                // by case, others last: some supply can feed something
	undone map[int][]design.Undo // by district touched
	names  map[int]string        // the same in a word
	order  []int                 // the districts touched
}

// start is the snap with nothing undone.
func (g *ground) start() *snap {
	s := &snap{g: g, alive: make([]bool, g.count())}
	for c := range s.alive {
		s.alive[c] = len(g.live[c]) > 0
	}
	return s
}

// with is a snap with one thing more undone. A case in which no supply is left that can feed anything is not looked at again.
func (s *snap) with(u design.Undo) *snap {
	g := s.g
	out := &snap{g: g, alive: slices.Clone(s.alive), order: slices.Clip(s.order), undone: map[int][]design.Undo{}, names: map[int]string{}}
	for d, list := range s.undone {
		out.undone[d], out.names[d] = list, s.names[d]
	}
	touched := g.f.touched(u)
	for _, d := range touched {
		if out.undone[d] == nil {
			out.order = append(out.order, d)
		}
		out.undone[d] = append(slices.Clip(out.undone[d]), u)
		out.names[d] = fmt.Sprintf("%q", undoNames(out.undone[d]))
	}
	g.find(out, touched)
	for c := range out.alive {
		out.alive[c] = out.alive[c] && out.feeds(c)
	}
	return out
}

// find solves what a snap wants of some districts, as they were with nothing undone too.
func (g *ground) find(s *snap, districts []int) {
	type task struct {
		position
		l    *local
		nt   *net.Net
		laid *solve.Laid
	}
	var tasks []task
	for _, d := range districts {
		l := g.f.local(d)
		for _, undone := range []string{"", s.names[d]} {
			first := len(tasks)
			var cases []*design.Case
			for c := range g.count() {
				at := position{d, c, undone}
				if _, ok := g.solved[at]; ok || c < len(g.cases) && !s.alive[c] {
					continue
				}
				tasks, cases = append(tasks, task{position: at, l: l}), append(cases, g.at(c))
			}
			if cases == nil {
				continue
			}
			nt := l.nt
			if undone != "" {
				nt = net.Parted(l.nt, s.undone[d])
			}
			for k, laid := range solve.LayTogether(l.job, nt, l.sizes, cases) {
				tasks[first+k].nt, tasks[first+k].laid = nt, laid
			}
		}
	}
	out := make([]*view, len(tasks))
	solve.Each(len(tasks), func(i int) {
		t := &tasks[i]
		out[i] = g.solve(t.l, t.nt, t.c, t.laid)
		t.laid = nil
	})
	for i, t := range tasks {
		g.solved[t.position] = out[i]
	}
}

// keep lets go of what was solved and cut out of districts that none of what is undone next touches: parts that touch a district mostly follow one another.
func (g *ground) keep(undo []design.Undo) {
	wanted := map[int]bool{}
	for _, u := range undo {
		for _, d := range g.f.touched(u) {
			wanted[d] = true
		}
	}
	for _, x := range g.f.grounds {
		maps.DeleteFunc(x.solved, func(at position, _ *view) bool { return !wanted[at.district] })
	}
	maps.DeleteFunc(g.f.locals, func(d int, _ *local) bool { return !wanted[d] })
}

// view is a district in a case.
func (s *snap) view(district, c int) *view {
	return s.g.solved[position{district, c, s.names[district]}]
}

// feeds tells whether any supply can feed something in a case.
func (s *snap) feeds(c int) bool {
	for _, x := range s.g.live[c] {
		if s.undone[x.district] == nil {
			return true
		}
	}
	return len(s.feeding(c)) > 0
}

// feeding is the devices of which supplies can feed something in a case. A relay that lets go may bring one back.
func (s *snap) feeding(c int) (out []string) {
	seen := map[string]bool{}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}
	f := s.g.f
	for _, x := range s.g.live[c] {
		if s.undone[x.district] == nil {
			add(x.device)
		}
	}
	for _, d := range s.order {
		v := s.view(d, c)
		for _, e := range v.live {
			x := &v.Net.Elements[e]
			if f.parts.OfSupply(f.index.numbers[x.Device], x.Index) == d {
				add(x.Device)
			}
		}
	}
	return out
}

// through is the current of a wire in a case, from its first end to its second.
func (s *snap) through(wire, c int) unit.Current {
	if d := s.g.f.parts.Of(wire); d >= 0 && s.undone[d] != nil {
		if v := s.view(d, c); v != nil {
			if k, ok := slices.BinarySearch(s.g.f.local(d).index, wire); ok && k < len(v.WireAmps) {
				return v.WireAmps[k]
			}
		}
		return 0
	}
	if wire < len(s.g.amps[c]) {
		return s.g.amps[c][wire]
	}
	return 0
}

// anyAlive tells whether in some case a supply can feed something.
func (s *snap) anyAlive() bool { return slices.Contains(s.alive[:len(s.g.cases)], true) }

// ended tells whether a case had a supply that could feed something before, and has none after.
func (s *snap) ended(after *snap) bool {
	for c := range s.g.cases {
		if s.alive[c] && !after.alive[c] {
			return true
		}
	}
	return false
}

// touched is the districts in which one thing undone moves anything.
func (f *finder) touched(u design.Undo) (out []int) {
	add := func(wire int) {
		if d := f.parts.Of(wire); d >= 0 && !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	if u.Kind == "break" {
		for _, e := range f.index.ends[broken(u.Name)] {
			add(e.wire)
		}
		for _, i := range f.index.crossed[u.Name] {
			for _, w := range f.nt.Crossings[i].Wires {
				if w >= 0 && w < len(f.nt.Wires) {
					add(w)
				}
			}
		}
	} else {
		for _, e := range f.index.ends[device(u.Name)] {
			if u.Kind == "device" || f.nt.Wires[e.wire].Ends[e.end].Pin == u.Pin {
				add(e.wire)
			}
		}
	}
	slices.Sort(out)
	return out
}

// key names what a step does to the districts it touches.
func (s *snap) key(after *snap, districts []int) string {
	var b strings.Builder
	fmt.Fprint(&b, s.alive, after.alive)
	for _, d := range districts {
		fmt.Fprintf(&b, " %d %s %s", d, s.names[d], after.names[d])
	}
	return b.String()
}
