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
		takes, known := endTakes(job, &w.Ends[k])
		if !known {
			fits[k] = true
			names[k] = w.Ends[k].Contact
			continue
		}
		best := (*design.Contact)(nil)
		for _, p := range takes {
			if accepts(p, c) && (best == nil || smaller(p, best)) {
				best = p
			}
		}
		if best != nil {
			names[k], fits[k] = best.Name, true
		} else {
			names[k] = w.Ends[k].Contact
		}
	}
	return names, fits
}

// endTakes lists the contacts an end may have; known is false where that is not known or no contact is needed.
func endTakes(job *design.Job, t *net.Termination) (out []*design.Contact, known bool) {
	if t.Kind != net.InCavity && t.Kind != net.InHalf {
		return nil, false
	}
	names := []string{t.Contact}
	if t.Contact == "" {
		c := cavityOf(job, t)
		if c == nil || c.Stud != "" || len(c.Takes) == 0 {
			return nil, false
		}
		names = c.Takes
	}
	for _, n := range names {
		p := contact(job, n)
		if p == nil {
			return nil, false
		}
		out = append(out, p)
	}
	return out, true
}

func housingOf(job *design.Job, t *net.Termination) *design.Housing {
	housing := ""
	for _, d := range job.Devices {
		if t.Kind == net.InCavity && d.Name == t.Device && t.Housing >= 0 && t.Housing < len(d.Housings) {
			housing = d.Housings[t.Housing].Part
		}
	}
	for _, b := range job.Breaks {
		if t.Kind == net.InHalf && b.Name == t.Break {
			housing = b.Halves[t.Half&1].Housing
		}
	}
	for _, h := range job.Parts.Housings {
		if h.Name == housing {
			return h
		}
	}
	return nil
}

func cavityOf(job *design.Job, t *net.Termination) *design.HousingCavity {
	if h := housingOf(job, t); h != nil {
		for i := range h.Cavities {
			if h.Cavities[i].Name == t.Cavity {
				return &h.Cavities[i]
			}
		}
	}
	return nil
}

func contact(job *design.Job, name string) *design.Contact {
	for _, p := range job.Parts.Contacts {
		if p.Name == name {
			return p
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
		if !fits[k] && (fixed(&w.Ends[k]) || !someFits(job, &w.Ends[k], c)) {
			return false
		}
	}
	return true
}

// someFits tells whether any cavity of a break's half takes a conductor.
func someFits(job *design.Job, t *net.Termination, c *Conductor) bool {
	h := housingOf(job, t)
	if h == nil {
		return true
	}
	for i := range h.Cavities {
		try := *t
		try.Cavity = h.Cavities[i].Name
		takes, known := endTakes(job, &try)
		if !known || slices.ContainsFunc(takes, func(p *design.Contact) bool { return accepts(p, c) }) {
			return true
		}
	}
	return false
}
