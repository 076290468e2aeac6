package size

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// Contacts chooses the contact at each end of a wire for a conductor: the one stated, else of those the cavity takes the smallest
// whose range of conductors and of insulation takes it. fits is false at an end where none does. Ends without a cavity, and cavities
// of which nothing is known, need none and fit.
func Contacts(job *design.Job, w *net.Wire, c *Conductor) (names [2]string, fits [2]bool) {
	for k := range w.Ends {
		var s seat
		s.takes, s.known = endTakes(scan{job}, &w.Ends[k])
		names[k], fits[k] = s.choose(&w.Ends[k], c)
	}
	return names, fits
}

// choose is the contact of an end for a conductor.
func (s *seat) choose(t *net.Termination, c *Conductor) (name string, fits bool) {
	if !s.known {
		return t.Contact, true
	}
	best := (*design.Contact)(nil)
	for _, p := range s.takes {
		if accepts(p, c) && (best == nil || smaller(p, best)) {
			best = p
		}
	}
	if best == nil {
		return t.Contact, false
	}
	return best.Name, true
}

// endTakes lists the contacts an end may have; known is false where that is not known or no contact is needed.
func endTakes(in names, t *net.Termination) (out []*design.Contact, known bool) {
	if t.Kind != net.InCavity && t.Kind != net.InHalf {
		return nil, false
	}
	names := []string{t.Contact}
	if t.Contact == "" {
		c := cavityOf(in, t)
		if c == nil || c.Stud != "" || len(c.Takes) == 0 {
			return nil, false
		}
		names = c.Takes
	}
	for _, n := range names {
		p := in.contact(n)
		if p == nil {
			return nil, false
		}
		out = append(out, p)
	}
	return out, true
}

func housingOf(in names, t *net.Termination) *design.Housing {
	housing := ""
	switch t.Kind {
	case net.InCavity:
		for _, d := range in.devicesNamed(t.Device) {
			if t.Housing >= 0 && t.Housing < len(d.Housings) {
				housing = d.Housings[t.Housing].Part
			}
		}
	case net.InHalf:
		if b := in.breakNamed(t.Break); b != nil {
			housing = b.Halves[t.Half&1].Housing
		}
	}
	return in.housing(housing)
}

func cavityOf(in names, t *net.Termination) *design.HousingCavity {
	if h := housingOf(in, t); h != nil {
		for i := range h.Cavities {
			if h.Cavities[i].Name == t.Cavity {
				return &h.Cavities[i]
			}
		}
	}
	return nil
}

// accepts tells whether a contact takes a conductor. What is not known does not stand in the way.
func accepts(p *design.Contact, c *Conductor) bool {
	switch {
	case !p.WireLeast.IsZero() && c.Size.Less(p.WireLeast), !p.WireMost.IsZero() && p.WireMost.Less(c.Size):
		return false
	case c.Outside <= 0:
		return true
	}
	return c.Outside >= p.InsulLeast && (p.InsulMost <= 0 || c.Outside <= p.InsulMost)
}

// smaller orders contacts by the largest conductor they take, an unknown one last, then by the least, then by name.
func smaller(a, b *design.Contact) bool {
	switch {
	case a.WireMost.IsZero() != b.WireMost.IsZero():
		return b.WireMost.IsZero()
	case a.WireMost.Area() != b.WireMost.Area():
		return a.WireMost.Less(b.WireMost)
	case a.WireLeast.Area() != b.WireLeast.Area():
		return a.WireLeast.Less(b.WireLeast)
	}
	return design.Natural(a.Name, b.Name) < 0
}

// fixed tells whether an end's cavity is not the program's to change: a device's, or one decided by hand.
func fixed(t *net.Termination) bool {
	return t.Kind != net.InHalf || t.Status != design.Computed
}

// CouldFit tells whether a conductor can be crimped at both ends of a wire: in the cavities that are not the program's to change, and
// in some cavity of a break's half where the program chooses.
func CouldFit(job *design.Job, w *net.Wire, c *Conductor) bool {
	_, fits := Contacts(job, w, c)
	for k := range w.Ends {
		if !fits[k] && (fixed(&w.Ends[k]) || !someFits(scan{job}, &w.Ends[k], c)) {
			return false
		}
	}
	return true
}

// someFits tells whether any cavity of a break's half takes a conductor.
func someFits(in names, t *net.Termination, c *Conductor) bool {
	h := housingOf(in, t)
	if h == nil {
		return true
	}
	for i := range h.Cavities {
		try := *t
		try.Cavity = h.Cavities[i].Name
		takes, known := endTakes(in, &try)
		if !known || slices.ContainsFunc(takes, func(p *design.Contact) bool { return accepts(p, c) }) {
			return true
		}
	}
	return false
}
