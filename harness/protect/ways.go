package protect

import (
	"cmp"
	"container/heap"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Throw is one state of one set of states of a device, as the text names them; Group is empty for a device with one set.
type Throw struct{ Device, Group, State string }

// Rests tells whether it is the state in which a thing is left alone.
func (t Throw) Rests() bool { return t.State == "off" }

// Start is where ways begin: a terminal of a source, and what has to be switched on for it besides.
type Start struct {
	Source
	Node  int
	Volts unit.Voltage
	Moved int
}

// Way is one way by which a node is met, with the least that has to be switched for it.
type Way struct {
	Source Source
	Fuses  []FuseRef // passed, from the source on
	Loads  []int     // passed, elements of the net, from the source on
	Throws []Throw   // used, those at rest as well; by device and group
	Moved  int       // how many throws do not rest, and what the source asks besides
}

// How is what a search passes.
type How struct {
	Upstream bool                // against the current: from a minus to what drains there
	Loads    bool                // loads are passed too, either way round
	Closed   func(node int) bool // nodes that are not entered; nil: none
}

// Ways is the net of a job in every state of every switch and relay (solve.All), to be searched for the ways of current. Throws of one
// set exclude each other on a way.
type Ways struct {
	*graph
	sets   []set
	own    map[int][]int // by node at which a draw is fed: elements of the supplies that live on it
	device map[string]*design.Device
}

// NewWays prepares a net. Follows tells of which devices the supplies live on what the device itself draws.
func NewWays(job *design.Job, nw *solve.Network, follows func(*design.Device) bool) *Ways {
	w := &Ways{graph: newGraph(job, nw), own: map[int][]int{}, device: map[string]*design.Device{}}
	w.throws, w.sets = throwsOf(job, nw)
	for _, d := range job.Devices {
		if !d.Pattern && w.device[d.Name] == nil {
			w.device[d.Name] = d
		}
	}
	for i, s := range nw.Elements {
		if d := w.device[s.Device]; s.Kind != solve.Supply || d == nil || !follows(d) {
			continue
		}
		for _, l := range nw.Elements {
			if l.Kind == solve.Load && l.Device == s.Device && l.From != s.From {
				w.own[l.From] = append(w.own[l.From], i)
			}
		}
	}
	return w
}

// mostKinds is how many different uses of throws are kept at one node behind one fuse, those with the fewest things switched first.
// A search that meets more says so.
const mostKinds = 24

// mostKept bounds the ways kept at one node behind all fuses together.
const mostKept = 8 * mostKinds

// Met is what a search met.
type Met struct {
	*Ways
	kept    [][]int32 // spots by node
	spots   []spot
	sources []Source
	Bounded bool // it kept only some of the ways: a node may be met that is not here, or with less switched
}

// spot is a node as it is met on a way: behind a fuse (-1: none), with what the way has used. A net of many switches has millions.
type spot struct {
	node, fuse, label int32
	moved, relays     int32
	loads             int32
	by, before        int32 // element, spot; -1
	source            int32
	limited           bool // the source is
	volts             unit.Voltage
}

type queue struct {
	of   *Met
	list []int32
}

func (q *queue) Len() int      { return len(q.list) }
func (q *queue) Swap(i, j int) { q.list[i], q.list[j] = q.list[j], q.list[i] }
func (q *queue) Push(x any)    { q.list = append(q.list, x.(int32)) }
func (q *queue) Pop() any {
	x := q.list[len(q.list)-1]
	q.list = q.list[:len(q.list)-1]
	return x
}

func (q *queue) Less(i, j int) bool {
	a, b := &q.of.spots[q.list[i]], &q.of.spots[q.list[j]]
	if n := cmp.Or(cmp.Compare(a.moved, b.moved), cmp.Compare(a.loads, b.loads), cmp.Compare(a.relays, b.relays)); n != 0 {
		return n < 0
	}
	if a.limited != b.limited {
		return b.limited
	}
	return q.list[i] < q.list[j]
}

// lower is the share of another's volts from which a source counts like it: a battery beside its alternator, but not a control unit's own 5 V.
const lower = 0.6

// Search finds the nodes met from the starts, fewest things switched first. At a node a way counts beside another if it uses a throw that
// the other does not, or comes by another last fuse with none that the other lacks; one with no fuse between outweighs those behind one.
func (w *Ways) Search(starts []Start, how How) *Met {
	m := &Met{Ways: w, kept: make([][]int32, len(w.Nodes))}
	q := &queue{of: m}
	put := func(p spot) {
		m.spots = append(m.spots, p)
		heap.Push(q, int32(len(m.spots)-1))
	}
	begin := func(p spot, s Source) {
		p.source, p.limited = int32(len(m.sources)), s.Most > 0
		m.sources = append(m.sources, s)
		put(p)
	}
	for _, s := range starts {
		if s.Node >= 0 && s.Node < len(w.Nodes) {
			begin(spot{node: int32(s.Node), fuse: -1, moved: int32(s.Moved), by: -1, before: -1, volts: s.Volts}, s.Source)
		}
	}
	for q.Len() > 0 {
		i := heap.Pop(q).(int32)
		p := m.spots[i]
		if how.Closed != nil && how.Closed(int(p.node)) || !m.keep(i) {
			continue
		}
		if !how.Upstream && p.loads == 0 {
			for _, e := range w.own[int(p.node)] {
				s := Source{Device: w.Elements[e].Device, Index: w.Elements[e].Index, Own: true}
				s.Most = w.device[s.Device].Supplies[s.Index].Most.Nominal
				begin(spot{node: int32(w.Elements[e].From), fuse: -1, label: p.label, moved: p.moved, relays: p.relays, by: -1, before: i, volts: w.device[s.Device].Supplies[s.Index].Volts.Nominal}, s)
			}
		}
		for _, e := range w.at[p.node] {
			next, ok := m.step(&p, i, e, how)
			if ok {
				put(next)
			}
		}
	}
	return m
}

// keep tells whether a way is worth going on with.
func (m *Met) keep(i int32) bool {
	p := &m.spots[i]
	same := 0
	for _, k := range m.kept[p.node] {
		o := &m.spots[k]
		if (o.fuse == p.fuse || o.fuse < 0) && m.within(int(o.label), int(p.label)) && o.loads <= p.loads && o.volts >= lower*p.volts && (!o.limited || p.limited) {
			return false
		}
		if o.fuse == p.fuse {
			same++
		}
	}
	if same >= mostKinds || len(m.kept[p.node]) >= mostKept {
		m.Bounded = true
		return false
	}
	m.kept[p.node] = append(m.kept[p.node], i)
	return true
}

func (m *Met) step(p *spot, i int32, e int, how How) (spot, bool) {
	far := int32(m.other(e, int(p.node)))
	if m.passed(i, far) {
		return spot{}, false
	}
	next := spot{node: far, fuse: p.fuse, moved: p.moved, relays: p.relays, loads: p.loads, by: int32(e), before: i, source: p.source, limited: p.limited, volts: p.volts}
	switch x := &m.Elements[e]; x.Kind {
	case solve.Supply:
		return next, false
	case solve.Load, solve.Coil:
		if !how.Loads {
			return next, false
		}
		next.loads++
	case solve.Fuse:
		next.fuse = int32(e)
	case solve.Diode:
		if (int32(x.From) == p.node) == how.Upstream {
			return next, false
		}
	}
	t := m.throws[e]
	label, ok := m.with(int(p.label), t)
	if !ok {
		return next, false
	}
	next.label = int32(label)
	if next.label != p.label && m.sets[t.group].states[t.state] != "off" {
		next.moved++
		if d := m.device[m.sets[t.group].device]; d != nil && MovedByCoil(d, m.sets[t.group].group) {
			next.relays++
		}
	}
	return next, true
}

// passed tells whether a way has been at a node: what goes round a ring feeds nothing new.
func (m *Met) passed(i, node int32) bool {
	if len(m.kept[node]) == 0 {
		return false
	}
	for k := i; k >= 0; k = m.spots[k].before {
		if m.spots[k].node == node {
			return true
		}
		if m.spots[k].by < 0 {
			return false
		}
	}
	return false
}

// At lists the ways by which a node is met, fewest things switched first.
func (m *Met) At(node int) []Way {
	if node < 0 || node >= len(m.kept) {
		return nil
	}
	var out []Way
	for _, i := range m.kept[node] {
		p := &m.spots[i]
		w := Way{Source: m.sources[p.source], Moved: int(p.moved)}
		for _, t := range m.labels[p.label] {
			s := &m.sets[t.group]
			w.Throws = append(w.Throws, Throw{s.device, s.group, s.states[t.state]})
		}
		slices.SortFunc(w.Throws, func(a, b Throw) int {
			return cmp.Or(design.Natural(a.Device, b.Device), design.Natural(a.Group, b.Group))
		})
		for k := i; m.spots[k].by >= 0; k = m.spots[k].before {
			switch e := int(m.spots[k].by); m.Elements[e].Kind {
			case solve.Fuse:
				w.Fuses = append(w.Fuses, m.ref(e))
			case solve.Load, solve.Coil:
				w.Loads = append(w.Loads, e)
			}
		}
		slices.Reverse(w.Fuses)
		slices.Reverse(w.Loads)
		out = append(out, w)
	}
	return out
}

func (w *Ways) ref(fuse int) FuseRef {
	return FuseRef{Device: w.Elements[fuse].Device, Index: w.Elements[fuse].Index}
}

// Has tells whether a node is met at all; free, whether it is met with nothing switched at all and no throw used.
func (m *Met) Has(node int) (met, free bool) {
	for _, i := range m.kept[node] {
		met = true
		free = free || m.spots[i].label == 0
	}
	return met, free
}

// Flood is the nodes met if the throws of a set could all be used at once: every node that a search meets, and perhaps more.
func (w *Ways) Flood(starts []Start, how How) []bool {
	met := make([]bool, len(w.Nodes))
	var todo []int
	enter := func(n int) {
		if n >= 0 && n < len(met) && !met[n] && (how.Closed == nil || !how.Closed(n)) {
			met[n] = true
			todo = append(todo, n)
		}
	}
	for _, s := range starts {
		enter(s.Node)
	}
	for ; len(todo) > 0; todo = todo[1:] {
		n := todo[0]
		if !how.Upstream {
			for _, e := range w.own[n] {
				enter(w.Elements[e].From)
			}
		}
		for _, e := range w.at[n] {
			switch x := &w.Elements[e]; {
			case x.Kind == solve.Supply, (x.Kind == solve.Load || x.Kind == solve.Coil) && !how.Loads, x.Kind == solve.Diode && (x.From == n) == how.Upstream:
			default:
				enter(w.other(e, n))
			}
		}
	}
	return met
}

// MovedByCoil tells whether a coil of a device moves a set of its states: it is a relay's.
func MovedByCoil(d *design.Device, group string) bool {
	for i := range d.Coils {
		if m := d.Moves(&d.Coils[i]); m.State != "" && m.Group == group {
			return true
		}
	}
	return false
}
