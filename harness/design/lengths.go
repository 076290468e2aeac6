package design

import "loomsheet/harness/unit"

// Lengths answers what settings of a length are, and keeps each answer: the same few are asked for at every place of a job.
type Lengths struct {
	of   *Settings
	kept map[lengthKey]unit.Length
}

// lengthKey is a setting and what it is wanted for.
type lengthKey struct {
	name string
	at   Scope
}

// NewLengths answers for settings that do not change any more.
func NewLengths(s *Settings) *Lengths { return &Lengths{s, map[lengthKey]unit.Length{}} }

// Get is a length by its scope; not set, negative or not finite is 0.
func (l *Lengths) Get(name string, at Scope) unit.Length {
	k := lengthKey{name, at}
	x, ok := l.kept[k]
	if !ok {
		x = unit.Length(l.of.Get(name, at).Value.Quantity.Value)
		if !unit.Finite(x) || x < 0 {
			x = 0
		}
		l.kept[k] = x
	}
	return x
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
