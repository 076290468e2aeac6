package bench

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/bundle"
	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// drawn is a wire along a chain of runs, one stretch each, with a second wire that leaves it at a place on the way.
type drawn struct {
	job     *design.Job
	net     *net.Net
	sizes   size.Sizes
	bundles *bundle.Bundles

	long, slack, more []float64 // of each stretch; more is by how much it may be longer
	most              []float64 // of its bundle
	leaves            int       // the second wire's last stretch
	up, helix         float64
	ends              float64
	waste             float64
	a620              bool
}

func draw(t *rapid.T) *drawn {
	f := func(least, most float64, what string) float64 { return rapid.Float64Range(least, most).Draw(t, what) }
	d := &drawn{job: &design.Job{}, net: &net.Net{}, bundles: &bundle.Bundles{}}
	n := rapid.IntRange(1, 5).Draw(t, "stretches")
	geo := &space.Geometry{Nodes: []space.Node{{Key: "n0"}}}
	way := unit.Quantity{Value: f(0, 0.1, "way-spread"), Dim: unit.DimRatio}
	str := unit.Quantity{Value: f(0, 60, "string-spread"), Dim: unit.DimLength}
	tail, loop := f(0, 80, "tail"), f(0, 40, "loop")
	d.up, d.waste, d.a620 = f(0, 0.08, "take-up"), f(0, 20, "waste"), rapid.Bool().Draw(t, "a-620")
	set := func(name string, q unit.Quantity) {
		d.job.Settings.Lines = append(d.job.Settings.Lines, design.Setting{Name: name, Value: design.SettingValue{Quantity: q}})
	}
	mm := func(x float64) unit.Quantity { return unit.Quantity{Value: x, Dim: unit.DimLength} }
	set("way-spread", way)
	set("string-spread", str)
	set("tail", mm(tail))
	set("service-loop", mm(loop))
	set("crimp-waste", mm(d.waste))
	set("take-up", unit.Quantity{Value: d.up, Dim: unit.DimRatio})
	set("cut-round", mm(f(0, 30, "round")))
	if !d.a620 {
		d.job.Settings.Lines = append(d.job.Settings.Lines, design.Setting{Name: "branch-spread", Value: design.SettingValue{Name: "none"}})
	}
	d.ends = 2*tail + 2*loop
	w := net.Wire{Name: "w", Circuit: "w", Cable: "c"}
	for i := range n {
		name := string(rune('a' + i))
		e := space.Edge{Run: name, From: i, To: i + 1, Length: unit.Length(f(0, 4000, "length")), Slack: unit.Length(f(0, 50, "slack")), Status: design.Computed}
		if rapid.Bool().Draw(t, "by string") {
			e.Status = design.Measured
		}
		geo.Edges, geo.Nodes = append(geo.Edges, e), append(geo.Nodes, space.Node{Key: "n" + name})
		d.job.Runs = append(d.job.Runs, &design.Run{Name: name, Stretches: []design.Stretch{{}}})
		w.Path = append(w.Path, net.Step{Edge: i})
		d.long, d.slack = append(d.long, float64(e.Length)), append(d.slack, float64(e.Slack))
		if e.Status == design.Measured {
			d.more = append(d.more, str.Value)
		} else {
			d.more = append(d.more, way.Value*(d.long[i]+d.slack[i]))
		}
		d.most = append(d.most, f(0, 40, "bundle"))
		d.bundles.Edges = append(d.bundles.Edges, bundle.MakeUp{Most: unit.Length(d.most[i])})
	}
	d.leaves = rapid.IntRange(0, n-1).Draw(t, "leaves")
	other := net.Wire{Name: "x", Circuit: "x", Core: -1, Path: w.Path[:d.leaves+1]}
	for _, x := range []*net.Wire{&w, &other} {
		x.Ends = [2]net.Termination{{Kind: net.InCavity, Housing: -1, Node: 0}, {Kind: net.InCavity, Housing: -1, Node: len(x.Path)}}
		d.net.Wires = append(d.net.Wires, *x)
	}
	d.net.Space = geo
	od, lay := f(0.5, 4, "outside"), f(10, 80, "lay")
	d.sizes = size.Sizes{{Size: unit.Metric(0.5), Outside: unit.Length(od)}, {Size: unit.Metric(0.5), Outside: unit.Length(od)}}
	d.job.Cables = []*design.Cable{{Name: "c", Holds: []string{"w", "v"}, Twist: unit.Length(lay)}}
	// Two round wires on a twist: their middles run at half their diameter from the axis.
	d.helix = math.Sqrt(1+math.Pow(math.Pi*od/lay, 2)) - 1
	return d
}

// needs is what the wire takes when its stretches are so long.
func (d *drawn) needs(long []float64) float64 {
	way := 0.0
	for _, l := range long {
		way += l
	}
	l := way*(1+d.up)*(1+d.helix) + d.ends + 2*d.waste
	if k := d.leaves; k+1 < len(long) { // it goes on where the other leaves
		l += max(d.most[k], d.most[k+1]) / 2
	}
	return l
}

// For every way within the tolerance the wire is cut long enough: with every stretch between its planned length and the most its spread allows, and with the
// whole branch between its planned length and the most a finished branch may have.
func TestNoWireComesOutShort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		p := Make(d.job, d.net, d.sizes, d.bundles, nil, &fix.Plan{}, &shell.Shell{})
		var c *Cut
		for i := range p.Sections[0].Cuts {
			if p.Sections[0].Cuts[i].Name == "w" {
				c = &p.Sections[0].Cuts[i]
			}
		}
		total := 0.0
		var spread, branch []float64
		for i := range d.long {
			total += d.long[i] + d.slack[i]
			spread = append(spread, d.long[i]+d.slack[i]+d.more[i]*rapid.Float64Range(0, 1).Draw(t, "share"))
		}
		over, _ := data.BranchOver(unit.Length(total))
		by := float64(over) * rapid.Float64Range(0, 1).Draw(t, "of the branch")
		for i := range d.long {
			l := d.long[i] + d.slack[i]
			if i == 0 && d.a620 {
				l += by
			}
			branch = append(branch, l)
		}
		for _, way := range [][]float64{spread, branch} {
			if need := d.needs(way); float64(c.Length) < need-1e-6 {
				t.Fatalf("cut to %s, needs %.3f mm; %+v", c.Length, need, listed(c.Terms))
			}
		}
		var sum, planned unit.Length
		for _, x := range c.Terms.All() {
			sum += x.Length
			if x.Kind < WasteTerm {
				planned += x.Length
			}
			if x.Length != unit.Length(math.Round(float64(x.Length))) && x.Kind != RoundTerm {
				t.Fatalf("%s is printed as %v", x.What, x.Length)
			}
		}
		if math.Abs(float64(sum-c.Length)) > 1e-6 || planned != c.Planned {
			t.Fatalf("the terms give %v of %v, planned %v of %v", sum, c.Length, planned, c.Planned)
		}
	})
}

// The greater of spread and branch counts, and its name is printed.
func TestWhichToleranceRules(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Settings.Lines = append(job.Settings.Lines, set("string-spread", "10 %", "run", "tunnel"), set("way-spread", "40 mm", "run", "rail"))
	for name, want := range map[string]string{"feed box.f1 - A": "tolerance, string-spread 10 % 154", "feed A - s-feed": "tolerance, way-spread 40 mm 41"} {
		c := cutOf(made(job, nt, sizes), name)
		terms := listed(c.Terms)
		n := len(terms) - 1
		if terms[n].Kind == RoundTerm {
			n--
		}
		if got := terms[n].What + " " + millimetres(terms[n].Length); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	job, nt, sizes = smallJob()
	job.Settings.Lines = append(job.Settings.Lines, set("branch-spread", "none"), set("string-spread", "0 %"), set("way-spread", "0 mm"))
	for _, c := range section(made(job, nt, sizes), "tub").Cuts {
		for _, x := range c.Terms.All() {
			if x.Kind == ToleranceTerm {
				t.Errorf("%s: %+v", c.Name, x)
			}
		}
	}
}

// A strip longer than the tail makes the tail.
func TestTailIsNoShorterThanTheStrip(t *testing.T) {
	job, nt, sizes := smallJob()
	job.Parts.Contacts[0].Strip = 70
	c := cutOf(made(job, nt, sizes), "feed box.f1 - A")
	for _, x := range c.Terms.All() {
		if x.Kind == EndTerm && x.Length != 70 {
			t.Errorf("%+v", x)
		}
	}
}
