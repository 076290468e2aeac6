package joint

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/pack"
	"loomsheet/harness/size"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Make works out what each splice of a net is made of, by name: its barrel by the sum of all its conductors, the side by which each wire leaves
// it, and its sleeve. What is wrong with its place is left to Judge. It works on incomplete inputs: what is not known stays zero.
func Make(job *design.Job, nt *net.Net, sizes size.Sizes) []Made {
	geo := nt.Space
	if geo == nil {
		geo = &space.Geometry{}
	}
	return newGround(job, geo, nt, ladenBy(geo, nt)).make(nt, sizes)
}

func (g *ground) make(nt *net.Net, sizes size.Sizes) []Made {
	var out []Made
	for i := range nt.Joints {
		j := &nt.Joints[i]
		m := Made{Splice: j.Splice, Section: j.Section, Status: j.Status, Node: j.Node, Wires: j.Wires}
		s := g.splice(j.Splice)
		if s != nil {
			m.Span = s.Span
		}
		c := &crimp{g: g, nt: nt, sizes: sizes, j: j, m: &m}
		axis := c.sides()
		c.area()
		c.barrel(s)
		at := design.Scope{Section: j.Section}
		if axis >= 0 {
			at = g.scope(axis)
		}
		for _, e := range c.leaves {
			if e >= 0 && g.wet(g.geo.Edges[e].Zone) {
				at, m.Wet = g.scope(e), true
			}
		}
		m.Zone = at.Zone
		c.sleeve(s, at)
		out = append(out, m)
	}
	return out
}

// crimp is one joint while it is worked out.
type crimp struct {
	g      *ground
	nt     *net.Net
	sizes  size.Sizes
	j      *net.Joint
	m      *Made
	leaves []int // edge by which each wire leaves, -1 none
}

func (c *crimp) conductor(wire int) size.Conductor {
	if wire < len(c.sizes) {
		return c.sizes[wire]
	}
	return size.Conductor{}
}

// leave is the edge by which a wire leaves the joint, -1 if it has no way from there.
func (c *crimp) leave(wire int) int {
	w := &c.nt.Wires[wire]
	if len(w.Path) == 0 || w.Loose {
		return -1
	}
	e := w.Path[len(w.Path)-1].Edge
	if t := &w.Ends[0]; t.Kind == net.InSplice && t.Splice == c.j.Splice {
		e = w.Path[0].Edge
	}
	if e < 0 || e >= len(c.g.geo.Edges) {
		return -1
	}
	return e
}

// sides tells by which side each wire leaves, and the edge along which that is told: of the run in which the splice is said to lie, or else of those by
// which its wires leave the one with the most copper. What leaves by another edge counts to the side of that edge to whose direction it turns.
func (c *crimp) sides() (axis int) {
	m, geo := c.m, c.g.geo
	axis = -1
	copper := map[int]unit.Area{}
	for _, w := range m.Wires {
		e := c.leave(w)
		c.leaves = append(c.leaves, e)
		m.Sides = append(m.Sides, Stays)
		if e >= 0 {
			copper[e] += c.conductor(w).Size.Area()
		}
	}
	better := func(e int) bool {
		if axis < 0 {
			return true
		}
		own := func(e int) bool { return geo.Edges[e].Run == c.j.Run }
		if own(e) != own(axis) {
			return own(e)
		}
		return copper[e] > copper[axis] || copper[e] == copper[axis] && e < axis
	}
	for _, e := range c.leaves {
		if e >= 0 && e != axis && better(e) {
			axis = e
		}
	}
	if axis < 0 {
		return axis
	}
	m.Run = geo.Edges[axis].Run
	side := func(e int) Side {
		x, a := &geo.Edges[e], &geo.Edges[axis]
		if x.Run == a.Run && x.Stretch == a.Stretch {
			if x.To == m.Node {
				return Left
			}
			return Right
		}
		mine := Right
		if a.To == m.Node {
			mine = Left
		}
		p, okP := c.heading(e)
		q, okQ := c.heading(axis)
		if turn, ok := solid.Angle(p, q); ok && okP && okQ && turn < 90 {
			return mine
		}
		return Left + Right - mine
	}
	var ways [2][]string
	var count [3]int
	for k, e := range c.leaves {
		if e < 0 {
			continue
		}
		m.Sides[k] = side(e)
		count[m.Sides[k]]++
		x := &geo.Edges[e]
		to := x.Run + " towards " + geo.Text(x.Other(m.Node))
		if list := &ways[m.Sides[k]-Left]; !slices.Contains(*list, to) {
			*list = append(*list, to)
		}
	}
	for k := range ways {
		slices.SortFunc(ways[k], design.Natural)
		m.Towards[k] = strings.Join(ways[k], ", ")
	}
	switch {
	case count[Left]+count[Right] < 2:
	case count[Left] > 0 && count[Right] > 0:
		m.Lie = "from both sides"
	default:
		m.Lie = "all from one side"
	}
	return axis
}

// heading is the direction in which an edge leaves the joint.
func (c *crimp) heading(e int) (solid.Vector, bool) {
	way := c.g.geo.EdgeWay(e)
	if len(way) == 0 {
		return solid.Vector{}, false
	}
	if c.g.geo.Edges[e].From == c.m.Node {
		_, v := way.At(0)
		return v, true
	}
	_, v := way.At(way.Length())
	return v.Scale(-1), true
}

// area sums the conductors, and finds the smallest; 0 where one of them is not known.
func (c *crimp) area() {
	whole := len(c.m.Wires) > 0
	for _, w := range c.m.Wires {
		z := c.conductor(w).Size
		if z.IsZero() {
			whole = false
			continue
		}
		c.m.Area += z.Area()
		if c.m.Smallest.IsZero() || z.Less(c.m.Smallest) {
			c.m.Smallest = z
		}
	}
	if !whole {
		c.m.Area = 0
	}
}

// barrel takes the stated barrel, else the smallest whose range holds the sum of all conductors.
func (c *crimp) barrel(s *design.Splice) {
	m := c.m
	var best *design.Barrel
	if s != nil && s.Barrel != "" {
		best, m.Given = c.g.barrel[s.Barrel], true
		m.Barrel = s.Barrel
	} else if m.Area > 0 && len(m.Wires) > 1 {
		for _, b := range c.g.job.Parts.Barrels {
			if b.Takes(m.Area) && (best == nil || cmp.Or(cmp.Compare(b.Length, best.Length), cmp.Compare(b.Most, best.Most), design.Natural(b.Name, best.Name)) < 0) {
				best = b
			}
		}
	}
	if best == nil {
		return
	}
	m.Barrel, m.Length, m.Outside, m.Strip, m.Tool = best.Name, best.Length, best.Outside, best.Strip, best.Tool
	m.Range, m.Fits = [2]unit.Area{best.Least, best.Most}, m.Area > 0 && best.Takes(m.Area)
	m.Verified = data.BasisOf(best.Source) == data.Verified
}

// sleeve chooses the size of the sleeve: the smallest that passes, expanded, over the barrel and over the wires on either side as loosely as they may
// lie, and recovered closes on the thinner side as tightly as they may lie.
func (c *crimp) sleeve(s *design.Splice, at design.Scope) {
	m, g := c.m, c.g
	m.Sleeve, m.Own = g.sleeveAt(s, at)
	part := g.sleeve[m.Sleeve]
	if part == nil || len(m.Wires) < 2 {
		return
	}
	m.Glued = part.Glued
	if m.Length > 0 {
		round := max(1, g.length("cut-round", at))
		m.SleeveLength = unit.Length(math.Ceil(float64((m.Length+2*g.length("splice-cover", at))/round)-1e-9)) * round
	}
	if m.Wet && !m.Glued {
		m.SleeveWhy = fmt.Sprintf("zone %s is wet, and %s is not lined with glue", m.Zone, m.Sleeve)
	}
	known := m.Outside > 0
	m.Passes = m.Outside
	for _, side := range []Side{Left, Right} {
		var ds []unit.Length
		for k, w := range m.Wires {
			if m.Sides[k] != side && !(m.Sides[k] == Stays && side == Left) {
				continue
			}
			d := c.conductor(w).Outside
			known = known && d > 0
			ds = append(ds, d)
		}
		if len(ds) == 0 || !known {
			continue
		}
		least, most := band(ds)
		m.Passes = max(m.Passes, most)
		if m.Grips == 0 || least < m.Grips {
			m.Grips = least
		}
	}
	if !known || m.Grips <= 0 {
		m.Passes, m.Grips = 0, 0
		return
	}
	for i := range part.Sizes {
		if small, large := part.Band(i); large >= m.Passes-tiny && small <= m.Grips+tiny {
			m.SleeveSize = part.Sizes[i]
			return
		}
	}
	why := fmt.Sprintf("no size of %s both passes over %s and closes on %s", m.Sleeve, m.Passes, m.Grips)
	if len(part.Sizes) == 0 {
		why = fmt.Sprintf("%s states no sizes", m.Sleeve)
	}
	if m.SleeveWhy != "" {
		why = m.SleeveWhy + "; " + why
	}
	m.SleeveWhy = why
}

// band is the least and the most that wires side by side can be: their closest packing, and the trade's 1.2 sqrt(sum d2).
func band(ds []unit.Length) (least, most unit.Length) {
	slices.SortFunc(ds, func(a, b unit.Length) int { return cmp.Compare(b, a) })
	if len(ds) == 1 {
		return ds[0], ds[0]
	}
	sum := 0.0
	for _, d := range ds {
		sum += float64(d * d)
	}
	_, least = pack.Circles(ds)
	return least, max(least, unit.Length(1.2*math.Sqrt(sum)), ds[0]+ds[1])
}

// BarrelWhy says why the joint has no barrel that takes its conductors; empty: it has one, or it is not known what it must take.
func (m *Made) BarrelWhy() string {
	switch {
	case len(m.Wires) < 2 || m.Area <= 0 || m.Fits:
		return ""
	case m.Given && m.Range[1] > 0:
		return fmt.Sprintf("barrel %s takes %s to %s, its conductors have %s together", m.Barrel, m.Range[0], m.Range[1], m.Area)
	case m.Given:
		return fmt.Sprintf("barrel %s is not known", m.Barrel)
	}
	return fmt.Sprintf("no barrel takes conductors of %s together", m.Area)
}
