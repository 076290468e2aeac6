package fix

import (
	"fmt"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func at3(x, y, z unit.Length) design.Point3 { return design.Point3{X: x, Y: y, Z: z} }

func spotAt(node string, p design.Point3) design.Spot {
	return design.Spot{Node: node, At: p, Known: true}
}

func set(name, value string, scope ...string) design.Setting {
	q, err := unit.Parse(value)
	s := design.Setting{Name: name, Value: design.SettingValue{Quantity: q}, Scope: map[string]string{}}
	if err != nil {
		s.Value = design.SettingValue{Name: value}
	}
	for i := 0; i < len(scope); i += 2 {
		s.Scope[scope[i]] = scope[i+1]
	}
	return s
}

// library is parts with which everything can be chosen.
func library() design.Parts {
	sizes := []unit.Length{3, 5, 8, 10, 12, 16, 20, 30}
	heat := func(t unit.Temperature) design.Fact[unit.Temperature] {
		return design.Fact[unit.Temperature]{Spread: unit.Exactly(t), Given: true}
	}
	p := func(name string) design.Part { return design.Part{Name: name} }
	screws := []unit.Length{10, 12, 14, 16, 20, 25}
	return design.Parts{
		Clips: []*design.Clip{
			{Part: p("p-clip"), As: "p-clip", Holds: sizes, Heat: heat(100), Thick: 2.4},
			{Part: p("p-clip-hot"), As: "p-clip", Holds: sizes, Heat: heat(200), Thick: 2.4},
			{Part: p("tie"), As: "tie", Holds: sizes, Thick: 3},
		},
		Fasteners: []*design.Fastener{
			{Part: p("adhesive-base"), As: "adhesive"},
			{Part: p("bolt-m6"), As: "bolt", Thread: "M6"},
			{Part: p("rivet-nut-m5"), As: "rivet-nut", Thread: "M5", Drill: 7.1, Least: 7, Engage: 6, Screws: screws},
			{Part: p("screw-m5"), As: "screw", Thread: "M5", Drill: 5.5, Engage: 5, Screws: screws},
			{Part: p("tie-mount"), As: "tie"},
			{Part: p("weld-stud-m5"), As: "stud", Thread: "M5", Engage: 4.7, Screws: screws},
			{Part: p("weld-stud-m6"), As: "stud", Thread: "M6", Engage: 5.2, Screws: screws},
		},
	}
}

// rig is runs with wires in them.
type rig struct {
	job   *design.Job
	wires []rigWire
}

type rigWire struct {
	from, to string
	outside  unit.Length
	way      [][2]any // run and stretch
}

// wire lays a wire from a node to another along whole stretches.
func (r *rig) wire(from, to string, outside unit.Length, way ...[2]any) {
	r.wires = append(r.wires, rigWire{from, to, outside, way})
}

func along(run string, stretch int) [2]any { return [2]any{run, stretch} }

func (r *rig) laid() (*net.Net, *bundle.Bundles) {
	geo := space.Lay(r.job)
	nt := &net.Net{Space: geo}
	var sizes size.Sizes
	for i, x := range r.wires {
		w := net.Wire{Name: fmt.Sprint("w", i), Core: -1, Family: "thin"}
		at := geo.Find(x.from)
		for _, s := range x.way {
			es := geo.Stretch(s[0].(string), s[1].(int))
			if len(es) > 0 && geo.Edges[es[len(es)-1]].To == at {
				for k := len(es) - 1; k >= 0; k-- {
					w.Path = append(w.Path, net.Step{Edge: es[k], Reverse: true})
				}
				at = geo.Edges[es[0]].From
				continue
			}
			for _, e := range es {
				w.Path = append(w.Path, net.Step{Edge: e})
				at = geo.Edges[e].To
			}
		}
		for k, n := range []string{x.from, x.to} {
			w.Ends[k] = net.Termination{Kind: net.OnStud, Device: n, Pin: "1", Node: geo.Find(n)}
		}
		nt.Wires = append(nt.Wires, w)
		sizes = append(sizes, size.Conductor{Size: unit.Metric(1), Outside: x.outside, Known: true})
	}
	return nt, bundle.Find(r.job, nt, sizes)
}

func (r *rig) find() *Plan {
	nt, b := r.laid()
	return Find(r.job, nt, b)
}

// line is a straight run along x with one wire of 4 mm in it, on a panel below it.
func line(length unit.Length) *rig {
	job := &design.Job{
		Zones: []*design.Zone{{Name: "bay", Air: 60, HasAir: true}, {Name: "cabin"}},
		Panels: []*design.Panel{{Name: "floor", Thickness: 1.5, Zones: []string{"bay", "cabin"},
			Corners: []design.Point3{at3(-100, -100, 0), at3(length+100, -100, 0), at3(length+100, 100, 0), at3(-100, 100, 0)}}},
		Runs: []*design.Run{{Name: "r", Zone: "bay", Section: "tub", Panel: "floor",
			Stretches: []design.Stretch{{Nodes: []design.Spot{spotAt("a", at3(0, 0, 10)), spotAt("b", at3(length, 0, 10))}}}}},
		Parts:    library(),
		Settings: design.Settings{Lines: []design.Setting{set("clip-thin", "0 mm")}},
	}
	r := &rig{job: job}
	r.wire("a", "b", 4, along("r", 0))
	return r
}

func planOf(p *Plan, run string) *RunPlan {
	for i := range p.Runs {
		if p.Runs[i].Run == run {
			return &p.Runs[i]
		}
	}
	return &RunPlan{}
}

func clipsOf(r *RunPlan) (out []string) {
	for _, c := range r.Clips {
		out = append(out, fmt.Sprintf("%s %g %s", c.Mark, float64(c.After), c.Why))
	}
	return out
}

func missText(t *testing.T, p *Plan) (out []string) {
	t.Helper()
	for _, m := range p.Misses {
		out = append(out, fmt.Sprintf("%s %s %g-%g gap %g limit %g why %q clip %q", m.What, m.Place, float64(m.From), float64(m.To), float64(m.Gap), float64(m.Limit), m.Why, m.Clip))
	}
	return out
}
