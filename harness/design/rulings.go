package design

import (
	"slices"
	"sync"

	"loomsheet/harness/unit"
)

// Rulings remembers what the settings of a job say, for those who ask the same thousands of times. Several may ask at once; the settings must
// not change meanwhile.
type Rulings struct {
	of *Settings
	mu sync.RWMutex
	by map[string]*said
}

// said is what is known of one setting.
type said struct {
	by    []string // the words of the scopes that its lines name: no other part of a scope can tell
	kept  map[Scope]Ruling
	plain *Ruling // where no line names a scope
}

// NewRulings remembers nothing yet.
func NewRulings(s *Settings) *Rulings { return &Rulings{of: s, by: map[string]*said{}} }

// Get is that of Settings.
func (r *Rulings) Get(name string, at Scope) Ruling {
	r.mu.RLock()
	k := r.by[name]
	if k != nil {
		if x, ok := k.answer(at); ok {
			r.mu.RUnlock()
			return x
		}
	}
	r.mu.RUnlock()
	r.mu.Lock()
	defer r.mu.Unlock()
	if k = r.by[name]; k == nil {
		k = r.first(name)
		r.by[name] = k
	}
	x, ok := k.answer(at)
	if !ok {
		x = r.of.Get(name, at)
		k.kept[at.only(k.by)] = x
	}
	return x
}

func (k *said) answer(at Scope) (Ruling, bool) {
	if k.plain != nil {
		return *k.plain, true
	}
	x, ok := k.kept[at.only(k.by)]
	return x, ok
}

func (r *Rulings) first(name string) *said {
	k := &said{kept: map[Scope]Ruling{}}
	for i := range r.of.Lines {
		if l := &r.of.Lines[i]; l.Name == name {
			for word := range l.Scope {
				if !slices.Contains(k.by, word) {
					k.by = append(k.by, word)
				}
			}
		}
	}
	if len(k.by) == 0 {
		x := r.of.Get(name, Scope{})
		k.plain = &x
	}
	return k
}

// Length is that of a setting that is a length; not set, negative or not finite is 0.
func (r *Rulings) Length(name string, at Scope) unit.Length {
	x := unit.Length(r.Get(name, at).Value.Quantity.Value)
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

// MostLength is the largest value that a length has anywhere in the job.
func (r *Rulings) MostLength(name string) unit.Length {
	most := r.Length(name, Scope{})
	for _, s := range r.of.Lines {
		if x := unit.Length(s.Value.Quantity.Value); s.Name == name && unit.Finite(x) {
			most = max(most, x)
		}
	}
	return most
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
