package solve

import (
	"slices"
	"sync"
	"weak"

	"loomsheet/harness/unit"
)

// StartResult is the operating point while one device starts, the rest steady. It keeps what differs from the case: of a thousand that start each moves
// little.
type StartResult struct {
	Device string
	Net    *Network

	of    *CaseResult
	index []int32 // loads that it moves and those of the device, ascending
	moved *moved  // as these; ways only of the device
	amps  []unit.Current
	again *again
}

// moved is the loads of a start, each worked out when it is first asked for: most never are.
type moved struct {
	lean *lean
	rest map[int]*LoadResult // by place in the start's list: of the device, where the start leaves them alone
	*judged
}

// judged is the loads in the islands that a start moves. It is the same in every result that was taken over with the same standing.
type judged struct {
	mu    sync.Mutex
	brief map[int]*brief      // by place in the start's list
	whole map[int]*LoadResult // of the device, with their ways
}

// brief is in what a load of a start differs from that of the case.
type brief struct {
	fed                    bool
	supply                 int32 // -1: none
	volts                  unit.Voltage
	amps                   unit.Current
	atSupply, set          unit.Voltage
	feedDrop, returnedDrop unit.Voltage
	told                   weak.Pointer[LoadResult] // who has it gets the same one again, and may ask for whose it is
}

func (s *StartResult) load(k int) *LoadResult {
	m := s.moved
	m.mu.Lock()
	defer m.mu.Unlock()
	r := s.of.Loads[s.index[k]]
	if r.Device == s.Device {
		in, mine := &m.rest, m.lean.mine(m.lean.base.ofE[r.element])
		if mine {
			in = &m.whole
		}
		if (*in)[k] == nil {
			if *in == nil {
				*in = map[int]*LoadResult{}
			}
			if mine {
				m.lean.ladder().judge(&r)
			}
			(*in)[k] = &r
		}
		return (*in)[k]
	}
	b := m.brief[k]
	if b == nil {
		m.lean.ladder().judge(&r)
		if m.brief == nil {
			m.brief = map[int]*brief{}
		}
		b = &brief{fed: r.Fed, supply: -1, volts: r.Volts, amps: r.Amps, atSupply: r.SupplyVolts, set: r.SupplySet, feedDrop: r.FeedDrop, returnedDrop: r.ReturnDrop}
		if r.Feed != nil || r.Supply != "" {
			b.supply = int32(r.supply)
		}
		m.brief[k] = b
	} else if told := b.told.Value(); told != nil {
		return told
	}
	r.Fed, r.Volts, r.Amps, r.Supply, r.supply = b.fed, b.volts, b.amps, "", 0
	r.SupplyVolts, r.SupplySet, r.FeedDrop, r.ReturnDrop, r.Feed, r.Return = b.atSupply, b.set, b.feedDrop, b.returnedDrop, nil, nil
	if b.supply >= 0 {
		r.Supply, r.supply = s.Net.Elements[b.supply].Device, int(b.supply)
	}
	told := &r
	b.told = weak.Make(told)
	return told
}

// whole is a load of the start, by its index in the case's list, with its ways.
func (s *StartResult) whole(i int) *LoadResult {
	m := s.moved
	k, ok := slices.BinarySearch(s.index, int32(i))
	switch {
	case !ok:
		return &s.of.Loads[i]
	case s.of.Loads[i].Device == s.Device:
		return s.load(k)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	r := s.of.Loads[i]
	m.lean.ladder().judge(&r)
	return &r
}

// Started is a start of which only the currents are known, by element.
func Started(device string, nw *Network, amps []unit.Current) StartResult {
	return StartResult{Device: device, Net: nw, amps: amps}
}

// Amps is the current of an element, in the sense of Point.Amps; none of one that is not there.
func (s *StartResult) Amps(element int) unit.Current {
	switch {
	case element < 0:
	case s.again == nil || s.amps != nil:
		if element < len(s.amps) {
			return s.amps[element]
		}
	case element < len(s.again.layout().ofE):
		return unit.Current(s.again.lean.amps(element))
	}
	return 0
}

// Standing is what a start moves, as it stands: what it carries there is the same in every result that was taken over from another with the same standing.
// Known is false of a start that was not solved.
type Standing struct {
	of    *stood
	Known bool
}

// Standing is that of a start, to be compared.
func (s *StartResult) Standing() Standing {
	if s.again == nil || len(s.again.lean.stood.islands) == 0 {
		return Standing{}
	}
	return Standing{s.again.lean.stood, true}
}

// Volts is that of a node, in the sense of Point.Volts; none of one that is not there.
func (s *StartResult) Volts(node int) unit.Voltage {
	if s.again == nil || node < 0 || node >= len(s.again.layout().of) {
		return 0
	}
	return unit.Voltage(s.again.lean.volts(node))
}

// LetGo keeps of the starts of a case no more than what it takes to work out again, to the bit, how they stand: most are not asked again.
func (c *CaseResult) LetGo() {
	for i := range c.Starts {
		if a := c.Starts[i].again; a != nil {
			a.lean.stood.letGo()
		}
	}
}

// Point is the whole operating point.
func (s *StartResult) Point() Point {
	if s.again == nil {
		return Point{Amps: s.amps, Converged: true}
	}
	return s.again.at().point()
}

// Load is one of the case, by its index in the case's list; nil if there is none. Ways are known for the loads of the device that starts.
func (s *StartResult) Load(i int) *LoadResult {
	if s.of == nil || i < 0 || i >= len(s.of.Loads) {
		return nil
	}
	if k, ok := slices.BinarySearch(s.index, int32(i)); ok {
		return s.load(k)
	}
	return s.of.bare.load(s.of.Loads, i)
}

// Moves tells whether a load, by its index in the case's list, may stand otherwise than in the case.
func (s *StartResult) Moves(load int) bool {
	_, ok := slices.BinarySearch(s.index, int32(load))
	return ok
}

// MovesNode tells whether the volts of a node may be others than in the case.
func (s *StartResult) MovesNode(node int) bool {
	if s.again == nil || node < 0 || node >= len(s.again.layout().of) {
		return false
	}
	return s.again.lean.mine(s.again.layout().of[node])
}

// IndexOf is the place of a load in the case's list, also of one told while a device starts; -1 if it is not one of them.
func (c *CaseResult) IndexOf(load *LoadResult) int {
	same := func(l *LoadResult) bool {
		return l.Device == load.Device && l.Index == load.Index && l.Coil == load.Coil
	}
	i, ok := slices.BinarySearchFunc(c.Loads, load.element, func(l LoadResult, e int) int { return l.element - e })
	if ok && same(&c.Loads[i]) && (i == 0 || !same(&c.Loads[i-1])) {
		return i
	}
	return slices.IndexFunc(c.Loads, func(l LoadResult) bool { return same(&l) })
}

// Follows tells whether a load of the case, also one told while a device starts, hangs on a supply that another device makes from what it draws.
func (c *CaseResult) Follows(l *LoadResult) bool {
	if l.Supply == "" {
		return false
	}
	// All supplies of a device follow or none does.
	i, ok := slices.BinarySearchFunc(c.Supplies, l.supply, func(s SupplyResult, e int) int { return s.element - e })
	if ok && c.Supplies[i].Device == l.Supply && (i == 0 || c.Supplies[i-1].element < l.supply) {
		return c.Supplies[i].Follows
	}
	return slices.ContainsFunc(c.Supplies, func(s SupplyResult) bool { return s.Device == l.Supply && s.Follows })
}

// Loads is all of them, in the order of the case's list.
func (s *StartResult) Loads() []LoadResult {
	if s.of == nil {
		return nil
	}
	out := slices.Clone(s.of.Loads)
	for i := range out {
		out[i].Feed, out[i].Return = nil, nil
	}
	for k, i := range s.index {
		out[i] = *s.load(k)
	}
	return out
}

// starts solves the case once more for each device that is fed and has a starting value: all its starting values in place, every
// other load steady, relays and switches as they stood.
func (v *values) starts(res *CaseResult, s *settled, steady *ladder) (out []StartResult) {
	var nets []startNet
	var changes []change
	var knobs []knob
	load := 0
	for n := 0; n < len(res.Net.Elements); {
		device := res.Net.Elements[n].Device
		if device == "" {
			n++
			continue
		}
		x := startNet{device: device, loads: [2]int{load, load}}
		c, k := len(changes), len(knobs)
		for ; n < len(res.Net.Elements) && res.Net.Elements[n].Device == device; n++ {
			e := &res.Net.Elements[n]
			if e.Kind != Load && e.Kind != Coil {
				continue
			}
			load++
			draw := drawOf(v.byName[device], e)
			if !draw.Start.Given || !(most(draw.Start) > 0) || !steady.fed(n) {
				continue
			}
			law, k := v.starting(v.byName[device], draw)
			changes = append(changes, change{n, law})
			if k.element = n; k.real() {
				knobs = append(knobs, k)
			}
		}
		if x.loads[1] = load; len(changes) > c {
			x.changes, x.knobs = changes[c:len(changes):len(changes)], knobs[k:len(knobs):len(knobs)]
			nets = append(nets, x)
		}
	}
	if nets == nil {
		return nil
	}
	res.bare = &bare{}
	out = make([]StartResult, 0, len(nets))
	var loads map[int32][]int32 // by island, once it is asked for
	for i := range nets {
		x := &nets[i]
		if was := v.past.start(x, s.p.layout); was != nil {
			out = append(out, was.over(res, s, steady))
			continue
		}
		if loads == nil {
			loads = map[int32][]int32{}
			for i := range res.Loads {
				at := s.p.ofE[res.Loads[i].element]
				loads[at] = append(loads[at], int32(i))
			}
		}
		l := newLean(steady, s.g, x.changes, &res.again.among)
		st := StartResult{Device: x.device, Net: res.Net, of: res, again: &again{under: res.again, knobs: x.knobs, lean: l}}
		st.index = moves(l.stood.islands, loads, x.loads)
		st.moved = &moved{lean: l, judged: &judged{}}
		out = append(out, st)
	}
	return out
}

// moves is the loads in some islands and those from the first to the one behind the last of a device, ascending. It is the list of the island where there is but
// one, and it has all of them.
func moves(islands []int32, in map[int32][]int32, device [2]int) (out []int32) {
	if len(islands) == 1 && device[0] < device[1] {
		all := in[islands[0]]
		if at, ok := slices.BinarySearch(all, int32(device[0])); ok && at+device[1]-device[0] <= len(all) && all[at+device[1]-device[0]-1] == int32(device[1]-1) {
			return all
		}
	}
	for _, i := range islands {
		out = append(out, in[i]...)
	}
	for i := device[0]; i < device[1]; i++ {
		out = append(out, int32(i))
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// over is the same start in a case with other figures, none of which touch what moves.
func (s *StartResult) over(res *CaseResult, n *settled, steady *ladder) StartResult {
	was := s.again.lean
	l := &lean{base: n.p, among: &res.again.among, changes: was.changes, nw: res.Net, stood: was.stood}
	return StartResult{Device: s.Device, Net: res.Net, of: res, index: s.index, moved: &moved{lean: l, judged: s.moved.judged},
		again: &again{under: res.again, knobs: s.again.knobs, lean: l}}
}

// startNet is what changes while a device starts.
type startNet struct {
	device  string
	changes []change
	knobs   []knob
	loads   [2]int // the first of the device, and the one behind its last
}

// bare is the loads of a case without their ways, for what a start leaves alone: each is made when it is first asked for, and stays the same one.
type bare struct {
	mu sync.Mutex
	of map[int]*LoadResult
}

func (b *bare) load(loads []LoadResult, i int) *LoadResult {
	b.mu.Lock()
	defer b.mu.Unlock()
	l := b.of[i]
	if l == nil {
		if b.of == nil {
			b.of = map[int]*LoadResult{}
		}
		x := loads[i]
		x.Feed, x.Return = nil, nil
		l = &x
		b.of[i] = l
	}
	return l
}
