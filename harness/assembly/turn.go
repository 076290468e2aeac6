package assembly

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// apart is the angle at the middle of a circle between two things of a width that stand side by side at a radius; never more than 180 degrees.
func apart(width, radius unit.Length) unit.Angle {
	if !(radius > 0) || width >= 2*radius {
		return 180
	}
	return unit.Angle(2 * math.Asin(float64(width/(2*radius))) * 180 / math.Pi)
}

// spread turns the lugs of a stud so that their barrels clear one another, each as little as may be off the way its wire leaves. What the form
// of a lug is stated for, is left; where it is not known how a wire leaves, it is only said whether there is room.
func (m *maker) spread(s *Stack) {
	var flat []int
	for i := range s.Lugs {
		if l := &s.Lugs[i]; !l.Stated || l.Angle == 0 {
			flat = append(flat, i)
		}
	}
	s.Room = true
	angles, seen := m.clocks(s, flat)
	order := make([]int, len(flat))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(angles[a], angles[b]) })
	need := make([]unit.Angle, len(flat))
	sum := unit.Angle(0)
	for i := range order {
		need[i] = clear(&s.Lugs[flat[order[i]]], &s.Lugs[flat[order[(i+1)%len(order)]]])
		sum += need[i]
	}
	if len(flat) == 2 { // the same two on both sides
		sum = 2 * need[0]
	}
	if len(flat) > 1 && sum > 360 {
		s.Room = false
		return
	}
	if !seen {
		return
	}
	now := make([]unit.Angle, len(order))
	for i, k := range order {
		now[i] = angles[k]
	}
	loosen(now, need)
	for i, k := range order {
		l := &s.Lugs[flat[k]]
		l.Turned, l.Clock = true, now[i]
		if !l.Stated {
			l.Angle = unit.Angle(math.Round(float64(now[i] - angles[k])))
		}
	}
	zero := unit.Angle(0)
	if s.Lugs[0].Turned {
		zero = s.Lugs[0].Clock
	}
	for i := range s.Lugs {
		if l := &s.Lugs[i]; l.Turned {
			l.Clock = unit.Angle(math.Round(math.Mod(float64(l.Clock-zero)+720, 360)))
		}
	}
}

// loosen moves angles, in order round a circle, until each is as far from the next as it must be, both of a pair by the same.
func loosen(now, need []unit.Angle) {
	n := len(now)
	if n < 2 {
		return
	}
	for range 500 {
		worst := unit.Angle(0)
		for i := range n {
			k := (i + 1) % n
			gap := now[k] - now[i]
			if k == 0 {
				gap += 360
			}
			if short := need[i] - gap; short > 0 {
				worst = max(worst, short)
				now[i], now[k] = now[i]-short/2, now[k]+short/2
			}
		}
		if worst < 0.01 {
			return
		}
	}
}

// clocks is how the wires of lugs leave their stud, clockwise looking at the nut, from an arbitrary beginning; false where the panel, or a way, is
// not known, or all ways lie in the panel so that it is not known on which of its sides the stud is.
func (m *maker) clocks(s *Stack, lugs []int) ([]unit.Angle, bool) {
	out := make([]unit.Angle, len(lugs))
	normal, ok := m.normal(s)
	if !ok {
		return out, false
	}
	ways := make([]solid.Vector, len(lugs))
	lift := unit.Length(0)
	for i, k := range lugs {
		v, off, known := m.leaving(s, s.Lugs[k].Wire)
		if !known {
			return out, false
		}
		ways[i] = v
		lift += off.Dot(normal)
	}
	if lift > -1 && lift < 1 {
		return out, false
	}
	if lift < 0 {
		normal = normal.Scale(-1)
	}
	right, ok := solid.Vector{Z: 1}.Cross(normal).Unit()
	if !ok {
		right = solid.Vector{X: 1}
	}
	up := normal.Cross(right)
	for i, v := range ways {
		x, y := v.Dot(right), v.Dot(up)
		if math.Hypot(float64(x), float64(y)) < 0.2 {
			return out, false // it leaves straight off the panel
		}
		out[i] = unit.Angle(math.Mod(math.Atan2(float64(x), float64(y))*180/math.Pi+360, 360))
	}
	return out, true
}

// leaving is the direction in which a wire leaves its stud, and from the stud to the next node of its way.
func (m *maker) leaving(s *Stack, wire int) (dir, off solid.Vector, known bool) {
	w := &m.net.Wires[wire]
	for e := range w.Ends {
		t := &w.Ends[e]
		if t.Device != s.Device || t.Pin != s.Pin || t.Break != s.Break || t.Half != s.Half || len(w.Path) == 0 {
			continue
		}
		edge, to := m.leaves(at{wire, e})
		x := &m.geo.Edges[edge]
		station := x.Station
		back := to == x.From
		if back {
			station += x.Length
		}
		v, ok := m.geo.Direction(x.Run, x.Stretch, station)
		from := x.Other(to)
		if !ok || from < 0 || !m.geo.Nodes[from].Known || !m.geo.Nodes[to].Known {
			return dir, off, false
		}
		if back {
			v = v.Scale(-1)
		}
		return v, solid.Minus(m.geo.Nodes[to].At, m.geo.Nodes[from].At), true
	}
	return dir, off, false
}

// normal is the direction off the panel that a stud stands on.
func (m *maker) normal(s *Stack) (solid.Vector, bool) {
	name := ""
	if d := m.device[s.Device]; d != nil {
		name = d.Panel
		for i := range d.Pins {
			if d.Pins[i].Name == s.Pin && d.Pins[i].Panel != "" {
				name = d.Pins[i].Panel
			}
		}
	} else if b := m.brk[s.Break]; b != nil {
		name = b.Panel
	}
	for _, p := range m.job.Panels {
		if p.Name != name || name == "" || len(p.Corners) < 3 {
			continue
		}
		a, b, c := p.Corners[0], p.Corners[1], p.Corners[2]
		if n, ok := solid.Minus(b, a).Cross(solid.Minus(c, a)).Unit(); ok {
			return n, true
		}
	}
	return solid.Vector{}, false
}
