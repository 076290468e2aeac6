package rule

import (
	"math"
	"sync"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// index is what rules look up again and again, made when it is first asked for.
type index struct {
	devices map[string]*design.Device // of two of a name the first
	files   map[diag.File]bool        // in which the job declares devices of its own
	splices map[string]*design.Splice // of two of a name the first
	amps    func() map[elementKey]greatest
}

type elementKey struct {
	device string
	kind   solve.ElementKind
	index  int
}

type greatest struct {
	amps unit.Current
	in   string // case
}

func (m *Model) indexed() *index {
	if m.index != nil {
		return m.index
	}
	x := &index{devices: map[string]*design.Device{}, files: map[diag.File]bool{}, splices: map[string]*design.Splice{}}
	for _, d := range m.Job.Devices {
		if x.devices[d.Name] == nil {
			x.devices[d.Name] = d
		}
		if !d.Pattern {
			x.files[d.Span.File] = true
		}
	}
	for _, s := range m.Job.Splices {
		if x.splices[s.Name] == nil {
			x.splices[s.Name] = s
		}
	}
	x.amps = sync.OnceValue(m.elementAmps)
	m.index = x
	return x
}

// elementAmps is the greatest steady current through the fuses, switch contacts and the like of all devices over all cases.
func (m *Model) elementAmps() map[elementKey]greatest {
	out := map[elementKey]greatest{}
	for _, c := range m.points() {
		if c.Net == nil {
			continue
		}
		for e := range min(len(c.Net.Elements), len(c.Point.Amps)) {
			el := &c.Net.Elements[e]
			k := elementKey{el.Device, el.Kind, el.Index}
			if a := unit.Current(math.Abs(float64(c.Point.Amps[e]))); el.Device != "" && a > out[k].amps {
				out[k] = greatest{a, c.Case}
			}
		}
	}
	return out
}
