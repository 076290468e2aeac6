package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// settled is a network whose relays, and supplies that follow, stand where its own volts put them.
type settled struct {
	b      *builder
	g      *grid // of the builder's branches, to be used again
	p      *point
	relays []RelayResult
	joints *joints // nil: not known yet
}

// follower is a coil, or a device whose supplies follow what it draws.
type follower struct {
	d       *design.Device
	coil    int // -1: the supplies
	group   group
	state   string
	stated  bool
	pull    unit.Voltage
	drop    unit.Voltage
	assumed bool
}

func (v *values) followers() (out []follower) {
	for _, d := range v.devices {
		for i := range d.Coils {
			c := &d.Coils[i]
			moves := d.Moves(c)
			f := follower{d: d, coil: i, group: group{d.Name, moves.Group}, state: moves.State, pull: most(c.PullIn), drop: most(c.DropOut)}
			f.stated = v.stated[f.group]
			at := v.measuredAt(d, &c.Draw)
			f.assumed = !c.PullIn.Given || !c.DropOut.Given
			if !c.PullIn.Given {
				f.pull = PullInShare.Of(at)
			}
			if !c.DropOut.Given {
				f.drop = DropOutShare.Of(at)
			}
			f.drop = min(f.drop, f.pull)
			out = append(out, f)
		}
		if len(d.Supplies) > 0 && v.follows(d) {
			out = append(out, follower{d: d, coil: -1})
		}
	}
	return out
}

// settle solves with every coil off and then lets relays follow their volts, all at once in each round, as they would: a
// relay that closes may feed the next. If that comes back to where it was before, the relays move one at a time in the order
// of their names, since of two that lock each other out one is the quicker. Those that move even then hunt: neither way is
// steady for them. The rounds are bounded by the positions met.
func (v *values) settle() *settled {
	fs := v.followers()
	on := make([]bool, len(fs))
	hunts := make([]bool, len(fs))
	seen := map[string]int{}
	var path []string
	single := false
	most := 8*len(fs) + 16
	for round := 0; ; round++ {
		b, lay, at, f := v.stand(fs, on)
		x := newAsked(v.past.grid(lay), b, v.past, f)
		want, volts := v.want(fs, on, at, x)
		key := bits(on)
		first, again := seen[key]
		if again && !single {
			single, seen, path, again = true, map[string]int{}, nil, false
		}
		over := round >= most && single
		if over && !again {
			first = len(path) / 2
		}
		if key == bits(want) || again || over {
			if key != bits(want) {
				for i := range fs {
					for _, k := range path[first:] {
						hunts[i] = hunts[i] || k[i] != path[len(path)-1][i]
					}
				}
			}
			out := &settled{b: b, g: x.grid, p: x.whole(), relays: v.relayResults(fs, on, want, hunts, volts)}
			if f != nil {
				out.joints = f.joints
			}
			return out
		}
		x.leave(at)
		if round >= most && !single {
			single, seen, path, most = true, map[string]int{}, nil, round+most
		}
		seen[key] = len(path)
		path = append(path, key)
		for i := range on {
			if on[i] != want[i] {
				on[i] = want[i]
				if single {
					break
				}
			}
		}
	}
}

func bits(on []bool) string {
	out := make([]byte, len(on))
	for i, x := range on {
		out[i] = '0'
		if x {
			out[i] = '1'
		}
	}
	return string(out)
}

// positions puts together what the case states and what the followers do. Of two coils that move one group the first wins.
func (v *values) positions(fs []follower, on []bool) positions {
	pos := positions{state: map[group]string{}, live: map[string]bool{}}
	for _, s := range v.c.States {
		pos.state[group{s.Device, s.Group}] = s.State
	}
	for i, f := range fs {
		switch {
		case !on[i]:
		case f.coil < 0:
			pos.live[f.d.Name] = true
		default:
			if _, taken := pos.state[f.group]; !taken {
				pos.state[f.group] = f.state
			}
		}
	}
	return pos
}

// seat is an element that a follower follows: its coil, or a draw of the device whose supplies follow.
type seat struct {
	element int32
	own     bool // on the device's own supply, which therefore cannot live on it
}

// seats lists them by follower: those of the n-th are of[first[n]:first[n+1]].
type seats struct {
	first []int32
	of    []seat
}

func (b *builder) seats(fs []follower) (out seats) {
	type load struct {
		device string
		kind   ElementKind
		index  int
	}
	at := map[load]int{}
	for i, e := range b.Elements {
		if e.Kind == Load || e.Kind == Coil || e.Kind == Supply {
			at[load{e.Device, e.Kind, e.Index}] = i
		}
	}
	out.first = append(out.first, 0)
	for _, f := range fs {
		if f.coil >= 0 {
			out.of = append(out.of, seat{element: int32(at[load{f.d.Name, Coil, f.coil}])})
		} else {
			for n := range f.d.Draws {
				k := at[load{f.d.Name, Load, n}]
				own := false
				for s := range f.d.Supplies {
					own = own || b.Elements[at[load{f.d.Name, Supply, s}]].From == b.Elements[k].From
				}
				out.of = append(out.of, seat{int32(k), own})
			}
		}
		out.first = append(out.first, int32(len(out.of)))
	}
	return out
}

// want is where the volts of the net would put each follower, and the volts of its coil. A coil pulls whichever way round it
// is fed. What the case states stays.
func (v *values) want(fs []follower, on []bool, at seats, x *asked) (want []bool, volts []float64) {
	want, volts = make([]bool, len(fs)), make([]float64, len(fs))
	for i, f := range fs {
		if f.coil >= 0 {
			k := int(at.first[i])
			open := x.open(at, k)
			if !open {
				volts[i], _ = x.at(at, k)
			}
			hold := f.pull
			if on[i] {
				hold = f.drop
			}
			want[i] = !open && abs(volts[i]) >= float64(hold) && volts[i] != 0 && !f.stated
			continue
		}
		for n := range f.d.Draws {
			l := &f.d.Draws[n]
			k := int(at.first[i]) + n
			if at.of[k].own || x.open(at, k) {
				continue
			}
			least := liveShare * float64(v.measuredAt(f.d, l))
			if l.Least.Given {
				least = float64(most(l.Least))
			}
			if drop, amps := x.at(at, k); amps > 0 && drop >= least {
				want[i] = true
			}
		}
	}
	return want, volts
}

func (v *values) relayResults(fs []follower, on, want, hunts []bool, volts []float64) (out []RelayResult) {
	stated := map[group]string{}
	for _, s := range v.c.States {
		stated[group{s.Device, s.Group}] = s.State
	}
	for i, f := range fs {
		if f.coil < 0 {
			continue
		}
		r := RelayResult{Device: f.d.Name, Coil: f.coil, State: design.StateRef{Group: f.group.name, State: f.state}.String(),
			Volts: unit.Voltage(volts[i]), On: on[i], Stated: f.stated, Hunts: hunts[i],
			PullIn: f.pull, DropOut: f.drop, Assumed: f.assumed, Span: f.d.Coils[f.coil].Span}
		if f.stated {
			r.On = stated[f.group] == f.state
			x := unit.Voltage(abs(volts[i]))
			r.Against = r.On && x < f.drop || !r.On && x >= f.pull && x > 0
		}
		out = append(out, r)
	}
	return out
}
