package rule

import (
	"fmt"
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var panelCrossed = &Rule{
	Key: "panel-crossed", Title: "a run crosses a panel without a break or a bush", Severity: diag.Finding,
	Why:     "Where a bundle passes a sheet of the body there must be a hole, and its edge saws through the insulation unless a connector or a bush is in it.",
	Formula: "the straight piece between two nodes of a run meets the panel inside its corners, away from a break or a bush of that panel",
	Source:  "AC 43.13-1B 11-115: a grommet where the clearance is under 3/8 in; common practice",
	Do:      "Lead the run to the break or to a point with a `bush`, and go on from there.",
	Fires:   with(breakJob, "device battery at (0, 0, 0 mm) {", "device aft at (300, 100, 0 mm) housing sealed-1 { unused 1 }\ndevice fore at (500, 100, 0 mm) housing sealed-1 { unused 1 }\nrun through from aft to fore section body zone cabin\ndevice battery at (0, 0, 0 mm) {"),
	Silent: with(breakJob, "device battery at (0, 0, 0 mm) {", `point grommet at (400, 100, 0 mm) panel wall bush 12 mm
device aft at (300, 100, 0 mm) housing sealed-1 { unused 1 }
device fore at (500, 100, 0 mm) housing sealed-1 { unused 1 }
run through from aft to grommet to fore section body zone cabin
device battery at (0, 0, 0 mm) {`),
	Check: func(m *Model, out *diag.List) {
		g := m.Net.Space
		if g == nil {
			return
		}
		open := ways(m.Job)
		for i := range g.Edges {
			e := &g.Edges[i]
			if min(e.From, e.To) < 0 || max(e.From, e.To) >= len(g.Nodes) {
				continue
			}
			a, b := &g.Nodes[e.From], &g.Nodes[e.To]
			if !a.Known || !b.Known {
				continue
			}
			for _, p := range m.Job.Panels {
				at, ok := crossing(p.Corners, a.At, b.At)
				if !ok || open[[2]string{p.Name, a.Key}] || open[[2]string{p.Name, b.Key}] {
					continue
				}
				out.Finding(e.Span, "", fmt.Sprintf("run %s crosses panel %s between %s and %s", e.Run, p.Name, nodeName(a.Key), nodeName(b.Key)),
					fmt.Sprintf("It passes the sheet at (%.0f, %.0f, %.0f mm), where neither a break nor a bush is.", float64(at.X), float64(at.Y), float64(at.Z)), diag.Subject{Kind: "run", Name: e.Run}).
					Point(p.Span, "the panel")
			}
		}
	},
}

func nodeName(key string) string {
	for _, r := range key {
		if r == '#' || r == '(' {
			return "a waypoint"
		}
	}
	return key
}

// ways are the panels and the nodes of breaks and bushes that sit in them.
func ways(job *design.Job) map[[2]string]bool {
	out := map[[2]string]bool{}
	for _, b := range job.Breaks {
		out[[2]string{b.Panel, b.Node}] = true
	}
	for _, p := range job.Points {
		if p.Bush > 0 {
			out[[2]string{p.Panel, p.Node}] = true
		}
	}
	return out
}

// crossing is where the straight line from a to b passes through the flat polygon of corners; ends that merely touch the plane, within a
// millimetre, do not cross.
func crossing(corners []design.Point3, a, b design.Point3) (at design.Point3, ok bool) {
	if len(corners) < 3 {
		return at, false
	}
	n := normal(corners)
	size := math.Sqrt(dot(n, n))
	if size == 0 {
		return at, false
	}
	da, db := dot(n, minus(a, corners[0]))/size, dot(n, minus(b, corners[0]))/size
	if math.Abs(da) <= 1 || math.Abs(db) <= 1 || (da > 0) == (db > 0) {
		return at, false
	}
	t := da / (da - db)
	d := minus(b, a)
	x := [3]float64{float64(a.X) + t*d[0], float64(a.Y) + t*d[1], float64(a.Z) + t*d[2]}
	// Drop the axis along which the panel is thinnest and count the edges to one side.
	drop := 0
	for k := range n {
		if math.Abs(n[k]) > math.Abs(n[drop]) {
			drop = k
		}
	}
	u, v := (drop+1)%3, (drop+2)%3
	in := false
	for i := range corners {
		p, q := vec(corners[i]), vec(corners[(i+1)%len(corners)])
		if (p[v] > x[v]) != (q[v] > x[v]) && x[u] < (q[u]-p[u])*(x[v]-p[v])/(q[v]-p[v])+p[u] {
			in = !in
		}
	}
	return design.Point3{X: unit.Length(x[0]), Y: unit.Length(x[1]), Z: unit.Length(x[2])}, in
}

func vec(p design.Point3) [3]float64 { return [3]float64{float64(p.X), float64(p.Y), float64(p.Z)} }

func minus(p, q design.Point3) [3]float64 {
	a, b := vec(p), vec(q)
	return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// normal of a polygon by Newell's sum, which does not mind corners in one line.
func normal(ps []design.Point3) (n [3]float64) {
	for i := range ps {
		p, q := vec(ps[i]), vec(ps[(i+1)%len(ps)])
		n[0] += (p[1] - q[1]) * (p[2] + q[2])
		n[1] += (p[2] - q[2]) * (p[0] + q[0])
		n[2] += (p[0] - q[0]) * (p[1] + q[1])
	}
	return n
}
