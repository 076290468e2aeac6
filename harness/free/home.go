package free

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// bodies tells what is one piece with what: the section each device comes away with.
type bodies struct {
	home  map[string]string // by device; empty: it stays, whatever comes away
	mixed []string          // devices that state no section and are met by runs of several: taken to stay
}

// homes finds the section of each device: the stated one, else that of what it is bolted to, else the only one among the runs that meet it,
// else the only one among the wires that end on it. The metal of the body is met by runs of several sections, and stays.
func homes(job *design.Job, nt *net.Net) *bodies {
	b := &bodies{home: map[string]string{}}
	var list []*design.Device
	for _, d := range job.Devices {
		if _, twice := b.home[d.Name]; !d.Pattern && !twice {
			b.home[d.Name] = d.Section
			list = append(list, d)
		}
	}
	b.bolted(list)
	byWire := map[string][]string{}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for k := range w.Ends {
			if n := w.Ends[k].Device; n != "" && w.Section != "" && !slices.Contains(byWire[n], w.Section) {
				byWire[n] = append(byWire[n], w.Section)
			}
		}
	}
	for _, d := range list {
		if b.home[d.Name] != "" {
			continue
		}
		near := runsAt(nt, d)
		if len(near) == 0 {
			near = byWire[d.Name]
		}
		switch len(near) {
		case 0:
		case 1:
			b.home[d.Name] = near[0]
		default:
			b.mixed = append(b.mixed, d.Name)
		}
	}
	b.bolted(list)
	slices.SortFunc(b.mixed, design.Natural)
	b.mixed = slices.DeleteFunc(b.mixed, func(n string) bool { return b.home[n] != "" })
	return b
}

// bolted gives what shares metal one section, as far as one of them has one.
func (b *bodies) bolted(list []*design.Device) {
	for range list {
		changed := false
		for _, d := range list {
			for _, o := range d.Bolted {
				there, known := b.home[o]
				switch mine := b.home[d.Name]; {
				case !known:
				case mine == "" && there != "":
					b.home[d.Name], changed = there, true
				case mine != "" && there == "":
					b.home[o], changed = mine, true
				}
			}
		}
		if !changed {
			return
		}
	}
}

// runsAt is the sections of the runs that meet a device at any of its places.
func runsAt(nt *net.Net, d *design.Device) (out []string) {
	if nt.Space == nil {
		return nil
	}
	add := func(name string, s design.Spot) {
		if s.Node != "" {
			name = s.Node
		}
		n := nt.Space.Find(name)
		if n < 0 {
			return
		}
		for _, e := range nt.Space.Around(n) {
			if x := nt.Space.Edges[e].Section; x != "" && !slices.Contains(out, x) {
				out = append(out, x)
			}
		}
	}
	add(d.Name, d.Spot)
	for i := range d.Housings {
		if h := &d.Housings[i]; h.Known || h.Node != "" {
			add(d.Name, h.Spot)
		}
	}
	for i := range d.Pins {
		if p := &d.Pins[i]; p.Known || p.Node != "" {
			add(d.Name+"."+p.Name, p.Spot)
		}
	}
	return out
}

// side tells with which side something goes.
type side uint8

const (
	unsure side = iota // it hangs on whatever it is tied to
	goes
	stays
)

// sideOf is the side of a section.
func (p *part) sideOf(section string) side {
	switch {
	case section == "":
		return unsure
	case slices.Contains(p.Sections, section):
		return goes
	}
	return stays
}

// deviceSide is the side of a device; one without a section stays.
func (p *part) deviceSide(device string) side {
	if s := p.sideOf(p.f.bodies.home[device]); s != unsure {
		return s
	}
	return stays
}
