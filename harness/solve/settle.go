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
		b, lay := v.stand(fs, on)
		g := v.past.grid(lay)
		p := g.solve(b.br, v.past)
		want, volts := v.want(fs, on, b, p)
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
			return &settled{b: b, g: g, p: p, relays: v.relayResults(fs, on, want, hunts, volts)}
		}
		g.release()
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

// want is where the volts of the point would put each follower, and the volts of its coil. A coil pulls whichever way round it
// is fed. What the case states stays.
func (v *values) want(fs []follower, on []bool, b *builder, p *point) (want []bool, volts []float64) {
	want, volts = make([]bool, len(fs)), make([]float64, len(fs))
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
	for i, f := range fs {
		if f.coil >= 0 {
			k := at[load{f.d.Name, Coil, f.coil}]
			if b.br[k].law != open {
				volts[i] = p.drop(k)
			}
			hold := f.pull
			if on[i] {
				hold = f.drop
			}
			want[i] = b.br[k].law != open && abs(volts[i]) >= float64(hold) && volts[i] != 0 && !f.stated
			continue
		}
		for n := range f.d.Draws {
			l := &f.d.Draws[n]
			k := at[load{f.d.Name, Load, n}]
			least := liveShare * float64(v.measuredAt(f.d, l))
			if l.Least.Given {
				least = float64(most(l.Least))
			}
			own := false // a draw on the device's own supply, which therefore cannot live on it
			for s := range f.d.Supplies {
				own = own || b.Elements[at[load{f.d.Name, Supply, s}]].From == b.Elements[k].From
			}
			if !own && b.br[k].law != open && p.amps(k) > 0 && p.drop(k) >= least {
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
