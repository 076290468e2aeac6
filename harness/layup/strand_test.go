package layup_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func set(name, value string) design.Setting {
	s := design.Setting{Name: name, Scope: map[string]string{}}
	if q, err := unit.Parse(value); err == nil {
		s.Value.Quantity = q
	} else {
		s.Value.Name = value
	}
	return s
}

// member is a wire of a trunk: its thickness, and the edges that it lies in.
type member struct {
	d     unit.Length
	from  int
	until int // the last edge
	cable string
	spare bool
}

// rig is a run of edges, each of the given length, with wires in it.
func rig(each unit.Length, edges int, members []member, settings ...design.Setting) *laid {
	job := &design.Job{Runs: []*design.Run{{Name: "trunk"}}, Settings: design.Settings{Lines: settings}}
	geo := &space.Geometry{}
	for i := range edges + 1 {
		geo.Nodes = append(geo.Nodes, space.Node{Key: fmt.Sprintf("n%d", i)})
	}
	for i := range edges {
		geo.Edges = append(geo.Edges, space.Edge{Run: "trunk", From: i, To: i + 1, Station: unit.Length(i) * each, Length: each})
	}
	nt := &net.Net{Space: geo}
	var sizes size.Sizes
	for i, m := range members {
		w := net.Wire{Name: fmt.Sprintf("w%d", i+1), Label: strconv.Itoa(i + 1), Circuit: fmt.Sprintf("c%d", i), Cable: m.cable, Core: -1}
		if m.spare {
			w.Kind = net.Spare
		}
		if m.cable != "" && !slices.ContainsFunc(job.Cables, func(c *design.Cable) bool { return c.Name == m.cable }) {
			job.Cables = append(job.Cables, &design.Cable{Name: m.cable, Twist: 25})
		}
		for e := m.from; e <= m.until; e++ {
			w.Path = append(w.Path, net.Step{Edge: e})
		}
		nt.Wires = append(nt.Wires, w)
		sizes = append(sizes, size.Conductor{Outside: m.d})
	}
	b := bundle.Find(job, nt, sizes)
	return &laid{job, nt, sizes, b, layup.Find(job, nt, sizes, b)}
}

func equal(n int, d unit.Length) []member {
	return slices.Repeat([]member{{d: d}}, n)
}

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// Concentric strands of 7, 19, 37 and 61 equal wires are one in the core and layers of 6, 12, 18, 24; the outside is 2k+1 wires for k
// layers (ASTM B8 and B231, concentric-lay-stranded), the middles of a layer lie on a circle of 2k wires, and neighbouring layers turn against
// one another, the outermost left-hand.
func TestConcentricStrands(t *testing.T) {
	const d = 1.7
	for k, n := range []int{1, 7, 19, 37, 61} {
		if k == 0 {
			continue
		}
		l := rig(2000, 1, equal(n, d)).plan.Drawn(0)
		if l.Kind != layup.Layers || len(l.Layers) != k+1 || !near(float64(l.Outside), float64(2*k+1)*d) || len(l.Pieces) != n {
			t.Fatalf("%d wires: %v in %d layers, %v across", n, l.Kind, len(l.Layers), l.Outside)
		}
		for i, y := range l.Layers {
			want := max(1, 6*i)
			if len(y.Pieces) != want || len(y.Fillers) > 0 || y.Built != 0 || !near(float64(y.Pitch), 2*float64(i)*d) || !near(float64(y.Outside), float64(2*i+1)*d) || y.Gap > 0.06 {
				t.Errorf("%d wires, layer %d: %+v", n, i+1, y)
			}
			hand := layup.Left
			if (k-i)%2 == 1 {
				hand = layup.Right
			}
			if i == 0 {
				hand = layup.Straight
			}
			if y.Hand != hand {
				t.Errorf("%d wires, layer %d is %v", n, i+1, y.Hand)
			}
		}
		if !strings.Contains(l.Band, "within") {
			t.Errorf("%d wires: %s", n, l.Band)
		}
	}
}

// Take-up of layers of 6, 12, 18, 24 by lay ratio, as the trade prints it (common practice, to a tenth of a percent), and the length of one
// turn of each summed up point by point along its helix.
func TestTakeUp(t *testing.T) {
	for ratio, want := range map[string][]float64{"8": {3.4, 4.8, 5.5, 5.9}, "10": {2.2, 3.1, 3.6, 3.8}, "12": {1.5, 2.2, 2.5, 2.7}} {
		r := rig(2000, 1, equal(61, 2), set("lay-ratio", ratio))
		l := r.plan.Drawn(0)
		for i, y := range l.Layers[1:] {
			if got := float64(y.TakeUp) * 100; math.Abs(got-want[i]) > 0.0501 {
				t.Errorf("ratio %s, layer of %d: %.2f %%, want %.1f", ratio, len(y.Pieces), got, want[i])
			}
			for _, p := range y.Pieces {
				if w := l.Pieces[p].Wires[0]; r.plan.TakeUp(w, 0) != y.TakeUp {
					t.Errorf("wire %d takes up %v", w, r.plan.TakeUp(w, 0))
				}
			}
			const steps = 20000
			long, radius := 0.0, float64(y.Pitch)/2
			for k := range steps {
				a, b := 2*math.Pi*float64(k)/steps, 2*math.Pi*float64(k+1)/steps
				long += math.Sqrt(math.Pow(radius*(math.Cos(b)-math.Cos(a)), 2) + math.Pow(radius*(math.Sin(b)-math.Sin(a)), 2) + math.Pow(float64(y.Lay)/steps, 2))
			}
			if got := long/float64(y.Lay) - 1; math.Abs(got-float64(y.TakeUp)) > 1e-6 {
				t.Errorf("ratio %s, layer of %d: along the helix %v, said %v", ratio, len(y.Pieces), got, y.TakeUp)
			}
		}
		if l.Layers[0].TakeUp != 0 {
			t.Errorf("a straight core takes up %v", l.Layers[0].TakeUp)
		}
	}
}

// A core of two or three is twisted and takes up; of three the middles lie on a circle of 2/sqrt(3) wires.
func TestTwistedCore(t *testing.T) {
	for n, pitch := range map[int]float64{2: 2, 3: 4 / math.Sqrt(3)} {
		l := rig(1000, 1, equal(n, 2), set("lay", "layers")).plan.Drawn(0)
		if len(l.Layers) != 1 || l.Layers[0].Hand != layup.Left || math.Abs(float64(l.Layers[0].Pitch)-pitch) > 1e-5 {
			t.Fatalf("%d wires: %+v", n, l.Layers)
		}
		lay := math.Ceil(10 * float64(l.Outside))
		if want := math.Hypot(1, math.Pi*pitch/lay) - 1; math.Abs(float64(l.TakeUp)-want) > 1e-6 || want < 0.01 {
			t.Errorf("%d wires take up %v, want %v", n, l.TakeUp, want)
		}
	}
}

// Bundles in layers against the factors that cable makers print for layer-lay bundles of equal wires (IS-Rayfast, issue 9, page 87). A layer here
// lies on the circle around what is within and nowhere sinks into its valleys, and a full layer is preferred to one that stands off what is within: so
// nothing is thicker by more than 6 %.
func TestPrintedFactors(t *testing.T) {
	file, err := os.Open(filepath.Join("..", "..", "testdata", "reference", "bundle_diameter_trade_factors.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows := 0
	for s := bufio.NewScanner(file); s.Scan(); {
		cells := strings.Split(s.Text(), ",")
		if len(cells) != 3 || cells[0] == "wires" || strings.HasPrefix(cells[0], "#") {
			continue
		}
		factor, err := strconv.ParseFloat(cells[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		low, high, _ := strings.Cut(cells[0], "-")
		from, _ := strconv.Atoi(low)
		to, _ := strconv.Atoi(high)
		for n := from; n <= max(from, to); n++ {
			if n < 4 {
				continue
			}
			rows++
			l := rig(3000, 1, equal(n, 1), set("lay", "layers")).plan.Drawn(0)
			if over := float64(l.Outside)/factor - 1; over > 0.06 {
				t.Errorf("%d wires: %.3f, the maker prints %.2f: %+.1f %%", n, float64(l.Outside), factor, over*100)
			}
			if l.Outside < l.Least || l.Outside > l.Most || float64(l.Outside) < math.Sqrt(float64(n)) {
				t.Errorf("%d wires: %v is not in the band %v to %v", n, l.Outside, l.Least, l.Most)
			}
		}
	}
	if rows < 55 {
		t.Fatalf("%d rows", rows)
	}
}
