package live

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// seat is a cavity with its nodes in the net with every throw in place, and again as names for nets in one position.
type seat struct {
	Cavity
	wires []wireEnd
	pin   string // of a device's own side, as device.pin; empty: it has only wires
}

type wireEnd struct{ wire, k int }

// sides lists what hangs on either side of what is undone, in the order of the housing's cavities.
func sides(job *design.Job, w *whole, u design.Undo) (un Unplugged, seats [2][]seat) {
	un = Unplugged{Undo: u, Span: u.Span}
	if u.Kind == "break" {
		for _, b := range job.Breaks {
			if b.Name == u.Name {
				return ofBreak(job, w, b, un)
			}
		}
		return un, seats
	}
	for _, d := range job.Devices {
		if d.Name == u.Name && !d.Pattern {
			return ofDevice(w.nt, d, u.Pin, un)
		}
	}
	return un, seats
}

func ofBreak(job *design.Job, whole *whole, b *design.Break, un Unplugged) (Unplugged, [2][]seat) {
	var seats [2][]seat
	nt := whole.nt
	un.Title, un.Place, un.Span = "break "+b.Name, b.Panel, b.Span
	for _, x := range whole.halfs[b.Name] {
		t := end(nt, x.wire, x.k)
		side := t.Half & 1
		un.Post = un.Post || t.Kind == net.OnPost
		j := slices.IndexFunc(seats[side], func(s seat) bool { return s.Name == t.Cavity && t.Cavity != "" })
		if j < 0 {
			j = len(seats[side])
			seats[side] = append(seats[side], seat{Cavity: Cavity{Name: t.Cavity}})
		}
		seats[side][j].add(nt, x.wire, x.k)
	}
	for side := range seats {
		h := &b.Halves[side]
		half := &un.Halves[side]
		*half = Half{Section: h.Section, Contacts: h.Contacts, Span: h.Span}
		word, note := "contact", ""
		switch {
		case un.Post:
			half.Contacts, word, note, half.Exposed = "stud", "stud", "stud", true
		case h.Contacts == "pins":
			word, note, half.Exposed = "pin", "pins", true
		case h.Contacts == "sockets":
			word, note = "socket", "sockets"
		}
		half.Title = b.Name + ", half " + h.Section
		if note != "" {
			half.Title += " (" + note + ")"
		}
		if half.Span.IsZero() {
			half.Span = b.Span
		}
		order := cavityOrder(job, h.Housing)
		slices.SortStableFunc(seats[side], func(a, b seat) int {
			i, j := slices.Index(order, a.Name), slices.Index(order, b.Name)
			switch {
			case i >= 0 && j >= 0:
				return i - j
			case i >= 0:
				return -1
			case j >= 0:
				return 1
			}
			return design.Natural(a.Name, b.Name)
		})
		for k := range seats[side] {
			seats[side][k].Contact, seats[side][k].Exposed = word, half.Exposed
		}
	}
	return un, seats
}

func cavityOrder(job *design.Job, housing string) (out []string) {
	for _, h := range job.Parts.Housings {
		if h.Name == housing {
			for _, c := range h.Cavities {
				out = append(out, c.Name)
			}
			return out
		}
	}
	return nil
}

// ofDevice is the loom's side and the device's own side, of all its pins or of one stud.
func ofDevice(nt *net.Net, d *design.Device, only string, un Unplugged) (Unplugged, [2][]seat) {
	var seats [2][]seat
	un.Title, un.Place, un.Span = "device "+d.Name, d.Panel, d.Span
	if only != "" {
		un.Title = "stud " + d.Name + "." + only
	}
	un.Halves[0] = Half{Title: d.Name + ", the loom's side", Span: d.Span}
	un.Halves[1] = Half{Title: d.Name + ", the device's own side", Section: d.Section, Span: d.Span}
	for p := range d.Pins {
		pin := &d.Pins[p]
		if pin.Inner || only != "" && pin.Name != only {
			continue
		}
		var s seat
		s.Name, s.Contact = pin.Name, "contact"
		for i := range nt.Wires {
			for k := range nt.Wires[i].Ends {
				if t := end(nt, i, k); (t.Kind == net.InCavity || t.Kind == net.OnStud) && t.Device == d.Name && t.Pin == pin.Name {
					s.add(nt, i, k)
				}
			}
		}
		if len(s.wires) == 0 {
			continue
		}
		if pin.Stud != "" {
			s.Contact, s.Exposed = "lug", true
		}
		seats[0] = append(seats[0], s)
		own := s
		own.wires, own.pin = nil, d.Name+"."+pin.Name
		if pin.Stud != "" {
			own.Contact = "stud"
		}
		seats[1] = append(seats[1], own)
	}
	return un, seats
}

func (s *seat) add(nt *net.Net, wire, k int) {
	w := &nt.Wires[wire]
	if len(s.Wires) == 0 {
		s.Wire, s.Label, s.Circuit = w.Name, w.Label, w.Circuit
	}
	if !slices.Contains(s.Wires, wire) {
		s.Wires = append(s.Wires, wire)
	}
	s.wires = append(s.wires, wireEnd{wire, k})
}
