package netlist

import (
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/rule"
	"loomsheet/harness/solve"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// ngspice finds the operating point of a netlist: volts by the number of a place, from 1. It is asked for more digits than the netlist does.
func ngspice(t *testing.T, text string, places int) (volts map[int]float64, said string) {
	t.Helper()
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("LOOMSHEET_TOOLS") == "required" {
			t.Fatal("ngspice is not installed")
		}
		t.Skip("ngspice is not installed")
	}
	var ask strings.Builder
	ask.WriteString(".control\nset numdgt=15\nop\n")
	for n := range places {
		fmt.Fprintf(&ask, "print v(%d)\n", n+1)
	}
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\n.op\n", "\n"), "\n.end\n", "\n")
	file := filepath.Join(t.TempDir(), "net.cir")
	if err := os.WriteFile(file, []byte(text+ask.String()+".endc\n.end\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "-b", file).Output() // notes go to the other stream
	volts = map[int]float64{}
	for line := range strings.Lines(string(out)) {
		name, value, ok := strings.Cut(strings.TrimSpace(line), " = ")
		name, isVolts := strings.CutPrefix(name, "v(")
		if !ok || !isVolts {
			continue
		}
		k, err1 := strconv.Atoi(strings.TrimSuffix(name, ")"))
		v, err2 := strconv.ParseFloat(strings.TrimSpace(value), 64)
		if err1 == nil && err2 == nil {
			volts[k] = v
		}
	}
	if len(volts) != places {
		return nil, fmt.Sprintf("%d of %d places: %v\n%s", len(volts), places, err, out)
	}
	return volts, ""
}

// worst is the greatest difference between the simulator's volts and ours, as a share of the highest supply.
func worst(t *testing.T, in Input) (share float64, at string) {
	t.Helper()
	w := &writer{Input: in}
	w.parts()
	volts, said := ngspice(t, Text(in), slices.Max(w.name))
	if volts == nil {
		t.Fatalf("%s: no answer: %s", in.Case+" "+in.Start, said)
	}
	top := 0.0
	for _, l := range in.Laws {
		if l.Kind == solve.Source {
			top = max(top, float64(l.Volts))
		}
	}
	for i, n := range w.name {
		if n <= 0 {
			continue
		}
		if d := math.Abs(volts[n]-float64(w.found(i))) / top; !(d <= share) {
			share, at = d, in.Net.Nodes[i]
		}
	}
	return share, at
}

func compiled(t *testing.T, file string) *harness.Result {
	t.Helper()
	dir := filepath.Dir(file)
	job, _, list := resolve.Job(filepath.Base(file), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }, parts.Files(), rule.Keys())
	if list.HasMistakes() {
		t.Fatalf("%s: %v", file, list)
	}
	r := &harness.Result{Declared: job}
	for _, s := range harness.Stages {
		s.Run(r)
		if s.Name == "size" {
			break
		}
	}
	return r
}

// allPoints is the operating points of a case: steady, and each start.
func allPoints(job *design.Job, c *solve.CaseResult) []Input {
	ins := []Input{{Case: c.Case, Net: c.Net, Laws: solve.Laws(c), Point: c.Point}}
	for i := range c.Starts {
		s := &c.Starts[i]
		ins = append(ins, Input{Case: c.Case, Start: s.Device, Net: s.Net, Laws: solve.StartLaws(job, c, s.Device), Point: s.Point})
	}
	return ins
}

// TestExamplesAgainstSpice holds every case and every start of the examples against a general circuit simulator: each place within a
// millionth of the highest supply.
func TestExamplesAgainstSpice(t *testing.T) {
	for _, file := range []string{"car/rook.loom", "boat/tern.loom", "bad/bad.loom"} {
		r := compiled(t, filepath.Join("..", "..", "examples", file))
		points, over := 0, 0.0
		var where string
		for _, c := range r.Cases {
			for _, in := range allPoints(r.Job, c) {
				points++
				d, at := worst(t, in)
				if d > over {
					over, where = d, in.Case+" "+in.Start+" at "+at
				}
				if d > 1e-6 {
					t.Errorf("%s, case %s %s: %s differs by %.3g of the supply", file, in.Case, in.Start, at, d)
				}
			}
		}
		t.Logf("%s: %d operating points, worst difference %.2g of the highest supply: %s", file, points, over, where)
	}
}
