package space

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Whatever the numbers of a job, what comes out is finite, or said to be unknown.
func TestWildNumbers(t *testing.T) {
	wild := rapid.OneOf(rapid.Float64Range(-500, 500), rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1e308, -1e308, 5e-324, 1e12, 1e9}))
	length := func(t *rapid.T, what string) unit.Length { return unit.Length(wild.Draw(t, what)) }
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		for _, r := range job.Runs {
			if rapid.Bool().Draw(t, "bend") {
				bent(r, length(t, "radius"))
			}
			for i := range r.Stretches {
				s := &r.Stretches[i]
				for k := range s.Nodes {
					if rapid.IntRange(0, 3).Draw(t, "odd") == 0 {
						s.Nodes[k].At = design.Point3{X: length(t, "x"), Y: length(t, "y"), Z: length(t, "z")}
					}
				}
				if rapid.IntRange(0, 3).Draw(t, "by string") == 0 {
					*s = byString(*s, length(t, "length"), length(t, "slack"))
				}
			}
		}
		for _, s := range job.Splices {
			s.After = length(t, "after")
		}
		g := Lay(job)
		sane := func(xs ...unit.Length) {
			for _, x := range xs {
				if !unit.Finite(x) {
					t.Fatalf("%v in %+v", xs, g)
				}
			}
		}
		for i := range g.Edges {
			e := &g.Edges[i]
			sane(e.Length, e.Station, e.Slack)
			if e.Length < 0 || e.Slack < 0 {
				t.Fatalf("less than nothing: %+v", e)
			}
			s := length(t, "station")
			p, _ := g.Position(e.Run, e.Stretch, s)
			v, _ := g.Direction(e.Run, e.Stretch, s)
			sane(p.X, p.Y, p.Z, v.X, v.Y, v.Z, unit.Length(g.WayScale(e.Run, e.Stretch)))
			if d, ok := g.Off(i, design.Point3{X: s}); ok {
				sane(d)
			}
		}
		for _, n := range g.Nodes {
			sane(n.At.X, n.At.Y, n.At.Z)
		}
		for _, b := range g.Bends {
			sane(b.Station, unit.Length(b.Turn), b.Radius, b.Asked, b.Room)
		}
		for _, x := range g.StringGaps {
			sane(x.Measured, x.Straight, x.Least)
		}
	})
}
