package mate

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// terminals begins the names of housings of single terminals: wires are pinned into them, nothing is plugged.
var terminals = []string{"box", "relay", "fuse"}

// halves lists what can be plugged, breaks before devices, in the job's order.
func (f *finder) halves() {
	for _, b := range f.job.Breaks {
		for h := range b.Halves {
			x := &b.Halves[h]
			if x.Contacts == "" || x.Housing == "" {
				continue // a stud post
			}
			k := Half{Title: breakTitle(b, h), Break: b.Name, Half: h, Part: x.Housing, Contacts: x.Contacts, Free: x.Mount != "fixed", Span: b.Span}
			k.Key, k.KeyGiven = f.key(x.Housing, b.Key)
			k.At, k.Known = f.at(b.Name, b.Spot)
			if k.Free {
				k.Held = f.held(x.Section, f.nt.Space.Find(nodeKey(b.Name, b.Spot)))
			}
			f.out.Halves = append(f.out.Halves, k)
		}
	}
	for _, d := range f.job.Devices {
		if d.Pattern || f.device[d.Name] != d {
			continue
		}
		for h := range d.Housings {
			x := &d.Housings[h]
			section := f.wiredBy(d.Name, h)
			if x.Part == "" || section == "" || slices.ContainsFunc(terminals, func(t string) bool { return strings.HasPrefix(x.Part, t) }) {
				continue
			}
			name := d.Name
			if len(d.Housings) > 1 {
				name += " " + or(x.As, x.Part)
			}
			spot := d.Spot
			if x.Known || x.Node != "" {
				spot = x.Spot
			}
			k := Half{Title: "plug of " + name, Device: d.Name, Housing: h, Part: x.Part, Contacts: "sockets", Free: true, Span: d.Span}
			k.Key, k.KeyGiven = f.key(x.Part, x.Key)
			k.At, k.Known = f.at(d.Name, spot)
			k.Held = f.held(section, f.nt.Space.Find(nodeKey(d.Name, spot)))
			f.out.Halves = append(f.out.Halves, k)
			k.Title, k.Contacts, k.Free, k.Held = "socket of "+name, "pins", false, nil
			f.out.Halves = append(f.out.Halves, k)
		}
	}
	f.out.Halves = design.Exact(f.out.Halves)
	for i := range f.out.Halves {
		f.out.Halves[i].Held = design.Exact(f.out.Halves[i].Held)
	}
}

func breakTitle(b *design.Break, h int) string {
	if b.Halves[0].Section == b.Halves[1].Section {
		return b.Name + ", half with " + b.Halves[h].Contacts
	}
	return b.Name + ", " + b.Halves[h].Section + " half"
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// key is the key of a half. One that nobody states counts as the first that the housing can be had with: so it comes off the shelf.
func (f *finder) key(part, stated string) (string, bool) {
	if h := f.housing[part]; stated == "" && h != nil && len(h.Keys) > 0 {
		return h.Keys[0], false
	}
	return stated, stated != ""
}

func nodeKey(name string, s design.Spot) string { return or(s.Node, name) }

func (f *finder) at(name string, s design.Spot) (design.Point3, bool) {
	if n := f.nt.Space.Find(nodeKey(name, s)); n >= 0 && f.nt.Space.Nodes[n].Known {
		return f.nt.Space.Nodes[n].At, true
	}
	return s.At, s.Known
}

// wiredBy is the section of the first wire in a housing of a device; empty if it has none.
func (f *finder) wiredBy(device string, housing int) string {
	if f.wired == nil {
		f.wired = map[housingKey]string{}
		for i := range f.nt.Wires {
			w := &f.nt.Wires[i]
			for e := range w.Ends {
				t := &w.Ends[e]
				if k := (housingKey{t.Device, t.Housing}); t.Kind == net.InCavity && f.wired[k] == "" {
					f.wired[k] = or(w.Section, "\x00")
				}
			}
		}
	}
	return f.wired[housingKey{device, housing}]
}

// held finds what holds the tail of a half: from its node along the runs of its section to the first clip on each way, else to what the way ends
// at. A breakout holds nothing.
func (f *finder) held(section string, node int) []Held {
	if node < 0 {
		return nil
	}
	if section == "\x00" {
		section = ""
	}
	extra := unit.Length(f.job.Settings.Get("mate-reach", design.Scope{Section: section}).Value.Quantity.Value)
	g := f.nt.Space
	var out []Held
	type todo struct {
		node int
		far  unit.Length
	}
	met := map[int]bool{node: true}
	for list := []todo{{node, 0}}; len(list) > 0; list = list[1:] {
		t := list[0]
		if n := &g.Nodes[t.node]; t.node != node && n.Known && f.anchor(section, n.Key) != "" {
			out = append(out, Held{f.anchor(section, n.Key), n.At, t.far + extra})
			continue
		}
		for _, e := range g.Around(t.node) {
			x := &g.Edges[e]
			other := x.Other(t.node)
			if x.Section != section || x.Unknown {
				continue
			}
			if c, d, ok := f.clipOn(e, x.From != t.node); ok {
				out = append(out, Held{"clip " + c.Mark, c.At, t.far + d + x.Slack + extra})
				continue
			}
			if !met[other] {
				met[other] = true
				list = append(list, todo{other, t.far + x.Length + x.Slack})
			}
		}
	}
	return out
}

// clipOn is the first clip on an edge, coming from its From or its To, and how far along it is.
func (f *finder) clipOn(edge int, fromTo bool) (first *clip, far unit.Length, ok bool) {
	x := &f.nt.Space.Edges[edge]
	for _, c := range f.clips[stretch{x.Run, x.Stretch}] {
		d := c.After - x.Station
		if d < 0 || d > x.Length {
			continue
		}
		if fromTo {
			d = x.Length - d
		}
		if !ok || d < far {
			first, far, ok = c, d, true
		}
	}
	return first, far, ok
}

// reaches tells whether two halves can be brought together; why says so in words.
func (f *finder) reaches(a, b *Half) (gap unit.Length, why func() string, ok bool) {
	if !a.Known || !b.Known || !a.Free && !b.Free {
		return 0, nil, false
	}
	gap = between(a.At, b.At)
	if !a.Free {
		a, b = b, a
	}
	worst := -1.0
	why = func() string { return "nothing holds the tail of " + a.Title }
	for i := range a.Held {
		h := &a.Held[i]
		if !b.Free {
			d := between(h.At, b.At)
			if d > h.Tail {
				return gap, nil, false
			}
			if s := share(d, h.Tail); s > worst {
				worst = s
				why = func() string {
					return fmt.Sprintf("%s is %s from %s, from where the tail is %s long", b.Title, d, h.What, h.Tail)
				}
			}
			continue
		}
		for k := range b.Held {
			o := &b.Held[k]
			d := between(h.At, o.At)
			if d > h.Tail+o.Tail {
				return gap, nil, false
			}
			if s := share(d, h.Tail+o.Tail); s > worst {
				worst = s
				why = func() string {
					return fmt.Sprintf("%s and %s are %s apart, and the tails from there %s and %s long", h.What, o.What, d, h.Tail, o.Tail)
				}
			}
		}
	}
	return gap, why, true
}

// share of a tail that is used.
func share(d, tail unit.Length) float64 {
	if tail <= 0 {
		return 0
	}
	return float64(d) / float64(tail)
}
