package size

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Initial gives each wire its stated size, its core of a bought cable, or the smallest of its family that is not below size-least and
// that its contacts take. It is where Grow begins.
func Initial(job *design.Job, nt *net.Net) Sizes {
	out := make(Sizes, len(nt.Wires))
	for i := range nt.Wires {
		out[i] = initial(job, nt, &nt.Wires[i])
	}
	return Settle(job, nt, out)
}

func initial(job *design.Job, nt *net.Net, w *net.Wire) Conductor {
	name, part := FamilyOf(job, nt, w)
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
	least, _ := Least(job, nt, w)
	ladder := Ladder(job, nt, w)
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
func Settle(job *design.Job, nt *net.Net, given Sizes) Sizes {
	sizes := append(Sizes(nil), given...)
	type strands struct {
		circuit     string
		link, piece int
	}
	largest := map[strands]int{}
	key := func(w *net.Wire) strands { return strands{w.Circuit, w.Link, w.Piece} }
	for range 2 { // contacts may grow one strand of several
		for i := range sizes {
			if w := &nt.Wires[i]; Auto(w, &sizes[i]) && w.Link >= 0 {
				if j, ok := largest[key(w)]; !ok || sizes[j].Size.Less(sizes[i].Size) {
					largest[key(w)] = i
				}
			}
		}
		for i := range sizes {
			w := &nt.Wires[i]
			if j, ok := largest[key(w)]; Auto(w, &sizes[i]) && w.Link >= 0 && ok && sizes[i].Size.Less(sizes[j].Size) {
				sizes[i] = sizes[j]
				if sizes[i].Why != ByContact {
					sizes[i].Why = ByParallel
				}
			}
			suit(job, nt, i, sizes)
		}
	}
	return sizes
}

// suit chooses the contacts of a wire, and grows an automatic one to the least size that all its ends take, if there is one.
func suit(job *design.Job, nt *net.Net, i int, sizes Sizes) {
	w, c := &nt.Wires[i], &sizes[i]
	if !c.Known {
		c.Contacts, c.Fits = [2]string{w.Ends[0].Contact, w.Ends[1].Contact}, [2]bool{true, true}
		return
	}
	c.Contacts, c.Fits = Contacts(job, w, c)
	if !Auto(w, c) || c.Fits == [2]bool{true, true} {
		return
	}
	for _, up := range Ladder(job, nt, w) {
		if !c.Size.Less(up.Size) {
			continue
		}
		up.Why, up.Status = ByContact, c.Status
		if up.Contacts, up.Fits = Contacts(job, w, &up); up.Fits == [2]bool{true, true} {
			*c = up
			return
		}
	}
}

// Needs is the size each wire has and the current it carries, by name, for building the net again so that cavities chosen by the program
// suit; changed tells whether one of them would have to be another one for that. Sizes that are not known are left out.
func Needs(job *design.Job, nt *net.Net, sizes Sizes, amps []unit.Current) (hints net.Hints, changed bool) {
	hints = net.Hints{}
	for i := range nt.Wires {
		w, c := &nt.Wires[i], &sizes[i]
		if !c.Known || w.Kind == net.Screen {
			continue
		}
		hints[w.Name] = net.Need{Size: c.Size, Amps: amps[i]}
		for k := range w.Ends {
			changed = changed || !fixed(&w.Ends[k]) && (!c.Fits[k] || overRated(job, c.Contacts[k], amps[i]))
		}
	}
	return hints, changed
}

func overRated(job *design.Job, contact string, amps unit.Current) bool {
	for _, k := range job.Parts.Contacts {
		if k.Name == contact {
			return k.Rating.Given && amps > k.Rating.Nominal
		}
	}
	return false
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
