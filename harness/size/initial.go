package size

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Initial gives each wire its stated size, its core of a bought cable, or the smallest of its family that is not below size-least and
// that its contacts take. It is where Grow begins.
func Initial(job *design.Job, nt *net.Net) Sizes { return NewFitter(job, nt).Initial() }

// Initial is that of the net.
func (f *Fitter) Initial() Sizes {
	out := make(Sizes, len(f.nt.Wires))
	for i := range f.nt.Wires {
		out[i] = f.initial(i)
	}
	f.Adjust(out)
	return out
}

func (f *Fitter) initial(i int) Conductor {
	w := &f.nt.Wires[i]
	name, part := f.family[i].name, f.family[i].part
	none := Conductor{Family: name, Size: w.Stated, Fits: [2]bool{true, true}}
	if part == nil {
		return none
	}
	if w.Kind == net.Screen {
		if part.Screen != nil && w.Cable != "" {
			none.Resistance, none.Heat, none.Why, none.Status = part.Screen.Resistance, part.Heat, ByCable, design.Stated
			none.Source = part.Source
			none.Verified = Verified(none.Source)
		}
		return none
	}
	if w.Cable != "" && len(part.Cores) > 0 {
		if w.Core < 0 || w.Core >= len(part.Cores) {
			return none
		}
		c := of(name, part, part.Cores[w.Core].WireSize)
		c.Why, c.Status = ByCable, design.Stated
		return c
	}
	if !w.Stated.IsZero() {
		for _, s := range part.Sizes {
			if s.Size == w.Stated {
				c := of(name, part, s)
				c.Why, c.Status = ByHand, design.Stated
				return c
			}
		}
		none.Heat, none.Why, none.Status = part.Heat, ByHand, design.Stated
		return none
	}
	least, _ := leastIn(f.rules.Get, f.nt, w)
	ladder := f.Ladder(i)
	if len(ladder) == 0 {
		return none
	}
	for _, c := range ladder {
		if least.IsZero() || !c.Size.Less(least) {
			c.Why = ByMechanical
			return c
		}
	}
	c := ladder[len(ladder)-1]
	c.Why = ByMechanical
	return c
}

// Settle makes sizes agree with what is not electrical, growing only: the parallel wires of one link alike, and each wire no smaller
// than the contacts of its cavities take. It also chooses the contacts.
func Settle(job *design.Job, nt *net.Net, given Sizes) Sizes { return NewFitter(job, nt).Settle(given) }

// Settle is that of the net.
func (f *Fitter) Settle(given Sizes) Sizes {
	sizes := slices.Clone(given)
	f.Adjust(sizes)
	return sizes
}

// Adjust is Settle in place.
func (f *Fitter) Adjust(sizes Sizes) {
	largest := make([]int, len(sizes)) // of a link's parallel wires, kept with the first of them; 0 is none, else one more
	for range 2 {                      // contacts may grow one strand of several
		for i := range sizes {
			if w := &f.nt.Wires[i]; Auto(w, &sizes[i]) && w.Link >= 0 {
				if at := &largest[f.strands[i][0]]; *at == 0 || sizes[*at-1].Size.Less(sizes[i].Size) {
					*at = i + 1
				}
			}
		}
		for i := range sizes {
			if w := &f.nt.Wires[i]; Auto(w, &sizes[i]) && w.Link >= 0 {
				if j := largest[f.strands[i][0]] - 1; j >= 0 && sizes[i].Size.Less(sizes[j].Size) {
					sizes[i] = sizes[j]
					if sizes[i].Why != ByContact {
						sizes[i].Why = ByParallel
					}
				}
			}
			f.suit(i, &sizes[i])
		}
	}
}

// suit chooses the contacts of a wire, and grows an automatic one to the least size that all its ends take, if there is one.
func (f *Fitter) suit(i int, c *Conductor) {
	w := &f.nt.Wires[i]
	if !c.Known {
		c.Contacts, c.Fits = [2]string{w.Ends[0].Contact, w.Ends[1].Contact}, [2]bool{true, true}
		return
	}
	c.Contacts, c.Fits = f.Contacts(i, c)
	if !Auto(w, c) || c.Fits == [2]bool{true, true} {
		return
	}
	for _, up := range f.Ladder(i) {
		if !c.Size.Less(up.Size) {
			continue
		}
		up.Why, up.Status = ByContact, c.Status
		if up.Contacts, up.Fits = f.Contacts(i, &up); up.Fits == [2]bool{true, true} {
			*c = up
			return
		}
	}
}

// Needs is the size each wire has and the current it carries, by name, for building the net again so that cavities chosen by the program
// suit; changed tells whether one of them would have to be another one for that. Sizes that are not known are left out.
func Needs(job *design.Job, nt *net.Net, sizes Sizes, amps []unit.Current) (hints net.Hints, changed bool) {
	hints = net.Hints{}
	contacts := map[string]*design.Contact{}
	for _, k := range job.Parts.Contacts {
		if contacts[k.Name] == nil {
			contacts[k.Name] = k
		}
	}
	for i := range nt.Wires {
		w, c := &nt.Wires[i], &sizes[i]
		if !c.Known || w.Kind == net.Screen {
			continue
		}
		hints[w.Name] = net.Need{Size: c.Size, Amps: amps[i]}
		for k := range w.Ends {
			changed = changed || !fixed(&w.Ends[k]) && (!c.Fits[k] || overRated(contacts[c.Contacts[k]], amps[i]))
		}
	}
	return hints, changed
}

func overRated(k *design.Contact, amps unit.Current) bool {
	return k != nil && k.Rating.Given && amps > k.Rating.Nominal
}

// Raise lifts automatic sizes to those that a net of the same job had before, by the names of the wires.
func Raise(job *design.Job, nt *net.Net, sizes Sizes, before map[string]Conductor) Sizes {
	out := append(Sizes(nil), sizes...)
	for i := range nt.Wires {
		w := &nt.Wires[i]
		b, ok := before[w.Name]
		if !ok || !Auto(w, &out[i]) || b.Family != out[i].Family || b.Why == ByContact {
			continue
		}
		if out[i].Size.Less(b.Size) {
			out[i] = b
		}
	}
	return Settle(job, nt, out)
}
