package design

import (
	"slices"

	"loomsheet/harness/unit"
)

// Lengths answers for settings that are lengths and are asked for again and again: each is looked up once. What it was asked it keeps, so it
// is for one goroutine, and no other may change the settings meanwhile.
type Lengths struct {
	of   *Settings
	kept map[string]*lengthOf
}

// lengthOf is what is known of one setting.
type lengthOf struct {
	by   []string // the words of the scopes that its lines name: no other part of a scope can tell
	kept map[Scope]unit.Length
	all  *unit.Length // where no line names a scope
}

// NewLengths answers for settings that do not change any more.
func NewLengths(s *Settings) *Lengths { return &Lengths{s, map[string]*lengthOf{}} }

// Get is a length by its scope; not set, negative or not finite is 0.
func (l *Lengths) Get(name string, at Scope) unit.Length {
	k := l.kept[name]
	if k == nil {
		k = &lengthOf{kept: map[Scope]unit.Length{}}
		for i := range l.of.Lines {
			if s := &l.of.Lines[i]; s.Name == name {
				for word := range s.Scope {
					if !slices.Contains(k.by, word) {
						k.by = append(k.by, word)
					}
				}
			}
		}
		l.kept[name] = k
		if len(k.by) == 0 {
			x := l.find(name, Scope{})
			k.all = &x
		}
	}
	if k.all != nil {
		return *k.all
	}
	at = at.only(k.by)
	x, ok := k.kept[at]
	if !ok {
		x = l.find(name, at)
		k.kept[at] = x
	}
	return x
}

func (l *Lengths) find(name string, at Scope) unit.Length {
	x := unit.Length(l.of.Get(name, at).Value.Quantity.Value)
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

// only is a scope of some words alone.
func (s Scope) only(words []string) (out Scope) {
	for _, w := range words {
		switch w {
		case "circuit":
			out.Circuit = s.Circuit
		case "device":
			out.Device = s.Device
		case "break":
			out.Break = s.Break
		case "run":
			out.Run = s.Run
		case "panel":
			out.Panel = s.Panel
		case "class":
			out.Class = s.Class
		case "zone":
			out.Zone = s.Zone
		case "section":
			out.Section = s.Section
		case "case":
			out.Case = s.Case
		}
	}
	return out
}

// Most is the largest value that a length has anywhere in the job.
func (l *Lengths) Most(name string) unit.Length {
	most := l.Get(name, Scope{})
	for _, s := range l.of.Lines {
		if x := unit.Length(s.Value.Quantity.Value); s.Name == name && unit.Finite(x) {
			most = max(most, x)
		}
	}
	return most
}
