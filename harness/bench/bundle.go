package bench

import (
	"math"

	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// bundle is the outside diameter of what lies in an edge, without the sleeve of the run, and the count of conductors in it. A bought cable counts
// once, with its own outside. D = 1.2 sqrt(sum of d squared), a cable maker's rule for unequal wires, but at least the two largest side
// by side; a single wire has its own diameter. Outside is 0 when nothing lies there or the outside of a wire is not known.
func (m *maker) bundle(edge int) (outside unit.Length, wires int) {
	var largest, second, sum float64
	count, missing := 0, false
	seen := map[string]bool{}
	e := &m.geo.Edges[edge]
	for _, i := range m.onEdge[edge] {
		w := &m.net.Wires[i]
		if w.Kind != net.Screen {
			wires++
		}
		d := float64(m.conductor(i).Outside)
		if m.isBought(w) {
			if seen[w.Cable] {
				continue
			}
			seen[w.Cable] = true
			if o := m.wire[m.cable[w.Cable].Wire].Outside; o > 0 {
				d = float64(o)
			}
		} else if w.Kind == net.Screen {
			continue
		}
		if !(d > 0) || !unit.Finite(d) {
			missing = true
			continue
		}
		if w.Sleeve != "" {
			d += 2 * float64(m.length("sleeve-wall", m.wireScope(w, e)))
		}
		count, sum = count+1, sum+float64(d*d)
		second = max(second, min(d, largest))
		largest = max(largest, d)
	}
	if missing || count == 0 {
		return 0, wires
	}
	outside = unit.Length(largest)
	if count > 1 {
		outside = unit.Length(max(1.2*math.Sqrt(sum), largest+second))
	}
	return outside, wires
}

// sleeved is the outside diameter of a bundle with the sleeve of its run.
func (m *maker) sleeved(edge int) unit.Length {
	d, _ := m.bundle(edge)
	e := &m.geo.Edges[edge]
	if r := m.run[e.Run]; d > 0 && r != nil && r.Sleeve != "" {
		d += 2 * m.length("sleeve-wall", m.edgeScope(e))
	}
	return d
}
