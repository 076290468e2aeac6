package live

import (
	"slices"

	"loomsheet/harness/protect"
	"loomsheet/harness/solve"
)

// mostDriven bounds the states solved while relays are sought to pull in by themselves.
const mostDriven = 16

// attain seeks a state of the switches alone in which the relays that a way asks for pull in by their own coils and the seat is live; nil if
// none was found. The coils' own ways are followed, so that relays which feed relays come along.
func (f *finder) attain(s *seat, w *protect.Way) *State {
	d := &driver{finder: f, seat: s, way: w}
	var hands, relays []protect.Throw
	for _, t := range w.Throws {
		if f.relay(t) {
			if !t.Rests() {
				relays = append(relays, t)
			}
		} else {
			hands = append(hands, t)
		}
	}
	if len(relays) == 0 || !d.drive(hands, relays, nil) {
		return nil
	}
	out := f.state(d.found, w.Source)
	return &out
}

type driver struct {
	*finder
	seat  *seat
	way   *protect.Way
	tries int
	found []protect.Throw
}

// drive adds what feeds and earths the coil of each relay in turn, the ways with the fewest things switched first.
func (d *driver) drive(hands, relays, done []protect.Throw) bool {
	if len(relays) == 0 {
		if d.tries++; d.tries > mostDriven {
			return false
		}
		if v, _, _ := d.read(d.seat, hands, d.way.Source, d.way.Loads != nil); v < d.least {
			return false
		}
		for _, r := range d.at(hands).Relays { // live by these, not in spite of them
			for _, t := range done {
				if r.Device == t.Device && r.State == named(t) && !r.On {
					return false
				}
			}
		}
		d.found = hands
		return true
	}
	t, rest := relays[0], relays[1:]
	for _, e := range d.all.Elements {
		if e.Kind != solve.Coil || e.Device != t.Device || e.Index >= len(d.device[e.Device].Coils) {
			continue
		}
		m := d.device[e.Device].Moves(&d.device[e.Device].Coils[e.Index])
		if m.Group != t.Group || m.State != t.State {
			continue
		}
		for _, plus := range d.fed.At(e.From) {
			for _, minus := range d.earth.At(e.To) {
				if d.tries > mostDriven {
					return false
				}
				both, ok := union(plus.Throws, minus.Throws)
				if !ok {
					continue
				}
				more, still := hands, slices.Clone(rest)
				for _, x := range both {
					switch {
					case !d.relay(x):
						if more, ok = union(more, []protect.Throw{x}); !ok {
							break
						}
					case x.Rests():
					case x == t:
						ok = false // it would have to be in before it can pull in
					case !slices.Contains(done, x) && !slices.Contains(still, x):
						still = append(still, x)
					}
					if !ok {
						break
					}
				}
				if ok && d.drive(more, still, append(slices.Clone(done), t)) {
					return true
				}
			}
		}
	}
	return false
}

func named(t protect.Throw) string {
	if t.Group == "" {
		return t.State
	}
	return t.Group + "." + t.State
}
