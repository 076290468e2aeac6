package fix

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Nonsense in any figure ends, without a panic and without a number that is none.
func TestOddInputs(t *testing.T) {
	odd := rapid.SampledFrom([]float64{0, 1, -1, 3.7, 250, 4000, 1e6, 1e12, -1e9, 1e-9, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64})
	rapid.Check(t, func(t *rapid.T) {
		x := func(name string) unit.Length { return unit.Length(odd.Draw(t, name)) }
		p := func(name string) design.Point3 { return at3(x(name+" x"), x(name+" y"), x(name+" z")) }
		r := line(400)
		job := r.job
		job.Settings.Lines = nil
		for _, name := range []string{"clip-span", "clip-end", "clip-clear", "clip-short", "clip-splice", "clip-reach", "clip-beside", "clip-thin", "clip-span-thin", "hole-apart", "hole-edge", "cut-out-gap", "clip-bend", "clip-parallel", "panel-flat", "earth-pad"} {
			if rapid.IntRange(0, 3).Draw(t, "set "+name) == 0 {
				job.Settings.Lines = append(job.Settings.Lines, design.Setting{Name: name, Value: design.SettingValue{Quantity: unit.Quantity{Value: odd.Draw(t, name)}}})
			}
		}
		nodes := []design.Spot{spotAt("a", at3(0, 0, 10))}
		for i := range rapid.IntRange(0, 3).Draw(t, "waypoints") {
			nodes = append(nodes, spotAt(fmt.Sprint("w", i), p("waypoint")))
		}
		job.Runs[0].Stretches[0].Nodes = append(nodes, spotAt("b", at3(400, 0, 10)))
		job.Runs[0].Stretches[0].Moves = x("moves")
		job.Panels[0].Thickness = x("thickness")
		if rapid.Bool().Draw(t, "odd corner") {
			job.Panels[0].Corners[1] = p("corner")
		}
		job.Panels[0].KeepOuts = [][]design.Point3{{p("keep-out"), p("keep-out"), p("keep-out")}, {}}
		job.Runs = append(job.Runs, &design.Run{Name: "s", Panel: "floor", Section: "tub", Stretches: []design.Stretch{{Nodes: []design.Spot{spotAt("b", at3(400, 0, 10)), spotAt("c", p("c"))}}}})
		r.wire("b", "c", x("outside"), along("s", 0))
		job.Holes = []*design.Hole{{Name: "h", Spot: spotAt("h", p("hole")), Panel: "floor", Drill: x("drill")}, {Name: "h", Spot: spotAt("h", p("hole")), Drill: x("drill")}}
		job.Fixings = []*design.Fixing{{Name: "f", Run: "r", After: x("after"), Hole: "h"}, {Name: "g", Run: "s", After: x("after")}, {Name: "k", Run: "nowhere", After: 1}}
		job.Parts.Clips[0].Thick = x("thick")
		job.Parts.Fasteners[2].Drill, job.Parts.Fasteners[2].Engage = x("drill"), x("engage")
		plan := r.find()
		for _, run := range plan.Runs {
			for _, c := range run.Clips {
				if !unit.Finite(c.Screw) || !unit.Finite(c.Wrap()) || !unit.Finite(c.ClipSize) || c.Known && !finite(c.At) || c.HoleKnown && !finite(c.HoleAt) || c.Why != "fixed" && !unit.Finite(c.After) {
					t.Fatalf("%+v", c)
				}
			}
		}
		for _, m := range plan.Misses {
			if !unit.Finite(m.From) || !unit.Finite(m.To) || !unit.Finite(m.Gap) || !unit.Finite(m.Limit) {
				t.Fatalf("%+v", m)
			}
		}
	})
}
