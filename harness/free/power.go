package free

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// trickle is a current that counts as none: what a solution leaves over.
const trickle unit.Current = 1e-6

// view is a result with what belongs together in it.
type view struct {
	*solve.CaseResult
	group []int32 // by node: which part of the net it is in, loads counted as joints
	live  []int   // supplies, by element, that can feed something
	loads []int   // elements, in the order of Loads
}

// conditions is the cases in which things are undone: as they are written, without the supplies that stand still, and with those relays that
// a case states left to their coils, so that they let go. A case in which no supply is left is none.
func (p *part) conditions() (out []*design.Case) {
	still := map[string]bool{}
	for _, n := range p.still() {
		still[n] = true
	}
	for _, c := range p.f.job.Cases {
		x := *c
		x.Supplies = nil
		for _, s := range c.Supplies {
			if !still[s.Device] {
				x.Supplies = append(x.Supplies, s)
			}
		}
		if len(x.Supplies) == 0 {
			continue
		}
		x.States = nil
		for _, s := range c.States {
			if !p.f.follows(s) {
				x.States = append(x.States, s)
			}
		}
		out = append(out, &x)
	}
	return out
}

// follows tells whether a state that a case sets is one that a coil of the device moves.
func (f *finder) follows(s design.CaseState) bool {
	d := f.devices[s.Device]
	if d == nil {
		return false
	}
	return slices.ContainsFunc(d.Coils, func(c design.Coil) bool {
		return c.Moves == design.StateRef{Group: s.Group, State: s.State} || c.Moves.State == "" && s.Group == ""
	})
}

// undoNames is a list without where it is written.
func undoNames(list []design.Undo) (out [][3]string) {
	for _, u := range list {
		out = append(out, [3]string{u.Kind, u.Name, u.Pin})
	}
	return out
}

// newView finds the parts of a net, and the supplies of which both poles still meet something: a load, another supply, a pin of another
// device. A supply one pole of which meets nothing any more feeds nothing, however many volts it has.
func newView(r *solve.CaseResult) *view {
	v := &view{CaseResult: r.Alone(), group: make([]int32, len(r.Net.Nodes))}
	metal := make([]int32, len(r.Net.Nodes))
	for i := range metal {
		metal[i], v.group[i] = int32(i), int32(i)
	}
	laws := solve.Laws(r)
	for i, e := range r.Net.Elements {
		if e.Kind == solve.Load || e.Kind == solve.Coil {
			v.loads = append(v.loads, i)
		}
		if laws[i].Kind == solve.Open {
			continue
		}
		join(v.group, e.From, e.To)
		if e.Kind != solve.Supply && e.Kind != solve.Load && e.Kind != solve.Coil {
			join(metal, e.From, e.To)
		}
	}
	// What each piece of metal meets: elements that are none, and devices by their contacts and lugs.
	meets := make([]map[int]bool, len(metal))
	devices := make([]map[string]bool, len(metal))
	for i, e := range r.Net.Elements {
		for _, n := range [2]int{e.From, e.To} {
			m := root(metal, n)
			switch e.Kind {
			case solve.Load, solve.Coil, solve.Supply:
				if laws[i].Kind != solve.Open {
					if meets[m] == nil {
						meets[m] = map[int]bool{}
					}
					meets[m][i] = true
				}
			case solve.Contact, solve.Lug:
				if e.Device != "" {
					if devices[m] == nil {
						devices[m] = map[string]bool{}
					}
					devices[m][e.Device] = true
				}
			}
		}
	}
	own := follows(r)
	for i, e := range r.Net.Elements {
		if e.Kind != solve.Supply || laws[i].Kind != solve.Source || own[supply{e.Device, e.Index}] {
			continue
		}
		alive := true
		for _, n := range [2]int{e.From, e.To} {
			m := root(metal, n)
			others := len(meets[m])
			if meets[m][i] {
				others--
			}
			for d := range devices[m] { // only whether there is another
				if d != e.Device {
					others++
				}
			}
			alive = alive && others > 0
		}
		if alive {
			v.live = append(v.live, i)
		}
	}
	return v
}

// supply is one of a device.
type supply struct {
	device string
	index  int
}

// follows is the supplies that live on what their own device draws: each is a load's.
func follows(r *solve.CaseResult) map[supply]bool {
	out := map[supply]bool{}
	for i := range r.Supplies {
		if s := &r.Supplies[i]; s.Follows {
			out[supply{s.Device, s.Index}] = true
		}
	}
	return out
}

func root(of []int32, n int) int32 {
	i := int32(n)
	for of[i] != i {
		of[i] = of[of[i]]
		i = of[i]
	}
	return i
}

func join(of []int32, a, b int) { of[root(of, a)] = root(of, b) }

// none is that nothing is to tell of a load.
const none LossKind = 255

// judge compares a load with how it was with nothing undone; by is what it hangs on.
func (v *view) judge(f *finder, base *view, i int, change unit.Ratio) (kind LossKind, by string) {
	was := &base.Loads[i]
	if was.Rests {
		return none, ""
	}
	if v == nil || i >= len(v.Loads) {
		if was.Fed {
			return Off, ""
		}
		return none, ""
	}
	now := &v.Loads[i]
	switch {
	case now.Fed && (now.Amps < 0) != (was.Fed && was.Amps < 0):
		return Backward, v.through(now)
	case now.Fed:
		if by := v.through(now); by != "" && base.through(was) == "" {
			return Through, by
		}
		most := max(magnitude(was.Volts), was.SupplySet, now.SupplySet)
		switch {
		case !was.Fed:
			return Wakes, ""
		case magnitude(now.Volts) > most*unit.Voltage(1+change):
			return Risen, now.Supply
		case magnitude(now.Volts) < magnitude(was.Volts)*unit.Voltage(1-change):
			return Weak, ""
		}
		return none, ""
	case !was.Fed:
		return none, ""
	}
	if s := v.hangs(i); s >= 0 && !switched(base, was.Return) {
		return Earth, v.Net.Elements[s].Device
	}
	return Off, ""
}

func magnitude[T ~float64](x T) T { return max(x, -x) }

// through is the first other load on the way of a load's current; empty: none.
func (v *view) through(l *solve.LoadResult) string {
	for _, way := range [2][]solve.Step{l.Feed, l.Return} {
		for _, s := range way {
			if e := &v.Net.Elements[s.Element]; e.Kind == solve.Load || e.Kind == solve.Coil {
				return e.Name
			}
		}
	}
	return ""
}

// switched tells whether a way passes a contact of a switch: then a load without its return is as it is whenever that is open.
func switched(v *view, way []solve.Step) bool {
	return slices.ContainsFunc(way, func(s solve.Step) bool { return v.Net.Elements[s.Element].Kind == solve.Switch })
}

// hangs is a supply that can feed something and holds the plus side of a load at half its volts or more, though nothing flows; -1: none.
func (v *view) hangs(i int) int {
	e := &v.Net.Elements[v.loads[i]]
	plus := e.From
	if v.Loads[i].Amps < 0 {
		plus = e.To
	}
	for _, s := range v.live {
		x := &v.Net.Elements[s]
		if root(v.group, x.To) != root(v.group, plus) {
			continue
		}
		at := v.Point.Volts[plus] - v.Point.Volts[x.To]
		if full := v.Point.Volts[x.From] - v.Point.Volts[x.To]; full > 1 && at >= full/2 {
			return s
		}
	}
	return -1
}
