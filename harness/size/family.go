package size

import (
	"cmp"
	"slices"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// scopes lists where a setting of a wire is looked up: once for each zone and run it passes.
func scopes(nt *net.Net, w *net.Wire) []design.Scope {
	at := design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section, Zone: w.Zone}
	if w.Kind != net.Plain {
		at.Circuit = ""
	}
	var out []design.Scope
	for _, s := range w.Path {
		if nt.Space == nil || s.Edge < 0 || s.Edge >= len(nt.Space.Edges) || w.Loose {
			continue
		}
		e := &nt.Space.Edges[s.Edge]
		at.Run, at.Zone = e.Run, e.Zone
		if len(out) == 0 || out[len(out)-1] != at {
			out = append(out, at)
		}
	}
	if len(out) == 0 {
		out = append(out, at)
	}
	return out
}

// FamilyOf is the wire part a wire is made of: its own, else what `set wire` says for its circuit, class, section or the first zone
// or run on its way for which something is set. The part is nil when the library lacks it.
func FamilyOf(job *design.Job, nt *net.Net, w *net.Wire) (name string, part *design.Wire) {
	return familyIn(job.Settings.Get, func(name string) *design.Wire {
		for _, p := range job.Parts.Wires {
			if p.Name == name {
				return p
			}
		}
		return nil
	}, nt, w)
}

// getter looks a setting up.
type getter func(name string, at design.Scope) design.Ruling

func familyIn(get getter, find func(name string) *design.Wire, nt *net.Net, w *net.Wire) (name string, part *design.Wire) {
	name = w.Family
	if name == "" {
		for i, at := range scopes(nt, w) {
			if r := get("wire", at); i == 0 || r.Set {
				name = r.Value.Name
				if r.Set {
					break
				}
			}
		}
	}
	return name, find(name)
}

// bound reads size-least or size-most on a wire's way: the greatest of the former, the smallest of the latter.
func bound(get getter, nt *net.Net, w *net.Wire, name string) (s unit.Size, by design.Ruling) {
	for _, at := range scopes(nt, w) {
		r := get(name, at)
		x, ok := r.Value.Quantity.Size()
		if !ok {
			continue
		}
		if s.IsZero() || name == "size-least" && s.Less(x) || name == "size-most" && x.Less(s) {
			s, by = x, r
		}
	}
	return s, by
}

// Least is the smallest conductor that a wire may have for mechanical reasons, and the setting that ruled.
func Least(job *design.Job, nt *net.Net, w *net.Wire) (unit.Size, design.Ruling) {
	return leastIn(job.Settings.Get, nt, w)
}

func leastIn(get getter, nt *net.Net, w *net.Wire) (unit.Size, design.Ruling) {
	s, by := bound(get, nt, w, "size-least")
	if s.Less(w.Floor) {
		s = w.Floor
	}
	return s, by
}

// Most is the largest conductor that may be chosen for a wire, and the setting that ruled.
func Most(job *design.Job, nt *net.Net, w *net.Wire) (unit.Size, design.Ruling) {
	return bound(job.Settings.Get, nt, w, "size-most")
}

// Verified tells whether a source stands for a figure that was read in its document.
func Verified(source string) bool { return data.BasisOf(source) == data.Verified }

// of makes the conductor for a size of a family. A size without a resistance gets that of pure copper, which no strand reaches: it
// counts as not verified.
func of(name string, part *design.Wire, s design.WireSize) Conductor {
	c := Conductor{Family: name, Size: s.Size, Resistance: s.Resistance, Outside: s.Outside, Heat: part.Heat, Source: s.Source, Known: true}
	if c.Source == "" {
		c.Source = part.Source
	}
	c.Verified = Verified(c.Source)
	if c.Resistance <= 0 && s.Size.Area() > 0 {
		c.Resistance = unit.LinearResistance(float64(data.Copper.Resistivity) / float64(s.Size.Area()))
		c.Source, c.Verified = "copper 1/58 ohm mm2/m and the nominal area", false
	}
	return c
}

// Auto tells whether the program may choose a wire's size.
func Auto(w *net.Wire, c *Conductor) bool {
	return w.Kind == net.Plain && w.Stated.IsZero() && c.Why != ByCable && c.Known
}

// WholeLadder is the sizes a wire's family has, smallest first.
func WholeLadder(job *design.Job, nt *net.Net, w *net.Wire) []Conductor {
	return ladderOf(FamilyOf(job, nt, w))
}

func ladderOf(name string, part *design.Wire) []Conductor {
	if part == nil {
		return nil
	}
	var out []Conductor
	for _, s := range part.Sizes {
		out = append(out, of(name, part, s))
	}
	slices.SortStableFunc(out, func(a, b Conductor) int { return cmp.Compare(a.Size.Area(), b.Size.Area()) })
	return out
}

// Ladder is the sizes a wire's family has up to its largest allowed one, smallest first.
func Ladder(job *design.Job, nt *net.Net, w *net.Wire) []Conductor {
	most, _ := Most(job, nt, w)
	return upTo(WholeLadder(job, nt, w), most)
}

// upTo leaves out what is larger than a size; zero is no bound.
func upTo(ladder []Conductor, most unit.Size) []Conductor {
	if most.IsZero() {
		return ladder
	}
	return slices.DeleteFunc(ladder, func(c Conductor) bool { return most.Less(c.Size) })
}
